"""Every way to place every check: bay group, in day, and so every day and man-hour of it.

All arithmetic of calendar, spreading and money happens here, once, so that the program over
candidates is a plain linear one.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Bay, Check, Status
from capacity.labour.calendar import Calendar
from capacity.slots.bay_groups import BayGroup, BayUse, group_bays
from capacity.slots.fit import does_work, fits
from capacity.slots.stays import Stays, lay_out, man_hours_by_week
from capacity.slots.work import StageWork, work_of


@dataclass(frozen=True)
class Courses:
    """A check's possible courses in time, whatever the bay; one for each in day.

    ``past`` counts days past ``Latest in``; ``money`` is early and late cost less an
    option's price; ``man_hours`` has shape (courses, weeks, skills).
    """

    check: Check
    work: tuple[StageWork, ...]
    stays: Stays
    past: NDArray[np.int64]
    money: NDArray[np.float64]
    man_hours: NDArray[np.float64]


@dataclass(frozen=True)
class Candidates:
    """The pairs of course and bay group that can stand by themselves.

    ``course`` and ``group`` have shape (candidates,), group numbers those of the list of
    bay groups.
    """

    courses: Courses
    course: NDArray[np.int64]
    group: NDArray[np.int64]


@dataclass(frozen=True)
class Slots:
    """Everything that could be planned: the calendar, the bays, the checks' candidates.

    ``settled`` holds the one course of each fixed check, in the order of the base.
    """

    calendar: Calendar
    skills: tuple[str, ...]
    groups: tuple[BayGroup, ...]
    candidates: tuple[Candidates, ...]
    settled: tuple[Courses, ...]


def find_slots(base: Base, calendar: Calendar) -> Slots:
    """Return the fixed checks as they stand and all candidates of the others."""
    settled = tuple(
        _courses(check, base, calendar, np.array([calendar.number(check.fixed_in)]))
        for check in base.checks
        if check.status is Status.FIXED and check.fixed_in is not None
    )
    movable = [
        _courses(check, base, calendar, _in_days(check, base, calendar))
        for check in base.checks
        if check.status is not Status.FIXED
    ]
    groups = _bay_groups(base, calendar, settled, movable)
    return Slots(
        calendar=calendar,
        skills=tuple(skill.name for skill in base.skills),
        groups=tuple(groups),
        candidates=tuple(_candidates(courses, groups) for courses in movable),
        settled=settled,
    )


def _in_days(check: Check, base: Base, calendar: Calendar) -> NDArray[np.int64]:
    """Return the days of the check's window, rising; past its end for a booked check."""
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    first = max(calendar.number(check.earliest_in), calendar.first)
    last = min(calendar.number(check.latest_in) + delay, calendar.number(base.last_in_day))
    days = np.arange(first, last + 1)
    # Coming in on a day off that could be spent outside gains nothing before Latest in: the
    # next day leads to the same work with a shorter stay and fewer interval days lost.
    idle = ~calendar.worked[days] & (days < min(calendar.number(check.latest_in), last))
    return days[~idle]


def _courses(check: Check, base: Base, calendar: Calendar, in_day: NDArray[np.int64]) -> Courses:
    package = next(package for package in base.packages if package.name == check.package)
    work = work_of(check, package, [skill.name for skill in base.skills])
    from_day = calendar.first if check.remaining is not None else 0
    stays = lay_out(work, in_day, from_day, calendar)
    latest = calendar.number(check.latest_in)
    money = check.early_cost_per_day * np.maximum(latest - in_day, 0.0)
    if check.agreed_out is not None:
        late_days = np.maximum(stays.out_day - calendar.number(check.agreed_out), 0.0)
        money = money + check.late_cost_per_day * late_days
    if check.status is Status.OPTION:
        money = money - check.price
    return Courses(
        check=check,
        work=work,
        stays=stays,
        past=np.maximum(in_day - latest, 0),
        money=money,
        man_hours=man_hours_by_week(work, stays, calendar),
    )


def _bay_groups(
    base: Base, calendar: Calendar, settled: tuple[Courses, ...], movable: list[Courses]
) -> list[BayGroup]:
    types = {aircraft.name: aircraft for aircraft in base.types}
    packages = {package.name: package for package in base.packages}
    uses = [
        BayUse(
            name=bay.name,
            fits=frozenset(
                courses.check.name
                for courses in movable
                if fits(bay, types[courses.check.type])
                and does_work(bay, packages[courses.check.package])
            ),
            changeover_days=bay.changeover_days,
            shut=_shut_days(bay, base, calendar),
            taken=_taken_days(bay, settled, calendar),
        )
        for bay in base.bays
    ]
    lengths = [c.stays.out_day - c.stays.in_day for c in movable if len(c.stays.in_day)]
    shortest = min((int(days.min()) for days in lengths), default=1)
    return group_bays(uses, calendar.first, max(1, shortest))


def _shut_days(bay: Bay, base: Base, calendar: Calendar) -> NDArray[np.bool_]:
    shut = np.zeros(len(calendar.worked), dtype=np.bool_)
    for closure in base.closures:
        if closure.bay == bay.name:
            first = max(0, calendar.number(closure.first))
            shut[first : max(0, calendar.number(closure.last) + 1)] = True
    return shut


def _taken_days(bay: Bay, settled: tuple[Courses, ...], calendar: Calendar) -> NDArray[np.bool_]:
    taken = np.zeros(len(calendar.worked), dtype=np.bool_)
    for courses in settled:
        if courses.check.fixed_bay == bay.name:
            first, until = int(courses.stays.in_day[0]), int(courses.stays.out_day[0])
            taken[first : until + bay.changeover_days] = True
    return taken


def _candidates(courses: Courses, groups: list[BayGroup]) -> Candidates:
    course, group = [np.empty(0, dtype=np.int64)], [np.empty(0, dtype=np.int64)]
    in_day, out_day = courses.stays.in_day, courses.stays.out_day
    for number, bays in enumerate(groups):
        if courses.check.name not in bays.fits:
            continue
        leaves = out_day + bays.changeover_days
        stands = ~_touches(bays.shut, in_day, out_day) & ~_touches(bays.taken, in_day, leaves)
        course.append(np.flatnonzero(stands))
        group.append(np.full(int(stands.sum()), number))
    return Candidates(courses, np.concatenate(course), np.concatenate(group))


def _touches(
    mask: NDArray[np.bool_], start: NDArray[np.int64], end: NDArray[np.int64]
) -> NDArray[np.bool_]:
    """Return whether ``[start, end)`` holds a day of the mask, elementwise."""
    before = np.concatenate(([0], np.cumsum(mask)))
    return before[np.minimum(end, len(mask))] > before[start]
