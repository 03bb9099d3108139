"""From man-hours to days to the next check in the bay, by hand.

A one-sided story: one stage of 10 days and 150 planned man-hours, 100 routine and 50 findings.
Its daily man-hours are 15. The findings are told by a triangle from 0 to 2 times the mean, so
the stage has 100 to 200 man-hours, 10 to 14 days: ceil(200 / 15) = 14.
"""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from capacity.facts import Base, Bay, Stage, Status, WorkProgress
from capacity.plans.plan import Plan
from capacity.questions.risk.findings import WIDEST_EVEN_TRIANGLE
from capacity.questions.risk.play import Played, play
from capacity.questions.risk.settings import Keep, Shape
from capacity.questions.risk.simulated import RiskSettings, risk_of
from tests.bases import BAY
from tests.plans.stories import MON_TO_FRI, base, check, day, package, placed, plan, stage

FULL = RiskSettings(draws=4000, shape=Shape.TRIANGULAR)
ERRORS = 4


def uncertain(work: Stage, **changes: object) -> Stage:
    """Let findings be half of the routine and reach from nothing to twice that."""
    return replace(work, findings=0.5, findings_spread=WIDEST_EVEN_TRIANGLE, **changes)


WORK = uncertain(stage("Work", 10, hours=100))
ONE = package(WORK, name="Ten days")
TWO_CHECKS = (check("C1"), check("C2", latest_in=day(40), earliest_in=day(0)))
BACK_TO_BACK = plan(placed("C1", 5), placed("C2", 15))


def played(plan_: Plan, base_: Base, settings: RiskSettings = FULL) -> Played:
    return play(plan_, base_, settings, base_)


def stays(of: Played, row: int = 0) -> np.ndarray:
    """Return calendar days in the bay of a check, by draw."""
    return of.outs[row] - of.ins[row]


def test_days_are_drawn_man_hours_over_the_planned_ones_a_day() -> None:
    """Every draw: ceil(hours / 15), at least the 10 days of the package."""
    found = played(plan(placed("C1", 5)), base(packages=(ONE,)))
    hours = found.man_hours[0]
    assert np.array_equal(stays(found), np.maximum(10, np.ceil(hours / 15 - 1e-9)))
    assert 100 <= hours.min() < 110
    assert 190 < hours.max() <= 200
    assert set(stays(found)) == {10, 11, 12, 13, 14}


def test_the_share_of_draws_on_each_day_is_that_of_the_triangle() -> None:
    """At most 11 days while 100 + 50 x <= 165, x <= 1.3: P = 1 - 0.7^2 / 2 = 0.755.

    Half of the draws are out after 10 days (150 h and less), 80 % after
    ceil((100 + 50 (2 - sqrt(0.4))) / 15) = 12. Source: the triangular distribution.
    """
    found = played(plan(placed("C1", 5)), base(packages=(ONE,)))
    error = sqrt(0.755 * 0.245 / FULL.draws)
    assert abs(np.mean(stays(found) <= 11) - 0.755) < ERRORS * error
    (risk,) = risk_of(base(packages=(ONE,)), plan(placed("C1", 5)), FULL).checks
    assert (risk.out_likely, risk.out_safe) == (day(15), day(17))
    assert risk.man_hours_safe == pytest.approx(200 - 50 * sqrt(0.4), abs=1.5)
    assert (risk.buffer_days, risk.buffer_man_hours) == (2, pytest.approx(18.4, abs=1.5))


def test_fewer_findings_save_days_only_down_to_shortest_days() -> None:
    """100 to 200 man-hours at 15 a day are 7 to 14 days; Shortest days 8 keeps it at 8."""
    fast = package(uncertain(stage("Work", 10, hours=100), shortest_days=8), name="Ten days")
    found = played(plan(placed("C1", 5)), base(packages=(fast,)))
    assert set(stays(found)) == {8, 9, 10, 11, 12, 13, 14}
    assert np.array_equal(stays(found), np.maximum(8, np.ceil(found.man_hours[0] / 15 - 1e-9)))


def test_a_faster_pace_is_kept() -> None:
    """Planned in 8 days, it does 18.75 h a day: 200 h take 11 days, never less than 8."""
    fast = package(uncertain(stage("Work", 10, hours=100), shortest_days=8), name="Ten days")
    found = played(plan(placed("C1", 5, ("Work", 5, 13))), base(packages=(fast,)))
    assert np.array_equal(stays(found), np.maximum(8, np.ceil(found.man_hours[0] / 18.75 - 1e-9)))
    assert stays(found).max() == 11


