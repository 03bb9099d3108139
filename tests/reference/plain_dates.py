"""The whole problem told once more in plain dates, from the facts alone.

It shares nothing with the package but its facts, so that an optimum found with it is a
second opinion.
"""

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from math import ceil, inf

import holidays

from capacity.facts import Base, Bay, Check, Crew, Employment, Package, Stage, Status
from tests.reference.tasks import ROUNDING, goes_on, tasks_of

Cell = tuple[int, int, str]
"""ISO year, ISO week, skill."""

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Way:
    """One way to place a check: ``bay`` from ``first`` up to ``until``, then ``ready`` again."""

    check: str
    bay: str
    first: date
    until: date
    ready: date
    past: int
    money: float
    man_hours: Counter[Cell]

    def clashes(self, other: "Way") -> bool:
        """Say whether both want the bay at once, or one before it is ready again."""
        apart = self.ready <= other.first or other.ready <= self.first
        return self.bay == other.bay and not apart


@dataclass(frozen=True)
class Left:
    """A stage still to do."""

    name: str
    days: int
    man_hours: dict[str, float]
    after: tuple[str, ...]
    ready: date | None = None


def is_worked(base: Base, day: date) -> bool:
    for own in base.calendar_days:
        if own.first <= day <= own.last and own.worked is not None:
            return own.worked
    if day.weekday() not in base.working_weekdays:
        return False
    if base.holidays is None:
        return True
    return day not in _holidays(base.holidays, day.year)


def next_move(base: Base, day: date) -> date:
    """Go on to the day on which an aircraft may move between bays, or leave."""
    while not base.leaves_on_days_off and not is_worked(base, day):
        day += ONE_DAY
    return day


def may_come_in(base: Base, check: Check, day: date) -> bool:
    """Say whether days off, what it is held in, and its day to decide by let a check come in."""
    today = base.work_counts_from or base.first_day
    if check.status is Status.OPTION and check.decide_by is not None and check.decide_by < today:
        return False
    if check.held_in is not None and check.held_in != day:
        return False
    return base.comes_in_on_days_off or day < today or is_worked(base, day)


@cache
def _holidays(place: str, year: int) -> holidays.HolidayBase:
    country, _, part = place.partition("-")
    return holidays.country_holidays(country, subdiv=part or None, years=year)


def stages_left(package: Package, check: Check) -> list[Left]:
    """Walk the stages by earliest start and take off what is done."""
    stages = {stage.name: stage for stage in package.stages}

    def earliest(stage: Stage) -> int:
        return max((earliest(stages[a]) + stages[a].days for a in stage.after), default=0)

    whole = [
        Left(
            stage.name,
            stage.days,
            {
                s: h * (1 + stage.findings * check.findings_factor)
                for s, h in stage.man_hours.items()
            },
            stage.after,
        )
        for stage in sorted(package.stages, key=earliest)
    ]
    share_done = 0.0 if check.remaining is None else 1 - check.remaining
    done = share_done * sum(sum(stage.man_hours.values()) for stage in whole)
    left: list[Left] = []
    for stage in whole if done > ROUNDING else ():
        hours = sum(stage.man_hours.values())
        if not left and hours <= done + ROUNDING:
            done -= hours
        elif not left:
            share = (hours - done) / hours
            days = max(1, ceil(stage.days * share - ROUNDING))
            hours_left = {skill: share * asked for skill, asked in stage.man_hours.items()}
            left.append(Left(stage.name, days, hours_left, stage.after))
        else:
            left.append(stage)
    return left if done > ROUNDING or left else whole


def stay(base: Base, check: Check, in_day: date) -> tuple[dict[str, tuple[date, date]], date]:
    """Return each stage's ``[first, until)`` and the out day."""
    begin = goes_on(base, check, in_day)
    spans: dict[str, tuple[date, date]] = {}
    for stage in _stages(base, check):
        first = max((spans[a][1] for a in stage.after if a in spans), default=begin)
        first = max(first, begin, stage.ready or first)
        while not is_worked(base, first):
            first += ONE_DAY
        until, worked = first, 0
        while worked < stage.days:
            worked += is_worked(base, until)
            until += ONE_DAY
        spans[stage.name] = first, until
    return spans, next_move(base, max((until for _, until in spans.values()), default=begin))


