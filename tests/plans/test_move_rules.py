"""A check moves to another kind of bay when its work can begin there, and waits 3 days at most.

Work 4 days from day 5, in bay B1; then Paint 3 days in bay P1, from day 9 (2027-01-13) on.
"""

from dataclasses import replace

import pytest

from capacity.facts import Bay, Stage, Status, WorkProgress
from capacity.plans.audit import audit
from capacity.plans.plan import Placement
from tests.bases import BAY

from .stories import base, check, day, package, placed, plan, stage

PAINT = Bay("P1", "North", 36.0, 40.0, 13.0, frozenset({"paint"}))
HEAVY = package(stage("Work", 4), Stage("Paint", "paint", 3, {}, ("Work",), 0.0))
BASE = base(check(package="Heavy"), packages=(HEAVY,), bays=(BAY, PAINT))


def work(out: int) -> Placement:
    """The first visit, until the day on which the check moves."""
    return placed("C1", 5, ("Work", 5, 9), out=out)


def paint(in_day: int, bay: str = "P1") -> Placement:
    """The second visit."""
    return placed("C1", in_day, ("Paint", in_day, in_day + 3), bay=bay)


@pytest.mark.parametrize(
    ("placements", "sentences"),
    [
        ((work(9), paint(9)), ()),
        # the longest wait, to the day
        ((work(12), paint(12)), ()),
        (
            (work(13), paint(13)),
            (
                "C1 moves to P1 on Sun 17 Jan 2027, after waiting 4 days, "
                "but it may wait 3 at most.",
            ),
        ),
        (
            (work(8), paint(8)),
            ("C1 moves to P1 on Tue 12 Jan 2027, but Work runs until Wed 13 Jan 2027.",),
        ),
        (
            (work(9), paint(10)),
            ("C1 leaves B1 on Wed 13 Jan 2027, but comes into P1 on Thu 14 Jan 2027.",),
        ),
        (
            (work(9), paint(9, "Nowhere")),
            ("C1 is in bay Nowhere, which the base does not have.",),
        ),
        # what cannot be measured is told once, by the stage that is missing
        ((replace(work(13), stages=()), paint(13)), ("C1 lacks its stage Work.",)),
    ],
)
def test_it_moves_when_it_has_to(
    placements: tuple[Placement, ...], sentences: tuple[str, ...]
) -> None:
    assert audit(BASE, plan(*placements)).broken == sentences


def test_the_wait_is_that_of_the_base() -> None:
    patient = BASE.replace(longest_wait_days=4)
    assert audit(patient, plan(work(13), paint(13))).broken == ()
    assert audit(BASE.replace(longest_wait_days=0), plan(work(9), paint(9))).broken == ()


def test_a_slip_before_the_move_is_told_once() -> None:
    """Work is stated to end a day late; the move is measured from there."""
    late = replace(work(10), stages=placed("C1", 5, ("Work", 6, 10)).stages)
    (told,) = audit(BASE, plan(late, paint(10))).broken
    assert told == "C1 starts Work on Sun 10 Jan 2027, but it could start on Sat 9 Jan 2027."
    assert late.in_day == day(5)


def test_the_next_bay_waits_for_the_longest_stage_whether_paint_needs_it_or_not() -> None:
    """Paint comes after Open alone, 2 days; Work beside it takes 4, so it moves on day 9 too."""
    beside = package(
        stage("Work", 4), stage("Open", 2), Stage("Paint", "paint", 3, {}, ("Open",), 0.0)
    )
    both = BASE.replace(packages=(beside,))
    stages = (("Work", 5, 9), ("Open", 5, 7))
    told = plan(placed("C1", 5, *stages, out=9), paint(9))
    assert audit(both, told).broken == ()
    early = plan(placed("C1", 5, *stages, out=7), paint(7))
    assert audit(both, early).broken != ()
    assert audit(both, early).accounts[0].out_day == day(12)


# In bay B1 since day 1 with its work done by day 5; the bay paints nothing.
STANDS = base(
    replace(check(package="Heavy", fixed_bay="B1", fixed_in=day(1)), status=Status.FIXED),
    packages=(HEAVY,),
    bays=(BAY, PAINT),
    progress=(WorkProgress("C1", day(5), "Work", done=1.0),),
)


def stands_until(out: int) -> Placement:
    """The first visit, in which nothing is left to do."""
    return Placement("C1", "B1", "", day(1), day(out), ())


@pytest.mark.parametrize(
    ("out", "sentences"),
    [
        (5, ()),
        (8, ()),
        (
            9,
            (
                "C1 moves to P1 on Wed 13 Jan 2027, after waiting 4 days, "
                "but it may wait 3 at most.",
            ),
        ),
        (4, ("C1 moves to P1 on Fri 8 Jan 2027, but it cannot leave B1 before Sat 9 Jan 2027.",)),
    ],
)
def test_a_check_stands_where_its_work_is_done_until_it_moves(out, sentences):
    found = audit(STANDS, plan(stands_until(out), paint(out)))
    assert [told for told in found.broken if "moves" in told] == list(sentences)
    assert found.broken == () or sentences


def test_a_check_whose_bay_did_nothing_of_its_work_does_not_stand_there():
    elsewhere = STANDS.replace(
        bays=(replace(BAY, work=frozenset({"cabin"})), replace(BAY, name="B3"), PAINT)
    )
    found = audit(elsewhere, plan(stands_until(5), paint(5)))
    assert "C1 needs paint, which is not done in bay B1." in found.broken
