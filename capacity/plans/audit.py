"""Recompute everything about a plan from the facts, and say which rules it breaks."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum

from capacity.facts import Base, Check, Status
from capacity.plans.audit_rules import Breach, LaidOut, breaches
from capacity.plans.day_by_day import DayShortage, day_shortages
from capacity.plans.man_hours import (
    Asked,
    GivenHours,
    asked_by,
    asked_by_day,
    day_loads,
    pays,
    week_loads,
)
from capacity.plans.plan import CrewHours, Goals, Placement, Plan, WeekLoad
from capacity.plans.shared_weeks import HoursSharing
from capacity.plans.stays import Stay, StayLayout
from capacity.plans.worked_days import ONE_DAY, WorkedDays


@dataclass(frozen=True, slots=True)
class CheckAccount:
    """What one placed check costs by itself, and how it keeps its dates.

    Days are counts, money is in the base's currency; ``man_hours`` are those asked from
    the first day of the plan on. ``agreed_out`` is the day on which it is agreed to be out, which
    agreed days put so long after its in day; ``wanted_days`` is how far from ``Wanted in`` it
    comes in, before or after.
    """

    check: str
    bay: str
    in_day: date
    out_day: date
    days_past_latest_in: int
    early_days: int
    late_days: int
    early_money: float
    late_money: float
    price: float
    man_hours: float
    agreed_out: date | None = None
    wanted_days: int = 0
    wanted_money: float = 0.0


@dataclass(frozen=True, slots=True)
class Audit:
    """The plan's goals, its man-hours by week and skill, and every rule it breaks.

    ``weeks`` are in order of week and then of the base's skills: the weeks in which the
    planning period lies, and those behind it until the last check is out. The out day is no
    day in a bay, so a check that leaves on a Monday adds no week. ``crew_hours`` are the hours
    that crews give, in order of week, crew and skill. ``breaches`` name each rule that is broken;
    there are none for a plan that stands. ``guaranteed_money`` is for hours that contract crews are
    guaranteed, used or not; ``contract_money`` for those beyond.
    """

    goals: Goals
    weeks: tuple[WeekLoad, ...]
    accounts: tuple[CheckAccount, ...]
    overtime_money: float
    contract_money: float
    overload_money: float
    breaches: tuple[Breach, ...]
    crew_hours: tuple[CrewHours, ...] = ()
    guaranteed_money: float = 0.0

    def by_check(self) -> dict[str, CheckAccount]:
        """Return the account of each check that has a slot, by its name."""
        return {account.check: account for account in self.accounts}

    @property
    def broken(self) -> tuple[str, ...]:
        """Return a sentence for each rule that is broken, as a planner would look at them."""
        return tuple(breach.text for breach in self.breaches)


def audit(base: Base, plan: Plan) -> Audit:
    """Return what the plan comes to and every rule of the base that it breaks."""
    return Auditor(base).audit(plan)


class Auditor:
    """Audits any number of plans of one base; what the base alone decides is kept.

    Bay, check, in day, the number of worked days that each stage takes and the hours that are
    stated by week fix everything else. So those are all that is read from a plan: the figures
    come from stays laid out again, and the days on which a plan states its stages and its out
    day are only compared.
    """

    def __init__(self, base: Base) -> None:
        """Prepare the base's calendar, its checks' work and its crews."""
        self._base = base
        self._bays = {bay.name: bay for bay in base.bays}
        self._worked_days = WorkedDays(base)
        self._layout = StayLayout(base, self._worked_days)
        self._given = GivenHours(base, self._worked_days)
        self._sharing = HoursSharing(base)
        self._legs = {check.name: self._layout.legs(check) for check in base.checks}

    def audit(self, plan: Plan, standing: Audit | None = None) -> Audit:
        """Return what the plan comes to and every rule of the base that it breaks.

        Crews of several skills can often be shared out in several ways that cost the same. With
        the audit of a ``standing`` plan, the way nearest to its hours by week and skill is
        taken, so that the two differ only where the plans do.
        """
        placements = self._known(plan)
        stays = [self._lay_out(of_check) for of_check in placements]
        asked = [asked_by(stay, self._base.first_day) for stay in stays]
        types = [stay.check.type for stay in stays]
        accounts = tuple(_account(*pair) for pair in zip(stays, asked, strict=True))
        last_day = max([self._base.last_in_day, *(stay.out_day - ONE_DAY for stay in stays)])
        counts_days = self._base.counts_days
        weeks, crews = (day_loads if counts_days else week_loads)(
            [asked_by_day(s, self._base.first_day) for s in stays] if counts_days else asked,
            types,
            self._given,
            self._sharing,
            self._base,
            last_day,
            standing.weeks if standing else (),
        )
        overtime = fsum(w.overtime * self._base.skill(w.skill).overtime_cost for w in weeks)
        contract = fsum(w.contract_paid * self._base.skill(w.skill).contract_cost for w in weeks)
        guaranteed = self._guaranteed_money()
        overload_hours = fsum(week.overload for week in weeks)
        overload = overload_hours * self._base.overload_cost
        of_checks = (
            money
            for a in accounts
            for money in (a.early_money, a.late_money, a.wanted_money, -a.price)
        )
        return Audit(
            goals=Goals(
                days_past_latest_in=self._days_past(accounts),
                overload_hours=overload_hours,
                money=fsum((overtime, contract, overload, guaranteed, *of_checks)),
            ),
            weeks=weeks,
            crew_hours=crews,
            accounts=accounts,
            overtime_money=overtime,
            contract_money=contract,
            overload_money=overload,
            guaranteed_money=guaranteed,
            breaches=breaches(self._laid_out(plan, placements, stays)),
        )

    def day_shortages(self, plan: Plan, found: Audit) -> tuple[DayShortage, ...]:
        """Return what of an audited plan's weeks does not fit day by day; it costs nothing yet.

        Nothing where days are priced: then the plan buys it.
        """
        if self._base.counts_days:
            return ()
        stays = [self._lay_out(of_check) for of_check in self._known(plan)]
        return day_shortages(stays, found.weeks, self._given, self._sharing, self._base)

    def _known(self, plan: Plan) -> list[list[Placement]]:
        """Return the placements of each check of the base, in order of in day.

        Unknown checks and more placements than a check has legs break a rule and count in
        no figure.
        """
        of_check = plan.by_check()
        known = dict.fromkeys(p.check for p in plan.placements if self._base.has_check(p.check))
        return [of_check[name][: self._legs[name]] for name in known]

    def _lay_out(self, placements: list[Placement]) -> Stay:
        first = placements[0]
        stated = [stage for placement in placements for stage in placement.stages]
        check = self._base.check(first.check)
        return self._layout.lay_out(check, first.bay, first.in_day, stated, placements[1:])

    def _laid_out(
        self, plan: Plan, placements: list[list[Placement]], stays: list[Stay]
    ) -> LaidOut:
        return LaidOut(
            plan=plan,
            base=self._base,
            placements=tuple(placements),
            stays=tuple(stays),
            layout=self._layout,
            worked_days=self._worked_days,
            legs=self._legs,
            bays=self._bays,
        )

    def _guaranteed_money(self) -> float:
        """Pay the guarantees of contract crews day by day over the weeks of the plan."""
        days = [self._base.first_day + n * ONE_DAY for n in range(7 * self._base.weeks)]
        return fsum(
            crew.guaranteed_hours / 7 * self._base.skill(crew.skills[0]).contract_cost
            for crew in self._base.crews
            if crew.guaranteed_hours
            for day in days
            if pays(crew, self._base, day)
        )

    def _days_past(self, accounts: Iterable[CheckAccount]) -> int:
        """Add the days past ``Latest in``; a check without a place counts the most plus 1."""
        past = {account.check: account.days_past_latest_in for account in accounts}
        without_place = self._base.longest_delay_days + 1
        must = (check for check in self._base.checks if check.status is not Status.OPTION)
        return sum(past.get(check.name, without_place) for check in must)


def _account(stay: Stay, asked: Asked) -> CheckAccount:
    """Count the days and money that a stay costs whatever the other checks do."""
    check = stay.check
    days_past = _days_from(check.latest_in, stay.in_day)
    early_days = _days_from(stay.in_day, check.latest_in)
    agreed_out = check.agreed_out
    if check.agreed_days is not None:
        agreed_out = stay.in_day + timedelta(days=check.agreed_days)
    late_days = _days_from(agreed_out, stay.out_day)
    wanted_days = 0 if check.wanted_in is None else abs((stay.in_day - check.wanted_in).days)
    return CheckAccount(
        check=check.name,
        bay=stay.bay,
        in_day=stay.in_day,
        out_day=stay.out_day,
        days_past_latest_in=days_past,
        early_days=early_days,
        late_days=late_days,
        early_money=early_days * check.early_cost_per_day,
        late_money=late_days * check.late_cost_per_day,
        price=_earned(check),
        man_hours=fsum(asked.values()),
        agreed_out=agreed_out,
        wanted_days=wanted_days,
        wanted_money=wanted_days * check.wanted_cost_per_day,
    )


def _days_from(earlier: date | None, later: date) -> int:
    """Return the days from one date to a later one; 0 when it is not later, or not set."""
    return 0 if earlier is None else max(0, (later - earlier).days)


def _earned(check: Check) -> float:
    return check.price if check.status is Status.OPTION else 0.0
