"""Solve a crew problem, one goal after the other."""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil
from threading import Event
from typing import Any, TypeVar

from ortools.sat.python import cp_model

from capacity.crews.choice import Choice, stands
from capacity.crews.first_crews import first_crews
from capacity.crews.model.goals import GOALS, HOURS_GOALS, both_hours
from capacity.crews.model.relaxed import TINY, better_hours, relax_hours
from capacity.crews.model.rules import RULES
from capacity.crews.model.variables import Expression, Variables
from capacity.crews.problem import CrewProblem
from capacity.errors import EngineError

Key = TypeVar("Key")
# The share of the time left that each goal may take; the last takes all.
SHARES = (0.4, 0.5, 0.6, 1.0)
LEAST_SECONDS = 0.5
# The share of all the time that the first betterment of the hours may take.
HOURS_SHARE = 0.5
# The share of that time that may go into where stages are best put.
RELAX_SHARE = 0.5
# A goal about hours that is this near to its bound is left as it is.
CLOSE = 0.002


@dataclass(frozen=True, slots=True)
class GoalReached:
    """A goal's value in the plan and the proven bound, given the goals before it.

    Man-hours are in hundredths. ``seconds`` since the start when it was reached.
    """

    goal: str
    value: int
    bound: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Solved:
    """The best choice found, what was reached of each goal, and when the first one stood."""

    choice: Choice
    goals: tuple[GoalReached, ...]
    first_seconds: float


def solve(
    problem: CrewProblem,
    seconds: float,
    seed: int,
    workers: int,
    stop: Event | None = None,
    on_goal: Callable[[GoalReached], None] | None = None,
) -> Solved | None:
    """Return the best crew plan found in the time; None when none was found.

    Each goal is held at what was reached while the next is bettered; its whole plan is the
    next one's start. The goals about hours are taken by linear programming first, which may
    not move stages; what that leaves is for CP-SAT, which may.
    """
    search = _Search(problem, seconds, seed, workers, stop or Event())
    search.better_hours()
    for share, (name, goal) in zip(SHARES, GOALS, strict=True):
        if search.choice is not None and search.is_over():
            break
        reached = search.better(name, goal(search.v), share)
        if reached is None:
            break
        if on_goal is not None:
            on_goal(reached)
    if search.choice is None:
        return None
    return Solved(search.choice, tuple(search.goals), search.first_seconds)


class _Search:
    """The model, the best choice so far and the clock."""

    def __init__(
        self, problem: CrewProblem, seconds: float, seed: int, workers: int, stop: Event
    ) -> None:
        self.began = time.monotonic()
        self.seconds, self.seed, self.workers, self.stop = seconds, seed, workers, stop
        planned = [0] * len(problem.tasks)
        self.choice = first_crews(problem, planned) if stands(problem, planned) else None
        self.first_seconds = time.monotonic() - self.began
        self.v = Variables(cp_model.CpModel(), problem)
        self.goals: list[GoalReached] = []
        for rule in RULES:
            rule(self.v)

    def left(self) -> float:
        return self.seconds - (time.monotonic() - self.began)

    def is_over(self) -> bool:
        return self.left() < LEAST_SECONDS or self.stop.is_set()

    def better_hours(self) -> None:
        """Better both goals about hours, the stages where the relaxation has them if it can."""
        if self.choice is None:
            return
        self.v.model.minimize(both_hours(self.v))
        until = time.monotonic() + HOURS_SHARE * self.left()
        arrangements = [self.choice.span]
        if any(task.moves for task in self.v.problem.tasks):
            relaxed = relax_hours(self.v, RELAX_SHARE * (until - time.monotonic()))
            if relaxed is not None and stands(self.v.problem, relaxed.spans):
                arrangements.insert(0, relaxed.spans)
        for spans in arrangements:
            self._take(first_crews(self.v.problem, spans))
            values = better_hours(self.v, spans, until - time.monotonic())
            if values is not None:
                self._take(_read(self.v, values.tolist()))
                break

    def _take(self, made: Choice) -> None:
        """Take a choice that is no worse in the objective of the model."""
        objective = self.v.model.proto.objective
        if self.choice is None or _cost(objective, _values(self.v, made)) <= _cost(
            objective, _values(self.v, self.choice)
        ):
            self.choice = made

    def better(self, name: str, expression: Expression, share: float) -> GoalReached | None:
        """Take one goal; None when the model has no solution, or none was found in time."""
        if isinstance(expression, int):
            self.goals.append(GoalReached(name, expression, expression, self._seconds()))
            return self.goals[-1]
        until = time.monotonic() + max(LEAST_SECONDS, self.left() * share)
        self.v.model.minimize(expression)
        value, bound = self._value(), 0
        if name in HOURS_GOALS and value:
            relaxed = relax_hours(self.v, until - time.monotonic())
            proven = relaxed.bound if relaxed is not None else 0.0
            bound = ceil(proven - TINY * (1 + abs(proven)))
        if value is None or value - bound > CLOSE * abs(value):
            found = self._by_cp_sat(until)
            if found is None and value is None:
                return None
            bound = max(bound, found or 0)
            value = self._value()
        assert value is not None
        self.v.model.add(expression <= value)
        self.goals.append(GoalReached(name, value, min(bound, value), self._seconds()))
        return self.goals[-1]

    def _seconds(self) -> float:
        return time.monotonic() - self.began

    def _by_cp_sat(self, until: float) -> int | None:
        """Search on from the choice; return a bound, None when no plan was found."""
        left = until - time.monotonic()
        if left < LEAST_SECONDS and self.choice is not None:
            return 0
        if self.choice is not None:
            self._hint()
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.max_time_in_seconds = left
        parameters.num_workers = self.workers
        parameters.random_seed = self.seed
        parameters.catch_sigint_signal = False
        status = solver.solve(self.v.model, _Watch(self.stop))
        if status == cp_model.MODEL_INVALID:
            raise EngineError(f"the crew model is not valid: {self.v.model.validate()}")
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        if self.choice is None:
            self.first_seconds = self._seconds()
        self.choice = _read(self.v, list(solver.response_proto.solution))
        bound: float = solver.best_objective_bound
        return ceil(bound - TINY)

    def _hint(self) -> None:
        assert self.choice is not None
        self.v.model.clear_hints()
        for number, value in enumerate(_values(self.v, self.choice)):
            variable = self.v.model.get_int_var_from_proto_index(number)
            self.v.model.add_hint(variable, value)

    def _value(self) -> int | None:
        """Return what the choice comes to in the goal that is being taken."""
        if self.choice is None:
            return None
        return _cost(self.v.model.proto.objective, _values(self.v, self.choice))


