"""Every way to place every check: bay group, in day, and so every day and man-hour of it.

All arithmetic of calendar, spreading and money happens here, once, so that the program over
candidates is a plain linear one.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check, Status
from capacity.labour.calendar import Calendar
from capacity.slots.bay_groups import BayGroup, group_bays
from capacity.slots.bay_uses import FixedStay, bay_uses
from capacity.slots.paces import paces_of
from capacity.slots.stays import Stays, joined, lay_out, man_hours_by_week
from capacity.slots.work import StageWork, work_of


@dataclass(frozen=True)
class Courses:
    """A check's possible courses in time, whatever the bay: one an in day and pace.

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
    lengths = [c.stays.out_day - c.stays.in_day for c in movable if len(c.stays.in_day)]
    shortest = min((int(days.min()) for days in lengths), default=1)
    uses = bay_uses(base, calendar, [c.check for c in movable], [_stay(c) for c in settled])
    groups = group_bays(uses, calendar.first, max(1, shortest))
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
    paces = paces_of(work) if check.status is not Status.FIXED else paces_of(work)[:1]
    stays = joined([lay_out(work, pace, in_day, from_day, calendar) for pace in paces])
    in_day = stays.in_day
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


def _stay(courses: Courses) -> FixedStay:
    stays = courses.stays
    bay = courses.check.fixed_bay or ""
    return FixedStay(bay, int(stays.in_day[0]), int(stays.out_day[0]))


def _candidates(courses: Courses, groups: list[BayGroup]) -> Candidates:
    course, group = [np.empty(0, dtype=np.int64)], [np.empty(0, dtype=np.int64)]
    in_day, out_day = courses.stays.in_day, courses.stays.out_day
    for number, bays in enumerate(groups):
        if courses.check.name not in bays.fits:
            continue
        leaves = out_day + bays.changeover_days
        stands = ~(
            _touches(bays.shut, in_day, out_day)
            | _touches(bays.taken, in_day, leaves)
            | _touches(bays.to_be_clear, in_day + 1, out_day)
            | bays.no_moves[in_day]
            | bays.no_moves[out_day]
        )
        course.append(np.flatnonzero(stands))
        group.append(np.full(int(stands.sum()), number))
    return Candidates(courses, np.concatenate(course), np.concatenate(group))


def _touches(
    mask: NDArray[np.bool_], start: NDArray[np.int64], end: NDArray[np.int64]
) -> NDArray[np.bool_]:
    """Return whether ``[start, end)`` holds a day of the mask, elementwise."""
    before = np.concatenate(([0], np.cumsum(mask)))
    return before[np.minimum(end, len(mask))] > before[start]
