"""Why checks cannot all be placed in their windows, and the cheapest ways out."""

from collections.abc import Collection
from dataclasses import replace
from threading import Event

import numpy as np

from capacity.facts import Base, Status
from capacity.questions.conflicts.case import Case
from capacity.questions.conflicts.confirmed import confirmed, rules_of_stays
from capacity.questions.conflicts.days_left_out import days_left_out
from capacity.questions.conflicts.finding import find_conflicts
from capacity.questions.conflicts.places import AllPlaces, all_places
from capacity.questions.conflicts.solving import Clock, clock_of
from capacity.questions.conflicts.trials import Ground, Wanted, ground_of
from capacity.questions.conflicts.values import Conflict, Conflicts, FewestDays
from capacity.questions.conflicts.ways import ways_out
from capacity.slots.engines.highs import Solved, branch_and_cut
from capacity.slots.program.linear_form import days_form

# Shares of the time: for the conflicts, and for the fewest days past.
SHARE_TO_FIND, SHARE_FOR_DAYS = 0.4, 0.1
WHOLE = 1e-6


def conflicts_of(
    base: Base, seconds: float = 60.0, seed: int = 1, stop: Event | None = None
) -> Conflicts:
    """Return what cannot hold together: of the fixed checks first, else of all that must come.

    Where all fixed and booked checks can be placed by ``Latest in``, ``possible`` is True and
    there is no conflict; the program of a plan has placed them then. ``seconds`` is the time
    for all of it, a little more at the most; setting ``stop`` ends it as if they were over.

    Raises
    ------
    AuditError
        When a plan with a change does not stand up to the audit.
    """
    clock = clock_of(seconds, stop)
    finding = clock_of(SHARE_TO_FIND * seconds, stop)
    every = all_places(base)
    found = find_conflicts(every, finding, fixed_only=True)
    if found.possible is not False:
        found = find_conflicts(every, finding, fixed_only=False)
    if not found.conflicts and found.possible is None:
        return found
    ground = ground_of(base)
    if found.possible:
        found = confirmed(found, ground, clock)
        if not found.conflicts:
            return found
    if not found.fixed_only:
        limit = clock_of(SHARE_FOR_DAYS * seconds, stop)
        found = replace(found, fewest_days=fewest_days(ground, limit))
    told = []
    for number, conflict in enumerate(found.conflicts):
        share = clock_of(clock.left / (len(found.conflicts) - number), stop)
        case = Case(ground, Wanted(_beside(conflict, found, base)), conflict.rules, share)
        rules = (*conflict.rules, *rules_of_stays(case))
        ways, not_tried = ways_out(replace(case, rules=rules), seed)
        told.append(replace(conflict, rules=rules, ways_out=ways, not_tried=not_tried))
    return replace(found, conflicts=tuple(told), left_out=_left_out(told, every))


def _left_out(told: Collection[Conflict], every: AllPlaces) -> tuple[str, ...]:
    """Return the checks in conflicts that the search leaves days of their windows out for."""
    names = frozenset[str]().union(*(_checks_in(conflict) for conflict in told))
    checks = [check for check in every.base.checks if check.name in names]
    return tuple(c.name for c in checks if days_left_out(c, every.base, every.slots))


def _beside(conflict: Conflict, found: Conflicts, base: Base) -> frozenset[str]:
    """Return the checks that a way out must place: all but those in other conflicts.

    Where more conflicts may be hidden than were told, only its own and the fixed ones, if
    those can stand together.
    """
    others = [_checks_in(other) for other in found.conflicts if other is not conflict]
    beside = frozenset(found.asked).difference(*others)
    if found.all_told:
        return beside
    fixed = frozenset(check.name for check in base.checks if check.status is Status.FIXED)
    return _checks_in(conflict) | (frozenset() if found.fixed_only else fixed & beside)


def _checks_in(conflict: Conflict) -> frozenset[str]:
    return frozenset(rule.of for rule in conflict.rules if rule.kind.asks_for_a_place)


def fewest_days(ground: Ground, clock: Clock) -> FewestDays | None:
    """Return the fewest days past ``Latest in`` with all rules kept; None if none was found."""
    program = ground.program
    if program.checks:
        solved = branch_and_cut(days_form(program), None, clock.left, listener=clock.listener)
    else:
        nobody = np.empty(0, dtype=np.int64)
        solved = Solved(nobody, float(program.settled_past), finished=True)
    if solved.chosen is None:
        return None
    late, missing = [], []
    for number, name in enumerate(program.checks):
        column = solved.chosen[number]
        if column >= 0 and program.past[column]:
            late.append((name, int(program.past[column])))
        elif column < 0 and program.unplaced_past[number]:
            missing.append(name)
    late += [(c.check.name, int(c.past[0])) for c in ground.slots.settled if c.past[0]]
    days = program.days_past(solved.chosen)
    bound = days if solved.finished else max(0, int(solved.bound + 1 - WHOLE))
    return FewestDays(days, bound, tuple(late), tuple(missing))
