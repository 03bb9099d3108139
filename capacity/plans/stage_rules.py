"""The stages that a plan states are those of the package, in order, and no longer.

Each stage is judged against what the plan states for the stages before it, so that one slip
is told once. A plan without a broken rule here has exactly the layout of its stay.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date

from capacity.plans.plan import Placement, StageDays
from capacity.plans.stays import Stay
from capacity.plans.work_left import Work
from capacity.plans.worked_days import WorkedDays, day_after


def broken(placement: Placement, stay: Stay, worked_days: WorkedDays) -> Iterator[str]:
    """Say which stages are missing or foreign, start or end wrongly, and a wrong out day."""
    check = placement.check
    stated = {stage.stage: stage for stage in placement.stages}
    yield from _wrong_stages(placement, stay)
    for stage in stay.stages:
        if stage.work.stage in stated:
            yield from _wrong_start(check, stage.work, stated, stay.work_starts)
            yield from _wrong_length(check, stage.work, stated, worked_days)
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
    check: str, work: Work, stated: Mapping[str, StageDays], work_starts: date
) -> Iterator[str]:
    """``first = max(until of the After stages)``, or the day the work starts without any."""
    if any(name not in stated for name in work.after):
        return  # nothing to measure it by; the missing stage is told already
    first = stated[work.stage].first
    ready = max((stated[name].until for name in work.after), default=work_starts)
    if first > ready:
        yield f"{check} starts {work.stage} on {first}, but it could start on {ready}."
    elif first < ready and not work.after:
        yield f"{check} starts {work.stage} on {first}, before its work starts on {ready}."
    elif first < ready:
        unfinished = [name for name in work.after if stated[name].until > first]
        yield (
            f"{check} starts {work.stage} on {first}, "
            f"but {' and '.join(unfinished)} runs until {ready}."
        )


def _wrong_length(
    check: str, work: Work, stated: Mapping[str, StageDays], worked_days: WorkedDays
) -> Iterator[str]:
    """``until`` is the day after the last of the stage's worked days."""
    stage = stated[work.stage]
    until = day_after(worked_days.stretch(stage.first, work.days), stage.first)
    if stage.until != until:
        yield (
            f"{check} does {work.stage} from {stage.first} until {stage.until}, "
            f"but its worked days run until {until}."
        )
