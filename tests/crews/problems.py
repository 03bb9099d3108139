"""Crew problems written down as plain data, and what the model says of them.

A shift is 8 hundredths of a man-hour in one part, so that a head-day is a small number: what is
asked of a stage is heads x days x 8.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from ortools.sat.python import cp_model

from capacity.crews.choice import is_runnable
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.model.choice_values import choice_of
from capacity.crews.model.goals import hours_not_met
from capacity.crews.model.rules import RULES
from capacity.crews.model.solve import Solved, solve
from capacity.crews.model.variables import Variables
from capacity.crews.problem import CrewProblem, CrewShift, Span, Task

HEAD_DAY = 8


def spans(days: int, length: int, first: int = 0) -> tuple[Span, ...]:
    """Return every way to run a stage of so many days between ``first`` and the end of ``days``."""
    starts = range(first, days - length + 1)
    return tuple(Span(s, s + length, tuple(range(s, s + length))) for s in starts)


def task(
    name: str,
    ways: tuple[Span, ...],
    units: Mapping[str, int] | None = None,
    after: Iterable[int] = (),
    check: str = "C1",
    **changes: object,
) -> Task:
    """Make a stage that takes ``units`` heads of each skill on each of its days."""
    length = len(ways[0].worked) if ways else 0
    asked = {skill: heads * length * HEAD_DAY for skill, heads in (units or {}).items() if heads}
    usual = Task(check, name, ways, asked, tuple(after))
    return replace(usual, **changes)


def daily(heads: Mapping[str, int], days: int) -> tuple[CrewShift, ...]:
    """Put a crew of each skill on every day."""
    return tuple(
        CrewShift(f"Crew {skill}", day, "Day", False, False, (skill,), number, HEAD_DAY)
        for day in range(days)
        for skill, number in heads.items()
        if number
    )


def problem(
    days: int, tasks: Sequence[Task], shifts: Sequence[CrewShift], **changes: object
) -> CrewProblem:
    """Make a problem in which every crew may work on every check."""
    everybody = frozenset(shift.crew for shift in shifts)
    usual = CrewProblem(
        days=days,
        tasks=tuple(tasks),
        shifts=tuple(shifts),
        crews_of={one.check: everybody for one in tasks},
        parts=1,
    )
    return replace(usual, **changes)


def can_be_met(asked: CrewProblem, steady: bool = False, seconds: float = 30.0) -> bool:
    """Return whether all rules can be kept with no hours short; proven either way.

    A plan that is found is looked at again: order, Alone and equipment, without the model.
    Where it is ``steady``, a stage gets as many hours of each skill on each of its days.
    """
    if any(not one.spans for one in asked.tasks):
        return False
    v = Variables(cp_model.CpModel(), asked)
    for rule in RULES:
        rule(v)
    v.model.add(hours_not_met(v) == 0)
    if steady:
        take_the_same_on_every_day(v)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(v.model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)
    if status == cp_model.INFEASIBLE:
        return False
    assert is_runnable(asked, choice_of(v, list(solver.response_proto.solution)).span)
    return True


def take_the_same_on_every_day(v: Variables) -> None:
    """For each stage, skill and day: hours <= hours asked / days of the stage.

    A row that crew plans do not have: their stages may take this skill first and that one then.
    """
    by_day: defaultdict[tuple[int, str, int], list[cp_model.IntVar]] = defaultdict(list)
    for (shift, number, skill), hours in v.hours.items():
        by_day[number, skill, v.problem.shifts[shift].day].append(hours)
    for (number, skill, _), hours in by_day.items():
        one = v.problem.tasks[number]
        v.model.add(sum(hours) <= one.hundredths[skill] // len(one.spans[0].worked))


def proven(asked: CrewProblem, seconds: float = 30.0) -> Solved:
    """Return the best plan; every goal is proven."""
    solved = solve(asked, CrewSettings(seconds=seconds, workers=1))
    assert solved is not None
    assert [reached.value for reached in solved.goals] == [r.bound for r in solved.goals]
    assert len(solved.goals) == 4
    return solved


def value(solved: Solved, goal: str) -> int:
    """Return what was reached of a goal."""
    return next(reached.value for reached in solved.goals if reached.goal == goal)
