"""What can be levelled of each course: the hours of one skill of a stage, week by week."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.labour.kinds import Kind
from capacity.slots.candidates import (
    Courses,
    LaidOut,
    Slots,
    StageWork,
    Stays,
    hours_of_stage,
    less_of_sets,
)

TINY = 1e-12
Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Strand:
    """The hours of one skill of a stage: ``even`` and at ``most`` (n,) in the cells ``cell``.

    In a re-plan they are those left to do; ``done`` (m,) lie in the cells ``done_in``.
    """

    check: str
    stage: str
    skill: str
    cell: Ints
    even: Floats
    most: Floats
    done_in: Ints
    done: Floats


@dataclass(frozen=True)
class WeekSet:
    """Some weeks, by number, of one kind of work."""

    kind: int
    weeks: tuple[int, ...]


@dataclass(frozen=True)
class _Laid:
    """A check laid out, without what it costs and asks."""

    check: str
    work: tuple[StageWork, ...]
    stays: Stays
    kind_of: dict[str, int]


@dataclass(frozen=True)
class Strands:
    """The strands of all courses, each by its number; worked out when asked for.

    Courses are numbered check by check, those of settled checks last. ``first`` (checks + 1,) is
    the first of each check; ``skills`` are those of the base, in its order.
    """

    laid: tuple[_Laid, ...]
    first: Ints
    calendar: Calendar
    skills: tuple[str, ...]
    kinds: int

    def of(self, courses: Ints) -> list[Strand]:
        """Return the strands of some courses, in the order of their checks."""
        return [strand for course in courses for strand in self._of_course(int(course))]

    def can_leave(self, sets: Sequence[WeekSet]) -> Floats:
        """Return by how much each course can ask less of sets of weeks than evenly.

        Shape (courses, sets); courses of settled checks are the last.
        """
        masks = np.zeros((len(self.calendar.week_names), len(sets)))
        for number, one in enumerate(sets):
            masks[list(one.weeks), number] = 1.0
        parts = [np.empty((0, len(sets)))]
        for laid in self.laid:
            skill_of = {kind: self.skills.index(name) for name, kind in laid.kind_of.items()}
            skills = np.array([skill_of.get(one.kind, -1) for one in sets], dtype=np.int64)
            parts.append(less_of_sets(laid.work, laid.stays, self.calendar, masks, skills))
        return np.concatenate(parts)

    def _of_course(self, number: int) -> tuple[Strand, ...]:
        if number not in self._known:
            check = int(np.searchsorted(self.first, number, side="right")) - 1
            course = number - int(self.first[check])
            self._known[number] = tuple(self._worked_out(self.laid[check], course))
        return self._known[number]

    @cached_property
    def _known(self) -> dict[int, tuple[Strand, ...]]:
        return {}

    def _worked_out(self, laid: _Laid, course: int) -> Iterator[Strand]:
        """Go through the skills of the stages that can lie otherwise than evenly."""
        stays = laid.stays.only(np.array([course]))
        for number, stage in enumerate(laid.work):
            if not stage.can_be_levelled:
                continue
            hours = hours_of_stage(laid.work, number, stays, self.calendar)
            for place in np.flatnonzero(stage.man_hours > TINY):
                skill = self.skills[place]
                done, even, most = (
                    part[0, :, place] for part in (hours.settled, hours.even, hours.most)
                )
                weeks, done_in = np.flatnonzero(hours.may[0]), np.flatnonzero(done)
                yield Strand(
                    check=laid.check,
                    stage=stage.name,
                    skill=skill,
                    cell=weeks * self.kinds + laid.kind_of[skill],
                    even=even[weeks],
                    most=np.minimum(most[weeks], even.sum()),
                    done_in=done_in * self.kinds + laid.kind_of[skill],
                    done=done[done_in],
                )


def strands_of(slots: Slots | LaidOut) -> Strands | None:
    """Return the strands of all courses; None where all hours lie evenly."""
    if not slots.are_levelled:
        return None
    courses = (*slots.movable, *slots.settled)
    return Strands(
        laid=tuple(_Laid(c.check.name, c.work, c.stays, _kind_of(c, slots.kinds)) for c in courses),
        first=np.cumsum([0, *(len(c.past) for c in courses)]),
        calendar=slots.calendar,
        skills=tuple(dict.fromkeys(kind.skill for kind in slots.kinds)),
        kinds=len(slots.kinds),
    )


def _kind_of(courses: Courses, kinds: tuple[Kind, ...]) -> dict[str, int]:
    """Return the number of each skill's kind of work on the aircraft of a check."""
    return {
        kind.skill: number for number, kind in enumerate(kinds) if courses.check.type in kind.types
    }
