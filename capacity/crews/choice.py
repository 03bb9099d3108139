"""What is decided about a crew problem, by index into it."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from capacity.crews.problem import CrewProblem


@dataclass
class CrewChoice:
    """Which span each task takes, and who gives what; entries of 0 may be missing.

    ``heads`` by crew-shift, check and skill, in parts of a shift. The rest in hundredths of
    man-hours: ``hours`` by crew-shift, task and skill; ``overtime`` as ``heads``;
    ``bought`` and ``short`` by task and skill.
    """

    span: list[int]
    heads: dict[tuple[int, str, str], int] = field(default_factory=dict)
    hours: dict[tuple[int, int, str], int] = field(default_factory=dict)
    overtime: dict[tuple[int, str, str], int] = field(default_factory=dict)
    bought: dict[tuple[int, str], int] = field(default_factory=dict)
    short: dict[tuple[int, str], int] = field(default_factory=dict)


def is_runnable(problem: CrewProblem, chosen: Sequence[int]) -> bool:
    """Return whether the tasks may be run as ``chosen`` says: in order, apart, equipped."""
    spans = [task.spans[span] for task, span in zip(problem.tasks, chosen, strict=True)]
    for number, task in enumerate(problem.tasks):
        if any(spans[before].until > spans[number].first for before in task.after):
            return False
        for other in task.apart:
            meet = max(spans[number].first, spans[other].first)
            if meet < min(spans[number].until, spans[other].until):
                return False
    for pool, free in (problem.free or {}).items():
        for day, pieces in enumerate(free):
            held = sum(
                pool in task.equipment and span.first <= day < span.until
                for task, span in zip(problem.tasks, spans, strict=True)
            )
            if held > max(0, pieces):
                return False
    return True
