"""A stage that moves still keeps to Alone, and to the pieces of equipment in use on each day."""

import pytest

from capacity.facts import Base, Equipment, EquipmentOutage, Shop, ShopLoop
from tests.crews.stories import (
    away,
    base,
    crew,
    day,
    days_of,
    package,
    placed,
    staffed,
    stage,
)

PLENTY = crew("Plenty", 9)


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
