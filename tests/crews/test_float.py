"""A stage moves inside its float and nowhere else; then order, Alone and equipment still hold.

People are away on some days, so that a stage is only staffed where it moves.
"""

from itertools import combinations, product

import pytest

from capacity.crews.assign import Staffed
from capacity.crews.tasks_of_plan import tasks_of
from capacity.facts import Base, Equipment, EquipmentOutage, Shop, ShopLoop
from capacity.plans.plan import Plan
from tests.crews.random_bases import to_staff
from tests.crews.stories import away, base, crew, day, package, placed, staffed, stage

PLENTY = crew("Plenty", 9)


def days_of(result: Staffed, name: str, check: str = "C1") -> tuple[int, int]:
    """Return where a stage lies, in day numbers."""
    (found,) = [s for s in result.plan.stages if (s.check, s.stage) == (check, name)]
    return (found.first - day(0)).days, (found.until - day(0)).days


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


def side_by_side(*there: int) -> float:
    """Return what is short of two stages of 8 h in a stay of two days, by days with people."""
    two = package(
        stage("Long", 2), stage("One", 1, hours=8.0), stage("Other", 1, hours=8.0), name="Two"
    )
    gone = away("Plenty", 9, *({0, 1} - set(there)))
    stay = placed("C1", ("Long", 0, 2), ("One", 0, 1), ("Other", 0, 1))
    return staffed(base([two], [PLENTY], absences=gone), stay).audit.short


def test_stages_may_run_side_by_side() -> None:
    assert side_by_side(1) == pytest.approx(0.0)
    assert side_by_side(0) == pytest.approx(0.0)
    assert side_by_side() == pytest.approx(16.0)


@pytest.mark.parametrize(
    ("there", "missing"), [((0,), 8.0), ((0, 1), 0.0), ((0, 2), 0.0), ((0, 3), 8.0), ((3,), 8.0)]
)
def test_a_stage_done_alone_runs_beside_no_other(there: tuple[int, ...], missing: float) -> None:
    """``Swing`` may lie on days 1 and 2, while the wheels are away; not beside either stage."""
    wheels = package(
        stage("Remove", 1, hours=8.0),
        stage("Swing", 1, hours=8.0, alone=True),
        stage("Refit", 1, "Remove"),
    )
    base_ = base(
        [wheels],
        [PLENTY],
        absences=away("Plenty", 9, *({0, 1, 2, 3} - set(there))),
        shops=(Shop("Wheels", 4.5),),
        shop_loops=(ShopLoop("Heavy", "Wheels", 9, "Remove", "Refit"),),
    )
    stay = placed("C1", ("Remove", 0, 1), ("Swing", 1, 2), ("Refit", 3, 4))
    result = staffed(base_, stay)
    assert result.audit.short == pytest.approx(missing + 8.0 * (0 not in there))
    assert days_of(result, "Swing") in ((1, 2), (2, 3))


def on_jacks(sets: int, *outages: EquipmentOutage) -> Base:
    """Two checks of two days each want a jack set for one of them; people come on day 1."""
    jacks = [
        package(stage("Stay", 2), stage("Swing", 1, hours=8.0, equipment=("Jacks",)), name=name)
        for name in ("One", "Other")
    ]
    return base(
        jacks,
        [PLENTY],
        equipment=(Equipment("Jacks", sets),),
        equipment_outages=outages,
        absences=away("Plenty", 9, 0, 2),
    )


def out_of_use(on: int, number: int = 1) -> EquipmentOutage:
    return EquipmentOutage("Jacks", day(on), day(on), number)


SWINGS = (
    placed("C1", ("Stay", 0, 2), ("Swing", 0, 1)),
    placed("C2", ("Stay", 1, 3), ("Swing", 1, 2)),
)


@pytest.mark.parametrize(
    ("sets", "outages", "missing"),
    [
        (2, (), 0.0),
        (1, (), 8.0),
        (2, (out_of_use(1),), 8.0),
        (2, (out_of_use(0), out_of_use(2)), 0.0),
        (3, (out_of_use(1),), 0.0),
    ],
)
def test_no_more_pieces_are_held_than_are_in_use(
    sets: int, outages: tuple[EquipmentOutage, ...], missing: float
) -> None:
    """The aircraft could both be swung on day 1 if there are two sets."""
    assert staffed(on_jacks(sets, *outages), *SWINGS).audit.short == pytest.approx(missing)


def test_pieces_held_by_a_stage_that_began_before_the_week_are_not_there() -> None:
    """C2 is on the one set of jacks from day 5 to day 8: C1 waits with its own to day 8."""
    long_swing = package(stage("Swing", 3, hours=8.0, equipment=("Jacks",)), name="Long")
    short_swing = package(
        stage("Stay", 3),
        stage("Swing", 1, "Open", hours=8.0, equipment=("Jacks",)),
        stage("Open", 1),
        name="Short",
    )
    base_ = base([short_swing, long_swing], [PLENTY], equipment=(Equipment("Jacks", 1),))
    stays = (
        placed("C1", ("Stay", 7, 10), ("Open", 7, 8), ("Swing", 8, 9)),
        placed("C2", ("Swing", 5, 8)),
    )
    result = staffed(base_, *stays, first_day=day(7))
    assert days_of(result, "Swing", "C2") == (5, 8)
    assert days_of(result, "Swing", "C1")[0] >= 8


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


@pytest.mark.parametrize("seed", range(12))
def test_spans_are_those_with_which_all_stages_of_the_check_fit_its_stay(seed: int) -> None:
    """Enumerate the days of all stages of a check that keep order, worked days and the stay.

    A stage may be planned to start on a day without work; moved ones start on one with it.
    """
    drawn = to_staff(seed)
    weeks = 7 * drawn.settings.weeks
    tasks = tasks_of(drawn.plan, drawn.base, drawn.base.first_day, weeks)
    stages = {p.name: {s.name: s for s in p.stages} for p in drawn.base.packages}
    package_of = {check.name: check.package for check in drawn.base.checks}
    worked = [day(n).weekday() in drawn.base.working_weekdays for n in range(weeks)]
    for placement in drawn.plan.placements:
        if placement.out_day > day(weeks):
            continue
        own = [task for task in tasks if task.check == placement.check]
        facts = [stages[package_of[placement.check]][task.stage] for task in own]
        stay = range((placement.in_day - day(0)).days, (placement.out_day - day(0)).days)
        planned = [(task.spans[0].first, task.spans[0].until) for task in own]
        ways = [
            {
                (start, end)
                for start, end in combinations([*stay, stay.stop], 2)
                if worked[start] and worked[end - 1] and sum(worked[start:end]) == fact.days
            }
            | {span}
            for fact, span in zip(facts, planned, strict=True)
        ]
        fitting: list[set[tuple[int, int]]] = [set() for _ in facts]
        for chosen in product(*ways):
            lies = {fact.name: span for fact, span in zip(facts, chosen, strict=True)}
            if all(
                lies[before][1] <= lies[fact.name][0] for fact in facts for before in fact.after
            ):
                for number, span in enumerate(chosen):
                    fitting[number].add(span)
        assert [{(s.first, s.until) for s in task.spans} for task in own] == fitting


def test_the_planned_days_come_first() -> None:
    tasks = tasks_of(Plan((CHAIN_STAY,)), base([CHAIN], [PLENTY]), day(0), 7)
    planned = {"Long": (0, 4), "First": (0, 1), "Then": (1, 2)}
    assert {t.stage: (t.spans[0].first, t.spans[0].until) for t in tasks} == planned
    assert {t.stage: len(t.spans) for t in tasks} == {"Long": 1, "First": 3, "Then": 3}
