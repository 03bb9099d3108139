"""The stages that a plan states are those of the package, as early and as long as they may be.

Each stage is judged against what the plan states for the stages before it, so that one slip
is named once. A plan without a broken rule here has exactly the layout of its stay.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.plans import pace_rules
from capacity.plans.alone import clear_start, in_the_way
from capacity.plans.plan import Placement, StageDays
from capacity.plans.stays import LaidStage, Stay, StayLayout, Visit
from capacity.plans.worked_days import WorkedDays, day_after
from capacity.words import day as as_day
from capacity.words import listed


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
    ends = max((stage.until for stage in stated.values()), default=stay.out_day)
    last = worked_days.next_move(ends)
    if placements[-1].out_day != last:
        is_out = f"{check} is out on {as_day(placements[-1].out_day)}"
        if last == ends:
            yield f"{is_out}, but its stages run until {as_day(last)}."
        else:
            yield f"{is_out}, but after its stages the first worked day is {as_day(last)}."


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
    bay_of = {stage.work.stage: visit.bay for visit in stay.visits for stage in visit.stages}
    for placement, visit in zip(placements, stay.visits, strict=False):
        here = {stage.work.stage for stage in visit.stages}
        for name in (stated.stage for stated in placement.stages):
            if named[name] == 1 and name in bay_of and name not in here:
                yield f"{check} does {name} in {bay_of[name]}, not in {placement.bay}."


def _wrong_begin(placement: Placement, visit: Visit) -> Iterator[str]:
    """``stage_from`` is one of the stages that start first in the bay."""
    begins = min((stage.first for stage in visit.stages), default=visit.in_day)
    first = [stage.work.stage for stage in visit.stages if stage.first == begins]
    if first and placement.stage_from not in first:
        yield (
            f"{placement.check} is in {placement.bay} from its stage {placement.stage_from} on, "
            f"but its work begins with {' or '.join(first)}."
        )


@dataclass(frozen=True, slots=True)
class _Leg:
    """A stage's leg: the stages of the ``earlier`` legs, and the ``move`` to its bay, if any."""

    earlier: tuple[str, ...]
    move: Placement | None


def _leg(stay: Stay, number: int, placements: Sequence[Placement]) -> _Leg:
    kind, start = stay.stages[number].work.kind, number
    while start and stay.stages[start - 1].work.kind == kind:
        start -= 1
    earlier = tuple(stage.work.stage for stage in stay.stages[:start])
    for placement, visit in zip(placements[1:], stay.visits[1:], strict=False):
        if visit.stages[0] is stay.stages[start]:
            return _Leg(earlier, placement)
    return _Leg(earlier, None)


def _wrong_start(
    stay: Stay,
    number: int,
    placements: Sequence[Placement],
    stated: Mapping[str, StageDays],
    layout: StayLayout,
    worked_days: WorkedDays,
) -> Iterator[str]:
    """``first`` is the first worked day from the one on which the stage is ready.

    It is later only where the stage would overlap one laid out before it and one of the two
    is done alone, or by a wait of some days for a shop.
    """
    stage = stay.stages[number]
    work, days = stage.work, len(stage.worked)
    leg = _leg(stay, number, placements)
    before = stay.stages[:number]
    in_leg = before[len(leg.earlier) :]
    apart = [other.work.stage for other in in_leg if work.alone or other.work.alone]
    leaves = [errand.leave_at for errand in work.errands if errand.leave_at is not None]
    if any(name not in stated for name in (*work.after, *apart, *leaves, *leg.earlier)):
        return  # nothing to measure it by; the missing stage is named already
    beside = [stated[name] for name in apart]
    first = stated[work.stage].first
    names = (other.work.stage for other in before)
    until = {name: stated[name].until for name in names if name in stated}
    leg_starts = max([stay.work_starts, *(until[name] for name in leg.earlier)])
    if leg.move is not None:
        leg_starts = leg.move.in_day
        # A move before the stages in the last bay have ended is named by the rule for moves.
        until |= {name: min(until[name], leg_starts) for name in leg.earlier}
    ready = layout.ready(work, leg_starts, until, stay.work_starts)
    longest = layout.longest_wait if work.errands else 0
    could = [
        clear_start(ready + timedelta(days=wait), days, beside, worked_days)
        for wait in range(longest + 1)
    ]
    if first in could:
        return
    starts = f"{stay.check.name} starts {work.stage} on {as_day(first)}"
    if first not in worked_days:
        yield f"{starts}, a day off."
    elif first > could[-1]:
        waits = f"even after waiting {longest} days for a shop " if longest else ""
        yield f"{starts}, but {waits}it could start on {as_day(could[-1])}."
    elif first < ready:
        waits_for = {name: until[name] for name in (*work.after, *leg.earlier)}
        yield _too_soon(starts, stay.stages[number], first, leg, leg_starts, waits_for, ready)
    else:
        last = max(in_the_way(first, days, beside, worked_days), key=lambda other: other.until)
        until_day = as_day(last.until)
        if work.alone:
            yield f"{starts}, but it is done alone and {last.stage} runs until {until_day}."
        else:
            yield f"{starts}, but {last.stage} is done alone and runs until {until_day}."


def _too_soon(
    starts: str,
    stage: LaidStage,
    first: date,
    leg: _Leg,
    leg_starts: date,
    waits_for: Mapping[str, date],
    ready: date,
) -> str:
    """Tell what is not ready: the aircraft, stages before, the stage itself, or the items."""
    unfinished = {name: until for name, until in waits_for.items() if until > first}
    if first < leg_starts and leg.move is not None:
        return f"{starts}, before it comes into {leg.move.bay} on {as_day(leg_starts)}."
    if unfinished:
        run = "runs" if len(unfinished) == 1 else "run"
        until = as_day(max(unfinished.values()))
        return f"{starts}, but {listed(list(unfinished))} {run} until {until}."
    if first < leg_starts:
        return f"{starts}, before its work starts on {as_day(leg_starts)}."
    if stage.work.not_before is not None and first < stage.work.not_before:
        return f"{starts}, before its Ready date {as_day(stage.work.not_before)}."
    return f"{starts}, before its items are back from the shop on {as_day(ready)}."


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
            f"{check} does {stage.work.stage} from {as_day(stated.first)} "
            f"until {as_day(stated.until)}, but its worked days run until {as_day(until)}."
        )
