"""Nothing else is done on an aircraft during a stage that is done alone.

Open 2 days, then Left 3 days, Swing 2 days alone and Right 4 days, all after Open; then
Close. They are laid out in that order, so a check in on day 5 has Left on [7, 10), Swing
after it on [10, 12), and Right, which could start beside Left but would run into Swing, after
that on [12, 16).
"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from capacity.facts import Package, Stage
from capacity.plans.audit import audit
from capacity.plans.plan import Placement
from capacity.plans.stays import LaidStage, StayLayout
from capacity.plans.worked_days import WorkedDays

from .stories import MON_TO_FRI, audited, base, check, day, package, placed, plan, stage


def alone(stage_: Stage) -> Stage:
    """Let nothing run beside the stage."""
    return replace(stage_, alone=True)


HEAVY = package(
    stage("Open", 2),
    stage("Left", 3, "Open"),
    alone(stage("Swing", 2, "Open")),
    stage("Right", 4, "Open"),
    stage("Close", 1, "Left", "Swing", "Right"),
)
OPEN, LEFT, SWING, RIGHT = ("Open", 5, 7), ("Left", 7, 10), ("Swing", 10, 12), ("Right", 12, 16)
CLOSE = ("Close", 16, 17)
GOOD = placed("C1", 5, OPEN, LEFT, SWING, RIGHT, CLOSE)


@pytest.mark.parametrize(
    ("stated", "sentences"),
    [
        (GOOD, ()),
        # beside Left, as if it were not alone; Right and Close follow what is stated
        (
            placed("C1", 5, OPEN, LEFT, ("Swing", 7, 9), ("Right", 9, 13), ("Close", 13, 14)),
            (
                "C1 starts Swing on Mon 11 Jan 2027, "
                "but it is done alone and Left runs until Thu 14 Jan 2027.",
            ),
        ),
        # one day of Left too many under Swing
        (
            placed("C1", 5, OPEN, LEFT, ("Swing", 9, 11), ("Right", 11, 15), ("Close", 15, 16)),
            (
                "C1 starts Swing on Wed 13 Jan 2027, "
                "but it is done alone and Left runs until Thu 14 Jan 2027.",
            ),
        ),
        # Right begins when Left does and runs into Swing
        (
            placed("C1", 5, OPEN, LEFT, SWING, ("Right", 7, 11), ("Close", 12, 13)),
            (
                "C1 starts Right on Mon 11 Jan 2027, "
                "but Swing is done alone and runs until Sat 16 Jan 2027.",
            ),
        ),
        # a day later than it need; Right then has room before it, and takes it
        (
            placed("C1", 5, OPEN, LEFT, ("Swing", 11, 13), ("Right", 7, 11), ("Close", 13, 14)),
            ("C1 starts Swing on Fri 15 Jan 2027, but it could start on Thu 14 Jan 2027.",),
        ),
        (
            placed("C1", 5, OPEN, LEFT, SWING, ("Right", 13, 17), ("Close", 17, 18)),
            ("C1 starts Right on Sun 17 Jan 2027, but it could start on Sat 16 Jan 2027.",),
        ),
        # a shorter order, but not the one in which stages are laid out
        (
            placed(
                "C1", 5, OPEN, ("Swing", 7, 9), ("Left", 9, 12), ("Right", 9, 13), ("Close", 13, 14)
            ),
            ("C1 starts Left on Wed 13 Jan 2027, but it could start on Mon 11 Jan 2027.",),
        ),
        # before Open is over: told as such, and not a second time
        (
            placed("C1", 5, OPEN, LEFT, ("Swing", 6, 8), ("Right", 8, 12), ("Close", 12, 13)),
            ("C1 starts Swing on Sun 10 Jan 2027, but Open runs until Mon 11 Jan 2027.",),
        ),
        # without Left nobody can say when the others could start
        (
            placed("C1", 5, OPEN, SWING, RIGHT, CLOSE),
            ("C1 lacks its stage Left.",),
        ),
        (
            placed("C1", 5, OPEN, LEFT, RIGHT, CLOSE),
            ("C1 lacks its stage Swing.",),
        ),
    ],
)
def test_stages(stated: Placement, sentences: tuple[str, ...]) -> None:
    """C1 comes in on day 5."""
    heavy = base(check(package="Heavy"), packages=(HEAVY,))
    assert audit(heavy, plan(stated)).broken == sentences


def test_the_last_to_make_room_is_named() -> None:
    """Swing waits for Left, until day 8, and for Right, until day 9."""
    heavy = package(stage("Left", 3), stage("Right", 4), alone(stage("Swing", 2)))
    told = plan(placed("C1", 5, ("Left", 5, 8), ("Right", 5, 9), ("Swing", 5, 7)))
    assert audit(base(check(package="Heavy"), packages=(heavy,)), told).broken == (
        "C1 starts Swing on Sat 9 Jan 2027, "
        "but it is done alone and Right runs until Wed 13 Jan 2027.",
    )


def test_a_stage_that_fits_in_before_stays_there() -> None:
    """Long 5 days is laid out first, then Swing after it; Short 2 days has room beside Long.

    Swing comes after Prepare, 1 day, so its earliest start is later than that of Short.
    """
    heavy = package(
        stage("Long", 5),
        stage("Prepare", 1),
        alone(stage("Swing", 2, "Prepare")),
        stage("Short", 2, "Prepare"),
    )
    told = placed("C1", 5, ("Long", 5, 10), ("Prepare", 5, 6), ("Swing", 10, 12), ("Short", 6, 8))
    audited(base(check(package="Heavy"), packages=(heavy,)), told)


def test_the_first_stage_may_be_alone() -> None:
    """Weigh alone on [5, 6), then the others side by side, though After does not say so."""
    heavy = package(alone(stage("Weigh", 1)), stage("Left", 3), stage("Right", 4))
    heavy_base = base(check(package="Heavy"), packages=(heavy,))
    audited(heavy_base, placed("C1", 5, ("Weigh", 5, 6), ("Left", 6, 9), ("Right", 6, 10)))
    told = plan(placed("C1", 5, ("Weigh", 5, 6), ("Left", 5, 8), ("Right", 6, 10)))
    assert audit(heavy_base, told).broken == (
        "C1 starts Left on Sat 9 Jan 2027, but Weigh is done alone and runs until Sun 10 Jan 2027.",
    )


def test_the_order_is_that_of_the_network_and_then_of_the_sheet() -> None:
    """Listed first but after Open, Late waits for Swing, which could start on day 5.

    Swing and Other tie at the start; Swing is listed before Other, and so comes first.
    """
    heavy = package(
        stage("Late", 1, "Open"), alone(stage("Swing", 2)), stage("Other", 3), stage("Open", 2)
    )
    told = placed("C1", 5, ("Swing", 5, 7), ("Other", 7, 10), ("Open", 7, 9), ("Late", 9, 10))
    audited(base(check(package="Heavy"), packages=(heavy,)), replace(told, stage_from="Swing"))


def test_days_off_in_a_stage_keep_the_others_away() -> None:
    """Monday to Friday: Swing on Fri 11 and Mon 14 is on [11, 15), so Left waits for Tuesday.

    At two worked days, Wash ends on Friday and would be over before: it stays at the start.
    """
    heavy = package(stage("Wash", 2), alone(stage("Swing", 2, "Wash")), stage("Left", 1, "Wash"))
    weekdays = base(check(package="Heavy"), packages=(heavy,), working_weekdays=MON_TO_FRI)
    audited(weekdays, placed("C1", 9, ("Wash", 9, 11), ("Swing", 11, 15), ("Left", 15, 16)))
    told = plan(placed("C1", 9, ("Wash", 9, 11), ("Swing", 11, 15), ("Left", 14, 15)))
    assert audit(weekdays, told).broken == (
        "C1 starts Left on Mon 18 Jan 2027, "
        "but Swing is done alone and runs until Tue 19 Jan 2027.",
    )


def test_finished_stages_keep_nobody_away() -> None:
    """Half of the man-hours are done, all of Swing: Left starts when the work does."""
    heavy = package(alone(stage("Swing", 2, hours=50)), stage("Left", 3, hours=50))
    going_on = check(package="Heavy", remaining=0.5)
    audited(base(going_on, packages=(heavy,)), placed("C1", 5, ("Left", 5, 8)))


@st.composite
def networks(draw: st.DrawFn) -> Package:
    """Draw up to six stages, each after some of those before it and some of them alone."""
    stages: list[Stage] = []
    for number in range(draw(st.integers(1, 6))):
        after = [other.name for other in stages if draw(st.booleans())]
        one = stage(f"S{number}", draw(st.integers(1, 4)), *after)
        stages.append(replace(one, alone=draw(st.booleans())))
    return package(*draw(st.permutations(stages)))


def days(laid: LaidStage, later: int = 0) -> set[int]:
    """Return the days that a stage takes when it starts some days later; all are worked."""
    first = (laid.first - day(0)).days + later
    return set(range(first, first + laid.work.days))


@given(networks())
def test_alone_and_as_early_as_can_be(heavy: Package) -> None:
    """No alone stage shares a day with another; no stage has room on any earlier day.

    Room is looked for day by day, among the stages laid out before it, down to the latest
    end of its After stages.
    """
    one = base(check(package="Heavy"), packages=(heavy,))
    laid = StayLayout(one, WorkedDays(one)).lay_out(one.checks[0], "B1", day(5)).stages
    for number, this in enumerate(laid):
        apart = [other for other in laid[:number] if this.work.alone or other.work.alone]
        taken = set[int]().union(*(days(other) for other in apart))
        assert not days(this) & taken
        ready = max([5, *(max(days(o)) + 1 for o in laid if o.work.stage in this.work.after)])
        for earlier in range(ready - min(days(this)), 0):
            assert days(this, earlier) & taken