def test_where_days_are_kept_the_weeks_give_way() -> None:
    """Ten days in every draw; what is asked in each week is the drawn hours' share of it."""
    found = played(
        plan(placed("C1", 4)),
        base(check(earliest_in=day(0)), packages=(ONE,)),
        replace(FULL, keep=Keep.DAYS),
    )
    assert set(stays(found)) == {10}
    np.testing.assert_allclose(found.demand[:2], np.array([[0.3], [0.7]]) * found.man_hours)


def test_days_off_lengthen_the_stay() -> None:
    """Ten worked days from Monday day 7 end on Friday; the eleventh is the next Monday."""
    weekdays = base(check(latest_in=day(7)), packages=(ONE,), working_weekdays=MON_TO_FRI)
    found = played(plan(placed("C1", 7, ("Work", 7, 19))), weekdays)
    worked = np.maximum(10, np.ceil(found.man_hours[0] / 15 - 1e-9))
    assert np.array_equal(found.outs[0], np.where(worked > 10, worked + 11, 19))


def test_the_latest_of_the_stages_before_decides() -> None:
    """Left and Right side by side for 10 days, each by its own findings; then Close, 1 day."""
    heavy = package(
        uncertain(stage("Left", 10, hours=100)),
        uncertain(stage("Right", 10, hours=50)),
        stage("Close", 1, "Left", "Right", hours=10),
        name="Ten days",
    )
    spans = ("Left", 5, 15), ("Right", 5, 15), ("Close", 15, 16)
    found = played(plan(placed("C1", 5, *spans)), base(packages=(heavy,)))
    alone = 1 - 0.5 * 0.7**2  # each is out after 11 days
    share = np.mean(stays(found) <= 12)
    assert abs(share - alone**2) < ERRORS * sqrt(alone**2 * (1 - alone**2) / FULL.draws)


def test_the_next_check_waits_for_the_bay() -> None:
    """C2 is planned on the day on which C1 leaves; each later day of C1 pushes it by one."""
    found = played(BACK_TO_BACK, base(*TWO_CHECKS, packages=(ONE,)))
    assert np.array_equal(found.ins[1], found.outs[0])
    assert (found.outs[1] - found.ins[1] == np.maximum(10, np.ceil(found.man_hours[1] / 15))).all()


def test_days_between_two_checks_take_up_the_delay() -> None:
    """C2 is planned 3 days after C1 leaves: it is pushed by what C1 is later than 3 days."""
    found = played(plan(placed("C1", 5), placed("C2", 18)), base(*TWO_CHECKS, packages=(ONE,)))
    assert np.array_equal(found.ins[1], np.maximum(18, found.outs[0]))
    assert (found.ins[1] > 18).any()


def test_the_changeover_is_kept() -> None:
    bay = replace(BAY, changeover_days=2)
    found = played(
        plan(placed("C1", 5), placed("C2", 18)), base(*TWO_CHECKS, packages=(ONE,), bays=(bay,))
    )
    assert np.array_equal(found.ins[1], np.maximum(18, found.outs[0] + 2))


def test_nobody_comes_in_early() -> None:
    """C1 may be two days shorter, but C2 comes in on its planned day."""
    fast = package(uncertain(stage("Work", 10, hours=100), shortest_days=8), name="Ten days")
    found = played(BACK_TO_BACK, base(*TWO_CHECKS, packages=(fast,)))
    assert found.outs[0].min() == 13
    assert found.ins[1].min() == 15


@pytest.mark.parametrize(("shares", "pushed"), [(frozenset({"B2"}), True), (frozenset(), False)])
def test_a_bay_on_the_same_floor_waits_too(shares: frozenset[str], pushed: bool) -> None:
    bays = replace(BAY, shares_floor_with=shares, changeover_days=1), replace(BAY, name="B2")
    found = played(
        plan(placed("C1", 5), placed("C2", 15, bay="B2")),
        base(*TWO_CHECKS, packages=(ONE,), bays=bays),
    )
    assert np.array_equal(found.ins[1], found.outs[0] if pushed else np.full(FULL.draws, 15))


def moving_base(*checks: object) -> Base:
    """Work in a maintenance bay, paint 4 days in another; or the other way round."""
    paint = replace(stage("Paint", 4, hours=40), work="paint")
    there = package(WORK, replace(paint, after=("Work",)), name="There")
    back = package(paint, replace(WORK, after=("Paint",)), name="Back")
    painting = Bay("P1", "North", 36.0, 40.0, 13.0, frozenset({"paint"}))
    return base(*checks, packages=(there, back), bays=(BAY, painting))


