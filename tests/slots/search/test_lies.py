"""A search that claims what is not so gets no plan past the audit."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

import capacity
from capacity.errors import AuditError, EngineError
from capacity.plans.plan import Plan
from capacity.slots.line.reports import MoneyBound
from capacity.slots.program import audited
from capacity.slots.program.program import Program
from capacity.slots.search.searching import Incumbent
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import built, nothing

BASE = stories.base(
    bays(1),
    visit("A", 3, 0, 9, early_cost_per_day=5.0),
    visit("B", 3, 0, 9, early_cost_per_day=5.0),
)


def test_without_a_lie_there_is_a_plan() -> None:
    assert isinstance(capacity.plan(BASE), capacity.Planned)


Change = Callable[[Plan], Plan]


def with_every_plan(change: Change, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every plan be changed on its way from the choice to the audit."""
    honest = audited.plan_of
    monkeypatch.setattr(audited, "plan_of", lambda *given: change(honest(*given)))


def moved_together(plan: Plan) -> Plan:
    """Put every check where the first one stands."""
    if not plan.placements:
        return plan
    first = plan.placements[0]
    return replace(plan, placements=tuple(replace(first, check=p.check) for p in plan.placements))


def a_day_longer(plan: Plan) -> Plan:
    one_day = timedelta(days=1)
    longer = (replace(p, out_day=p.out_day + one_day) for p in plan.placements)
    return replace(plan, placements=tuple(longer))


def forgetful(plan: Plan) -> Plan:
    return replace(plan, placements=plan.placements[1:])


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (moved_together, "B1"),
        (a_day_longer, "is out on"),
        (forgetful, "neither has a slot nor is listed as without a slot"),
    ],
)
def test_a_plan_other_than_the_choice_is_refused(
    change: Change, told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_every_plan(change, monkeypatch)
    with pytest.raises(AuditError, match=told):
        capacity.plan(BASE)


def claim(monkeypatch: pytest.MonkeyPatch, days: int, money: float) -> None:
    """Let the program claim more than a choice costs."""
    honest = Program.cost

    def cost(self: Program, chosen: object) -> tuple[int, float]:
        true_days, true_money = honest(self, chosen)
        return true_days + days, true_money + money

    monkeypatch.setattr(Program, "cost", cost)


@pytest.mark.parametrize("money", [1.0, -1.0, 0.01])
def test_money_that_is_not_so_is_refused_with_both_figures(
    money: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    claim(monkeypatch, days=0, money=money)
    with pytest.raises(AuditError, match=r"the search claims money [\d.]+, the audit [\d.]+"):
        capacity.plan(BASE)


def test_days_past_that_are_not_so_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    claim(monkeypatch, days=1, money=0.0)
    with pytest.raises(AuditError, match="the search claims 1 days past Latest in, the audit"):
        capacity.plan(BASE)


def test_a_bound_above_a_plan_that_is_there_is_refused() -> None:
    program = built(BASE).program
    incumbent = Incumbent(program, nothing(program), money_bounds=[MoneyBound(99, 1.0)])
    with pytest.raises(EngineError, match=r"a bound of 1\.0 was claimed, but a plan costs 0\.0"):
        _ = incumbent.bound
