"""Why a check is elsewhere than in the plan before."""

from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check, Status
from capacity.plans.plan import Placement
from capacity.questions.replan.values import Cause, Reason
from capacity.slots.candidates import Courses, Slots, work_of
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

TINY, TINY_HOURS = 1e-9, 1e-6


@dataclass(frozen=True)
class Replacing:
    """The choice before, as far as it still stands, and the one that replaces it.

    ``program`` is without move prices; ``slots`` are those of the whole base. ``old_base`` is
    the one that the plan before was made for, where it is known.
    """

    base: Base
    slots: Slots
    program: Program
    old: Choice
    new: Choice
    old_base: Base | None = None

    def number_of(self, check: str) -> int | None:
        """Return the number of a check in the program; None for a settled one."""
        return self.program.checks.index(check) if check in self.program.checks else None


def reasons(check: Check, before: list[Placement], replacing: Replacing) -> tuple[Reason, ...]:
    """Return why a check that stood in ``before`` is elsewhere, or run otherwise, now.

    Changes of the check itself come first; only where there is none, what others do.
    """
    number = replacing.number_of(check.name)
    if check.status is Status.FIXED:
        moved = (before[0].bay, before[0].in_day) != (check.fixed_bay, check.fixed_in)
        work = _work_reasons(check, before, replacing)
        return (Reason(Cause.FIXED), *work) if moved else tuple(work) or (Reason(Cause.WORK),)
    own = [*_slipped(check, before, replacing.base), *_agreed_otherwise(check, before, replacing)]
    own += _work_reasons(check, before, replacing)
    if own or number is None:
        return tuple(own) or (Reason(Cause.PLACE_GONE),)
    if replacing.old[number] < 0:
        return (Reason(Cause.PLACE_GONE),)
    return (_made_by_others(number, replacing),)


def _slipped(check: Check, before: list[Placement], base: Base) -> list[Reason]:
    """Tell by how many days the window now misses the old in day, negative for earlier."""
    in_day = before[0].in_day
    first = max(check.earliest_in, base.first_day)
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    last = check.latest_in + timedelta(days=delay)
    if in_day < first:
        return [Reason(Cause.SLIPPED, days=(first - in_day).days)]
    if in_day > last:
        return [Reason(Cause.SLIPPED, days=(last - in_day).days)]
    return []


def _agreed_otherwise(check: Check, before: list[Placement], replacing: Replacing) -> list[Reason]:
    """Tell an option that lapsed, a check held elsewhere, and moves on days off."""
    base, calendar = replacing.base, replacing.slots.calendar
    first, last = before[0], before[-1]
    if base.has_lapsed(check):
        return [Reason(Cause.LAPSED)]
    elsewhere = check.held_in not in (None, first.in_day) or check.held_bay not in (None, first.bay)
    days = [] if base.comes_in_on_days_off else [first.in_day]
    days += [] if base.leaves_on_days_off else [last.out_day, *(p.in_day for p in before[1:])]
    to_come = [calendar.number(day) for day in days if day >= base.work_left_from]
    known = [number for number in to_come if number < len(calendar.worked)]
    off = not all(bool(calendar.worked[number]) for number in known)
    told = [(Cause.HELD, elsewhere), (Cause.DAY_OFF, off)]
    return [Reason(cause) for cause, is_so in told if is_so]


def _work_reasons(check: Check, before: list[Placement], replacing: Replacing) -> list[Reason]:
    """Compare the old stay with those that the check would have now from the same day on."""
    courses = _courses_of(check, replacing.slots)
    if courses is None:
        return []
    calendar, stays = replacing.slots.calendar, courses.stays
    same_day = stays.in_day == calendar.number(before[0].in_day)
    if not same_day.any():
        return []
    stated = {s.stage: s for placement in before for s in placement.stages}
    names = {work.name for work in courses.work}
    alike = same_day.copy()
    for number, work in enumerate(courses.work):
        if work.name in stated:
            alike &= stays.starts[:, number] == calendar.number(stated[work.name].first)
            alike &= stays.ends[:, number] == calendar.number(stated[work.name].until)
    more_hours = _more_hours(check, replacing)
    if alike.any() and names == set(stated) and not more_hours:
        return []
    normal = int(np.flatnonzero(same_day)[0])
    longer = int(stays.out_day[normal]) - calendar.number(before[-1].out_day)
    if alike.any():
        longer = 0
    grown = more_hours or longer
    cause = Cause.GREW if grown > 0 else Cause.SHRANK if grown < 0 else Cause.WORK
    return [Reason(cause, days=longer, man_hours=more_hours)]


def _more_hours(check: Check, replacing: Replacing) -> float:
    """Return by how many man-hours the check grew; 0 where the old base is not known."""
    old_base = replacing.old_base
    old = next((c for c in old_base.checks if c.name == check.name), None) if old_base else None
    if old is None or old_base is None:
        return 0.0
    more = _man_hours(check, replacing.base) - _man_hours(old, old_base)
    return more if abs(more) > TINY_HOURS else 0.0


def _man_hours(check: Check, base: Base) -> float:
    """Return the man-hours of a check: what its package leaves, or with progress all of it.

    What progress tells to be done is not less work; a stage grew by what is left beyond its
    planned hours.
    """
    package, skills = base.package_of(check), [skill.name for skill in base.skills]
    progress = base.progress_of(check.name)
    if not progress:
        work = work_of(check, package, skills)
        return float(sum(stage.man_hours.sum() for stage in work))
    whole = {
        stage.name: float(stage.man_hours.sum())
        for stage in work_of(replace(check, remaining=None), package, skills)
    }
    left = {
        stage.name: float(stage.man_hours.sum())
        for stage in work_of(check, package, skills, progress=progress)
    }
    return sum(max(hours, left.get(name, 0.0)) for name, hours in whole.items())


def _courses_of(check: Check, slots: Slots) -> Courses | None:
    every = (*(candidates.courses for candidates in slots.candidates), *slots.settled)
    return next((courses for courses in every if courses.check.name == check.name), None)


def _made_by_others(number: int, replacing: Replacing) -> Reason:
    """Tell who stands where the check stood; else what staying would have cost."""
    program, old, new = replacing.program, replacing.old, replacing.new
    others = new.copy()
    others[number] = -1
    slack = program.slack(others)
    column = old[[number]]
    if not program.fits(column, slack)[0]:
        return Reason(Cause.DISPLACED, by=in_the_way(column, slack, others, replacing))
    stayed = new.copy()
    stayed[number] = old[number]
    days, money = program.cost(stayed)
    now_days, now_money = program.cost(new)
    if days > now_days:
        return Reason(Cause.FEWER_DAYS_PAST, days=days - now_days)
    return Reason(Cause.CHEAPER, money=money - now_money)


def in_the_way(
    column: Choice, slack: NDArray[np.float64], others: Choice, replacing: Replacing
) -> tuple[str, ...]:
    """Return who takes of the rows that lack room; those who came there since, if any did."""
    program = replacing.program
    foot = program.footprint[column].tocoo()
    lacking = np.zeros(len(program.capacity))
    lacking[foot.col] = foot.data > slack[foot.col] + TINY
    placed = np.flatnonzero(others >= 0)
    takes = (program.footprint[others[placed]] > 0).astype(np.float64) @ lacking
    there = placed[takes > 0]
    came = there[others[there] != replacing.old[there]]
    return tuple(program.checks[n] for n in (came if len(came) else there))
