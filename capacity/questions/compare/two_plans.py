"""Two plans of the same base side by side."""

from dataclasses import dataclass, replace
from datetime import date

from capacity.facts import Base
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Placement, Plan
from capacity.plans.weeks import monday_of, week_name
from capacity.questions.compare.cost_steps import CostSteps, cost_steps
from capacity.questions.compare.plan_of_checks import PlanOfChecks, only
from capacity.questions.replan.changes import what_changed
from capacity.questions.replan.values import What

TINY_HOURS = 1e-6
SELDOM = frozenset({"days from Wanted in", "guaranteed hours"})
"""Kinds of cost that are named only where one of the plans has them."""


@dataclass(frozen=True, slots=True)
class PlacementPair:
    """Where a check stands in each plan, and what is different; ``days`` later in the second."""

    check: str
    first: tuple[Placement, ...]
    second: tuple[Placement, ...]
    what: tuple[What, ...]
    days: int


@dataclass(frozen=True, slots=True)
class MoneyPair:
    """One kind of money, or goal 1 as days, in each plan."""

    name: str
    first: float
    second: float

    @property
    def more(self) -> float:
        """Return what the second has more."""
        return self.second - self.first


@dataclass(frozen=True, slots=True)
class OverloadPair:
    """Man-hours of a skill that nobody is there to do in an ISO week, in each plan."""

    week: str
    skill: str
    first: float
    second: float


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two plans of one base side by side.

    ``placements`` are in the order of the base. ``overloads`` has the weeks and skills that
    are overloaded in either, from the week of ``today`` on where that is asked. The audits say
    what rules a plan breaks, if it does.

    Checks that only one of the plans was made for are named, and left out of all else:
    ``only_first`` and ``only_second``, those ``no_longer`` in the base, and those of the base
    ``in_neither``. ``steps`` lead from the cost of the first plan, as it was made, to that of
    the second, all checks counted.
    """

    placements: tuple[PlacementPair, ...]
    money: tuple[MoneyPair, ...]
    overloads: tuple[OverloadPair, ...]
    first: Audit
    second: Audit
    only_first: tuple[str, ...] = ()
    only_second: tuple[str, ...] = ()
    no_longer: tuple[str, ...] = ()
    in_neither: tuple[str, ...] = ()
    steps: CostSteps | None = None

    @property
    def differing(self) -> tuple[PlacementPair, ...]:
        """Return the checks that do not stand the same in both."""
        return tuple(pair for pair in self.placements if pair.what)


def compare(
    base: Base,
    plan_a: Plan,
    plan_b: Plan,
    *,
    today: date | None = None,
    old_base: Base | None = None,
) -> Comparison:
    """Return placements, money and overloaded weeks of two plans side by side.

    With the ``old_base`` that ``plan_a`` was made for, the two may have other checks: figures
    are then of those that both have, and ``steps`` say what the changed workbook costs and what
    the plan chose.

    Man-hours that can be shared out in several ways for the same money are so in the second as
    in the first, as far as can be. Overloaded weeks that are over before ``today`` are left
    out: nobody can change them any more.
    """
    checks = frozenset(check.name for check in base.checks)
    if old_base is not None:
        old = frozenset(check.name for check in old_base.checks)
        second = PlanOfChecks(plan_b, base, checks)
        told = compare_what_both_have(PlanOfChecks(plan_a, base, old), second, today)
        return replace(told, steps=cost_steps(PlanOfChecks(plan_a, old_base, old), second))
    return compare_of_bases(
        PlanOfChecks(plan_a, base, checks), PlanOfChecks(plan_b, base, checks), today
    )


def compare_of_bases(
    one: PlanOfChecks, other: PlanOfChecks, today: date | None = None
) -> Comparison:
    """Return two plans side by side, each with the figures of its own base."""
    first = Auditor(one.base).audit(one.plan)
    second = Auditor(other.base).audit(other.plan, first)
    since = "" if today is None else week_name(monday_of(today))
    return Comparison(
        placements=_placements(one.plan, other.plan, one.base),
        money=money_pairs(first, second),
        overloads=_overloads(first, second, since),
        first=first,
        second=second,
    )


def compare_what_both_have(
    first: PlanOfChecks, second: PlanOfChecks, today: date | None = None
) -> Comparison:
    """Compare two plans that were made for other checks, of a base that may have others still.

    Goals, money and hours are those of the checks that both plans and the base have, with
    the others away.
    """
    here = [check.name for check in first.base.checks]
    both = first.checks & second.checks & set(here)
    told = compare_of_bases(only(first, both), only(second, both), today)
    either, in_both = first.checks | second.checks, first.checks & second.checks
    in_turn = [*here, *sorted(either - set(here))]
    in_first, in_second = first.checks - second.checks, second.checks - first.checks
    return replace(
        told,
        only_first=tuple(name for name in in_turn if name in in_first),
        only_second=tuple(name for name in in_turn if name in in_second),
        no_longer=tuple(name for name in in_turn if name in in_both and name not in both),
        in_neither=tuple(name for name in here if name not in either),
    )


def _placements(plan_a: Plan, plan_b: Plan, base: Base) -> tuple[PlacementPair, ...]:
    in_a, in_b = plan_a.by_check(), plan_b.by_check()
    pairs = []
    for check in base.checks:
        first, second = in_a.get(check.name, []), in_b.get(check.name, [])
        days = (second[0].in_day - first[0].in_day).days if first and second else 0
        what = what_changed(first, second, is_new=False)
        pairs.append(PlacementPair(check.name, tuple(first), tuple(second), what, days))
    return tuple(pairs)


def money_pairs(first: Audit, second: Audit) -> tuple[MoneyPair, ...]:
    """Return goal 1 as days, each kind of money and all of it, in two audits."""

    def told(audit: Audit) -> dict[str, float]:
        return {
            "days past Latest in": float(audit.goals.days_past_latest_in),
            "overtime": audit.overtime_money,
            "contract": audit.contract_money,
            "guaranteed hours": audit.guaranteed_money,
            "overload": audit.overload_money,
            "early days": sum(account.early_money for account in audit.accounts),
            "late days": sum(account.late_money for account in audit.accounts),
            "days from Wanted in": sum(account.wanted_money for account in audit.accounts),
            "prices of options": -sum(account.price for account in audit.accounts),
            "money": audit.goals.money,
        }

    other = told(second)
    pairs = [MoneyPair(name, value, other[name]) for name, value in told(first).items()]
    return tuple(p for p in pairs if p.name not in SELDOM or p.first or p.second)


def _overloads(first: Audit, second: Audit, since: str) -> tuple[OverloadPair, ...]:
    a, b = ({(w.week, w.skill): w.overload for w in audit.weeks} for audit in (first, second))
    return tuple(
        OverloadPair(*key, a.get(key, 0.0), b.get(key, 0.0))
        for key in dict.fromkeys((*sorted(a, key=lambda key: key[0]), *b))
        if key[0] >= since and max(a.get(key, 0.0), b.get(key, 0.0)) > TINY_HOURS
    )