def test_the_wait_for_a_further_bay_is_kept() -> None:
    """Work until day 15, a wait of 2 days, Paint from day 17: always 2 days after Work ends."""
    visits = placed("C1", 5, ("Work", 5, 15), out=17), placed("C1", 17, ("Paint", 17, 21), bay="P1")
    found = played(plan(*visits), moving_base(check(package="There")))
    worked = np.maximum(10, np.ceil(found.man_hours[0] / 15 - 40 / 15 - 1e-9))
    assert np.array_equal(found.outs[0], 5 + worked + 2 + 4)


def test_two_checks_that_change_places_wait_for_each_other() -> None:
    """C1 and C2 change bays on day 15; both go on when C1's work is done.

    C2 paints from day 11 on, is ready on day 15, and finds its bay free when C1 leaves it.
    """
    c2 = check("C2", package="Back", earliest_in=day(0), latest_in=day(20))
    both = moving_base(check(package="There"), c2)
    change = plan(
        placed("C1", 5, ("Work", 5, 15)),
        placed("C1", 15, ("Paint", 15, 19), bay="P1"),
        placed("C2", 11, ("Paint", 11, 15), bay="P1"),
        placed("C2", 15, ("Work", 15, 25)),
    )
    found = played(change, both)
    of_c1 = np.maximum(10, np.ceil((found.man_hours[0] - 40) / 15 - 1e-9))
    of_c2 = np.maximum(10, np.ceil((found.man_hours[1] - 40) / 15 - 1e-9))
    assert np.array_equal(found.outs[0], 5 + of_c1 + 4)
    assert np.array_equal(found.outs[1], 5 + of_c1 + of_c2)


def test_a_bay_that_is_left_late_holds_up_the_check_that_moves_there() -> None:
    """C1 moves on day 15 to the bay of C2, whose paint takes 4 to 6 days from day 11 on."""
    paint = uncertain(replace(stage("Paint", 4, hours=40), work="paint"))
    c2 = check("C2", package="Paint", earliest_in=day(0), latest_in=day(20))
    story = moving_base(check(package="There"), c2)
    story = story.replace(packages=(*story.packages, package(paint, name="Paint")))
    visits = placed("C1", 5, ("Work", 5, 15)), placed("C1", 15, ("Paint", 15, 19), bay="P1")
    found = played(plan(*visits, placed("C2", 11, ("Paint", 11, 15), bay="P1")), story)
    worked = np.maximum(10, np.ceil((found.man_hours[0] - 40) / 15 - 1e-9))
    assert set(stays(found, row=1)) == {4, 5, 6}
    assert np.array_equal(found.outs[0], np.maximum(5 + worked, found.outs[1]) + 4)


def test_what_was_done_before_the_first_day_is_known() -> None:
    """Open was done on [-10, 0) and keeps its days; Work starts on the first day and is drawn."""
    heavy = package(
        uncertain(stage("Open", 10, hours=100)), replace(WORK, after=("Open",)), name="Ten days"
    )
    fixed = check(status=Status.FIXED, fixed_bay="B1", fixed_in=day(-10), earliest_in=day(-10))
    spans = ("Open", -10, 0), ("Work", 0, 10)
    found = played(plan(placed("C1", -10, *spans)), base(fixed, packages=(heavy,)))
    worked = np.maximum(10, np.ceil(found.man_hours[0] / 15 - 1e-9))
    assert np.array_equal(found.outs[0], found.calendar.first + worked)


def test_of_work_under_way_only_the_rest_is_drawn() -> None:
    """40 % left of 150 h in 10 days: 60 h in 4 days, 40 of them routine; 40 to 80 h drawn."""
    fixed = check(status=Status.FIXED, fixed_bay="B1", fixed_in=day(-6), earliest_in=day(-6))
    under_way = base(replace(fixed, remaining=0.4), packages=(ONE,))
    found = played(plan(placed("C1", -6, ("Work", 0, 4))), under_way)
    hours = found.man_hours[0]
    assert 40 <= hours.min() < hours.max() <= 80
    worked = np.maximum(4, np.ceil(hours / 15 - 1e-9))
    assert np.array_equal(found.outs[0], found.calendar.first + worked)


def test_findings_are_drawn_on_what_is_left_alone() -> None:
    """Half of 150 h is left: 5 days at 15 h a day; findings move 50 to 100 h, so 5 to 7 days."""
    fixed = check(
        status=Status.FIXED,
        fixed_bay="B1",
        fixed_in=day(-5),
        earliest_in=day(-5),
        latest_in=day(-5),
    )
    told = (WorkProgress("C1", day(0), "Work", done=0.5),)
    in_work = base(fixed, packages=(ONE,), progress=told)
    found = played(plan(placed("C1", -5, ("Work", 0, 5))), in_work)
    assert 50 <= found.man_hours[0].min() < 55
    assert 95 < found.man_hours[0].max() <= 100
    assert set(found.outs[0] - found.calendar.number(day(0))) == {5, 6, 7}
