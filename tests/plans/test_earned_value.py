"""Earned value in man-hours: against a published worked example, and by hand.

Sources: "EAC using the CPI", figures 7-13 and 7-14 of a study text on project management
(gristprojectmanagement.us, "Info"): BAC 500,000, EV 150,000, AC 162,000, CPI .93, EAC 538,344,
counted with the CPI rounded to two places. And a guide of 2024 or before by the makers of an
accounting program ("Using earned value management"): BAC 100,000, EV 50,000, AC 45,000, CPI 1.11,
EAC 90,000. The formulas are those of the Defense Acquisition University's lesson "Estimates at
Completion". Money stands for man-hours here.
"""

import pytest

from capacity.facts import WorkProgress
from capacity.plans.earned_value import Earned, earned_by_check, earned_of
from tests.bases import day
from tests.plans.test_progress_left import row, told


def of(planned: float, **said: object) -> Earned:
    line = WorkProgress("C1", day(0), None, **said)  # type: ignore[arg-type]
    to_go = line.hours_to_go if line.hours_to_go is not None else planned * (1 - (line.done or 0))
    return earned_of("C1", None, line, planned, 0.0 if line.finished else to_go)


@pytest.mark.parametrize(
    ("planned", "done", "booked", "earned", "index", "estimate", "off"),
    [
        # 162,000 + 350,000 / .93 = 538,344; unrounded, 500,000 / (150,000 / 162,000) = 540,000.
        (500_000, 0.3, 162_000, 150_000, 0.93, 538_344, 2_000),
        (100_000, 0.5, 45_000, 50_000, 1.11, 90_000, 0.01),
    ],
)
def test_published_worked_examples(planned, done, booked, earned, index, estimate, off):
    line = of(planned, done=done, hours_booked=booked)
    assert line.earned == pytest.approx(earned)
    assert round(line.factor or 0, 2) == index
    assert line.estimate == pytest.approx(estimate, abs=off)
    # EAC = AC + (BAC - EV) / CPI is the same figure.
    assert line.booked is not None
    assert line.to_go_at_factor is not None
    assert line.booked + line.to_go_at_factor == pytest.approx(line.estimate)
    if index == 0.93:
        assert booked + (planned - earned) / index == pytest.approx(estimate, abs=1)


def test_an_estimate_of_what_is_to_go_counts_as_it_is():
    # AC + ETC = 60 + 80 = 140; 60 of 140 are done, so 43 of 100 earned, at a factor of 0.71.
    line = of(100, hours_booked=60, hours_to_go=80)
    assert line.estimate == 140
    assert line.grown == 40
    assert line.earned == pytest.approx(100 * 60 / 140)
    assert line.factor == pytest.approx(100 / 140)


def test_what_is_not_known_is_none():
    nothing_booked = of(100, done=0.5)
    assert (nothing_booked.earned, nothing_booked.to_go) == (50, 50)
    assert (nothing_booked.factor, nothing_booked.estimate, nothing_booked.grown) == (None,) * 3
    assert of(100, done=0.0, hours_booked=8).estimate is None
    done = of(100, finished=day(-1), hours_booked=120)
    assert (done.earned, done.to_go, done.estimate) == (100, 0, 120)


def test_a_check_adds_up_its_stages_and_its_own_row_counts_before_them():
    world = told(
        row("open", finished=day(-2), hours_booked=25),  # planned 20
        row("inspect", done=0.5, hours_booked=40),  # planned 40: 20 earned, 80 at completion
    )
    *stages, whole = earned_by_check(world)["C1"]
    assert [line.stage for line in stages] == ["open", "inspect", "wash", "close"]
    assert (whole.planned, whole.earned, whole.booked, whole.to_go) == (100, 40, 65, 60)
    assert whole.factor == pytest.approx(40 / 65)
    assert whole.estimate == 25 + 80 + 30 + 10
    own = world.replace(progress=(*world.progress, row(done=0.4, hours_booked=50)))
    assert earned_by_check(own)["C1"][-1].factor == pytest.approx(40 / 50)


def test_a_stage_that_grew_before_anything_is_booked_is_told():
    world = told(row("inspect", hours_to_go=60))
    inspect, whole = earned_by_check(world)["C1"][1], earned_by_check(world)["C1"][-1]
    assert (inspect.planned, inspect.estimate, inspect.grown, inspect.factor) == (40, 60, 20, None)
    assert (whole.estimate, whole.grown) == (120, 20)


def test_without_progress_there_is_nothing():
    assert earned_by_check(told()) == {}
