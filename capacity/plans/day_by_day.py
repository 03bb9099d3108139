"""What of a week's man-hours does not fit day by day, though it fits the week as a whole."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import fsum

from capacity.errors import AuditError
from capacity.facts import Base
from capacity.plans.day_flow import least_unfit
from capacity.plans.day_spread import (
    CENT,
    ROUNDING,
    DayHours,
    WeekWork,
    cheapest_days,
    is_free,
    work_by_week,
)
from capacity.plans.man_hours import GivenHours, by_week, parts_of_week
from capacity.plans.plan import WeekLoad
from capacity.plans.roster_days import hours_by_roster
from capacity.plans.shared_weeks import HoursSharing
from capacity.plans.sharing_program import GroupWeek
from capacity.plans.stays import Stay
from capacity.plans.week_hours import TOLERANCE, SharedWeek, SkillWeek
from capacity.plans.weeks import monday_of, week_name

CENTIHOUR = 0.01
"""Man-hours by which two ways to count the same may differ by their rounding."""


@dataclass(frozen=True, slots=True)
class DayShortage:
    """Man-hours of a skill in an ISO week that the plan lacks when its days are looked at.

    They come on top of what the plan says of the week. ``overload`` fits nowhere, even with
    overtime and contract labour up to their caps; ``overtime`` and ``contract`` could be
    bought within the caps, but are in no cost of the plan. ``money`` is what ``overtime`` and
    ``contract`` would cost. ``freest_overload`` and ``freest_bought`` are what would be left of
    these if every stage could take its hours of the week on whichever of its days there suit best,
    whatever its daily peak and its heads. Each is at least 0.
    """

    week: str
    skill: str
    overload: float
    overtime: float
    contract: float
    money: float
    freest_overload: float = 0.0
    freest_bought: float = 0.0


def day_shortages(
    stays: Sequence[Stay],
    weeks: Sequence[WeekLoad],
    given: GivenHours,
    sharing: HoursSharing,
    base: Base,
) -> tuple[DayShortage, ...]:
    """Return what does not fit day by day, in order of week and skill.

    A stage whose hours lie evenly asks the same on each of its worked days. Hours that are stated
    by week may lie on any of the days on which it may be worked then, as far as its peak and its
    heads let them: the least that must be bought is told. Crews, employed and contract, give
    their hours on the days of their roster, less who is absent; hours of crews of several skills
    go where they are worth most, day by day. Overtime and the contract cap are the whole week's
    and in no roster, so they may lie on any day of the week, all on one if need be, also for
    people called in on a day off. So this is the least that does not fit: with limits on what
    one day takes of them it could only be more. Of equally cheap ways to share a week out it
    is the one nearest to the week as the plan tells it.

    Raises
    ------
    AuditError
        When the hours that fit nowhere are not those that the plain flow over days finds, or it
        is not proven that no other days would do with less.
    """
    near = by_week(weeks, base)
    loads = {(load.week, load.skill): load for load in weeks}
    shared = _shared(_asked_by_day(stays, base, given), near, given, sharing)
    short = {monday: list(_told(*one, loads, base)) for monday, one in shared.items()}
    # Where the days of the roster are short, the best days are looked for.
    for holds_peaks in (True, False):
        work = work_by_week(stays, base, holds_peaks=holds_peaks)
        lacking = [monday for monday, found in short.items() if found]
        free = [monday for monday in lacking if is_free(work[monday])] if holds_peaks else lacking
        best = _on_best_days({monday: work[monday] for monday in free}, near, given, sharing)
        for monday, one in best.items():
            found = list(_told(*one, loads, base))
            short[monday] = found if holds_peaks else list(_with_freest(short[monday], found))
    return tuple(one for monday in sorted(short) for one in short[monday])


def _on_best_days(
    work: Mapping[date, Sequence[WeekWork]],
    near: Mapping[str, Mapping[str, SkillWeek]],
    given: GivenHours,
    sharing: HoursSharing,
) -> dict[date, tuple[str, Sequence[tuple[GroupWeek, SharedWeek]]]]:
    """Return the cheapest sharing of each week, its work on the days with which least is bought."""
    best: dict[date, DayHours] = {}
    costs: dict[date, float] = {}
    for monday, of_week in work.items():
        days, costs[monday] = cheapest_days(of_week, sharing.groups, given, sharing.last_resort)
        best |= days
    shared = _shared(best, near, given, sharing)
    for monday, (name, found) in shared.items():
        _compare_costs(name, found, costs[monday], sharing.last_resort)
    return shared


def _with_freest(
    short: Sequence[DayShortage], freest: Sequence[DayShortage]
) -> Iterator[DayShortage]:
    """Tell of each shortage what is left of it on the freest days, and what lacks then alone."""
    here, then = ({one.skill: one for one in found} for found in (short, freest))
    for skill in {**here, **then}:
        one = here.get(skill) or DayShortage(then[skill].week, skill, 0.0, 0.0, 0.0, 0.0)
        if skill in then:
            left = then[skill]
            one = replace(
                one,
                freest_overload=left.overload,
                freest_bought=left.overtime + left.contract,
            )
        yield one


def _shared(
    days: Mapping[date, DayHours],
    near: Mapping[str, Mapping[str, SkillWeek]],
    given: GivenHours,
    sharing: HoursSharing,
) -> dict[date, tuple[str, Sequence[tuple[GroupWeek, SharedWeek]]]]:
    """Return the name and the cheapest sharing of each week in which something is asked."""
    mondays = sorted({monday_of(day) for day in days})
    names = [week_name(monday) for monday in mondays]
    shared = sharing.over_days(
        (parts_of_week(monday, days, given), near[name])
        for monday, name in zip(mondays, names, strict=True)
    )
    for groups in shared:
        for group, found in groups:
            _compare(group, found, exactly=sharing.holds_all_that_fits)
    return dict(zip(mondays, zip(names, shared, strict=True), strict=True))


def _asked_by_day(stays: Sequence[Stay], base: Base, given: GivenHours) -> dict[date, DayHours]:
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


def _compare(group: GroupWeek, found: SharedWeek, *, exactly: bool) -> None:
    """Hold the hours that fit nowhere to what the plain flow finds: never less, nor more."""
    told = fsum(skill.overload for skill in found.skills.values())
    least = least_unfit(group)
    if told < least - CENTIHOUR or (exactly and told > least + CENTIHOUR):
        names = ", ".join(found.skills)
        raise AuditError(
            [f"of {names}, {told:.2f} h fit no day of a week, a second count finds {least:.2f} h"]
        )


def _compare_costs(
    week: str,
    groups: Sequence[tuple[GroupWeek, SharedWeek]],
    cost: float,
    last_resort: float,
) -> None:
    """Hold what a week costs on its best days to what the flow that found them says."""
    told = fsum(
        found.skills[skill.name].overtime * skill.overtime_cost
        + (found.skills[skill.name].contract - found.skills[skill.name].guaranteed)
        * skill.contract_cost
        + found.skills[skill.name].overload * last_resort
        for group, found in groups
        for skill in group.group.skills
    )
    if abs(told - cost) > CENT + ROUNDING * abs(cost):
        raise AuditError([f"{week} costs {told:.2f} on its days, a second count finds {cost:.2f}"])


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
            paid = max(0.0, (here.contract - here.guaranteed) - whole.contract_paid)
            money = overtime * skill.overtime_cost + paid * skill.contract_cost
            yield DayShortage(week, skill.name, overload, overtime, contract, money)
