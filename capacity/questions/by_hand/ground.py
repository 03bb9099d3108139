"""The plan that a move is made in: every check in its one slot, and one check laid out anew.

As in ``conflicts/places.py`` nothing is ruled out beforehand: closures, fixed checks, holds and
days off take no candidate away here, so that each of them can be named as a reason.
"""

from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check, Status
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.labour.supply import Supply
from capacity.plans.audit import Audit
from capacity.plans.plan import Plan
from capacity.questions.asking.places import only_places, places_of
from capacity.questions.asking.single_bays import single_bays
from capacity.slots.candidates import (
    Candidates,
    LaidOut,
    Scope,
    Slots,
    find_slots,
    lay_out_checks,
    slots_in,
)
from capacity.slots.program.choice import Choice
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program, build_program
from capacity.slots.rules.families import families


@dataclass(frozen=True)
class Standing:
    """A plan with its audit, each check with its own candidate only, or with none.

    ``base`` holds the checks that were moved where they were put.
    """

    base: Base
    plan: Plan
    audit: Audit
    slots: Slots

    @property
    def names(self) -> list[str]:
        """Return the checks in the order of the slots."""
        return [candidates.courses.check.name for candidates in self.slots.candidates]


@dataclass(frozen=True)
class OneLaidOut:
    """The program of a standing plan in which check number ``asked`` has other candidates.

    ``others`` is the plan in columns, (checks,), -1 for the check asked about; ``columns`` are
    that check's, (columns,).
    """

    slots: Slots
    program: Program
    asked: int
    others: Choice
    columns: NDArray[np.int64]

    def with_column(self, column: int) -> Choice:
        """Return the choice with the check asked about in one of its columns, -1 for no slot."""
        chosen = self.others.copy()
        chosen[self.asked] = column
        return chosen

    def plan_with(self, chosen: Choice) -> Plan:
        """Return the choice as a plan, also where the check is in a bay with somebody else.

        Its bays are listed a second time for it, so that nobody is told to make room.
        """
        number, slots = self.asked, self.slots
        twice = replace(
            slots.candidates[number], groups=slots.candidates[number].groups + len(slots.groups)
        )
        candidates = (*slots.candidates[:number], twice, *slots.candidates[number + 1 :])
        apart = replace(slots, groups=(*slots.groups, *slots.groups), candidates=candidates)
        return plan_of(chosen, self.program, apart)


class Ground:
    """What all moves in plans of one base share: its calendar, its bays and its hours."""

    def __init__(self, base: Base) -> None:
        """Open the base: nothing is closed, fixed or held in it."""
        opened = base
        for family in families():
            opened = family.opened(opened)
        # The weeks stay: what contract crews are guaranteed is counted over them.
        self.opened = opened.replace(weeks=base.weeks)
        self._calendar = calendar_of(self.opened)
        self._supply: Supply = available_hours(self.opened, self._calendar)

    def standing(self, base: Base, plan: Plan, audit: Audit) -> Standing:
        """Return a plan among the candidates of its base; raises ``InputError`` as ``places_of``.

        Only the in day and first bay of each check are laid out.
        """
        by_check = plan.by_check()
        checks = []
        for check in self.opened.checks:
            stay = by_check.get(check.name)
            at = (stay[0].bay, stay[0].in_day) if stay else (None, self._some_day(check))
            checks.append(_put(check, *at))
        world = self.opened.replace(checks=tuple(checks))
        slots = single_bays(find_slots(world, self._calendar, stated=by_check))
        every = np.ones(len(slots.candidates), dtype=np.bool_)
        return Standing(base, plan, audit, only_places(slots, places_of(plan, slots), every))

    def laid_out(self, standing: Standing, name: str, bay: str, in_day: date) -> OneLaidOut:
        """Return the standing plan with the candidates of a check for one bay and in day.

        All paces and waits are among them, and all further bays that it could move to.
        """
        check = _put(self.opened.check(name), bay, in_day)
        alone = self.opened.replace(checks=(check,))
        stated = standing.plan.by_check()
        laid = lay_out_checks(alone, self._calendar, stated=stated)
        whole = standing.slots
        mine = LaidOut(whole.calendar, whole.kinds, whole.groups, laid.movable, ())
        return self._beside(standing, standing.names.index(name), _in_every_bay(mine))

    def without(self, standing: Standing, name: str) -> OneLaidOut:
        """Return the standing plan with no candidate of a check."""
        number = standing.names.index(name)
        own = standing.slots.candidates[number]
        none = replace(own, course=own.course[:0], groups=own.groups[:0])
        return self._beside(standing, number, none)

    def going_on(
        self,
        standing: Standing,
        laid: OneLaidOut,
        column: int,
        base: Base,
        plan: Plan,
        audit: Audit,
    ) -> Standing:
        """Return what stands once the check asked about is in one of its columns, -1 for none."""
        places = np.where(laid.others >= 0, 0, -1)
        if column >= 0:
            places[laid.asked] = laid.program.place_of(laid.asked, column)
        every = np.ones(len(places), dtype=np.bool_)
        return Standing(base, plan, audit, only_places(laid.slots, places, every))

    def _beside(self, standing: Standing, number: int, mine: Candidates) -> OneLaidOut:
        before = standing.slots.candidates
        slots = replace(standing.slots, candidates=(*before[:number], mine, *before[number + 1 :]))
        program = build_program(slots, self.opened, self._supply)
        counts = np.diff(program.first_column)
        placed = counts > 0
        placed[number] = False
        others = np.where(placed, program.first_column[:-1], -1)
        return OneLaidOut(slots, program, number, others, program.columns_of(number))

    def _some_day(self, check: Check) -> date:
        """Return a day of the plan on which a check without a slot can be laid out."""
        return min(max(check.earliest_in, self.opened.first_day), self.opened.last_in_day)


def _in_every_bay(laid: LaidOut) -> Candidates:
    """Return the candidates of the one check that is laid out."""
    return slots_in(laid, Scope()).candidates[0]


def _put(check: Check, bay: str | None, in_day: date) -> Check:
    """Return the check with no other in day and no other first bay; what it costs stays."""
    status = Status.BOOKED if check.status is Status.FIXED else check.status
    return replace(check, status=status, fixed_bay=bay, fixed_in=in_day)
