from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from capacity.facts import Check, Package, Stage
from capacity.slots.candidates import work_of
from tests.reference import plain_dates
from tests.reference.random_bases import SKILLS, small_base
from tests.reference.stories import visit


def stage(name: str, days: int, hours: float, *after: str, findings: float = 0.0) -> Stage:
    return Stage(name, "maintenance", days, {"Airframe": hours}, after, findings)


def check(**changes: object) -> Check:
    return visit("C1", 1, 0, 0, **changes)


# Worked one after the other: 10 + 20 + 30 hours in 2 + 4 + 3 days.
CHAIN = Package(
    "Chain",
    (stage("Open", 2, 10.0), stage("Inspect", 4, 20.0, "Open"), stage("Close", 3, 30.0, "Inspect")),
)


def left(remaining: float | None, package: Package = CHAIN) -> list[tuple[str, int, float]]:
    """Return name, days and man-hours of each stage that is left."""
    work = work_of(check(remaining=remaining), package, ["Airframe"])
    return [(stage.name, stage.days, pytest.approx(stage.man_hours[0])) for stage in work]


def test_stages_stand_in_order_of_their_earliest_start_and_not_of_the_sheet() -> None:
    package = Package(
        "P",
        (
            stage("Close", 1, 0.0, "Long"),
            stage("Long", 5, 0.0),
            stage("Late", 1, 0.0, "Short"),
            stage("Short", 2, 0.0),
        ),
    )
    # Long and Short may start on day 0, Late after 2 days, Close after 5.
    work = work_of(check(), package, ["Airframe"])
    assert [stage.name for stage in work] == ["Long", "Short", "Late", "Close"]
    assert [stage.after for stage in work] == [(), (), (1,), (0,)]


def test_man_hours_grow_by_findings_times_the_factor() -> None:
    package = Package("P", (stage("Inspect", 4, 20.0, findings=0.5),))
    (work,) = work_of(check(findings_factor=1.2), package, SKILLS)
    assert work.man_hours.tolist() == pytest.approx([20.0 * 1.6, 0.0])


def test_without_a_remaining_share_everything_is_left() -> None:
    assert left(None) == left(1.0) == [("Open", 2, 10.0), ("Inspect", 4, 20.0), ("Close", 3, 30.0)]


def test_a_stage_in_the_middle_of_its_work_keeps_its_hours_and_days_rounded_up() -> None:
    # 15 of 60 hours are done: Open, and 5 of 20 of Inspect; 15 hours are left in 4 x 15/20 days.
    assert left(0.75) == [("Inspect", 3, 15.0), ("Close", 3, 30.0)]
    # 18 done: 12 of 20 hours left in 2.4 days, which take 3.
    assert left(0.70) == [("Inspect", 3, 12.0), ("Close", 3, 30.0)]


def test_work_that_is_done_to_the_hour_leaves_the_next_stage_whole() -> None:
    assert left(0.5) == [("Close", 3, 30.0)]


def test_what_is_left_waits_for_no_finished_stage() -> None:
    work = work_of(check(remaining=0.5), CHAIN, ["Airframe"])
    assert work[0].after == ()


def test_without_man_hours_nothing_can_be_done_already() -> None:
    package = Package("P", (stage("Stand", 4, 0.0), stage("Wait", 2, 0.0)))
    assert left(0.25, package) == [("Stand", 4, 0.0), ("Wait", 2, 0.0)]


def test_a_stage_with_hours_left_keeps_a_day_however_few_they_are() -> None:
    # 66.66666667 % typed for two thirds leaves 0.00003 % of Open's hours to be done.
    thirds = Package(
        "P",
        (
            stage("Open", 3, 3000.0),
            stage("Mend", 3, 3000.0, "Open"),
            stage("Close", 3, 3000.0, "Mend"),
        ),
    )
    assert [days for _, days, _ in left(0.6666666667, thirds)] == [1, 3, 3]


@given(rng=st.randoms(use_true_random=False), percent=st.integers(1, 100))
def test_what_is_left_is_what_plain_arithmetic_leaves(rng: Random, percent: int) -> None:
    package = small_base(rng).packages[0]
    checked = check(remaining=percent / 100, findings_factor=rng.choice([0.5, 1.0, 1.7]))
    work = work_of(checked, package, SKILLS)
    plain = plain_dates.stages_left(package, checked)
    assert [(stage.name, stage.days) for stage in work] == [(p.name, p.days) for p in plain]
    for stage, expected in zip(work, plain, strict=True):
        hours = [expected.man_hours.get(skill, 0.0) for skill in SKILLS]
        assert np.allclose(stage.man_hours, hours)
        names = {work[place].name for place in stage.after}
        assert names == set(expected.after) & {stage.name for stage in work}
