"""What of a check, its bay or the plan's days keeps it from a slot, whoever else is there."""

from collections.abc import Iterator
from datetime import date, timedelta

from capacity.facts import Base, Check, Status
from capacity.plans.plan import Plan
from capacity.questions.by_hand.values import HandMove, Limit, OwnLimit
from capacity.slots.candidates import kinds_needed, misfits


def own_limits(move: HandMove, base: Base, plan: Plan) -> Iterator[OwnLimit]:
    """Yield the limits that a move of a check of ``plan`` does not keep.

    A window is ``max(Earliest in, First day) <= in day <= min(Latest in + delay, last in day)``,
    where the delay is ``Longest delay days`` for booked checks and 0 for options. In a plan that
    was made again nobody moves who came in before that day, and nobody comes in before it.
    """
    check = base.check(move.check)
    if check.status is Status.FIXED and (move.bay, move.in_day) != (
        check.fixed_bay,
        check.fixed_in,
    ):
        yield OwnLimit(Limit.FIXED)
    elif _is_in_already(check, base, plan):
        yield OwnLimit(Limit.IN_ALREADY)
    if move.in_day is None:
        return
    today = base.work_counts_from
    if check.status is not Status.FIXED:
        if base.has_lapsed(check):
            yield OwnLimit(Limit.LAPSED)
        if today is not None and move.in_day < today and not _is_in_already(check, base, plan):
            yield OwnLimit(Limit.BEFORE_TODAY)
        yield from _of_the_window(check, move.in_day, base)
    if reasons := misfits(base.bay(move.bay), base.type(check.type), _first_kind(check, base)):
        yield OwnLimit(Limit.BAY, reasons)


def can_be_laid_out(move: HandMove, base: Base) -> bool:
    """Return whether the plan has days for a check that comes in then; always where it is fixed."""
    in_day = move.in_day
    if in_day is None or in_day == base.check(move.check).fixed_in:
        return True
    return base.first_day <= in_day <= base.last_in_day


def _is_in_already(check: Check, base: Base, plan: Plan) -> bool:
    today, placements = base.work_counts_from, plan.by_check().get(check.name)
    return today is not None and placements is not None and placements[0].in_day < today


def _of_the_window(check: Check, in_day: date, base: Base) -> Iterator[OwnLimit]:
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    if in_day < check.earliest_in:
        yield OwnLimit(Limit.TOO_EARLY)
    if in_day < base.first_day:
        yield OwnLimit(Limit.BEFORE_THE_PLAN)
    if in_day > check.latest_in + timedelta(days=delay):
        yield OwnLimit(Limit.TOO_LATE)
    if in_day > base.last_in_day:
        yield OwnLimit(Limit.AFTER_THE_PLAN)


def _first_kind(check: Check, base: Base) -> tuple[str, ...]:
    """Return the kind of work that the check comes in for; none where all of it is done."""
    return kinds_needed(check, base)[:1]
