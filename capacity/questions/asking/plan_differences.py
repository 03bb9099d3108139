"""By how much two audited plans of the same base differ."""

from collections.abc import Collection
from math import fsum

from capacity.plans.audit import Audit
from capacity.plans.plan import Plan, WeekLoad
from capacity.questions.enquiries.values import Costs, HoursMore, Move

TINY_HOURS = 1e-6


def costs_between(before: Audit, after: Audit, own: Collection[str]) -> Costs:
    """Return what a plan costs more than another, the prices of the ``own`` enquiries left out.

    costs = money after + prices of the own - money before, split by what it is for.
    """
    mine = [account for account in after.accounts if account.check in own]
    others = [account for account in after.accounts if account.check not in own]
    return Costs(
        overtime=after.overtime_money - before.overtime_money,
        contract=after.contract_money - before.contract_money,
        overload=after.overload_money - before.overload_money,
        early=fsum(account.early_money for account in mine),
        late=fsum(account.late_money for account in mine),
        early_of_others=fsum(
            (*(a.early_money for a in others), *(-a.early_money for a in before.accounts))
        ),
        late_of_others=fsum(
            (*(a.late_money for a in others), *(-a.late_money for a in before.accounts))
        ),
        prices_of_others=fsum((*(a.price for a in before.accounts), *(-a.price for a in others))),
        days_past=after.goals.days_past_latest_in - before.goals.days_past_latest_in,
    )


def hours_more(before: Audit, after: Audit) -> tuple[HoursMore, ...]:
    """Return the weeks and skills in which other hours are bought, in order of week."""
    old = {(load.week, load.skill): load for load in before.weeks}
    new = {(load.week, load.skill): load for load in after.weeks}
    weeks = sorted({week for week, _ in (*old, *new)})
    skills = list(dict.fromkeys(load.skill for load in (*before.weeks, *after.weeks)))
    found = [
        _more(week, skill, old.get((week, skill)), new.get((week, skill)))
        for week in weeks
        for skill in skills
    ]
    return tuple(m for m in found if max(map(abs, (m.overtime, m.contract, m.overload))) > 0)


def _more(week: str, skill: str, old: WeekLoad | None, new: WeekLoad | None) -> HoursMore:
    def more(after: float, before: float) -> float:
        return after - before if abs(after - before) > TINY_HOURS else 0.0

    return HoursMore(
        week,
        skill,
        more(new.overtime if new else 0.0, old.overtime if old else 0.0),
        more(new.contract if new else 0.0, old.contract if old else 0.0),
        more(new.overload if new else 0.0, old.overload if old else 0.0),
    )


def moves_between(before: Plan, after: Plan, own: Collection[str]) -> tuple[Move, ...]:
    """Return who of the others stands elsewhere, in order of the old in day."""
    old, new = before.by_check(), after.by_check()
    names = [*old, *(name for name in new if name not in old)]
    return tuple(
        Move(name, tuple(old.get(name, ())), tuple(new.get(name, ())))
        for name in names
        if name not in own and old.get(name) != new.get(name)
    )
