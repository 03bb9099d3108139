"""A check that is held without being fixed comes in on its day, into its bay."""

from collections.abc import Iterator

from capacity.plans.stays import Stay
from capacity.words import day as as_day


def broken(stay: Stay) -> Iterator[str]:
    """Hold a check to the day and to the first bay that it is held in."""
    check = stay.check
    if check.held_bay is not None and stay.bay != check.held_bay:
        yield f"{check.name} is held in bay {check.held_bay}, but it is in {stay.bay}."
    if check.held_in is not None and stay.in_day != check.held_in:
        yield (
            f"{check.name} is held to come in on {as_day(check.held_in)}, "
            f"but it comes in on {as_day(stay.in_day)}."
        )
