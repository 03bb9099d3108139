"""Equipment pools: pieces held by stages, pieces there are, pieces out of use.

A check opens for 2 days and then swings its gear for 3 days on a set of jacks.
"""

from dataclasses import replace

import pytest

from capacity.facts import Base, Equipment, EquipmentOutage, Stage, Status
from capacity.plans.audit import audit
from capacity.words import day as as_day
from tests.bases import BAY

from .stories import MON_TO_FRI, base, check, day, package, placed, plan, stage


def on(stage_: Stage, *pools: str) -> Stage:
    """Let the stage hold a piece of each pool."""
    return replace(stage_, equipment=pools)


HEAVY = package(stage("Open", 2), on(stage("Swing", 3, "Open"), "Jacks"))
BAYS = tuple(replace(BAY, name=name) for name in ("B1", "B2", "B3"))


def hangar(checks: int, pieces: int, **changes: object) -> Base:
    """Build three bays and as many sets of jacks as told."""
    names = tuple(f"C{number + 1}" for number in range(checks))
    usual = base(
        *(check(name, package="Heavy", earliest_in=day(0), latest_in=day(40)) for name in names),
        packages=(HEAVY,),
        bays=BAYS,
        equipment=(Equipment("Jacks", pieces), Equipment("Docks", 0)),
    )
    return usual.replace(**changes)


def broken(hangar_: Base, *in_days: int) -> tuple[str, ...]:
    """Put C1, C2, ... into B1, B2, ... on these days."""
    stays = (
        placed(
            f"C{n + 1}",
            in_day,
            ("Open", in_day, in_day + 2),
            ("Swing", in_day + 2, in_day + 5),
            bay=BAYS[n].name,
        )
        for n, in_day in enumerate(in_days)
    )
    return audit(hangar_, plan(*stays)).broken


def test_one_set_goes_from_one_aircraft_to_the_next() -> None:
    """C1 swings on [7, 10): C2 may swing from day 10 on, so come in on day 8, not on day 7."""
    assert broken(hangar(2, 1), 5, 8) == ()
    assert broken(hangar(2, 1), 5, 7) == (
        "Jacks: 1 available on Wed 13 Jan 2027, too few for Swing of C1 and Swing of C2.",
    )


def test_two_sets_serve_two_aircraft_and_not_three() -> None:
    """C1, C2 and C3 swing on [7, 10), [8, 11) and [8, 11): all three on days 8 and 9."""
    assert broken(hangar(2, 2), 5, 6) == ()
    assert broken(hangar(3, 3), 5, 6, 6) == ()
    assert broken(hangar(3, 2), 5, 6, 6) == (
        "Jacks: 2 available from Tue 12 Jan 2027 to Wed 13 Jan 2027, "
        "too few for Swing of C1, Swing of C2 and Swing of C3.",
    )


@pytest.mark.parametrize(
    ("first", "last", "short"), [(4, 6, None), (4, 7, (7, 7)), (9, 12, (9, 9)), (10, 12, None)]
)
def test_outage_days_are_both_included(
    first: int, last: int, short: tuple[int, int] | None
) -> None:
    """C1 swings on days 7, 8 and 9. The outage of the docks is of no concern."""
    outages = (
        EquipmentOutage("Jacks", day(first), day(last), 1, "inspection"),
        EquipmentOutage("Docks", day(0), day(50), 1),
    )
    expected = ()
    if short is not None:
        first_short, last_short = (as_day(day(number)) for number in short)
        one_day = first_short == last_short
        days = f"on {first_short}" if one_day else f"from {first_short} to {last_short}"
        expected = (f"Jacks: 0 available {days}, too few for Swing of C1.",)
    assert broken(hangar(1, 1, equipment_outages=outages), 5) == expected


def test_outages_of_one_day_add_up() -> None:
    """Of three sets, one is out on days 5 to 8 and another on days 8 to 9: one left on day 8.

    More pieces out than there are leave none, and that is no fault of the plan by itself.
    """
    two_out = (
        EquipmentOutage("Jacks", day(5), day(8), 1),
        EquipmentOutage("Jacks", day(8), day(9), 1),
    )
    assert broken(hangar(1, 3, equipment_outages=two_out), 5) == ()
    assert broken(hangar(2, 3, equipment_outages=two_out), 5, 5) == (
        "Jacks: 1 available on Tue 12 Jan 2027, too few for Swing of C1 and Swing of C2.",
    )
    many_out = (EquipmentOutage("Jacks", day(0), day(6), 9),)
    assert broken(hangar(1, 3, equipment_outages=many_out), 5) == ()
    assert broken(hangar(1, 3, equipment_outages=many_out), 4) == (
        "Jacks: 0 available on Sun 10 Jan 2027, too few for Swing of C1.",
    )


