"""Why one plan costs other than an earlier one: the workbook that changed, or what was chosen."""

from dataclasses import dataclass
from enum import StrEnum

from capacity.plans.audit import Audit, Auditor
from capacity.questions.compare.plan_of_checks import PlanOfChecks, only

TINY_HOURS = 1e-6
LEAST_MONEY = 0.005


class Step(StrEnum):
    """What is changed in turn between the two plans."""

    GONE = "gone"
    WORKBOOK = "workbook"
    GONE_AND_WORKBOOK = "gone and workbook"
    CHOSEN = "chosen"
    NEW = "new"


@dataclass(frozen=True, slots=True)
class CostStep:
    """How much more the plan costs once a step is made after those before it.

    ``checks`` are those that it is of, where it is of some.
    """

    step: Step
    money: float
    checks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GrownCheck:
    """A check that asks for other man-hours, or stays otherwise, in the same slot."""

    check: str
    man_hours: float
    days: int


@dataclass(frozen=True, slots=True)
class CostSteps:
    """The way from the cost of the first plan, as it was made, to that of the second.

    ``first`` plus the money of all steps is ``second``. ``grown`` are checks of both plans that
    the workbook changed, where the workbook of the first plan is known. ``broken`` are the
    rules that the slots of the first plan break by the workbook of the second: those could not
    all have stayed.
    """

    first: float
    second: float
    steps: tuple[CostStep, ...]
    grown: tuple[GrownCheck, ...] = ()
    broken: tuple[str, ...] = ()

    @property
    def tell_more(self) -> bool:
        """Return whether more differs than what the second plan chose."""
        others = [one for one in self.steps if one.step is not Step.CHOSEN]
        return any(one.checks or abs(one.money) >= LEAST_MONEY for one in others)


def cost_steps(
    first: PlanOfChecks, second: PlanOfChecks, stated: float | None = None
) -> CostSteps | None:
    """Return the steps from one plan to a later one; ``first`` has the base that it was made for.

    1. checks that are gone are left out of the first plan; 2. its slots are priced by the
    workbook of the second; 3. the slots that the second plan chose for the checks of both take
    their place; 4. the new checks come in. Each is the difference of two audits. Where the base
    of the first plan is not known, it is that of the second, and its cost is the one ``stated``
    when it was made; steps 1 and 2 are then one. None without either.
    """
    here = {check.name for check in second.base.checks}
    both = first.checks & second.checks & here
    gone = tuple(sorted(first.checks - both))
    new = tuple(check.name for check in second.base.checks if check.name in second.checks - both)
    on_second = PlanOfChecks(first.plan, second.base, first.checks)
    priced = _audit(only(on_second, both))
    chosen = _audit(only(second, both), priced)
    whole = _audit(only(second, second.checks & here), chosen)
    before = None
    steps = []
    if first.base is not second.base:
        before = _audit(only(first, first.checks))
        without = _audit(only(first, both), before)
        start = before.goals.money
        steps.append(CostStep(Step.GONE, without.goals.money - start, gone))
        steps.append(CostStep(Step.WORKBOOK, priced.goals.money - without.goals.money))
    elif stated is not None:
        start = stated
        steps.append(CostStep(Step.GONE_AND_WORKBOOK, priced.goals.money - start, gone))
    else:
        return None
    steps.append(CostStep(Step.CHOSEN, chosen.goals.money - priced.goals.money))
    steps.append(CostStep(Step.NEW, whole.goals.money - chosen.goals.money, new))
    return CostSteps(
        first=start,
        second=whole.goals.money,
        steps=tuple(steps),
        grown=() if before is None else _grown(before, priced),
        broken=priced.broken,
    )


def _audit(one: PlanOfChecks, standing: Audit | None = None) -> Audit:
    return Auditor(one.base).audit(one.plan, standing)


def _grown(before: Audit, after: Audit) -> tuple[GrownCheck, ...]:
    old = before.by_check()
    found = (
        GrownCheck(
            account.check,
            account.man_hours - old[account.check].man_hours,
            (account.out_day - old[account.check].out_day).days,
        )
        for account in after.accounts
        if account.check in old
    )
    return tuple(one for one in found if one.days or abs(one.man_hours) > TINY_HOURS)