def man_hours(base: Base, check: Check, in_day: date) -> Counter[Cell]:
    """Spread each stage evenly over its worked days; days before the first day drop out."""
    asked: Counter[Cell] = Counter()
    spans, _ = stay(base, check, in_day)
    for stage in _stages(base, check):
        for day in _days(*spans[stage.name]):
            if is_worked(base, day) and day >= base.first_day:
                for skill, hours in stage.man_hours.items():
                    asked[_cell(day, skill)] += hours / stage.days
    return asked


def ways_of(base: Base, check: Check) -> list[Way]:
    """Return every way in which the check can stand by itself; of a fixed one, that one."""
    bays = [bay for bay in base.bays if _can_hold(base, bay, check)]
    if check.status is Status.FIXED:
        assert check.fixed_in is not None
        bays = [bay for bay in base.bays if bay.name == check.fixed_bay]
        return [
            way for bay in bays if not _is_shut(base, way := _way(base, check, bay, check.fixed_in))
        ]
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    first = max(check.earliest_in, base.first_day)
    last = check.latest_in + timedelta(days=delay)
    end = min(last, base.first_day + timedelta(days=7 * base.weeks - 1)) + timedelta(days=1)
    ways = [_way(base, check, bay, day) for bay in bays for day in _days(first, end)]
    return [way for way in ways if not _is_shut(base, way)]


def tiers(base: Base, cell: Cell) -> list[tuple[float, float]]:
    """Return ``(hours, cost an hour)`` of a week and skill, regular first, then the cheapest."""
    year, week, name = cell
    skill = next(skill for skill in base.skills if skill.name == name)
    employed, contract = 0.0, 0.0
    for crew in base.crews:
        if crew.skills[0] == name:
            days = (date.fromisocalendar(year, week, n) for n in range(1, 8))
            hours = sum(crew_gives(base, crew, day) for day in days)
            employed += hours * (crew.employment is Employment.EMPLOYED)
            contract += hours * (crew.employment is Employment.CONTRACT)
    dearer = [
        (skill.overtime_cap * employed, skill.overtime_cost),
        (skill.contract_cap * employed + contract, skill.contract_cost),
    ]
    by_cost = sorted(dearer, key=lambda tier: tier[1])
    return [(employed, 0.0), *by_cost, (inf, base.overload_cost)]


def value(base: Base, chosen: list[Way]) -> tuple[int, float]:
    """Return days past ``Latest in`` and money of ways that stand together."""
    placed = {way.check for way in chosen}
    missing = [c for c in base.checks if c.name not in placed and c.status is not Status.OPTION]
    past = sum(way.past for way in chosen) + len(missing) * (base.longest_delay_days + 1)
    money = sum(way.money for way in chosen)
    demand: Counter[Cell] = Counter()
    for way in chosen:
        demand.update(way.man_hours)
    for cell, hours in demand.items():
        for width, cost in tiers(base, cell):
            money += cost * min(hours, width)
            hours -= min(hours, width)
    return past, money


def _way(base: Base, check: Check, bay: Bay, in_day: date) -> Way:
    _, out_day = stay(base, check, in_day)
    money = check.early_cost_per_day * max(0, (check.latest_in - in_day).days)
    money += price_of_promises(check, in_day, out_day)
    return Way(
        check=check.name,
        bay=bay.name,
        first=in_day,
        until=out_day,
        ready=out_day + bay.changeover_days * ONE_DAY,
        past=max(0, (in_day - check.latest_in).days),
        money=money - (check.price if check.status is Status.OPTION else 0.0),
        man_hours=man_hours(base, check, in_day),
    )


def price_of_promises(check: Check, in_day: date, out_day: date) -> float:
    """Price the days late out, by day or by number of days, and those away from Wanted in."""
    money = 0.0
    if check.wanted_in is not None:
        money += check.wanted_cost_per_day * abs((in_day - check.wanted_in).days)
    due = check.agreed_out
    if check.agreed_days is not None:
        due = in_day + timedelta(days=check.agreed_days)
    if due is not None:
        money += check.late_cost_per_day * max(0, (out_day - due).days)
    return money