class _Watch(cp_model.CpSolverSolutionCallback):  # type: ignore[misc]
    """Ends the search, at its next plan, when somebody asks for it."""

    def __init__(self, stop: Event) -> None:
        super().__init__()
        self._stop = stop

    def on_solution_callback(self) -> None:
        """Look whether to end."""
        if self._stop.is_set():
            self.stop_search()


def _cost(objective: Any, values: Sequence[int]) -> int:
    pairs = zip(objective.vars, objective.coeffs, strict=True)
    value = sum(round(price) * values[variable] for variable, price in pairs)
    offset: float = objective.offset
    return int(value) + round(offset)


def _values(v: Variables, choice: Choice) -> list[int]:
    """Return the values of all variables of the model that a choice stands for."""
    values = [0] * len(v.model.proto.variables)
    for task in range(len(v.problem.tasks)):
        for way, span in v.runs(task):
            if not isinstance(way, int):
                values[way.index] = int(span == choice.span[task])

    def put(variables: dict[Key, cp_model.IntVar], amounts: dict[Key, int]) -> None:
        for key, amount in amounts.items():
            if amount:
                values[variables[key].index] = amount

    put(v.heads, choice.heads)
    put(v.hours, choice.hours)
    put(v.overtime, choice.overtime)
    put(v.bought, choice.bought)
    put(v.short, choice.short)
    shifts = v.problem.shifts
    given = {(t, shifts[s].day, shifts[s].shift) for (s, t, _), h in choice.hours.items() if h}
    for key, used in v.used.items():
        values[used.index] = int(key in given)
    for (number, check, skills), person in v.person.items():
        there = any(choice.heads.get((number, check, skill), 0) for skill in skills)
        values[person.index] = int(there)
    at_work = {(shifts[s].crew, check) for (s, check, _), n in choice.heads.items() if n}
    if "works" in v.__dict__:  # made by the goal that asks for them
        for pair, works in v.works.items():
            values[works.index] = int(pair in at_work)
    for teams, pieces in v.pieces:
        people = sum(choice.heads.get(team, 0) for team in teams)
        for piece, size in pieces:
            values[piece.index] = min(people, size)
            people -= values[piece.index]
    return values


def _read(v: Variables, values: Sequence[int]) -> Choice:
    def amounts(variables: dict[Key, cp_model.IntVar]) -> dict[Key, int]:
        found = {key: values[variable.index] for key, variable in variables.items()}
        return {key: value for key, value in found.items() if value}

    return Choice(
        span=[
            next(n for way, n in v.runs(task) if isinstance(way, int) or values[way.index])
            for task in range(len(v.problem.tasks))
        ],
        heads=amounts(v.heads),
        hours=amounts(v.hours),
        overtime=amounts(v.overtime),
        bought=amounts(v.bought),
        short=amounts(v.short),
    )
