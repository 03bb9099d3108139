"""A plan that stands while a question is asked, with more checks that want to come in."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from threading import Event

import numpy as np
from numpy.typing import NDArray

from capacity.errors import InputError
from capacity.facts import Base, Check
from capacity.inputs.wording import suggest
from capacity.labour.calendar import calendar_of
from capacity.messages import Level, Message
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.places import choice_of, only_places, other_bays, places_of
from capacity.questions.asking.searching import with_fewest_bay_changes, with_no_move_in_vain
from capacity.questions.asking.single_bays import single_bays
from capacity.slots.candidates import Slots, find_slots
from capacity.slots.line.heed import heeding
from capacity.slots.program.audited import audited
from capacity.slots.program.build import program_over
from capacity.slots.program.choice import Choice
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program
from capacity.words import day


@dataclass(frozen=True)
class StandingPlan:
    """A plan among the candidates of its base, every bay by itself.

    ``base`` has the checks that were added; ``plan`` leaves them out and ``audit`` is what
    it comes to. ``chosen`` is the plan in columns of ``program``. Only the checks that were
    ``added`` or ``may_move``, (checks,) each, have other columns than their own.
    """

    base: Base
    plan: Plan
    audit: Audit
    auditor: Auditor
    slots: Slots
    program: Program
    chosen: Choice
    added: NDArray[np.bool_]
    may_move: NDArray[np.bool_]

    @property
    def cost(self) -> tuple[int, float]:
        """Return days past ``Latest in`` and money of the plan."""
        return self.program.cost(self.chosen)

    def number_of(self, name: str) -> int:
        """Return the number of a check in the program."""
        return self.program.checks.index(name)

    def with_place(self, check: int, column: int) -> Choice:
        """Return the plan's choice with a check in a column of its."""
        chosen = self.chosen.copy()
        chosen[check] = column
        return chosen

    def placements_of(self, check: int, column: int) -> tuple[Placement, ...]:
        """Return the placements of a check in a column of its."""
        alone = np.full_like(self.chosen, -1)
        alone[check] = column
        made = plan_of(alone, self.program, self.slots)
        return tuple(p for p in made.placements if p.check == self.program.checks[check])

    def moved_least(self, chosen: Choice) -> Choice:
        """Return a choice that costs no more, with nobody moved in vain or to a like bay."""
        by_check = self.plan.by_check()
        other = [
            other_bays(candidates, by_check[name], self.slots).astype(np.float64)
            if (name := candidates.courses.check.name) in by_check
            else np.zeros(len(candidates.course))
            for candidates in self.slots.candidates
        ]
        settled = with_no_move_in_vain(self.program, self.chosen, chosen)
        prices = np.concatenate([np.empty(0), *other])
        settled = with_fewest_bay_changes(self.program, settled, prices)
        return with_no_move_in_vain(self.program, self.chosen, settled)

    def plan_with(self, chosen: Choice) -> tuple[Plan, Audit]:
        """Return a choice as a plan with its audit; raises ``AuditError``.

        Of sharings of man-hours that cost the same, the nearest to the standing plan's is told.
        """
        return audited(chosen, self.program, self.slots, self.auditor, self.audit)


def standing_plan(
    base: Base,
    plan: Plan,
    added: Sequence[Check] = (),
    may_move: Collection[str] | None = (),
    stop: Event | None = None,
) -> StandingPlan:
    """Let a plan of a base stand beside checks that are ``added``, as yet without a place.

    The checks named by ``may_move``, or all of them for None, keep their other candidates. In a
    plan that was made again, which has a day from which work counts, nobody moves who came in
    before that day, and nobody else comes in before it.

    Raises
    ------
    InputError
        When the plan is none of this base's, or a name is unknown, or of a check that is in.
    StoppedError
        Soon after ``stop`` is set.
    """
    begun = _begun(plan, base)
    if wrong := [*_unknown_names(may_move or (), base), *_in_already(may_move or (), begun, base)]:
        raise InputError(wrong)
    whole = base.replace(checks=(*base.checks, *added))
    calendar, heed = calendar_of(whole), heeding(stop)
    slots = single_bays(find_slots(whole, calendar, heed, plan.by_check()))
    names = [candidates.courses.check.name for candidates in slots.candidates]
    new = {check.name for check in added}
    is_new = np.array([name in new for name in names], dtype=np.bool_)
    movable = np.array([may_move is None or name in may_move for name in names], dtype=np.bool_)
    movable &= ~is_new & ~np.array([name in begun for name in names], dtype=np.bool_)
    slots = only_places(slots, places_of(plan, slots), ~(movable | is_new))
    slots = _from_today(slots, movable | is_new, base.work_counts_from)
    program = program_over(slots, whole, heed)
    chosen = choice_of(plan, slots, program)
    auditor = Auditor(whole)
    made, audit = audited(chosen, program, slots, auditor)
    if others := list(_other_placements(plan, made)):
        raise InputError(others)
    return StandingPlan(whole, made, audit, auditor, slots, program, chosen, is_new, movable)


def _begun(plan: Plan, base: Base) -> frozenset[str]:
    """Return the checks that came in before the day from which work counts in a re-plan."""
    today = base.work_counts_from
    if today is None:
        return frozenset()
    return frozenset(n for n, stay in plan.by_check().items() if stay[0].in_day < today)


def _from_today(slots: Slots, free: NDArray[np.bool_], today: date | None) -> Slots:
    """Return the slots without those of the ``free`` checks (checks,) that are gone by."""
    if today is None:
        return slots
    day, candidates = slots.calendar.number(today), list(slots.candidates)
    for number in np.flatnonzero(free):
        whole = candidates[number]
        ahead = whole.courses.stays.in_day[whole.course] >= day
        candidates[number] = replace(whole, course=whole.course[ahead], groups=whole.groups[ahead])
    return replace(slots, candidates=tuple(candidates))


def _in_already(names: Collection[str], begun: frozenset[str], base: Base) -> list[Message]:
    today = base.work_counts_from
    return [
        Message(
            Level.ERROR,
            "may move",
            f"'{name}' came in before {day(today)}, the day of the re-plan, and cannot move.",
            "Leave it out.",
        )
        for name in names
        if name in begun and today is not None
    ]


def _unknown_names(names: Collection[str], base: Base) -> list[Message]:
    known = {check.name for check in base.checks}
    return [
        Message(
            Level.ERROR,
            "may move",
            f"'{name}' is not a check in the workbook.",
            suggest(name, known, "the sheet Checks"),
        )
        for name in names
        if name not in known
    ]


def _other_placements(plan: Plan, made: Plan) -> list[Message]:
    """Return the placements of settled checks that are other ones than the base's."""
    # Hours may lie in other weeks: they are levelled anew.
    stated, found = ({p.without_hours() for p in one.placements} for one in (plan, made))
    differing = sorted({placement.check for placement in stated ^ found})
    return [
        Message(
            Level.ERROR,
            f"placements, {name}",
            f"{name} is elsewhere in this plan than the workbook says.",
            "Give the workbook that the plan was made for.",
        )
        for name in differing
    ]
