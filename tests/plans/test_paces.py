"""A stage may be run faster or slower, whole, within its Shortest and Longest days.

Open 2 days, then Work of 6 normal days, 4 at the shortest and 8 at the longest, then Close
1 day. All days are worked. A check comes in on day 7, a Monday.
"""

from dataclasses import replace

import pytest

from capacity.facts import Base, Check, Stage, Status
from capacity.plans.audit import audit
from capacity.plans.plan import Placement

from .stories import (
    MON_TO_FRI,
    PLENTY,
    audited,
    base,
    check,
    day,
    package,
    placed,
    plan,
    stage,
)


def paced(stage_: Stage, shortest: int | None, longest: int | None) -> Stage:
    """Bound the days that a stage may take."""
    return replace(stage_, shortest_days=shortest, longest_days=longest)


def hangar(work: Stage, *checks: Check, **changes: object) -> Base:
    """Build a base for one check with ``work`` between its opening and its closing."""
    heavy = package(stage("Open", 2), work, stage("Close", 1, "Work"))
    one = base(*(checks or (check(package="Heavy"),)), packages=(heavy,))
    return one.replace(**changes)


WORK = stage("Work", 6, "Open", hours=120)
PACED = paced(WORK, 4, 8)


def at(days: int, *, in_day: int = 7) -> Placement:
    """Give Work as many days, and let Close follow."""
    until = in_day + 2 + days
    stages = (("Open", in_day, in_day + 2), ("Work", in_day + 2, until))
    return placed("C1", in_day, *stages, ("Close", until, until + 1))


@pytest.mark.parametrize(
    ("work", "days", "sentence"),
    [
        (PACED, 4, None),
        (PACED, 6, None),
        (PACED, 8, None),
        (PACED, 3, "C1 does Work in 3 worked days, but it takes at least 4."),
        (PACED, 9, "C1 does Work in 9 worked days, but it takes at most 8."),
        # what is not given is the normal days
        (paced(WORK, 4, None), 6, None),
        (paced(WORK, 4, None), 7, "C1 does Work in 7 worked days, but it takes at most 6."),
        (paced(WORK, None, 8), 6, None),
        (paced(WORK, None, 8), 5, "C1 does Work in 5 worked days, but it takes at least 6."),
        # without paces a stage takes its normal days, until a day that can be named
        (WORK, 6, None),
        (
            WORK,
            5,
            "C1 does Work from Wed 13 Jan 2027 until Mon 18 Jan 2027, "
            "but its worked days run until Tue 19 Jan 2027.",
        ),
    ],
)
def test_days_within_bounds(work: Stage, days: int, sentence: str | None) -> None:
    """Every other stage follows what the plan states, so one slip is told once."""
    said = audit(hangar(work), plan(at(days))).broken
    assert said == (() if sentence is None else (sentence,))


@pytest.mark.parametrize(("days", "weeks"), [(4, (120, 0)), (6, (80, 40)), (8, (60, 60))])
def test_man_hours_stay_the_same_and_are_spread_over_the_days_taken(
    days: int, weeks: tuple[float, float]
) -> None:
    """Work from Thursday day 10 on asks 30, 20 or 15 h a day; four days are left in that week."""
    result = audited(hangar(PACED), at(days, in_day=8))
    assert result.accounts[0].man_hours == pytest.approx(120)
    assert tuple(load.demand for load in result.weeks[1:3]) == pytest.approx(weeks)


def test_the_pace_moves_the_out_day_and_the_money() -> None:
    """In on day 7; at 4 days out on day 14, as agreed; at 6 and 8 days two and four late."""
    late = check(package="Heavy", agreed_out=day(14), late_cost_per_day=10.0)
    money = {days: audited(hangar(PACED, late), at(days)).goals.money for days in (4, 6, 8)}
    assert money == {4: 0.0, 6: 20.0, 8: 40.0}


@pytest.mark.parametrize("days", [3, 9])
def test_a_pace_out_of_bounds_counts_the_normal_days(days: int) -> None:
    """Whatever the plan claims, the figures are those of 6 days: out on day 16, two days late."""
    late = check(package="Heavy", agreed_out=day(14), late_cost_per_day=10.0)
    result = audit(hangar(PACED, late), plan(at(days)))
    assert len(result.broken) == 1
    assert result.goals.money == 20.0


def test_days_off_are_no_days_of_a_pace() -> None:
    """Monday to Friday, in on Monday day 7: Work from Wednesday day 9 to Friday, then Monday.

    That is four worked days, [9, 15). Until Tuesday, [9, 16), it is five.
    """
    weekdays = hangar(PACED, working_weekdays=MON_TO_FRI)
    for days in (4, 5):
        told = placed(
            "C1", 7, ("Open", 7, 9), ("Work", 9, 11 + days), ("Close", 11 + days, 12 + days)
        )
        audited(weekdays, told)
    three = placed("C1", 7, ("Open", 7, 9), ("Work", 9, 12), ("Close", 14, 15))
    assert audit(weekdays, plan(three)).broken == (
        "C1 does Work in 3 worked days, but it takes at least 4.",
    )


