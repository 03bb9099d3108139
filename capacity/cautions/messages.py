"""Incompatible work and critical work of a single person, as messages."""

from collections.abc import Iterable, Iterator

from capacity.cautions.incompatible import Conflict
from capacity.cautions.two_people import (
    CriticalShift,
    single_person_critical_work,
    stages_without_two_people,
)
from capacity.messages import Level, Message
from capacity.words import day as as_day


def conflict_messages(conflicts: Iterable[Conflict]) -> tuple[Message, ...]:
    """Return a warning for each pair of stages, with its days, why, source and remedy."""
    return tuple(
        Message(
            Level.WARNING,
            "Packages",
            f"{_pair(conflict)} overlap on {_days(conflict)}: {conflict.what} do not go together "
            f"({'; '.join(conflict.signs)}). Source: {conflict.source} ({conflict.status}).",
            conflict.remedy,
        )
        for conflict in conflicts
    )


def single_person_messages(shifts: Iterable[CriticalShift]) -> tuple[Message, ...]:
    """Warn of critical stages that never have two qualified people, note the thin shifts."""
    return tuple(_single_person(tuple(shifts)))


def _single_person(shifts: tuple[CriticalShift, ...]) -> Iterator[Message]:
    without = stages_without_two_people(shifts)
    for check, stage in without:
        yield Message(
            Level.WARNING,
            "Crews",
            f"the critical stage '{stage}' of {check} never has two different qualified "
            "people on one shift, one to do it and another to inspect it.",
            "Put a second one on a shift of these days, or move the check; "
            "local rules and licensed staff decide.",
        )
    thin: dict[tuple[str, str], list[CriticalShift]] = {}
    for shift in single_person_critical_work(shifts):
        if (shift.check, shift.stage) not in without:
            thin.setdefault((shift.check, shift.stage), []).append(shift)
    for (check, stage), of_stage in thin.items():
        first, more = of_stage[0], len(of_stage) - 1
        name = f"shift {first.shift}" if first.shift else "every shift"
        when = f"{name} of {as_day(first.day)}" + (f" and {more:,} more" if more else "")
        yield Message(
            Level.NOTE,
            "Crews",
            f"the critical stage '{stage}' of {check} has fewer than two different qualified "
            f"people on {when}.",
            "Do the critical part on a shift that has two.",
        )


def _pair(conflict: Conflict) -> str:
    if conflict.check == conflict.other_check:
        return f"the stages '{conflict.stage}' and '{conflict.other_stage}' of {conflict.check}"
    return (
        f"the stage '{conflict.stage}' of {conflict.check} and '{conflict.other_stage}' of "
        f"{conflict.other_check}"
    )


def _days(conflict: Conflict) -> str:
    first, last = conflict.days[0], conflict.days[-1]
    if first == last:
        return as_day(first)
    return f"{len(conflict.days):,} worked days from {as_day(first)} to {as_day(last)}"
