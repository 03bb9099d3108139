"""What is left of a check counts from today in a re-plan, worked out on paper.

Every visit is one stage without man-hours, so no share of it could be done; here each has 100 h.
"""

from dataclasses import replace
from random import Random

import pytest

import capacity
from capacity.crews.assign import assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.facts import Base, Check, Package, Stage, Status
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.enquiries.asked import ask, enquiry
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Replanned, What
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated import risk_of
from capacity.reports.replan.text import replan_in_words
from capacity.settings import Settings
from tests.reference import stories
from tests.reference.random_bases import small_base, tiny_base
from tests.reference.second_solutions import best_by_milp, best_by_trying, clash_of_fixed
from tests.reference.stories import bays, day, fixed, proven, visit
from tests.slots.rich_bases import rich_base

QUICK = Settings(seconds=20)


def with_hours(base: Base) -> Base:
    """Give each package 100 h of work."""
    return base.replace(
        packages=tuple(
            Package(p.name, (Stage("Work", "maintenance", p.stages[0].days, {"Mechanic": 100.0}),))
            for p in base.packages
        )
    )


def replanned(base: Base, plan: Plan, today: int) -> Replanned:
    answer = replan(base, plan, day(today), QUICK)
    assert isinstance(answer, Replanned)
    return answer


def days_of(plan: Plan, name: str) -> tuple[int, int]:
    (placement,) = [p for p in plan.placements if p.check == name]
    return (placement.in_day - day(0)).days, (placement.out_day - day(0)).days


@pytest.mark.parametrize("status", list(Status))
def test_what_is_left_counts_from_today_in_every_status(status: Status) -> None:
    """A 20-day check in since day -1, out on day 19: on day 9, 70 % or 14 days are left."""
    first = -1 if status is Status.FIXED else 0
    check: Check
    if status is Status.FIXED:
        check = fixed("A", 20, first, "B1")
    else:
        check = visit("A", 20, first, 0, status=status, price=1000.0)
    other = visit("B", 3, 19, 30, early_cost_per_day=10.0)
    base = with_hours(stories.base(bays(1), check, replace(other, latest_in=day(25))))
    plan = proven(base).plan
    assert days_of(plan, "A") == (first, first + 20)
    reported = base.replace(checks=(replace(check, remaining=0.7), base.checks[1]))
    answer = replanned(reported, plan, today=9)
    assert days_of(answer.plan, "A") == (first, 9 + 14)
    assert answer.base.work_left_from == day(9)
    assert audit(answer.base, answer.plan).broken == ()
    change = next(change for change in answer.changes if change.check == "A")
    assert change.what == (What.STAGES,)
    assert change.why[0].cause is Cause.GREW
    assert change.why[0].days == 9 + 14 - (first + 20)
    said = replan_in_words(answer)
    assert "70.0 % of it is left from Wed 13 Jan 2027" in said
    assert "The work left on 1 check (Remaining %) counts from Wed 13 Jan 2027, today." in said


def test_a_plan_counts_from_the_first_day() -> None:
    check = fixed("A", 20, -1, "B1", remaining=0.7)
    plan = proven(with_hours(stories.base(bays(1), check))).plan
    assert days_of(plan, "A") == (-1, 14)


def test_questions_about_a_re_planned_plan_count_from_the_same_day() -> None:
    check = fixed("A", 20, -1, "B1", remaining=0.7)
    base = with_hours(stories.base(bays(1), check))
    answer = replanned(base, proven(base).plan, today=9)
    risk = risk_of(answer.base, answer.plan, RiskSettings(draws=100))
    assert [(one.check, one.out_likely) for one in risk.checks] == [("A", day(23))]
    inquiry = enquiry(base, "Twin", "3 days", day(15), latest=day(30))
    (told,) = ask(answer.base, answer.plan, [inquiry], settings=QUICK)
    assert min(slot.in_day for slot in told.slots) == day(23)
    staffed = assign_crews(answer.base, answer.plan, CrewSettings(seconds=5, weeks=4))
    assert staffed.audit.broken == ()
    assert {m.first for m in staffed.plan.stages if m.check == "A"} == {day(9)}


@pytest.mark.parametrize("seed", range(12))
def test_a_second_solution_counts_from_the_same_day(seed: int) -> None:
    """Optima by a program of its own, and by trying all ways, both in plain dates."""
    rng = Random(900 + seed)
    tiny = seed % 2 == 0
    base = (tiny_base if tiny else small_base)(rng)
    base = base.replace(
        work_counts_from=day(rng.randint(-1, 8)) - (day(0) - base.first_day),
        checks=tuple(
            replace(c, remaining=rng.choice([None, 0.4, 0.8]) if c.remaining is None else 0.5)
            for c in base.checks
        ),
    )
    if clash_of_fixed(base):
        return
    days, money = best_by_trying(base) if tiny else best_by_milp(base)
    goals = proven(base).audit.goals
    assert goals.days_past_latest_in == days
    assert goals.money == pytest.approx(money, rel=2e-6, abs=0.01)


@pytest.mark.parametrize("seed", range(6))
def test_plans_with_every_rule_are_laid_out_alike_by_search_and_audit(seed: int) -> None:
    """Several bays, paces, shops and moves; a plan that the audit lays out otherwise raises."""
    rng = Random(40 + seed)
    base = rich_base(rng)
    base = base.replace(
        work_counts_from=day(rng.randint(1, 9)),
        checks=tuple(replace(c, remaining=rng.choice([0.3, 0.7])) for c in base.checks),
    )
    outcome = capacity.plan(base, Settings(seconds=2))
    if isinstance(outcome, capacity.Planned):
        assert audit(base, outcome.plan) == outcome.audit
        risk_of(base, outcome.plan, RiskSettings(draws=100))
