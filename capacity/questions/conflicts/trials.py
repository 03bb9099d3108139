"""A changed base, and whether the checks of a question can all be placed in it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from threading import Event

import numpy as np
from numpy.typing import NDArray

from capacity.cores import FEWEST_WORKERS
from capacity.errors import AuditError
from capacity.facts import Base, Status
from capacity.labour.calendar import Calendar, calendar_of
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan
from capacity.questions.asking.searching import best_choice
from capacity.questions.asking.single_bays import single_bays
from capacity.questions.conflicts.solving import Answer, Clock, placed_together
from capacity.settings import Settings
from capacity.slots.candidates import Candidates, Slots, find_slots
from capacity.slots.program.audited import audited
from capacity.slots.program.build import program_over
from capacity.slots.program.choice import Choice
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program, Restricted

Price = Callable[[Candidates, Calendar], NDArray[np.float64]]
"""What each course of a check costs, by which the least change is found."""


@dataclass(frozen=True)
class Wanted:
    """Who must have a place: the ``checks`` on time, but for those ``late`` by some days.

    Those ``bound`` to a bay have to begin in it.
    """

    checks: frozenset[str]
    late: Mapping[str, int] = field(default_factory=dict)
    bound: Mapping[str, str] = field(default_factory=dict)

    def allowed(self, candidates: Candidates, slots: Slots) -> NDArray[np.bool_]:
        """Return which candidates of a check answer the question, (candidates,)."""
        check, past = candidates.courses.check, candidates.courses.past[candidates.course]
        if check.name not in self.checks or check.status is Status.FIXED:
            return np.ones(len(past), dtype=np.bool_)
        allowed: NDArray[np.bool_] = past <= self.late.get(check.name, 0)
        if check.name in self.bound:
            bay = self.bound[check.name]
            own = [n for n, group in enumerate(slots.groups) if group.bays == (bay,)]
            allowed &= np.isin(candidates.groups[:, 0], own)
        return allowed


@dataclass(frozen=True)
class Ground:
    """A base with its program; ``stands`` says whether what is settled breaks no rule."""

    base: Base
    slots: Slots
    program: Program
    stands: bool


@dataclass(frozen=True)
class TriedBase:
    """A base with its program cut down to what is wanted, and the answer found.

    ``restricted`` has the columns that are allowed; in its program a check that must have a place
    is too dear to leave out.
    """

    ground: Ground
    restricted: Restricted
    answer: Answer

    def best_plan(
        self, seconds: float, seed: int, stop: Event | None = None
    ) -> tuple[Plan, Audit, float | None]:
        """Return the best audited plan found from the answer, and a bound of its money."""
        assert self.answer.chosen is not None
        ground, settings = self.ground, Settings(seconds, seed, workers=FEWEST_WORKERS)
        start = _with_the_others(self.restricted.program, self.answer.chosen)
        found = best_choice(self.restricted.program, start, settings, stop)
        # A fixed check that is left out counts as any other in the audit.
        most = np.minimum(ground.program.unplaced_past, ground.base.longest_delay_days + 1)
        program = replace(ground.program, unplaced_past=most)
        chosen = self.restricted.to_whole(found.chosen)
        made, audit = audited(chosen, program, ground.slots, Auditor(ground.base))
        return made, audit, found.bound

    def in_day_of(self, check: str) -> date:
        """Return the day on which a check comes in by the answer."""
        assert self.answer.chosen is not None
        number = self.ground.program.checks.index(check)
        column = int(self.restricted.number[self.answer.chosen[number]])
        candidates = self.ground.slots.candidates[number]
        course = candidates.course[self.ground.program.place_of(number, column)]
        return self.ground.slots.calendar.date(int(candidates.courses.stays.in_day[course]))


def ground_of(base: Base, *, bays_apart: bool = False) -> Ground:
    """Return the program of a base; with ``bays_apart`` every bay is a group of its own."""
    calendar = calendar_of(base)
    slots = find_slots(base, calendar)
    slots = single_bays(slots) if bays_apart else slots
    program = program_over(slots, base)
    # Settled checks stand in no row: they are judged by the audit.
    nobody = np.full(len(program.checks), -1, dtype=np.int64)
    broken = Auditor(base).audit(plan_of(nobody, program, slots)).broken
    return Ground(base, slots, program, not broken)


def trial_on(
    ground: Ground, wanted: Wanted, clock: Clock, of: str = "", price: Price | None = None
) -> TriedBase:
    """Return whether all that is wanted can be had in a base, whatever the others do.

    With a ``price`` for the check ``of``, by the choice that costs least of it.

    Raises
    ------
    AuditError
        When what was found breaks a rule.
    """
    base, program, candidates = ground.base, ground.program, ground.slots.candidates
    masks = [wanted.allowed(c, ground.slots) for c in candidates]
    restricted = program.restricted_to(np.concatenate([np.empty(0, dtype=np.bool_), *masks]))
    must = np.array([name in wanted.checks for name in program.checks], dtype=np.bool_)
    dear = (base.longest_delay_days + 1) * (len(base.checks) + 1)
    unplaced = np.where(must, np.maximum(dear, program.unplaced_past), program.unplaced_past)
    restricted = replace(restricted, program=replace(restricted.program, unplaced_past=unplaced))
    if not ground.stands:
        return TriedBase(ground, restricted, Answer(False))
    cost = None
    if price is not None:
        costs = [
            price(c, ground.slots.calendar)[c.course]
            if c.courses.check.name == of
            else np.zeros(len(c.course))
            for c in candidates
        ]
        cost = np.concatenate([np.empty(0), *costs])[restricted.number]
    answer = placed_together(restricted.program, must, clock, cost)
    if answer.chosen is not None:
        made = plan_of(restricted.to_whole(answer.chosen), program, ground.slots)
        if broken := Auditor(base).audit(made).broken:
            raise AuditError(broken)
    return TriedBase(ground, restricted, answer)


def _with_the_others(program: Program, chosen: Choice) -> Choice:
    """Put each check that has to come in, but has no place, where it is least late and dear.

    Those with fewest places first, beside all others as they stand; some may find none.
    """
    filled = chosen.copy()
    slack = program.slack(chosen)
    missing = np.flatnonzero((chosen < 0) & (program.unplaced_past > 0))
    for check in missing[np.argsort(np.diff(program.first_column)[missing], kind="stable")]:
        columns = program.free_columns(check, slack)
        if len(columns):
            order = np.lexsort((program.money[columns], program.past[columns]))
            filled[check] = columns[order[0]]
            slack = slack - program.footprint[[filled[check]]].sum(axis=0)
    return filled
