"""What two audited plans of the same base differ in: costs, hours bought, and who moves."""

from collections.abc import Collection
from dataclasses import dataclass
from math import fsum

from capacity.plans.audit import Audit
from capacity.plans.plan import Placement, Plan, WeekLoad

TINY_HOURS = 1e-6


@dataclass(frozen=True, slots=True)
class Costs:
    """What a plan that takes enquiries costs more than the plan without, by what it is for.

    ``early``, ``late`` and ``wanted`` (days away from ``Wanted in``) are those of the enquiries
    themselves; ``early_of_others``, ``late_of_others``, ``wanted_of_others`` and
    ``prices_of_others`` (of options given up) are 0 when nobody moves. ``days_past`` counts
    further days past ``Latest in``, never above 0. The prices of the enquiries are not in it.
    """

    overtime: float
    contract: float
    overload: float
    early: float
    late: float
    early_of_others: float = 0.0
    late_of_others: float = 0.0
    prices_of_others: float = 0.0
    wanted: float = 0.0
    wanted_of_others: float = 0.0
    days_past: int = 0

    @property
    def money(self) -> float:
        """Return all of it together."""
        return fsum(
            (
                self.overtime,
                self.contract,
                self.overload,
                self.early,
                self.late,
                self.early_of_others,
                self.late_of_others,
                self.prices_of_others,
                self.wanted,
                self.wanted_of_others,
            )
        )

    @property
    def labour(self) -> float:
        """Return what is paid for man-hours."""
        return fsum((self.overtime, self.contract, self.overload))


@dataclass(frozen=True, slots=True)
class HoursMore:
    """Man-hours of a skill bought on top in an ISO week, more than in the plan without."""

    week: str
    skill: str
    overtime: float
    contract: float
    overload: float


@dataclass(frozen=True, slots=True)
class Move:
    """A check that stands elsewhere than in the given plan; without ``after`` it is given up.

    ``days`` is how much later it comes in, negative for earlier.
    """

    check: str
    before: tuple[Placement, ...]
    after: tuple[Placement, ...]

    @property
    def days(self) -> int:
        """Return the days by which it comes in later; 0 when it is given up or taken in."""
        if not self.before or not self.after:
            return 0
        return (self.after[0].in_day - self.before[0].in_day).days


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
        wanted=fsum(account.wanted_money for account in mine),
        wanted_of_others=fsum(
            (*(a.wanted_money for a in others), *(-a.wanted_money for a in before.accounts))
        ),
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


@dataclass(frozen=True, slots=True)
class LabourMore:
    """Man-hours of some checks, and the regular ones that a plan with them needs more.

    Regular are those that neither overtime nor contract labour nor overload covers: the demand
    that is added, less the hours that are bought on top.
    """

    man_hours: float
    regular: float


def labour_more(before: Audit, after: Audit, own: Collection[str]) -> LabourMore:
    """Return the man-hours of the ``own`` checks, and what regular labour grows by.

    regular = sum over weeks and skills of (demand - overtime - contract - overload), after less
    before.
    """
    accounts = after.by_check()
    return LabourMore(
        man_hours=fsum(accounts[name].man_hours for name in own if name in accounts),
        regular=_regular(after) - _regular(before),
    )


def _regular(audit: Audit) -> float:
    return fsum(w.demand - w.overtime - w.contract - w.overload for w in audit.weeks)


def moves_between(before: Plan, after: Plan, own: Collection[str]) -> tuple[Move, ...]:
    """Return who of the others stands elsewhere, in order of the old in day.

    One whose man-hours lie in other weeks of the same slot has not moved.
    """
    old, new = before.by_check(), after.by_check()
    slots, others = before.slots_by_check(), after.slots_by_check()
    names = [*old, *(name for name in new if name not in old)]
    return tuple(
        Move(name, tuple(old.get(name, ())), tuple(new.get(name, ())))
        for name in names
        if name not in own and slots.get(name) != others.get(name)
    )
