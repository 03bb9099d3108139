"""The stages that a plan states are those of the package, as early and as long as they may be.

Each stage is judged against what the plan states for the stages before it, so that one slip
is told once. A plan without a broken rule here has exactly the layout of its stay.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from capacity.plans import pace_rules
from capacity.plans.alone import clear_start, in_the_way
from capacity.plans.plan import Placement, StageDays
from capacity.plans.stays import LaidStage, Stay, StayLayout, Visit
from capacity.plans.worked_days import WorkedDays, day_after


def broken(
    placements: Sequence[Placement], stay: Stay, layout: StayLayout, worked_days: WorkedDays
) -> Iterator[str]:
    """Say which stages are missing or foreign, start or end wrongly, and a wrong out day."""
    check = stay.check.name
    stated = {stage.stage: stage for placement in placements for stage in placement.stages}
    yield from _wrong_stages(placements, stay)
    for placement, visit in zip(placements, stay.visits, strict=False):
        yield from _wrong_begin(placement, visit)
    for number, stage in enumerate(stay.stages):
        if stage.work.stage in stated:
            yield from _wrong_start(stay, number, placements, stated, layout, worked_days)
            yield from _wrong_length(check, stage, stated[stage.work.stage], worked_days)
    last = max((stage.until for stage in stated.values()), default=stay.out_day)
    if placements[-1].out_day != last:
        yield f"{check} goes out on {placements[-1].out_day}, but its stages run until {last}."


def _wrong_stages(placements: Sequence[Placement], stay: Stay) -> Iterator[str]:
    """Hold the plan to the stages left to do, each named once and in the bay it is done in."""
    check = stay.check.name
    named = Counter(stage.stage for placement in placements for stage in placement.stages)
    left = [stage.work.stage for stage in stay.stages]
    for name in left:
        if name not in named:
            yield f"{check} lacks its stage {name}."
    for name, count in named.items():
        if name not in left:
            yield f"{check} has no stage {name} left to do."
        elif count > 1:
            yield f"{check} does its stage {name} {count} times."
    for placement, visit in zip(placements, stay.visits, strict=False):
        here = {stage.work.stage for stage in visit.stages}
        for stated in placement.stages:
            if stated.stage in left and stated.stage not in here:
                yield f"{check} does {stated.stage} in {placement.bay}, where it is not done."


def _wrong_begin(placement: Placement, visit: Visit) -> Iterator[str]:
    """``stage_from`` is one of the stages that start first in the bay."""
    begins = min((stage.first for stage in visit.stages), default=visit.in_day)
    first = [stage.work.stage for stage in visit.stages if stage.first == begins]
    if first and placement.stage_from not in first:
        yield (
            f"{placement.check} is in {placement.bay} from its stage {placement.stage_from} on, "
            f"but its work begins with {' or '.join(first)}."
        )


def _wrong_start(
    stay: Stay,
    number: int,
    placements: Sequence[Placement],
    stated: Mapping[str, StageDays],
    layout: StayLayout,
    worked_days: WorkedDays,
) -> Iterator[str]:
    """``first`` is the day on which the stage is ready.

    It is later only where the stage would overlap one laid out before it and one of the two
    is done alone, or by a wait of some days for a shop.
    """
    stage = stay.stages[number]
    work, days = stage.work, len(stage.worked)
    before = [other.work.stage for other in stay.stages[:number]]
    apart = [other.work.stage for other in stay.stages[:number] if work.alone or other.work.alone]
    leg_starts, earlier = _leg_starts(stay, number, placements, stated)
    leaves = [errand.leave_at for errand in work.errands if errand.leave_at is not None]
    if any(name not in stated for name in (*work.after, *apart, *leaves, *earlier)):
        return  # nothing to measure it by; the missing stage is told already
    beside = [stated[name] for name in apart]
    first = stated[work.stage].first
    until = {name: stated[name].until for name in before if name in stated}
    ready = layout.ready(work, leg_starts, until, stay.work_starts)
    longest = layout.longest_wait if work.errands else 0
    starts = f"{stay.check.name} starts {work.stage} on {first}"
    could = [
        clear_start(ready + timedelta(days=wait), days, beside, worked_days)
        for wait in range(longest + 1)
    ]
    if first in could:
        return
    if first > could[-1]:
        waits = f", even after waiting {longest} days for a shop" if longest else ""
        yield f"{starts}, but it could start on {could[-1]}{waits}."
    elif first < ready:
        yield from _too_soon(starts, work.after, stated, first, ready, leg_starts)
    else:
        last = max(in_the_way(first, days, beside, worked_days), key=lambda other: other.until)
        if work.alone:
            yield f"{starts}, but it is done alone and {last.stage} runs until {last.until}."
        else:
            yield f"{starts}, but {last.stage} is done alone and runs until {last.until}."


def _too_soon(
    starts: str,
    after: Sequence[str],
    stated: Mapping[str, StageDays],
    first: date,
    ready: date,
    leg_starts: date,
) -> Iterator[str]:
    unfinished = [name for name in after if stated[name].until > first]
    if unfinished:
        until = max(stated[name].until for name in unfinished)
        yield f"{starts}, but {' and '.join(unfinished)} runs until {until}."
    elif first < leg_starts:
        yield f"{starts}, before its work starts on {leg_starts}."
    else:
        yield f"{starts}, before its items are back from the shop on {ready}."


def _leg_starts(
    stay: Stay, number: int, placements: Sequence[Placement], stated: Mapping[str, StageDays]
) -> tuple[date, list[str]]:
    """Return the day from which a stage's leg is worked, and the stages of the legs before.

    That is the day of the move to its bay, or, without one, the end of the legs before.
    """
    kind = stay.stages[number].work.kind
    start = number
    while start and stay.stages[start - 1].work.kind == kind:
        start -= 1
    earlier = [stage.work.stage for stage in stay.stages[:start]]
    if not start:
        return stay.work_starts, []
    first_of_leg = stay.stages[start].work.stage
    for placement, visit in zip(placements[1:], stay.visits[1:], strict=False):
        if visit.stages and visit.stages[0].work.stage == first_of_leg:
            return placement.in_day, earlier
    ends = [stated[name].until for name in earlier if name in stated]
    return max(ends, default=stay.work_starts), earlier


def _wrong_length(
    check: str, stage: LaidStage, stated: StageDays, worked_days: WorkedDays
) -> Iterator[str]:
    """Its worked days are as many as it may take; ``until`` is the day after the last."""
    wrong_pace = list(pace_rules.broken(check, stage.work, stated, worked_days))
    until = day_after(worked_days.stretch(stated.first, len(stage.worked)), stated.first)
    if wrong_pace:
        yield from wrong_pace
    elif stated.until != until:
        yield (
            f"{check} does {stage.work.stage} from {stated.first} until {stated.until}, "
            f"but its worked days run until {until}."
        )
