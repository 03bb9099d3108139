"""A stage moves inside its float and nowhere else; then it still waits for others.

People are away on some days, so that a stage is only staffed where it moves.
"""

import pytest

from capacity.facts import Shop, ShopLoop
from tests.crews.stories import (
    away,
    base,
    crew,
    days_of,
    package,
    placed,
    staffed,
    stage,
)

PLENTY = crew("Plenty", 9)

# The long one decides when the aircraft goes home: the short one has three days of float.
LONG_AND_SHORT = package(stage("Long", 4, hours=32.0), stage("Short", 1, hours=32.0))
STAY = placed("C1", ("Long", 0, 4), ("Short", 0, 1))


def test_a_stage_stays_where_the_slot_plan_has_it_when_it_can_be_staffed_there() -> None:
    lone = base([package(stage("Work", 2, hours=16.0))], [PLENTY])
    assert days_of(staffed(lone, placed("C1", ("Work", 3, 5))), "Work") == (3, 5)


@pytest.mark.parametrize("there", [1, 2, 3])
def test_a_stage_moves_to_where_people_are(there: int) -> None:
    """On the one day with people they give both stages all their hours."""
    gone = away("Plenty", 9, *({0, 1, 2, 3} - {there}))
    result = staffed(base([LONG_AND_SHORT], [PLENTY], absences=gone), STAY)
    assert days_of(result, "Short") == (there, there + 1)
    assert days_of(result, "Long") == (0, 4)
    assert result.audit.short == pytest.approx(0.0)


def test_no_stage_moves_past_the_end_of_the_stay() -> None:
    gone = away("Plenty", 9, 0, 1, 2, 3)
    result = staffed(base([LONG_AND_SHORT], [PLENTY], absences=gone), STAY)
    assert result.audit.short == pytest.approx(64.0)
    assert days_of(result, "Short")[1] <= 4


CHAIN = package(
    stage("Long", 4), stage("First", 1, hours=8.0), stage("Then", 1, "First", hours=8.0)
)
CHAIN_STAY = placed("C1", ("Long", 0, 4), ("First", 0, 1), ("Then", 1, 2))


@pytest.mark.parametrize(
    ("there", "missing"), [((2, 3), 0.0), ((0, 3), 0.0), ((3,), 8.0), ((0, 1), 0.0), ((1,), 8.0)]
)
def test_a_stage_still_waits_for_those_before_it(there: tuple[int, ...], missing: float) -> None:
    """On any one day only one of the two can be done, though on day 1 either could."""
    gone = away("Plenty", 9, *(set(range(4)) - set(there)))
    result = staffed(base([CHAIN], [PLENTY], absences=gone), CHAIN_STAY)
    assert result.audit.short == pytest.approx(missing)
    assert days_of(result, "First")[1] <= days_of(result, "Then")[0]


def test_worked_days_are_kept_over_a_weekend() -> None:
    """Friday and Monday are two worked days, four on the calendar."""
    five = base(
        [package(stage("Long", 4), stage("Short", 2, hours=16.0))],
        [PLENTY],
        working_weekdays=frozenset(range(5)),
        absences=away("Plenty", 9, 2, 3),
    )
    result = staffed(five, placed("C1", ("Long", 2, 8), ("Short", 2, 4), out=8), weeks=2)
    assert result.audit.short == pytest.approx(0.0)
    assert days_of(result, "Short") == (4, 8)


SHOP = {
    "shops": (Shop("Wheels", 9.0),),
    "shop_loops": (ShopLoop("Heavy", "Wheels", 9, "Remove", "Refit"),),
}
REMOVE_AND_REFIT = package(
    stage("Long", 6, hours=8.0),
    stage("Remove", 1, hours=8.0),
    stage("Refit", 1, "Remove", hours=8.0),
    stage("Free", 1, hours=8.0),
)


def test_stages_that_send_items_to_a_shop_or_wait_for_them_stay() -> None:
    """Nobody is there on the days on which they stand; ``Free`` may move, they may not."""
    gone = away("Plenty", 9, 0, 2)
    base_ = base([REMOVE_AND_REFIT], [PLENTY], absences=gone, **SHOP)
    stay = placed("C1", ("Long", 0, 6), ("Remove", 0, 1), ("Free", 0, 1), ("Refit", 2, 3))
    result = staffed(base_, stay)
    assert days_of(result, "Remove") == (0, 1)
    assert days_of(result, "Refit") == (2, 3)
    assert days_of(result, "Free")[0] not in (0, 2)
    assert {(s.stage, s.hours) for s in result.plan.short} == {("Remove", 8.0), ("Refit", 8.0)}


def test_stages_that_reach_out_of_the_weeks_stay() -> None:
    gone = away("Plenty", 9, 6)
    package_ = package(stage("Long", 4, hours=32.0), stage("Short", 1, hours=8.0))
    base_ = base([package_], [PLENTY], absences=gone)
    result = staffed(base_, placed("C1", ("Long", 6, 10), ("Short", 6, 7)))
    assert days_of(result, "Short") == (6, 7)
    assert result.audit.short == pytest.approx(16.0)
    two_weeks = staffed(base_, placed("C1", ("Long", 6, 10), ("Short", 6, 7)), weeks=2)
    assert days_of(two_weeks, "Short")[0] > 6
    assert two_weeks.audit.short == pytest.approx(0.0)


def test_a_stage_waits_for_all_of_the_leg_before_it() -> None:
    """Paint follows maintenance in the same bay: no stage of it moves before the leg's end."""
    two_legs = package(
        stage("Long", 3),
        stage("Short", 1, hours=8.0),
        stage("Strip", 2, work="paint"),
        stage("Mask", 1, hours=8.0, work="paint"),
    )
    gone = away("Plenty", 9, 0, 1, 3)
    base_ = base([two_legs], [PLENTY], absences=gone)
    stay = placed("C1", ("Long", 0, 3), ("Short", 0, 1), ("Strip", 3, 5), ("Mask", 3, 4))
    result = staffed(base_, stay)
    assert result.audit.short == pytest.approx(0.0)
    assert (days_of(result, "Short"), days_of(result, "Mask")) == ((2, 3), (4, 5))
    only_in_the_middle = base_.replace(absences=away("Plenty", 9, 0, 1, 3, 4))
    assert staffed(only_in_the_middle, stay).audit.short == pytest.approx(8.0)
