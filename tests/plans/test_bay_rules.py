"""A bay holds the aircraft, is open, and holds one aircraft at a time."""

from dataclasses import replace

import pytest

from capacity.facts import Bay, Closure
from capacity.plans.audit import audit
from capacity.words import day as as_day
from tests.bases import BAY, TWIN

from .stories import base, check, day, package, placed, plan, stage


def broken_in(bay: Bay) -> tuple[str, ...]:
    """Place a twin of 34 x 38 x 12 m that needs docking ``narrow`` in the bay."""
    twin = replace(TWIN, docking="narrow")
    return audit(base(bays=(bay,), types=(twin,)), plan(placed("C1", 5))).broken


@pytest.mark.parametrize(
    ("bay", "sentences"),
    [
        (replace(BAY, max_span_m=34, max_length_m=38, max_tail_m=12), ()),
        (replace(BAY, max_span_m=33.9), ("C1 has a span of 34 m, but bay B1 takes 33.9 m.",)),
        (replace(BAY, max_length_m=37), ("C1 has a length of 38 m, but bay B1 takes 37 m.",)),
        (replace(BAY, max_tail_m=11.5), ("C1 has a tail of 12 m, but bay B1 takes 11.5 m.",)),
        (replace(BAY, docking=frozenset({"narrow", "wide"})), ()),
        (
            replace(BAY, docking=frozenset({"wide"})),
            ("C1 needs docking narrow, which bay B1 does not have.",),
        ),
        (
            replace(BAY, work=frozenset({"paint"})),
            ("C1 needs maintenance, which is not done in bay B1.",),
        ),
    ],
)
def test_fit(bay: Bay, sentences: tuple[str, ...]) -> None:
    """A bay as large as the aircraft fits; each measure too small has its own sentence."""
    assert broken_in(bay) == sentences


def test_a_type_without_docking_fits_any() -> None:
    """The twin of the stories needs no docking at all."""
    docked = replace(BAY, docking=frozenset({"wide"}))
    assert audit(base(bays=(docked,)), plan(placed("C1", 5))).broken == ()


def test_finished_work_needs_no_bay() -> None:
    """Half of the work is done, which was all of the paint: a maintenance bay will do."""
    heavy = package(
        replace(stage("Paint", 2, hours=50), work="paint"), stage("Close", 2, "Paint", hours=50)
    )
    going_on = check(package="Heavy", remaining=0.5)
    told = plan(placed("C1", 5, ("Close", 5, 7)))
    assert audit(base(going_on, packages=(heavy,)), told).broken == ()
    whole = replace(going_on, remaining=None)
    told = plan(placed("C1", 5, ("Paint", 5, 7), ("Close", 7, 9)))
    assert audit(base(whole, packages=(heavy,)), told).broken == (
        "C1 needs paint, which is not done in bay B1.",
    )


def test_an_unknown_bay() -> None:
    """The check's own figures are still counted."""
    result = audit(base(), plan(placed("C1", 12, bay="B9")))
    assert result.broken == ("C1 is in bay B9, which the base does not have.",)
    assert result.goals.days_past_latest_in == 2


@pytest.mark.parametrize(
    ("first", "last", "shut"), [(0, 4, False), (0, 5, True), (14, 20, True), (15, 20, False)]
)
def test_closure_days_are_both_included(first: int, last: int, shut: bool) -> None:
    """C1 is in the bay on days 5 to 14 and leaves on day 15."""
    closures = (Closure("B1", day(first), day(last), "floor"), Closure("B2", day(0), day(50)))
    sentence = f"C1 is in bay B1, which is closed from {as_day(day(first))} to {as_day(day(last))}."
    broken = audit(base(closures=closures), plan(placed("C1", 5))).broken
    assert broken == ((sentence,) if shut else ())


TWO = (check("C1"), check("C2", latest_in=day(40)))


def test_the_next_aircraft_may_come_in_on_the_out_day() -> None:
    """Half-open stays [5, 15) and [15, 25): the bay changes hands on day 15."""
    assert audit(base(*TWO), plan(placed("C1", 5), placed("C2", 15))).broken == ()


def test_two_aircraft_on_one_day() -> None:
    """[5, 15) and [14, 24) share day 14 in one bay, and nothing in two."""
    assert audit(base(*TWO), plan(placed("C2", 14), placed("C1", 5))).broken == (
        "C1 and C2 are both in bay B1 on Mon 18 Jan 2027.",
    )
    two_bays = base(*TWO, bays=(BAY, replace(BAY, name="B2")))
    assert audit(two_bays, plan(placed("C2", 14, bay="B2"), placed("C1", 5))).broken == ()


def test_changeover_of_one_day() -> None:
    """C1 leaves on day 15, so C2 may come in on day 16 and not on day 15.

    The changeover may fall on a closed day.
    """
    slow = replace(BAY, changeover_days=1)
    shut = (Closure("B1", day(15), day(15)),)
    told = plan(placed("C1", 5), placed("C2", 16))
    assert audit(base(*TWO, bays=(slow,), closures=shut), told).broken == ()
    told = plan(placed("C1", 5), placed("C2", 15))
    assert audit(base(*TWO, bays=(slow,)), told).broken == (
        "C2 comes into bay B1 on Tue 19 Jan 2027, "
        "but the changeover after C1 runs until Wed 20 Jan 2027.",
    )


def test_eight_stays_in_four_bays() -> None:
    """Eight stays of which four overlap at most need exactly four bays.

    Source: interval partitioning, Kleinberg & Tardos, Algorithm Design, section 4.1 (from
    memory; the stays are our own). On day 30, C, D, E and F are all in.
    """
    spans = {"A": (1, 21), "B": (5, 19), "C": (15, 43), "D": (20, 34)}
    spans |= {"E": (22, 36), "F": (30, 58), "G": (36, 50), "H": (43, 57)}
    bay_of = dict(A="1", E="1", H="1", B="2", D="2", G="2", C="3", F="4")
    packages = tuple(
        package(stage("Work", until - first), name=name) for name, (first, until) in spans.items()
    )
    checks = tuple(
        check(name, package=name, earliest_in=day(first), latest_in=day(first))
        for name, (first, _) in spans.items()
    )
    four = base(*checks, packages=packages, bays=tuple(replace(BAY, name=n) for n in "1234"))

    def broken(bays: dict[str, str]) -> tuple[str, ...]:
        stays = (
            placed(name, first, ("Work", first, until), bay=bays[name])
            for name, (first, until) in spans.items()
        )
        return audit(four, plan(*stays)).broken

    assert broken(bay_of) == ()
    assert broken(bay_of | {"G": "4"}) == ("F and G are both in bay 4 on Tue 9 Feb 2027.",)
