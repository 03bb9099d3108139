"""The day on which a check comes in lies where the planner allows it."""

from collections.abc import Iterator
from datetime import timedelta

from capacity.facts import Base, Status
from capacity.plans.stays import Stay
from capacity.words import day as as_day


def broken(stay: Stay, base: Base) -> Iterator[str]:
    """Hold a fixed check to its bay and day, any other to its window and the plan's."""
    if stay.check.status is Status.FIXED:
        yield from _moved(stay)
    else:
        yield from _too_early(stay, base)
        yield from _too_late(stay, base)
        yield from _lapsed(stay, base)


def _moved(stay: Stay) -> Iterator[str]:
    check = stay.check
    if check.fixed_bay is not None and stay.bay != check.fixed_bay:
        yield f"{check.name} is fixed in bay {check.fixed_bay}, but it is in {stay.bay}."
    if check.fixed_in is not None and stay.in_day != check.fixed_in:
        yield (
            f"{check.name} is fixed to come in on {as_day(check.fixed_in)}, "
            f"but it comes in on {as_day(stay.in_day)}."
        )


def _lapsed(stay: Stay, base: Base) -> Iterator[str]:
    check, today = stay.check, base.work_counts_from or base.first_day
    if check.status is Status.OPTION and check.decide_by is not None and check.decide_by < today:
        yield f"{check.name} lapsed after {as_day(check.decide_by)}, its Decide by."


def _too_early(stay: Stay, base: Base) -> Iterator[str]:
    check = stay.check
    comes_in = f"{check.name} comes in on {as_day(stay.in_day)}"
    if stay.in_day < check.earliest_in:
        yield f"{comes_in}, before its Earliest in {as_day(check.earliest_in)}."
    if stay.in_day < base.first_day:
        yield f"{comes_in}, before the First day {as_day(base.first_day)} of the plan."


def _too_late(stay: Stay, base: Base) -> Iterator[str]:
    check = stay.check
    comes_in = f"{check.name} comes in on {as_day(stay.in_day)}"
    if stay.in_day > base.last_in_day:
        yield f"{comes_in}, after the last day {as_day(base.last_in_day)} of the plan's weeks."
    longest_delay = timedelta(days=base.longest_delay_days)
    if check.status is Status.OPTION and stay.in_day > check.latest_in:
        yield f"{comes_in}, past its Latest in {as_day(check.latest_in)}, as no option may."
    elif stay.in_day > check.latest_in + longest_delay:
        yield (
            f"{comes_in}, past its Latest in {as_day(check.latest_in)} "
            f"by more than the Longest delay days {base.longest_delay_days}."
        )
