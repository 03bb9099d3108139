"""Every place of every check with nothing ruled out beforehand.

In the program of a plan, closures and fixed checks take candidates away before there are
rows. To say which of them stands in the way, all are candidates here: fixed checks are bound
to their bay and day like others to their window, and a closure is a mask of columns. So is the
end of the planning period: windows that reach beyond it are whole here.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Status
from capacity.labour.calendar import calendar_of
from capacity.plans.plan import Plan
from capacity.questions.asking.single_bays import single_bays
from capacity.slots.candidates import Columns, Slots, columns_of, find_slots
from capacity.slots.program.build import program_over
from capacity.slots.program.program import Program
from capacity.slots.rules.families import families
from capacity.slots.rules.rule import Rule

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class AllPlaces:
    """The places of all checks of a base; ``opened`` is the base as they were found in.

    ``base`` is the one that was asked about; ``opened`` has no closures, fixed checks are
    booked in it, none is held, aircraft come in on any day, and it is planned for the weeks that
    windows reach beyond the period. Every bay is a group of its own.
    """

    base: Base
    opened: Base
    slots: Slots

    @property
    def names(self) -> tuple[str, ...]:
        """Return the checks in the order of the slots."""
        return tuple(candidates.courses.check.name for candidates in self.slots.candidates)

    def on_time(self) -> list[Mask]:
        """Return which candidates of each check come in by ``Latest in``; fixed ones may."""
        fixed = {check.name for check in self.base.checks if check.status is Status.FIXED}
        return [
            (c.courses.past[c.course] == 0) | (c.courses.check.name in fixed)
            for c in self.slots.candidates
        ]

    def narrowed(self, masks: list[Mask]) -> "AllPlaces":
        """Return the same with only the candidates of each check's mask."""
        candidates = tuple(
            replace(c, course=c.course[mask], groups=c.groups[mask])
            for c, mask in zip(self.slots.candidates, masks, strict=True)
        )
        return replace(self, slots=replace(self.slots, candidates=candidates))

    def of_checks(self, names: frozenset[str]) -> "AllPlaces":
        """Return the same with no candidates of other checks."""
        return self.narrowed(
            [
                np.full(len(c.course), c.courses.check.name in names, dtype=np.bool_)
                for c in self.slots.candidates
            ]
        )

    def columns(self) -> Columns:
        """Return the candidates of all checks side by side."""
        return columns_of(self.slots)

    def program(self) -> Program:
        """Return the program with all rules but the closures."""
        return program_over(self.slots, self.opened)

    def closed(self, columns: Columns) -> dict[Rule, Mask]:
        """Return the columns that each rule takes away: a closure, or the planning period."""
        found: dict[Rule, Mask] = {}
        for family in families():
            found |= family.takes_away(columns, self.base)
        return found


def all_places(base: Base, plan: Plan | None = None) -> AllPlaces:
    """Return every place of every check of a base, those of a plan of it among them.

    The paces and ways to wait are those that a plan would consider, of fixed checks too.
    """
    opened = base
    for family in families():
        opened = family.opened(opened)
    bound = tuple(
        replace(check, status=Status.BOOKED) if check.status is Status.FIXED else check
        for check in opened.checks
    )
    opened = opened.replace(checks=bound)
    stated = {} if plan is None else plan.by_check()
    calendar, last = calendar_of(opened), base.last_in_day
    slots = single_bays(find_slots(opened, calendar, stated=stated, last_in_day=last))
    return AllPlaces(base, opened, slots)
