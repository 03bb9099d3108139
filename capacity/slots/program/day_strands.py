"""What each course asks day by day: hours that lie where they lie, and strands that do not."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from capacity.slots.candidates import days_of_stage, must_lie_on
from capacity.slots.program.strands import Strands

TINY = 1e-12
Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class DayStrand:
    """The hours of one skill of a stage that may lie on ``days`` (n,), at ``most`` on each.

    ``even`` (n,) is their even spread. Those ``done`` (m,) of it lie on the days ``done_on``.
    """

    check: str
    stage: str
    skill: str
    kind: int
    days: Ints
    even: Floats
    most: float
    done_on: Ints
    done: Floats

    @property
    def hours(self) -> float:
        """Return the hours that are to be spread."""
        return float(self.even.sum())

    def scaled(self, share: float) -> "DayStrand":
        """Return a share of it."""
        return replace(self, even=self.even * share, most=self.most * share, done=self.done * share)


@dataclass(frozen=True)
class CourseDays:
    """A course day by day: ``hours`` (n,) that lie on ``days`` of ``kinds``, and its strands.

    What is done of a strand is among the hours.
    """

    days: Ints
    kinds: Ints
    hours: Floats
    strands: tuple[DayStrand, ...]


@dataclass(frozen=True)
class DaySet:
    """Some days of some kinds of work, and what can be used on them.

    ``days`` are numbers of days by kind. Of the arcs ``bought``, each a pool, a week and a kind,
    all that is bought can be used there; ``there`` are the hours of crews and pools besides.
    """

    days: tuple[tuple[int, tuple[int, ...]], ...]
    bought: tuple[tuple[int, int, int], ...]
    there: float


@dataclass(frozen=True)
class DayStrands:
    """The days of all courses, by the numbers of ``strands``; worked out when asked for."""

    strands: Strands

    def of(self, course: int) -> CourseDays:
        """Return a course day by day."""
        if course not in self._known:
            first = self.strands.first
            check = int(np.searchsorted(first, course, side="right")) - 1
            self._known[course] = self._worked_out(check, course - int(first[check]))
        return self._known[course]

    def must(self, sets: Sequence[DaySet]) -> Floats:
        """Return the hours of each course that must lie on sets of days, (courses, sets)."""
        strands = self.strands
        pairs = [(number, kind, days) for number, s in enumerate(sets) for kind, days in s.days]
        masks = np.zeros((len(strands.calendar.worked), len(pairs)))
        for place, (_, _, days) in enumerate(pairs):
            masks[list(days), place] = 1.0
        parts = [np.empty((0, len(pairs)))]
        for laid in strands.laid:
            skill_of = {kind: strands.skills.index(name) for name, kind in laid.kind_of.items()}
            skills = np.array([skill_of.get(kind, -1) for _, kind, _ in pairs], dtype=np.int64)
            parts.append(must_lie_on(laid.work, laid.stays, strands.calendar, masks, skills))
        by_pair = np.concatenate(parts)
        must = np.zeros((len(by_pair), len(sets)))
        for place, (number, _, _) in enumerate(pairs):
            must[:, number] += by_pair[:, place]
        return must

    @cached_property
    def _known(self) -> dict[int, CourseDays]:
        return {}

    def _worked_out(self, check: int, course: int) -> CourseDays:
        laid, strands = self.strands.laid[check], tuple(self._strands_of(check, course))
        days, kinds, hours = [], [], []
        stay = laid.stays.only(np.array([course]))
        for number in range(len(laid.work)):
            of = days_of_stage(laid.work, number, stay, self.strands.calendar)
            for place, skill in enumerate(self.strands.skills):
                if skill in laid.kind_of and laid.work[number].man_hours[place] > TINY:
                    days.append(of.settled_on)
                    kinds.append(np.full(len(of.settled_on), laid.kind_of[skill]))
                    hours.append(of.settled[:, place])
        if not days:
            nothing = np.empty(0, dtype=np.int64)
            return CourseDays(nothing, nothing, np.empty(0), strands)
        return CourseDays(
            np.concatenate(days),
            np.concatenate(kinds).astype(np.int64),
            np.concatenate(hours),
            strands,
        )

    def _strands_of(self, check: int, course: int) -> Iterator[DayStrand]:
        laid = self.strands.laid[check]
        stay = laid.stays.only(np.array([course]))
        for number, stage in enumerate(laid.work):
            if not stage.can_be_levelled:
                continue
            of = days_of_stage(laid.work, number, stay, self.strands.calendar)
            for place in np.flatnonzero(stage.man_hours > TINY):
                skill = self.strands.skills[place]
                even = of.even[:, place]
                yield DayStrand(
                    check=laid.check,
                    stage=stage.name,
                    skill=skill,
                    kind=laid.kind_of[skill],
                    days=of.days,
                    even=even,
                    most=min(float(of.most[place]), float(even.sum())),
                    done_on=of.settled_on,
                    done=of.settled[:, place],
                )
