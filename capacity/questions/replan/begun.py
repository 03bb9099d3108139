"""What has begun before today, or is fixed, and so is held where it is."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check, Status
from capacity.plans.plan import Placement
from capacity.slots.candidates import Candidates, Slots

Before = Mapping[str, Sequence[Placement]]


def begun_of(base: Base, before: Before, today: date) -> frozenset[str]:
    """Return the checks that are in already.

    A check has begun when it came in before ``today``: one that is fixed by the day that it is
    fixed to, any other by the plan before, unless its window now opens later: then it did not
    come.
    """
    return frozenset(check.name for check in base.checks if _has_begun(check, before, today))


def _has_begun(check: Check, before: Before, today: date) -> bool:
    if check.status is Status.FIXED:
        return check.fixed_in is not None and check.fixed_in < today
    placements = before.get(check.name)
    if not placements:
        return False
    in_day = placements[0].in_day
    return in_day < today and check.earliest_in <= in_day


def with_begun_fixed(base: Base, before: Before, begun: frozenset[str]) -> Base:
    """Return the base with those fixed that have begun on a day outside their window.

    The others need not be: their own candidates hold them, with price and pace.
    """
    return base.replace(
        checks=tuple(
            _fixed(check, before[check.name])
            if _is_outside(check, base, before, begun)
            else _came_in(check)
            if check.name in begun
            else check
            for check in base.checks
        )
    )


def _is_outside(check: Check, base: Base, before: Before, begun: frozenset[str]) -> bool:
    if check.name not in begun or check.status is Status.FIXED:
        return False
    in_day = before[check.name][0].in_day
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    return in_day < base.first_day or in_day > check.latest_in + timedelta(days=delay)


def _came_in(check: Check) -> Check:
    """Return a check that is in: nothing is left to decide, or to hold it to."""
    return replace(check, decide_by=None, held_in=None, held_bay=None)


def _fixed(check: Check, before: Sequence[Placement]) -> Check:
    first = before[0]
    check = _came_in(check)
    return replace(check, status=Status.FIXED, fixed_bay=first.bay, fixed_in=first.in_day)


def only_possible(slots: Slots, before: Before, begun: frozenset[str], today: date) -> Slots:
    """Return the slots with the candidates that can still come true.

    Who has begun keeps bay and in day, and, where its work is as it was, the days of what is
    done before ``today``. Nobody else comes in before ``today``.
    """
    day = slots.calendar.number(today)
    candidates = []
    for one in slots.candidates:
        check = one.courses.check
        if check.status is Status.FIXED:
            # At any of its paces, but for what is done; all of them when it stands elsewhere now.
            possible = np.ones(len(one.course), dtype=np.bool_)
            if check.name in begun and before.get(check.name):
                as_before = _in_as_before(one, list(before[check.name]), slots, day)
                possible = as_before if as_before.any() else possible
        elif check.name in begun:
            possible = _in_as_before(one, list(before[check.name]), slots, day)
        else:
            possible = one.courses.stays.in_day[one.course] >= day
        candidates.append(replace(one, course=one.course[possible], groups=one.groups[possible]))
    return replace(slots, candidates=tuple(candidates))


def _in_as_before(
    candidates: Candidates, before: list[Placement], slots: Slots, today: int
) -> NDArray[np.bool_]:
    calendar, stays = slots.calendar, candidates.courses.stays
    in_bay = np.array([g.bays == (before[0].bay,) for g in slots.groups], dtype=np.bool_)
    possible: NDArray[np.bool_] = stays.in_day[candidates.course] == calendar.number(
        before[0].in_day
    )
    possible &= in_bay[candidates.groups[:, 0]]
    stated = {stage.stage: stage for placement in before for stage in placement.stages}
    done = possible.copy()
    for number, work in enumerate(candidates.courses.work):
        if work.name not in stated:
            return possible
        first = calendar.number(stated[work.name].first)
        until = calendar.number(stated[work.name].until)
        if first < today:
            done &= stays.starts[candidates.course, number] == first
        if until <= today:
            done &= stays.ends[candidates.course, number] == until
    return done if done.any() else possible
