"""What each rule of a crew plan adds to the least that must be bought, by linear programming.

With its stages where a crew plan has them, the rules are taken in one after the other. The least
hours beyond the shifts are those of the relaxation each time, for cover of shifts with stages
that are worked in them or not: no crew plan that keeps the rules so far buys less, and every
further rule can only raise them.
"""

import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from threading import Event

from ortools.sat.python import cp_model

from capacity.crews.bought import Step
from capacity.crews.model.goals import overtime
from capacity.crews.model.relaxed import linear_model, objective_of, with_whole_shifts
from capacity.crews.model.rules import (
    Rule,
    contract_at_most_half,
    heads_on_a_stage,
    heads_there,
    licences_present,
    man_hours_met,
    people_give_hours,
    two_on_critical_work,
    weekly_caps,
)
from capacity.crews.model.variables import Variables
from capacity.crews.problem import CrewProblem
from capacity.slots.engines.posting import bound_of

# The share of the time left that each branch-and-cut may take.
SHARE_OF_TIME = 0.5


@dataclass(frozen=True)
class _Taken:
    """A problem, and the rules that hold in it so far."""

    step: Step
    problem: CrewProblem
    rules: tuple[Rule, ...]


def least_by_step(
    problem: CrewProblem, spans: Sequence[int], seconds: float, stop: Event | None = None
) -> Mapping[Step, float]:
    """Return the least hundredths of man-hours beyond the shifts with each step taken in.

    How long a person may stay, and what a week may buy, decides only whether they are overtime or
    overload. ``spans`` are where the stages lie. Steps that say nothing of this problem are left
    out, and those for which there was no time.
    """
    until = time.monotonic() + seconds
    found: dict[Step, float] = {}
    least = 0.0
    for taken in _steps(problem):
        v = Variables(cp_model.CpModel(), _pinned(taken.problem, spans))
        for rule in taken.rules:
            rule(v)
        v.model.minimize(sum(v.short.values()) + sum(v.bought.values()) + overtime(v))
        value = objective_of(linear_model(v), until - time.monotonic(), stop)
        if value is None:
            break
        least = max(least, value)
        if v.used:
            # A stage is worked in a shift or it is not: a fraction would want a fraction of cover.
            left = until - time.monotonic()
            whole = bound_of(with_whole_shifts(v), SHARE_OF_TIME * left, stop)
            least = least if whole is None else max(least, whole)
        found[taken.step] = least
    return found


def _steps(problem: CrewProblem) -> Iterator[_Taken]:
    tasks = problem.tasks
    rules: tuple[Rule, ...] = (man_hours_met, people_give_hours, heads_there, weekly_caps)
    by_night = tuple(replace(task, by_night=True) for task in tasks)
    yield _Taken(Step.DAYS, replace(problem, tasks=by_night), rules)
    if by_night != tasks:
        yield _Taken(Step.NIGHT, problem, rules)
    for step, rule, says_something in (
        (Step.HEADS, heads_on_a_stage, any(task.max_heads is not None for task in tasks)),
        (Step.LICENCES, licences_present, any((problem.licence_of or {}).values())),
        (Step.CRITICAL, two_on_critical_work, any(task.critical for task in tasks)),
        (Step.OWN_STAFF, contract_at_most_half, problem.share_contract),
    ):
        if says_something:
            rules = (*rules, rule)
            yield _Taken(step, problem, rules)


def _pinned(problem: CrewProblem, spans: Sequence[int]) -> CrewProblem:
    """Return the problem with every task where a plan has it."""
    return replace(
        problem,
        tasks=tuple(
            replace(task, spans=(task.spans[span],))
            for task, span in zip(problem.tasks, spans, strict=True)
        ),
    )
