"""Whether a plan keeps what another one told for the next days, compared visit by visit."""

from collections.abc import Iterator
from datetime import date

from capacity.plans.plan import Placement, Plan


def visits_due(placements: list[Placement], first: date, last: date) -> list[Placement]:
    """Return the visits of one check that begin from ``first`` to ``last``, both included."""
    return [placement for placement in placements if first <= placement.in_day <= last]


def moved_visits(before: Plan, after: Plan, first: date, last: date) -> Iterator[str]:
    """Yield the checks with a visit due from ``first`` to ``last`` that is no longer so.

    A visit is one check in one bay from one day on: it is kept where the plan ``after`` has the
    check come into the same bay on the same day.
    """
    there = after.by_check()
    for name, placements in before.by_check().items():
        kept = {(placement.bay, placement.in_day) for placement in there.get(name, [])}
        due = visits_due(placements, first, last)
        if any((visit.bay, visit.in_day) not in kept for visit in due):
            yield name


def called_in(before: Plan, after: Plan, first: date, last: date) -> Iterator[str]:
    """Yield the checks that were to come in after ``last`` and now come in by then."""
    there = after.by_check()
    for name, placements in before.by_check().items():
        comes = there[name][0].in_day if name in there else None
        if placements[0].in_day > last and comes is not None and first <= comes <= last:
            yield name
