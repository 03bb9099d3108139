"""What of a week's man-hours does not fit day by day, though it fits the week as a whole."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum

from capacity.errors import AuditError
from capacity.facts import Base
from capacity.plans.day_flow import least_unfit
from capacity.plans.man_hours import GivenHours, by_week
from capacity.plans.plan import WeekLoad
from capacity.plans.roster_days import hours_by_roster
from capacity.plans.shared_weeks import HoursSharing
from capacity.plans.sharing_program import GroupWeek, WeekPart
from capacity.plans.stays import Stay
from capacity.plans.week_hours import TOLERANCE, SharedWeek
from capacity.plans.weeks import monday_of, week_name

CENTIHOUR = 0.01
"""Man-hours by which two ways to count the same may differ by their rounding."""


@dataclass(frozen=True, slots=True)
class DayShortage:
    """Man-hours of a skill in an ISO week that the plan lacks when its days are looked at.

    They come on top of what the plan says of the week. ``overload`` fits nowhere, even with
    overtime and contract labour up to their caps; ``overtime`` and ``contract`` could be
    bought within the caps, but are in no cost of the plan. ``money`` is what ``overtime`` and
    ``contract`` would cost. Each is at least 0.
    """

    week: str
    skill: str
    overload: float
    overtime: float
    contract: float
    money: float


def day_shortages(
    stays: Sequence[Stay],
    weeks: Sequence[WeekLoad],
    given: GivenHours,
    sharing: HoursSharing,
    base: Base,
) -> tuple[DayShortage, ...]:
    """Return what does not fit day by day, in order of week and skill.

    A stage asks the same on each of its worked days. Crews, employed and contract, give their
    hours on the days of their roster, less who is absent; hours of crews of several skills go
    where they are worth most, day by day. Overtime and the contract cap are the whole week's
    and in no roster, so they may lie on any day of the week, all on one if need be, also for
    people called in on a day off. So this is the least that does not fit: with limits on what
    one day takes of them it could only be more. Of equally cheap ways to share a week out it
    is the one nearest to the week as the plan tells it.

    Raises
    ------
    AuditError
        When the hours that fit nowhere are not those that the plain flow over days finds.
    """
    days = _asked_by_day(stays, base, given)
    near = by_week(weeks, base)
    mondays = sorted({monday_of(day) for day in days})
    asking = [_parts(monday, days, given) for monday in mondays]
    names = [week_name(monday) for monday in mondays]
    shared = sharing.over_days(
        (parts, near[name]) for parts, name in zip(asking, names, strict=True)
    )
    for groups in shared:
        for group, found in groups:
            _compare(group, found, exactly=sharing.holds_all_that_fits)
    loads = {(load.week, load.skill): load for load in weeks}
    return tuple(
        short
        for name, groups in zip(names, shared, strict=True)
        for short in _told(name, groups, loads, base)
    )


def _asked_by_day(
    stays: Sequence[Stay], base: Base, given: GivenHours
) -> dict[date, dict[tuple[str, str], float]]:
    """Return what is asked on each day by skill and aircraft type.

    Hours that are stated by week lie on its days as people are there to do them.
    """
    parts: defaultdict[date, defaultdict[tuple[str, str], list[float]]]
    parts = defaultdict(lambda: defaultdict(list))
    for stay in stays:
        for stage in stay.stages:
            for (day, skill), hours in hours_by_roster(stage, base, given).items():
                parts[day][skill, stay.check.type].append(hours)
    return {
        day: {key: fsum(hours) for key, hours in of_day.items()} for day, of_day in parts.items()
    }


def _parts(
    monday: date, days: dict[date, dict[tuple[str, str], float]], given: GivenHours
) -> list[WeekPart]:
    week = [monday + timedelta(days=number) for number in range(7)]
    return [WeekPart(days.get(day, {}), given.on_day(day)) for day in week]


def _compare(group: GroupWeek, found: SharedWeek, *, exactly: bool) -> None:
    """Hold the hours that fit nowhere to what the plain flow finds: never less, nor more."""
    told = fsum(skill.overload for skill in found.skills.values())
    least = least_unfit(group)
    if told < least - CENTIHOUR or (exactly and told > least + CENTIHOUR):
        names = ", ".join(found.skills)
        raise AuditError(
            [f"of {names}, {told:.2f} h fit no day of a week, a second count finds {least:.2f} h"]
        )


def _told(
    week: str,
    groups: Sequence[tuple[GroupWeek, SharedWeek]],
    loads: dict[tuple[str, str], WeekLoad],
    base: Base,
) -> Iterator[DayShortage]:
    by_day = {name: hours for _, found in groups for name, hours in found.skills.items()}
    for skill in base.skills:
        here, whole = by_day[skill.name], loads[week, skill.name]
        overload = max(0.0, here.overload - whole.overload)
        overtime = max(0.0, here.overtime - whole.overtime)
        contract = max(0.0, here.contract - whole.contract)
        if max(overload, overtime, contract) > TOLERANCE:
            money = overtime * skill.overtime_cost + contract * skill.contract_cost
            yield DayShortage(week, skill.name, overload, overtime, contract, money)
