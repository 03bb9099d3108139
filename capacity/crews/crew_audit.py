"""Recompute a crew plan from the facts, and say which rules it breaks.

It shares nothing with the model: dates, names and man-hours only.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum

from capacity.crews.crew_plan import CrewPlan, StageMove
from capacity.crews.crew_settings import CrewSettings, OwnStaffShare
from capacity.crews.day_rules import DayRules
from capacity.crews.row_rules import RowRules
from capacity.crews.working_time import working_time_warnings
from capacity.facts import Base, Employment
from capacity.plans.audit import audit
from capacity.plans.hours_within import hours_within, stretched
from capacity.plans.plan import Plan, StageDays
from capacity.plans.weeks import monday_of, week_name
from capacity.plans.work_left import Work, goes_on_from, legs_of, work_left
from capacity.plans.worked_days import WorkedDays
from capacity.words import day as as_day

TOLERANCE = 0.051
"""Man-hours that rounding to hundredths may add up to."""


@dataclass(frozen=True, slots=True)
class CrewAudit:
    """What a crew plan comes to.

    Man-hours of the stages in these days: ``asked``, ``given`` by crews (overtime in them),
    ``bought`` and ``short``. ``overtime`` counts all hours of people called in on a day off.
    ``crews_per_aircraft`` are the pairs of a crew and an aircraft. ``warnings`` break no
    rule; ``broken`` is empty for a crew plan that stands.
    """

    asked: float
    given: float
    overtime: float
    bought: float
    short: float
    crews_per_aircraft: int
    warnings: tuple[str, ...]
    broken: tuple[str, ...]


def audit_crews(made: CrewPlan, plan: Plan, base: Base, settings: CrewSettings) -> CrewAudit:
    """Return what a crew plan of a slot plan comes to, and every rule that it breaks."""
    rows = RowRules(made, plan, base)
    made = rows.known()
    stages = _Stages(made, plan, base)
    days = DayRules(made, plan, base, settings, stages.asked)
    broken = (
        *rows.sentences,
        *stages.broken(),
        *days.broken(),
        *_overtime_over_caps(made, plan, base),
        *_bought_over_plan(made, plan, base),
    )
    shares = (
        tuple(days.contract_over_half())
        if settings.own_staff_share is not OwnStaffShare.OFF
        else ()
    )
    is_rule = settings.own_staff_share is OwnStaffShare.HOLD
    return CrewAudit(
        asked=fsum(stages.asked.values()),
        given=fsum(work.hours for work in made.work),
        overtime=fsum(there.overtime_hours for there in made.attendance),
        bought=fsum(amount.hours for amount in made.bought),
        short=fsum(amount.hours for amount in made.short),
        crews_per_aircraft=len({(there.crew, there.check) for there in made.attendance}),
        warnings=(*(() if is_rule else shares), *working_time_warnings(made, base)),
        broken=(*broken, *shares) if is_rule else broken,
    )


class _Stages:
    """What the stages ask, where they lie, and what they get."""

    def __init__(self, made: CrewPlan, plan: Plan, base: Base) -> None:
        self.made, self.base = made, base
        self.worked = WorkedDays(base)
        self.as_stated = {(p.check, s.stage): s for p in plan.placements for s in p.stages}
        plan = stretched(plan, base)
        self.bay_days = {
            (placement.check, stage.stage): (placement, stage)
            for placement in plan.placements
            for stage in placement.stages
        }
        self.work: dict[tuple[str, str], Work] = {}
        self.waits_for: dict[tuple[str, str], frozenset[str]] = {}
        for check in dict.fromkeys(base.check(placement.check) for placement in plan.placements):
            earlier: frozenset[str] = frozenset()
            for leg in legs_of(work_left(base, check)):
                for work in leg:
                    self.work[check.name, work.stage] = work
                    self.waits_for[check.name, work.stage] = earlier | frozenset(work.after)
                earlier |= {work.stage for work in leg}
        self.tied = {
            (check.name, stage)
            for check in base.checks
            for loop in base.shop_loops
            if loop.package == check.package
            for stage in (loop.leave_at, loop.back_for)
        }
        self.keeps = {key for key, work in self.work.items() if work.in_work and work.equipment}
        self.days = {(m.check, m.stage): m for m in made.stages}
        self.starts = {
            check.name: goes_on_from(base, check) or base.first_day for check in base.checks
        }
        self.asked = self._asked()

    def _asked(self) -> dict[tuple[str, str, str], float]:
        """Return the hours that fall into these days, by check, stage and skill.

        hours x worked days here / worked days, or those that the plan states of its weeks.
        """
        asked: dict[tuple[str, str, str], float] = {}
        for key, (_, planned) in self.bay_days.items():
            if planned.hours:
                within = hours_within(
                    planned,
                    self.made.first_day,
                    self.made.until,
                    self.base.first_day,
                    self.worked,
                    self.base.done_of(*key),
                )
                asked |= {(*key, skill): hours for skill, hours in within.items()}
                continue
            days = self.worked.stretch(planned.first, self.worked.count(*_span(planned)))
            here = [day for day in days if self.made.first_day <= day < self.made.until]
            for skill, hours in self.work[key].man_hours.items():
                if here and hours:
                    asked[*key, skill] = hours * len(here) / len(days)
        return asked

    def broken(self) -> Iterator[str]:
        """Go through the stages: all of them there, in place, in order, with their hours."""
        yield from self._missing()
        for (check, stage), moved in self.days.items():
            placement, planned = self.bay_days[check, stage]
            if self.worked.count(moved.first, moved.until) != self.worked.count(*_span(planned)):
                yield f"{check}: {stage} takes other worked days than in the slot plan."
            if moved.first != planned.first and not (
                placement.in_day <= moved.first and moved.until <= placement.out_day
            ):
                yield f"{check}: {stage} leaves its days in {placement.bay}."
            if moved.first != planned.first and moved.first < self.starts[check]:
                yield f"{check}: {stage} is moved to before its work goes on."
            ready = self.work[check, stage].not_before
            if ready is not None and moved.first < ready:
                yield f"{check}: {stage} starts before its Ready date {as_day(ready)}."
            if moved.first != planned.first and planned != self.as_stated[check, stage]:
                yield f"{check}: {stage} is moved, but its hours lie in its float."
            if moved.first != planned.first and (check, stage) in self.tied:
                yield f"{check}: {stage} is moved, but its items leave for a shop or come back."
            if moved.first != planned.first and (check, stage) in self.keeps:
                yield f"{check}: {stage} is moved, but it is in work and keeps its equipment."
            if moved.first != planned.first and not (self._is_here(moved, planned)):
                yield f"{check}: {stage} is moved, but not all of it is in the weeks staffed."
            for before in sorted(self.waits_for[check, stage]):
                if self._until(check, before) > moved.first:
                    yield f"{check}: {stage} starts before {before} has ended."
        yield from self._side_by_side()
        yield from self._over_equipment()
        yield from self._hours()

    def _missing(self) -> Iterator[str]:
        for (check, stage), (_, planned) in self.bay_days.items():
            here = planned.first < self.made.until and planned.until > self.made.first_day
            if here and (check, stage) not in self.days:
                yield f"{check}: {stage} is missing."

    def _is_here(self, *spans: StageMove | StageDays) -> bool:
        return all(self.made.first_day <= s.first and s.until <= self.made.until for s in spans)

    def _until(self, check: str, stage: str) -> date:
        if (check, stage) in self.days:
            return self.days[check, stage].until
        return self.bay_days[check, stage][1].until

    def _side_by_side(self) -> Iterator[str]:
        """No other stage of the check runs beside one that is done alone."""
        for (check, stage), moved in self.days.items():
            if not self.work[check, stage].alone:
                continue
            for (other_check, other), beside in self.days.items():
                meet = moved.first < beside.until and beside.first < moved.until
                if other_check == check and other != stage and meet:
                    yield f"{check}: {other} runs beside {stage}, which is done alone."

    def _over_equipment(self) -> Iterator[str]:
        """On each day, pieces held <= pieces there less those out of use."""
        for pool in self.base.equipment:
            day = self.made.first_day
            while day < self.made.until:
                held = sum(
                    pool.name in self.work[key].equipment
                    and self._first(key) <= day < self._until(*key)
                    for key in self.bay_days
                )
                out = sum(
                    outage.number
                    for outage in self.base.equipment_outages
                    if outage.equipment == pool.name and outage.first <= day <= outage.last
                )
                if held > max(0, pool.number - out):
                    yield f"{pool.name}: {held} stages hold a piece on {as_day(day)}."
                day += timedelta(days=1)

    def _first(self, key: tuple[str, str]) -> date:
        return self.days[key].first if key in self.days else self.bay_days[key][1].first

    def _hours(self) -> Iterator[str]:
        """For each stage and skill: hours given + bought + short = hours asked."""
        got: defaultdict[tuple[str, str, str], float] = defaultdict(float)
        for work in self.made.work:
            got[work.check, work.stage, work.skill] += work.hours
            moved = self.days.get((work.check, work.stage))
            if moved is None or not moved.first <= work.day < moved.until:
                day = as_day(work.day)
                yield f"{work.check}: {work.stage} has hours on {day}, outside its days."
        for amount in (*self.made.bought, *self.made.short):
            got[amount.check, amount.stage, amount.skill] += amount.hours
        for key in {*got, *self.asked}:
            if abs(got[key] - self.asked.get(key, 0.0)) > TOLERANCE:
                yield (
                    f"{key[0]}: the demand of {key[1]} is {self.asked.get(key, 0.0):.2f} h of "
                    f"{key[2]}, but {got[key]:.2f} h are accounted for."
                )


def _span(planned: StageDays) -> tuple[date, date]:
    return planned.first, planned.until


def _overtime_over_caps(made: CrewPlan, plan: Plan, base: Base) -> Iterator[str]:
    """By skill and week: overtime <= cap of the week, by its share of days here."""
    caps = {(load.week, load.skill): load.overtime_cap for load in audit(base, plan).weeks}
    used: defaultdict[tuple[str, str], float] = defaultdict(float)
    days: defaultdict[str, int] = defaultdict(int)
    day = made.first_day
    while day < made.until:
        days[week_name(monday_of(day))] += 1
        day += timedelta(days=1)
    for there in made.attendance:
        used[week_name(monday_of(there.day)), there.skill] += there.overtime_hours
    for (week, skill), hours in sorted(used.items()):
        cap = caps.get((week, skill), 0.0) * days[week] / 7
        if hours > cap + TOLERANCE:
            yield f"{week}: {hours:.1f} h of overtime in {skill}, above the cap of {cap:.1f} h."


def _bought_over_plan(made: CrewPlan, plan: Plan, base: Base) -> Iterator[str]:
    """By skill: contract hours that no crew gives <= those that the slot plan buys."""
    contract = {c.name for c in base.crews if c.employment is Employment.CONTRACT}
    found = audit(base, plan)
    bought: defaultdict[str, float] = defaultdict(float)
    for amount in made.bought:
        bought[amount.skill] += amount.hours
    for skill, hours in bought.items():
        allowed = fsum(load.contract for load in found.weeks if load.skill == skill)
        given = (g.hours for g in found.crew_hours if g.skill == skill and g.crew in contract)
        if hours > allowed - fsum(given) + TOLERANCE:
            yield f"{hours:.1f} contract h of {skill} are bought, more than in the slot plan."