def test_equipment_is_held_over_days_off() -> None:
    """Monday to Friday: C1 opens on Wed, Thu, swings on Fri, Mon, Tue: [11, 16).

    C2 opens on Thu, Fri and swings on Mon, Tue, Wed: both hold jacks on days 14 and 15. C1 holds
    them on Saturday and Sunday, days 12 and 13, too; C2, ready on Saturday, does not.
    """
    weekdays = hangar(2, 1, working_weekdays=MON_TO_FRI)
    told = plan(
        placed("C1", 9, ("Open", 9, 11), ("Swing", 11, 16)),
        placed("C2", 10, ("Open", 10, 12), ("Swing", 14, 17), bay="B2"),
    )
    assert audit(weekdays, told).broken == (
        "Jacks: 1 available from Mon 18 Jan 2027 to Tue 19 Jan 2027, "
        "too few for Swing of C1 and Swing of C2.",
    )
    on_saturday = (EquipmentOutage("Jacks", day(12), day(12), 1),)
    two_sets = hangar(2, 2, working_weekdays=MON_TO_FRI, equipment_outages=on_saturday)
    assert audit(two_sets, told).broken == ()
    one_set = hangar(2, 1, working_weekdays=MON_TO_FRI, equipment_outages=on_saturday)
    assert any("Sat 16 Jan 2027" in sentence for sentence in audit(one_set, told).broken)
    later = placed("C2", 14, ("Open", 14, 16), ("Swing", 16, 19), bay="B2")
    assert audit(weekdays, replace(told, placements=(told.placements[0], later))).broken == ()


def test_two_stages_of_one_check_hold_a_piece_each() -> None:
    """Nose and Tail are lifted side by side on days 5 to 7, Tail one day longer."""
    lifts = package(on(stage("Nose", 3), "Jacks"), on(stage("Tail", 4), "Jacks"), name="Heavy")
    told = plan(placed("C1", 5, ("Nose", 5, 8), ("Tail", 5, 9)))
    assert audit(hangar(1, 2, packages=(lifts,)), told).broken == ()
    assert audit(hangar(1, 1, packages=(lifts,)), told).broken == (
        "Jacks: 1 available from Sat 9 Jan 2027 to Mon 11 Jan 2027, "
        "too few for Nose of C1 and Tail of C1.",
    )


def test_a_pool_named_twice_is_held_once_and_an_unknown_one_has_nothing() -> None:
    """Jacks, Jacks is one set; the base has no tugs."""
    twice = package(on(stage("Swing", 3), "Jacks", "Jacks"), name="Heavy")
    told = plan(placed("C1", 5, ("Swing", 5, 8)))
    assert audit(hangar(1, 1, packages=(twice,)), told).broken == ()
    unknown = package(on(stage("Swing", 3), "Tugs"), name="Heavy")
    assert audit(hangar(1, 1, packages=(unknown,)), told).broken == (
        "Tugs: 0 available from Sat 9 Jan 2027 to Mon 11 Jan 2027, too few for Swing of C1.",
    )


def test_fixed_checks_hold_equipment_too() -> None:
    """C2 is fixed and swings on [7, 10), so C1 waits until it is in on day 8."""
    two = hangar(2, 1)
    fixed = replace(two.checks[1], status=Status.FIXED, fixed_bay="B2", fixed_in=day(5))
    both = two.replace(checks=(two.checks[0], fixed))
    assert [n for n in range(12) if not broken(both, n, 5)] == [0, 1, 2, 8, 9, 10, 11]


def test_finished_stages_hold_nothing() -> None:
    """Half of C1's man-hours are done, all of Lift: the one set of jacks is free for C2."""
    lift = package(
        on(stage("Lift", 2, hours=50), "Jacks"), stage("Close", 2, "Lift", hours=50), name="Lift"
    )
    two = hangar(2, 1, packages=(lift, HEAVY))
    going_on = replace(two.checks[0], package="Lift", remaining=0.5)
    both = two.replace(checks=(going_on, two.checks[1]))
    c2 = placed("C2", 3, ("Open", 3, 5), ("Swing", 5, 8), bay="B2")
    assert audit(both, plan(placed("C1", 5, ("Close", 5, 7)), c2)).broken == ()
    whole = both.replace(checks=(replace(going_on, remaining=None), two.checks[1]))
    said = audit(whole, plan(placed("C1", 5, ("Lift", 5, 7), ("Close", 7, 9)), c2)).broken
    assert said == (
        "Jacks: 1 available from Sat 9 Jan 2027 to Sun 10 Jan 2027, "
        "too few for Lift of C1 and Swing of C2.",
    )
