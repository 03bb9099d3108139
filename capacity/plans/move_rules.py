"""A check moves between bays when it has to, and waits no longer than it may."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta
from itertools import pairwise

from capacity.facts import Bay
from capacity.plans.plan import Placement, StageDays
from capacity.plans.stays import Stay, could_leave
from capacity.plans.worked_days import WorkedDays
from capacity.words import day as as_day
from capacity.words import listed


def broken(
    placements: Sequence[Placement],
    stay: Stay,
    bays: Mapping[str, Bay],
    longest_wait: int,
    worked_days: WorkedDays,
) -> Iterator[str]:
    """One placement a visit, in bays of the base, each from the out day of the one before."""
    check = stay.check.name
    for visit in stay.visits:
        if visit.bay not in bays:
            yield f"{check} is in bay {visit.bay}, which the base does not have."
    for placement in placements[len(stay.visits) :]:
        moves = f"{check} moves to {placement.bay} on {as_day(placement.in_day)}"
        yield f"{moves}, which it need not."
    for before, after in pairwise(placements):
        if before.out_day != after.in_day:
            yield (
                f"{check} leaves {before.bay} on {as_day(before.out_day)}, "
                f"but comes into {after.bay} on {as_day(after.in_day)}."
            )
    yield from _wrong_day(placements, stay, longest_wait, worked_days)


def _wrong_day(
    placements: Sequence[Placement], stay: Stay, longest_wait: int, worked_days: WorkedDays
) -> Iterator[str]:
    """``ready <= in day <= ready + longest wait`` for every visit but the first.

    A wait that ends on a day off goes on to the next worked day where aircraft do not move on days
    off. ``ready`` is the day on which the stages in the bays before have ended, as the plan states
    them, so that a slip among them is not named again; without any, that on which it can leave.
    """
    check = stay.check.name
    stated = {stage.stage: stage for placement in placements for stage in placement.stages}
    before: list[StageDays | None] = []
    for last, visit, placement in zip(stay.visits, stay.visits[1:], placements[1:], strict=False):
        before += [stated.get(stage.work.stage) for stage in last.stages]
        known = [stage for stage in before if stage is not None]
        if len(known) < len(before):
            return  # nothing to measure it by; the missing stage is named already
        ready = max(
            (stage.until for stage in known), default=could_leave(stay.in_day, stay.work_starts)
        )
        moves = f"{check} moves to {visit.bay} on {as_day(placement.in_day)}"
        if placement.in_day < ready:
            unfinished = [stage.stage for stage in known if stage.until > placement.in_day]
            run = "runs" if len(unfinished) == 1 else "run"
            if unfinished:
                yield f"{moves}, but {listed(unfinished)} {run} until {as_day(ready)}."
            else:
                yield f"{moves}, but it cannot leave {last.bay} before {as_day(ready)}."
        elif placement.in_day > worked_days.next_move(ready + timedelta(days=longest_wait)):
            days = (placement.in_day - ready).days
            yield f"{moves}, after waiting {days} days, but it may wait {longest_wait} at most."
