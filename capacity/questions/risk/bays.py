"""Who comes in after whom: a check that stays longer keeps the next one out of its bay.

The next check in the same bay, or in a bay that shares its floor, comes in when the aircraft
before it has left and the changeover is done, but never before its planned day. The order in
each bay stays as planned. Ways between bays, closures, equipment and shops are not looked at
again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base
from capacity.labour.calendar import Calendar
from capacity.questions.risk.days import DrawnCheck, LaidCheck, lay_out
from capacity.questions.risk.simulated_plan import PlannedCheck, PlannedVisit

Ints = NDArray[np.int64]

VisitKey = tuple[int, int]
"""A check and one of its visits, by number."""


@dataclass(frozen=True, slots=True)
class Follows:
    """The visit ``before`` leaves ``changeover`` days before another may come in."""

    before: VisitKey
    changeover: int


def followed(checks: Sequence[PlannedCheck], base: Base) -> dict[VisitKey, tuple[Follows, ...]]:
    """Return for each visit the planned last one before it in each bay that must be free."""
    visits = [
        ((number, place), visit)
        for number, check in enumerate(checks)
        for place, visit in enumerate(check.visits)
    ]
    changeovers = {bay.name: bay.changeover_days for bay in base.bays}
    shared = _shared_floor(base)
    found: dict[VisitKey, tuple[Follows, ...]] = {}
    for key, visit in visits:
        found[key] = tuple(
            follows
            for bay in (visit.bay, *shared[visit.bay])
            for follows in _last_in(
                bay, key, visit, visits, changeovers[bay] if bay == visit.bay else 0
            )
        )
    return found


def _last_in(
    bay: str,
    key: VisitKey,
    visit: PlannedVisit,
    visits: Sequence[tuple[VisitKey, PlannedVisit]],
    changeover: int,
) -> Iterator[Follows]:
    """Give the last other check that leaves the bay ``changeover`` days before the visit."""
    before = [
        (other.out_day, other.in_day, other_key)
        for other_key, other in visits
        if other.bay == bay
        and other_key[0] != key[0]
        and other.out_day + changeover <= visit.in_day
    ]
    if before:
        yield Follows(max(before)[2], changeover)


def _shared_floor(base: Base) -> dict[str, tuple[str, ...]]:
    """Return the bays that share floor with each bay; it is enough that one names the other."""
    return {
        bay.name: tuple(
            other.name
            for other in base.bays
            if other.name != bay.name
            and (other.name in bay.shares_floor_with or bay.name in other.shares_floor_with)
        )
        for bay in base.bays
    }


def play_through(
    checks: Sequence[PlannedCheck], drawn: Sequence[DrawnCheck], base: Base, calendar: Calendar
) -> list[LaidCheck]:
    """Lay out all checks, each coming into its bays when they are free.

    Sweeps over the checks in order of planned in day until nothing moves any more. The days
    only rise from sweep to sweep; two checks that change places on one day wait for each
    other. A plan without such turns settles after as many sweeps as it has visits in a chain.
    """
    follows = followed(checks, base)
    draws = drawn[0].days.shape[1] if drawn else 0
    outs: dict[VisitKey, Ints] = {
        (number, place): np.full(draws, visit.out_day)
        for number, check in enumerate(checks)
        for place, visit in enumerate(check.visits)
    }
    return _sweeps(checks, drawn, calendar, follows, outs)


def _sweeps(
    checks: Sequence[PlannedCheck],
    drawn: Sequence[DrawnCheck],
    calendar: Calendar,
    follows: dict[VisitKey, tuple[Follows, ...]],
    outs: dict[VisitKey, Ints],
) -> list[LaidCheck]:
    laid: list[LaidCheck] = []
    for _ in range(len(outs) + 1):
        laid, moved = [], False
        for number, (check, of_check) in enumerate(zip(checks, drawn, strict=True)):
            free = np.stack(
                [
                    _free(visit, follows[number, place], outs)
                    for place, visit in enumerate(check.visits)
                ]
            )
            laid.append(lay_out(check, of_check, free, calendar))
            for place, out in enumerate(laid[-1].visit_outs()):
                moved = moved or not np.array_equal(out, outs[number, place])
                outs[number, place] = out
        if not moved:
            break
    return laid


def _free(visit: PlannedVisit, before: Sequence[Follows], outs: dict[VisitKey, Ints]) -> Ints:
    """Return the day from which the bay is free for the visit, by draw."""
    planned = np.full_like(next(iter(outs.values())), visit.in_day)
    for follows in before:
        planned = np.maximum(planned, outs[follows.before] + follows.changeover)
    return planned
