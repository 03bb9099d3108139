"""The stages that a plan states are those of the package, as early and as long as they may be.

Each stage is judged against what the plan states for the stages before it, so that one slip
is told once. A plan without a broken rule here has exactly the layout of its stay.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from capacity.plans import pace_rules
from capacity.plans.alone import clear_start, in_the_way
from capacity.plans.plan import Placement, StageDays
from capacity.plans.stays import LaidStage, Stay
from capacity.plans.worked_days import WorkedDays, day_after


def broken(placement: Placement, stay: Stay, worked_days: WorkedDays) -> Iterator[str]:
    """Say which stages are missing or foreign, start or end wrongly, and a wrong out day."""
    check = placement.check
    stated = {stage.stage: stage for stage in placement.stages}
    yield from _wrong_stages(placement, stay)
    for number, stage in enumerate(stay.stages):
        if stage.work.stage in stated:
            before = stay.stages[:number]
            yield from _wrong_start(stay, stage, before, stated, worked_days)
            yield from _wrong_length(check, stage, stated[stage.work.stage], worked_days)
    last = max((stage.until for stage in placement.stages), default=stay.out_day)
    if placement.out_day != last:
        yield f"{check} goes out on {placement.out_day}, but its stages run until {last}."


def _wrong_stages(placement: Placement, stay: Stay) -> Iterator[str]:
    """Hold the plan to the stages left to do, each named once, and to the one it begins with."""
    check = placement.check
    named = Counter(stage.stage for stage in placement.stages)
    left = [stage.work.stage for stage in stay.stages]
    for name in left:
        if name not in named:
            yield f"{check} lacks its stage {name}."
    for name, count in named.items():
        if name not in left:
            yield f"{check} has no stage {name} left to do."
        elif count > 1:
            yield f"{check} does its stage {name} {count} times."
    begins = min((stage.first for stage in stay.stages), default=stay.work_starts)
    first = [stage.work.stage for stage in stay.stages if stage.first == begins]
    if first and placement.stage_from not in first:
        yield (
            f"{check} is in {placement.bay} from its stage {placement.stage_from} on, "
            f"but its work begins with {' or '.join(first)}."
        )


def _wrong_start(
    stay: Stay,
    stage: LaidStage,
    before: Sequence[LaidStage],
    stated: Mapping[str, StageDays],
    worked_days: WorkedDays,
) -> Iterator[str]:
    """``first = max(until of the After stages)``, or the day the work starts without any.

    It is later only where the stage would overlap one laid out ``before`` it and one of the
    two is done alone.
    """
    work, days = stage.work, len(stage.worked)
    apart = [other.work.stage for other in before if work.alone or other.work.alone]
    if any(name not in stated for name in (*work.after, *apart)):
        return  # nothing to measure it by; the missing stage is told already
    beside = [stated[name] for name in apart]
    first = stated[work.stage].first
    ready = max((stated[name].until for name in work.after), default=stay.work_starts)
    could_start = clear_start(ready, days, beside, worked_days)
    starts = f"{stay.check.name} starts {work.stage} on {first}"
    if first > could_start:
        yield f"{starts}, but it could start on {could_start}."
    elif first < ready and not work.after:
        yield f"{starts}, before its work starts on {ready}."
    elif first < ready:
        unfinished = [name for name in work.after if stated[name].until > first]
        yield f"{starts}, but {' and '.join(unfinished)} runs until {ready}."
    elif first < could_start:
        last = max(in_the_way(first, days, beside, worked_days), key=lambda other: other.until)
        if work.alone:
            yield f"{starts}, but it is done alone and {last.stage} runs until {last.until}."
        else:
            yield f"{starts}, but {last.stage} is done alone and runs until {last.until}."


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