def _can_hold(base: Base, bay: Bay, check: Check) -> bool:
    aircraft = next(type_ for type_ in base.types if type_.name == check.type)
    kinds = {stage.work for stage in _package(base, check).stages}
    docked = not bay.docking or aircraft.docking is None or aircraft.docking in bay.docking
    return (
        aircraft.span_m <= bay.max_span_m
        and aircraft.length_m <= bay.max_length_m
        and aircraft.tail_m <= bay.max_tail_m
        and docked
        and kinds <= bay.work
    )


def _is_shut(base: Base, way: Way) -> bool:
    return any(
        closure.bay == way.bay and closure.first <= day <= closure.last
        for closure in base.closures
        for day in _days(way.first, way.until)
    )


def crew_gives(base: Base, crew: Crew, day: date) -> float:
    if day < base.first_day or not is_worked(base, day):
        return 0.0
    cycle = next(pattern.cycle for pattern in base.patterns if pattern.name == crew.pattern)
    shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
    if shift is None or (crew.first and day < crew.first) or (crew.last and crew.last < day):
        return 0.0
    away = sum(a.heads for a in base.absences if a.crew == crew.name and a.first <= day <= a.last)
    hours = next(s.hours for s in base.shifts if s.name == shift)
    for own in base.calendar_days:
        if own.first <= day <= own.last:
            hours *= own.hours_share
            break  # rows of the same day say the same
    return max(0.0, crew.heads - away) * hours * base.productivity


def guaranteed_hours(base: Base, crew: Crew, week: tuple[int, int]) -> float:
    """Return the hours of a week that are paid in any case, by the days that count."""
    days = [date.fromisocalendar(*week, number) for number in range(1, 8)]
    return crew.guaranteed_hours * sum(_counts(base, crew, day) for day in days) / 7


def guaranteed_money(base: Base) -> float:
    """Return what is paid in any case over the weeks of the plan."""
    cost = {skill.name: skill.contract_cost for skill in base.skills}
    days = _days(base.first_day, base.first_day + timedelta(weeks=base.weeks))
    return sum(
        crew.guaranteed_hours / 7 * cost[crew.skills[0]] * sum(_counts(base, crew, d) for d in days)
        for crew in base.crews
    )


def _counts(base: Base, crew: Crew, day: date) -> bool:
    planned = base.first_day <= day < base.first_day + timedelta(weeks=base.weeks)
    is_there = not (crew.first and day < crew.first) and not (crew.last and crew.last < day)
    return planned and is_there


def people(base: Base, crew: Crew, day: date) -> Counter[tuple[tuple[str, ...], frozenset[str]]]:
    """Return a crew's hours on a day by the skills and types that its people still have.

    One by one: person 0 has lost most, and is there first.
    """
    found: Counter[tuple[tuple[str, ...], frozenset[str]]] = Counter()
    hours = crew_gives(base, crew, day)
    away = sum(a.heads for a in base.absences if a.crew == crew.name and a.first <= day <= a.last)
    present = max(0.0, crew.heads - away)
    for person in range(ceil(present)):
        part = min(1.0, present - person)
        lost = Counter[str]()
        for row in base.licences:
            if row.crew == crew.name and day > row.until:
                lost[row.of] += row.people
        skills = tuple(skill for skill in crew.skills if lost[skill] <= person)
        own = crew.types or {one.name for one in base.types}
        types = frozenset(one for one in own if lost[one] <= person)
        found[skills, types] += hours * part / present
    return found


def _package(base: Base, check: Check) -> Package:
    return next(package for package in base.packages if package.name == check.package)


def _stages(base: Base, check: Check) -> list[Left]:
    news = (*base.progress, *base.extra_work, *base.ready_dates)
    if any(row.check == check.name for row in news):
        return [
            Left(task.name, task.days[1], task.man_hours, task.after, task.ready)
            for task in tasks_of(base, check)
        ]
    return stages_left(_package(base, check), check)


def _days(first: date, until: date) -> list[date]:
    return [first + n * ONE_DAY for n in range((until - first).days)]


def _cell(day: date, skill: str) -> Cell:
    iso = day.isocalendar()
    return iso.year, iso.week, skill
