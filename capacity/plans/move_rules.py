"""A check moves between bays when it has to, and waits no longer than it may."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from itertools import pairwise

from capacity.facts import Bay
from capacity.plans.plan import Placement
from capacity.plans.stays import Stay


def broken(
    placements: Sequence[Placement], stay: Stay, bays: Mapping[str, Bay], longest_wait: int
) -> Iterator[str]:
    """One placement a visit, one after the other, ``ready <= move <= ready + longest wait``.

    ``ready`` is the day on which the stages in the bays before have ended.
    """
    check = stay.check.name
    for placement in placements[len(stay.visits) :]:
        yield f"{check} moves to {placement.bay} on {placement.in_day}, which it need not."
    for before, after in pairwise(placements):
        if before.out_day != after.in_day:
            yield (
                f"{check} leaves {before.bay} on {before.out_day}, "
                f"but comes into {after.bay} on {after.in_day}."
            )
    for placement, visit in zip(placements[1:], stay.visits[1:], strict=False):
        moves = f"{check} moves to {placement.bay} on {placement.in_day}"
        if placement.in_day < visit.ready:
            yield f"{moves}, but its stages before run until {visit.ready}."
        elif placement.in_day > visit.ready + timedelta(days=longest_wait):
            yield f"{moves}, more than {longest_wait} days after its stages before have ended."
    for visit in stay.visits:
        if visit.bay not in bays:
            yield f"{check} stands in bay {visit.bay}, which the base does not have."
