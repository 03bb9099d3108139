"""What a crew plan buys beside its slot plan, and the rule that asks for more; worked by hand."""

from dataclasses import replace

import pytest

from capacity.crews.assign import Staffed
from capacity.crews.bought import Bought, Step
from capacity.crews.bought_beside import slot_plan_buys
from capacity.plans.plan import Plan
from capacity.reports.crews.text import crews_in_words
from capacity.reports.crews.wording import bought_in_words
from tests.crews.stories import (
    MECHANIC,
    base,
    crew,
    day,
    one_stage,
    package,
    placed,
    staffed,
    stage,
)

TWO = crew("Two", 2)


def steps(result: Staffed) -> dict[Step, float]:
    """Return what asks for more; all steps add up to the difference."""
    by_step = dict(result.bought.by_step)
    assert sum(by_step.values()) == pytest.approx(result.bought.more)
    return {step: hours for step, hours in by_step.items() if abs(hours) > 1e-6}


def test_what_fits_the_week_but_not_its_day_is_asked_by_the_roster() -> None:
    """32 h on Monday alone: two people give 16, and the week has 112."""
    result = one_stage(stage("Work", 1, hours=32.0), [TWO])
    assert (result.bought.slot_plan, result.bought.crew_plan) == (0.0, pytest.approx(16.0))
    assert steps(result) == {Step.DAYS: pytest.approx(16.0)}


def test_work_that_is_not_done_by_night() -> None:
    work = stage("Work", 1, hours=16.0, by_night=False)
    result = one_stage(work, [crew("Owls", 2, "Night")])
    assert steps(result) == {Step.NIGHT: pytest.approx(16.0)}


def test_the_most_heads_on_a_stage() -> None:
    result = one_stage(stage("Work", 1, hours=16.0, max_heads=1), [TWO])
    assert steps(result) == {Step.HEADS: pytest.approx(8.0)}


def test_licence_cover() -> None:
    """Who certifies comes when the mechanics have gone."""
    work = stage("Work", 1, man_hours={"Mechanic": 16.0, "Certifier": 1.0})
    late = crew("Certifiers", 1, "Late", skills=("Certifier",))
    assert steps(one_stage(work, [TWO, late])) == {Step.LICENCES: pytest.approx(16.0)}


def test_licence_cover_is_wanted_in_whole_shifts() -> None:
    """8 h of mechanics in each of two shifts, and one certifier in the early one alone.

    Half of the licence would cover half a shift if shifts could be worked by half.
    """
    work = stage("Work", 1, man_hours={"Mechanic": 16.0, "Certifier": 1.0})
    crews = [crew("Early ones", 1), crew("Late ones", 1, "Late")]
    result = one_stage(work, [*crews, crew("Certifiers", 1, skills=("Certifier",))])
    assert steps(result) == {Step.LICENCES: pytest.approx(8.0)}


def test_two_people_on_critical_work() -> None:
    """One certifier alone on a shift: nobody can inspect what he does."""
    work = stage("Work", 1, man_hours={"Certifier": 8.0}, critical=True)
    one = crew("Certifiers", 1, skills=("Certifier",))
    assert steps(one_stage(work, [one])) == {Step.CRITICAL: pytest.approx(8.0)}


def test_whole_people() -> None:
    """A person is on one aircraft for a whole shift: two half days on two aircraft want two."""
    works = [package(stage("Work", 1, hours=4.0), name=name) for name in ("One", "Other")]
    base_ = base(works, [crew("Single", 1)])
    result = staffed(base_, placed("C1", ("Work", 0, 1)), placed("C2", ("Work", 0, 1)))
    assert steps(result) == {Step.PEOPLE: pytest.approx(4.0)}


def test_a_crew_plan_that_buys_no_more_is_asked_nothing() -> None:
    """150 h in the seven days of a week that has 112: both buy 38."""
    free = replace(MECHANIC, overtime_cap=0.0)
    result = one_stage(stage("Work", 7, hours=150.0), [TWO], skills=(free,))
    assert result.bought == Bought(pytest.approx(38.0), pytest.approx(38.0))  # type: ignore[arg-type]
    assert bought_in_words(result.bought).endswith(
        "38 h here, 38 h in these weeks of the slot plan."
    )


def test_a_week_staffed_in_part_has_its_share() -> None:
    base_ = base([package(stage("Work", 7, hours=150.0))], [TWO])
    plan = Plan((placed("C1", ("Work", 0, 7)),))
    assert slot_plan_buys(plan, base_, day(0), 7) == pytest.approx(38.0)
    assert slot_plan_buys(plan, base_, day(4), 7) == pytest.approx(38.0 * 3 / 7)


def test_the_rules_are_named_where_the_plan_is_told() -> None:
    result = one_stage(stage("Work", 1, hours=32.0, max_heads=1), [TWO])
    told = crews_in_words(result, base([package(stage("Work", 1, hours=32.0))], [TWO]))
    said = (
        "hired and overload: 24 h here, 0.0 h in these weeks of the slot plan: 24 h more. Proven, "
        "each on top of those before it: days and shifts of the rosters +16 h; Max heads +8.0 h."
    )
    assert said in told


@pytest.mark.parametrize(
    ("slot_plan", "crew_plan", "says"),
    [
        (100.0, 101.5, "they agree within 2 %"),
        (100.0, 60.0, "40 h fewer, since crews may work a stage more on one of its days"),
        (100.0, 103.0, "3.0 h more (3.0 %)"),
    ],
)
def test_how_far_the_two_agree(slot_plan: float, crew_plan: float, says: str) -> None:
    assert says in bought_in_words(Bought(slot_plan, crew_plan))
