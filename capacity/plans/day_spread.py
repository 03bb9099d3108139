"""On which days of its weeks levelled work is done, so that as little as can be is bought.

The hours of a stage in a week may lie on its days there as its peak lets them, each skill by
itself, and hours of crews are there on the days of their roster. So a week is a flow at least
cost: from the hours of each skill of each stage over its days to what is asked on a day, and from
there to the crews of that day, to overtime and the contract cap of the week, and to overload.
The prices that come with it prove that no other spread would cost less.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import fsum

from capacity.errors import AuditError
from capacity.facts import Base, Crew, Employment
from capacity.plans.cheapest_flow import CheapestFlow
from capacity.plans.man_hours import GivenHours
from capacity.plans.peaks import most_of_a_day
from capacity.plans.skill_groups import SkillGroup
from capacity.plans.spread import days_of_week, evenly_in_week, hours_by_week
from capacity.plans.stays import Stay
from capacity.plans.weeks import monday_of

CENT, ROUNDING = 0.01, 1e-8
"""Costs of a week are the same to a cent, or to as many digits as sums of hours have."""

DayHours = Mapping[tuple[str, str], float]
"""Man-hours asked on a day by skill and aircraft type."""


@dataclass(frozen=True, slots=True)
class WeekWork:
    """``hours`` of one skill of a stage on an aircraft ``type`` in one week, to be spread.

    They lie on ``days``, at ``most`` on each of them.
    """

    skill: str
    aircraft: str
    hours: float
    days: tuple[date, ...]
    most: float


@dataclass(frozen=True, slots=True)
class Source:
    """Hours to be had, up to ``most``: of crews alike on a day, or bought for the whole week.

    ``day`` is None where they may lie on any day; ``price`` is by skill, of those it can do.
    ``types`` are the aircraft types it can work on, all where there are none.
    """

    day: date | None
    price: Mapping[str, float]
    types: frozenset[str]
    most: float

    def gives_to(self, skill: str, aircraft: str, day: date) -> bool:
        """Return whether an hour of it can be of use there."""
        fits = not self.types or aircraft in self.types
        return skill in self.price and fits and self.day in (None, day)


def work_by_week(
    stays: Iterable[Stay], base: Base, *, holds_peaks: bool
) -> Mapping[date, Sequence[WeekWork]]:
    """Return what all stages ask, week by week.

    What is done, and stages that lie evenly, ask the same on each of their days; without
    ``holds_peaks`` every stage may take its hours of a week on any of its days there.
    """
    found: defaultdict[date, list[WeekWork]] = defaultdict(list)
    for stay in stays:
        for stage in stay.stages:
            for (monday, skill), hours in hours_by_week(stage, base.first_day).items():
                _, days = days_of_week(stage, base.first_day, monday)
                evenly = evenly_in_week(stage, base.first_day, monday, skill, hours)
                free = [day for day in days if day in evenly]
                if holds_peaks and not stage.stated:
                    free = []
                left = fsum(evenly[day] for day in free)
                peak = most_of_a_day(stage, skill, base) if holds_peaks else left
                if left > 0.0:
                    most = max(peak, left / len(free))
                    found[monday].append(WeekWork(skill, stay.check.type, left, tuple(free), most))
                found[monday] += [
                    WeekWork(skill, stay.check.type, amount, (day,), amount)
                    for day, amount in evenly.items()
                    if amount > 0.0 and day not in free
                ]
    return found


def is_free(work: Iterable[WeekWork]) -> bool:
    """Return whether any of it could lie on other days."""
    return any(len(one.days) > 1 for one in work)


def cheapest_days(
    work: Sequence[WeekWork],
    groups: Iterable[SkillGroup],
    given: GivenHours,
    last_resort: float,
) -> tuple[Mapping[date, DayHours], float]:
    """Return what is asked on each day of a week when least has to be bought, and what it costs.

    Raises
    ------
    AuditError
        When the prices found do not prove that nothing cheaper is possible.
    """
    found: defaultdict[date, defaultdict[tuple[str, str], float]]
    found = defaultdict(lambda: defaultdict(float))
    in_all = 0.0
    for group in groups:
        names = {skill.name for skill in group.skills}
        mine = [one for one in work if one.skill in names]
        if not mine:
            continue
        sources = list(sources_of(mine, group, given, last_resort))
        spread, cost, prices = _flow(mine, sources)
        least = least_cost(mine, sources, prices)
        if cost > least + CENT + ROUNDING * abs(cost):
            raise AuditError(
                [
                    f"of {', '.join(sorted(names))}, a week day by day costs {cost:.2f}, but only "
                    f"{least:.2f} is proven"
                ]
            )
        in_all += cost
        for one, by_day in zip(mine, spread, strict=True):
            for day, hours in by_day.items():
                found[day][one.skill, one.aircraft] += hours
    return {day: dict(of_day) for day, of_day in found.items()}, in_all


def least_cost(
    work: Iterable[WeekWork], sources: Sequence[Source], prices: Sequence[float]
) -> float:
    """Return what no spread of the work can cost less than, whatever the ``prices`` are.

    ``prices`` (sources,) are what an hour of a source is taken to be worth on top of its own
    price, none below 0. Then an hour of work on a day costs at least the cheapest source there,
    its worth with it, the hours of a stage at least what they cost on its cheapest days, and of
    all that no more than the worth of all there is can have been counted too much: weak duality.
    """
    worth = [max(0.0, price) for price in prices]
    dearest: dict[tuple[str, str, date], float] = {}

    def hour(skill: str, aircraft: str, day: date) -> float:
        key = skill, aircraft, day
        if key not in dearest:
            dearest[key] = min(
                source.price[skill] + own
                for source, own in zip(sources, worth, strict=True)
                if source.gives_to(skill, aircraft, day)
            )
        return dearest[key]

    costs = []
    for one in work:
        left = one.hours
        for price in sorted(hour(one.skill, one.aircraft, day) for day in one.days):
            taken = min(left, one.most)
            costs.append(taken * price)
            left -= taken
    counted_too_much = [
        own * source.most for own, source in zip(worth, sources, strict=True) if own > 0.0
    ]
    return fsum(costs) - fsum(counted_too_much)


def _flow(
    work: Sequence[WeekWork], sources: Sequence[Source]
) -> tuple[list[dict[date, float]], float, list[float]]:
    """Return the hours of each work by day, what they cost, and the worth of each source."""
    needs = sorted({(one.skill, one.aircraft, day) for one in work for day in one.days})
    place = {need: len(work) + number for number, need in enumerate(needs)}
    first_source = len(work) + len(needs)
    flow = CheapestFlow(first_source + len(sources))
    on_day = [
        {
            day: flow.add(number, place[one.skill, one.aircraft, day], one.most, 0.0)
            for day in one.days
        }
        for number, one in enumerate(work)
    ]
    most = fsum(one.hours for one in work)
    for skill, aircraft, day in needs:
        for number, source in enumerate(sources, start=first_source):
            if source.gives_to(skill, aircraft, day):
                flow.add(place[skill, aircraft, day], number, most, source.price[skill])
    flow.solve(
        [one.hours for one in work],
        {number: source.most for number, source in enumerate(sources, start=first_source)},
    )
    spread = [{day: flow.on(arc) for day, arc in arcs.items()} for arcs in on_day]
    worth = [flow.worth(number) for number in range(first_source, first_source + len(sources))]
    return spread, flow.cost, worth


def sources_of(
    work: Sequence[WeekWork], group: SkillGroup, given: GivenHours, last_resort: float
) -> Iterator[Source]:
    """Yield what hours of a week's work can be had from: crews day by day, then what is bought."""
    days = sorted({day for one in work for day in one.days})
    week = given.in_week(monday_of(days[0]))
    most = fsum(one.hours for one in work)
    alike: defaultdict[tuple[object, ...], list[Crew]] = defaultdict(list)
    for crew in group.crews:
        alike[frozenset(crew.skills), crew.types, crew.employment].append(crew)
    for day in days:
        hours, within = given.on_day(day), given.guaranteed_on(day)
        for crews in alike.values():
            one = crews[0]
            sure = fsum(within.get(crew.name, 0.0) for crew in crews)
            there = fsum(hours[crew.name] for crew in crews) - sure
            if sure > 0.0:
                skills = {skill.name: 0.0 for skill in group.skills if skill.name in one.skills}
                yield Source(day, skills, one.types, sure)
            if there > 0.0:
                is_own = one.employment is Employment.EMPLOYED
                price = {
                    skill.name: 0.0 if is_own else skill.contract_cost
                    for skill in group.skills
                    if skill.name in one.skills
                }
                yield Source(day, price, one.types, there)
    for skill in group.skills:
        own = fsum(week[crew.name] for crew in group.own(skill, Employment.EMPLOYED))
        for cap, cost in (
            (skill.overtime_cap * own, skill.overtime_cost),
            (skill.contract_cap * own, skill.contract_cost),
            (most, last_resort),
        ):
            if cap > 0.0:
                yield Source(None, {skill.name: cost}, frozenset(), cap)
