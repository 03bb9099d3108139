"""Why an earlier plan and a later one cost other amounts, by hand."""

from dataclasses import replace

import pytest

import capacity
from capacity.facts import Base, Check, Package, Skill, Stage
from capacity.plans.audit import audit
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.questions.compare.cost_steps import CostSteps, GrownCheck, Step, cost_steps
from capacity.questions.compare.plan_of_checks import PlanOfChecks
from capacity.reports.compare.text import comparison_in_words
from capacity.reports.compare.workbook import comparison_workbook
from tests.reference import stories
from tests.reference.stories import bays, day, visit
from tests.reports.sheet_reading import opened, texts

A = visit("A", 3, 3, 6)
B = visit("B", 3, 0, 3, early_cost_per_day=10.0)
C = visit("C", 2, 20, 22, early_cost_per_day=5.0)
N = visit("N", 2, 30, 32, early_cost_per_day=7.0)


def told(check: str, first: int, days: int) -> Placement:
    stage = StageDays("Work", day(first), day(first + days))
    return Placement(check, "B1", "Work", day(first), day(first + days), (stage,))


def base(*checks: Check) -> Base:
    return stories.base(bays(1), *checks)


OLD, NEW = base(A, B, C), base(A, replace(B, early_cost_per_day=12.0), N)
OLD_PLAN = Plan((told("B", 0, 3), told("A", 3, 3), told("C", 20, 2)))
NEW_PLAN = Plan((told("B", 3, 3), told("A", 6, 3), told("N", 30, 2)))


def amounts(steps: CostSteps) -> dict[Step, float]:
    return {one.step: one.money for one in steps.steps}


def test_each_step_has_its_amount_and_together_they_are_the_difference() -> None:
    # B: 3 days early at 10, then at 12, then on its day; C was 2 days early at 5, N is 2 at 7.
    steps = capacity.compare(NEW, OLD_PLAN, NEW_PLAN, old_base=OLD).steps
    assert steps is not None
    assert (steps.first, steps.second) == (40.0, 14.0)
    assert amounts(steps) == {
        Step.GONE: -10.0,
        Step.WORKBOOK: 6.0,
        Step.CHOSEN: -36.0,
        Step.NEW: 14.0,
    }
    assert [one.checks for one in steps.steps] == [("C",), (), (), ("N",)]
    assert (steps.grown, steps.broken) == ((), ())
    assert steps.first == audit(OLD, OLD_PLAN).goals.money
    assert steps.second == audit(NEW, NEW_PLAN).goals.money


def test_without_the_workbook_before_its_part_and_that_of_checks_gone_are_one() -> None:
    first = PlanOfChecks(OLD_PLAN, NEW, frozenset("ABC"))
    second = PlanOfChecks(NEW_PLAN, NEW, frozenset("ABN"))
    steps = cost_steps(first, second, stated=40.0)
    assert steps is not None
    assert amounts(steps) == {Step.GONE_AND_WORKBOOK: -4.0, Step.CHOSEN: -36.0, Step.NEW: 14.0}
    assert cost_steps(first, second) is None


def test_who_grew_is_named_and_what_could_not_have_stayed() -> None:
    skill = (Skill("Mechanic", 50.0, 0.1, 70.0, 0.0),)

    def of(days: int, hours: float) -> Base:
        package = Package("work", (Stage("Work", "maintenance", days, {"Mechanic": hours}),))
        grown = replace(A, package="work")
        found = stories.base(bays(1), grown, B, skills=skill)
        return found.replace(packages=(*found.packages, package))

    old_plan = Plan((told("A", 3, 3), told("B", 6, 3)))
    new_plan = Plan((told("B", 0, 3), told("A", 3, 5)))
    steps = capacity.compare(of(5, 30.0), old_plan, new_plan, old_base=of(3, 20.0)).steps
    assert steps is not None
    assert steps.grown == (GrownCheck("A", pytest.approx(10.0), 2),)
    assert steps.broken
    assert sum(amounts(steps).values()) == pytest.approx(steps.second - steps.first)


def test_steps_are_told_in_text_and_workbook() -> None:
    found = capacity.compare(NEW, OLD_PLAN, NEW_PLAN, old_base=OLD)
    text = comparison_in_words(found, NEW, ("before", "now"))
    assert "Why the cost differs, all checks counted:" in text
    assert "checks that are gone (C)" in text
    assert "the plan: other slots for checks of both plans" in text
    assert "Only in before: C." in text
    shown = list(texts(opened(comparison_workbook(found, NEW, ("before", "now")))))
    assert "new checks (N)" in shown


def test_where_only_slots_differ_the_steps_are_not_told() -> None:
    other = Plan((told("B", 0, 3), told("A", 6, 3), told("C", 20, 2)))
    found = capacity.compare(OLD, OLD_PLAN, other, old_base=OLD)
    assert found.steps is None or not found.steps.tell_more
    assert "Why the cost differs" not in comparison_in_words(found, OLD)