def test_a_stage_does_not_end_on_a_day_off() -> None:
    """Eight worked days from Wednesday day 9 end on Friday day 18; Saturday is not counted."""
    weekdays = hangar(PACED, working_weekdays=MON_TO_FRI)
    told = placed("C1", 7, ("Open", 7, 9), ("Work", 9, 20), ("Close", 21, 22))
    assert audit(weekdays, plan(told)).broken == (
        "C1 does Work from Wed 13 Jan 2027 until Sun 24 Jan 2027, "
        "but its worked days run until Sat 23 Jan 2027.",
    )


def test_a_stage_that_ends_before_it_starts_takes_no_days() -> None:
    """The plan states Work from day 9 until day 8."""
    told = placed("C1", 7, ("Open", 7, 9), ("Work", 9, 8), ("Close", 8, 9))
    assert audit(hangar(PACED), plan(told)).broken == (
        "C1 does Work in 0 worked days, but it takes at least 4.",
    )


def test_a_fixed_check_runs_at_any_of_its_paces() -> None:
    """It stands in bay and in day; how fast it is run is left to choose."""
    fixed = check(package="Heavy", status=Status.FIXED, fixed_bay="B1", fixed_in=day(7))
    for days in (4, 5, 6, 8):
        audited(hangar(PACED, fixed), at(days))
    assert audit(hangar(PACED, fixed), plan(at(3))).broken == (
        "C1 does Work in 3 worked days, but it takes at least 4.",
    )


@pytest.mark.parametrize(
    ("days", "sentence"),
    [
        (3, None),
        (4, None),
        (6, None),
        (2, "C1 does Work in 2 worked days, but it takes at least 3."),
        (7, "C1 does Work in 7 worked days, but it takes at most 6."),
    ],
)
def test_the_bounds_of_work_under_way_shrink_with_it(days: int, sentence: str | None) -> None:
    """30 of Work's 120 h are done: 3/4 of 4, 6 and 8 days are 3, 4.5 and so 5, and 6."""
    going_on = check(package="Heavy", remaining=0.75)
    told = placed("C1", 7, ("Work", 7, 7 + days), ("Close", 7 + days, 8 + days))
    result = audit(hangar(PACED, going_on), plan(told))
    assert result.broken == (() if sentence is None else (sentence,))
    assert result.accounts[0].man_hours == pytest.approx(90)


def test_what_is_left_takes_a_day_at_least() -> None:
    """A tenth of Work is left: 0.4 days at the shortest and 0.8 at the longest are one day."""
    going_on = check(package="Heavy", remaining=0.1)
    audited(hangar(PACED, going_on), placed("C1", 7, ("Work", 7, 8), ("Close", 8, 9)))


def test_a_faster_stage_is_clear_of_a_stage_done_alone() -> None:
    """Left at 2 to 4 days; Swing, alone, begins the day after it, whatever its pace."""
    heavy = package(
        paced(stage("Left", 3), 2, 4),
        replace(stage("Swing", 1), alone=True),
        stage("Right", 1, "Left"),
    )
    one = base(check(package="Heavy"), packages=(heavy,))
    for left in (7, 8, 9):
        told = placed(
            "C1", 5, ("Left", 5, left), ("Swing", left, left + 1), ("Right", left + 1, left + 2)
        )
        audited(one, told)


def test_the_order_of_stages_is_that_of_the_normal_days() -> None:
    """Swing, after Left of 3 normal days, is laid out after Right, after Middle of 2.

    With Left at 1 day, Swing could start on day 6, but Right is on [7, 9) before it in turn,
    and Swing of 2 days would run into it: it starts on day 9.
    """
    heavy = package(
        paced(stage("Left", 3), 1, None),
        stage("Middle", 2),
        replace(stage("Swing", 2, "Left"), alone=True),
        stage("Right", 2, "Middle"),
    )
    told = placed("C1", 5, ("Left", 5, 6), ("Middle", 5, 7), ("Swing", 9, 11), ("Right", 7, 9))
    audited(base(check(package="Heavy"), packages=(heavy,)), told)


def test_a_slower_pace_saves_overtime() -> None:
    """One person gives 70 h a week; 120 h in two weeks fit at 8 days of 15 h from Thursday on.

    At 6 days of 20 h, 80 h fall into the first of the two weeks: 10 h are overtime.
    """
    few = (replace(PLENTY, heads=1),)
    money = {
        days: audited(hangar(PACED, crews=few), at(days, in_day=8)).overtime_money
        for days in (6, 8)
    }
    assert money == pytest.approx({6: 10 * 60.0, 8: 0.0})
