"""Solve a crew problem, one goal after the other."""

import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from math import ceil
from threading import Event

from ortools.sat.python import cp_model

from capacity.crews.choice import CrewChoice, is_runnable
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.first_crews import first_crews
from capacity.crews.model.choice_values import choice_of, cost_of, values_of
from capacity.crews.model.even_shares import EvenShares
from capacity.crews.model.goals import GOALS, HOURS_GOALS, both_hours
from capacity.crews.model.relaxed import TINY, better_hours, relax_hours
from capacity.crews.model.rules import RULES
from capacity.crews.model.variables import Expression, Variables
from capacity.crews.problem import CrewProblem
from capacity.errors import EngineError
from capacity.stopping import ended_by


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

    choice: CrewChoice
    goals: tuple[GoalReached, ...]
    first_seconds: float


def solve(
    problem: CrewProblem,
    settings: CrewSettings,
    stop: Event | None = None,
    on_goal: Callable[[GoalReached], None] | None = None,
) -> Solved | None:
    """Return the best crew plan found in the time; None when none was found.

    Each goal is held at what was reached while the next is bettered; its whole plan is the
    next one's start. The goals about hours are taken by linear programming first, over stages
    that stand where its relaxation has them, or where even shares of them fit, whichever is
    better; what that leaves is for CP-SAT, which may move them too.
    """
    search = _Search(problem, settings, stop or Event())
    search.better_hours()
    for share, (name, goal) in zip(settings.search.goal_shares, GOALS, strict=True):
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

    def __init__(self, problem: CrewProblem, settings: CrewSettings, stop: Event) -> None:
        self.began = time.monotonic()
        self.seconds, self.seed, self.workers = settings.seconds, settings.seed, settings.workers
        self.timing, self.stop = settings.search, stop
        planned = [0] * len(problem.tasks)
        self.choice = first_crews(problem, planned) if is_runnable(problem, planned) else None
        self.first_seconds = time.monotonic() - self.began
        self.v = Variables(cp_model.CpModel(), problem)
        self.goals: list[GoalReached] = []
        for rule in RULES:
            rule(self.v)

    def left(self) -> float:
        return self.seconds - (time.monotonic() - self.began)

    def is_over(self) -> bool:
        return self.left() < self.timing.least_seconds or self.stop.is_set()

    def better_hours(self) -> None:
        """Better both goals about hours, stages laid by even shares and by the relaxation."""
        if self.choice is None:
            return
        self.v.model.minimize(both_hours(self.v))
        planned = self.choice.span
        until = time.monotonic() + self.timing.hours_share * self.left()
        if not any(task.moves for task in self.v.problem.tasks):
            self._better_people(planned, until)
            return
        evenly = EvenShares(self.v.problem, self.seed)
        with ThreadPoolExecutor(1) as beside, ended_by(self.stop, evenly.end):
            try:
                self._better_stages(planned, evenly, beside, until)
            finally:
                evenly.end()

    def _better_stages(
        self, planned: list[int], evenly: EvenShares, beside: ThreadPoolExecutor, until: float
    ) -> None:
        """Staff what even shares and the relaxation find, one beside the other.

        Even shares that are met as far as can be are asked for where neither is good enough.
        """

        def left() -> float:
            return until - time.monotonic()

        seconds = self.timing.relax_share * left()
        all_met = beside.submit(evenly.with_all_met, seconds)
        at_once = _found(all_met, self.timing.moments_share * left())
        has_people = self._staffed(at_once, until - left() / 2)
        if has_people and not self._value():
            return
        relaxed = relax_hours(self.v, min(seconds, left()), self.stop)
        if relaxed is not None:
            has_people = self._staffed(relaxed.spans, until) or has_people
        evenly.end()
        if at_once is None:
            has_people = self._staffed(all_met.result(), until) or has_people
        bound = relaxed.bound if relaxed is not None else 0.0
        value = self._value() or 0
        if (
            value - bound > self.timing.close_share * value
            and self._lacks_hours()
            and not self.is_over()
        ):
            until = max(until, time.monotonic() + self.timing.moments_share * self.left())
            again = EvenShares(self.v.problem, self.seed)
            with ended_by(self.stop, again.end):
                laid = again.with_most_met(left() / 2, self.workers)
            has_people = self._staffed(laid, until) or has_people
        if not has_people:
            self._staffed(planned, until)

    def _lacks_hours(self) -> bool:
        """Return whether more than a trifle of the hours asked is not met."""
        asked = sum(sum(task.hundredths.values()) for task in self.v.problem.tasks)
        return (
            self.choice is not None
            and sum(self.choice.short.values()) > self.timing.close_share * asked
        )

    def _staffed(self, spans: list[int] | None, until: float) -> bool:
        """Staff stages that lie so, where they may; say whether linear programming could."""
        if spans is None or not is_runnable(self.v.problem, spans):
            return False
        return self._better_people(spans, until)

    def _better_people(self, spans: list[int], until: float) -> bool:
        self._take(first_crews(self.v.problem, spans))
        values = better_hours(self.v, spans, until - time.monotonic(), self.stop)
        if values is not None:
            self._take(choice_of(self.v, values.tolist()))
        return values is not None

    def _take(self, made: CrewChoice) -> None:
        """Take a choice that is no worse in the objective of the model."""
        objective = self.v.model.proto.objective
        if self.choice is None or cost_of(objective, values_of(self.v, made)) <= cost_of(
            objective, values_of(self.v, self.choice)
        ):
            self.choice = made

    def better(self, name: str, expression: Expression, share: float) -> GoalReached | None:
        """Take one goal; None when the model has no solution, or none was found in time."""
        if isinstance(expression, int):
            self.goals.append(GoalReached(name, expression, expression, self._seconds()))
            return self.goals[-1]
        until = time.monotonic() + max(self.timing.least_seconds, self.left() * share)
        self.v.model.minimize(expression)
        value, bound = self._value(), 0
        if name in HOURS_GOALS and value:
            relaxed = relax_hours(self.v, until - time.monotonic(), self.stop)
            proven = relaxed.bound if relaxed is not None else 0.0
            bound = ceil(proven - TINY * (1 + abs(proven)))
        if value is None or value - bound > self.timing.close_share * abs(value):
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
        if left < self.timing.least_seconds and self.choice is not None:
            return 0
        if self.choice is not None:
            self._hint()
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.max_time_in_seconds = left
        parameters.num_workers = self.workers
        parameters.random_seed = self.seed
        parameters.catch_sigint_signal = False
        with ended_by(self.stop, solver.stop_search):
            status = solver.solve(self.v.model)
        if status == cp_model.MODEL_INVALID:
            raise EngineError(f"the crew model is not valid: {self.v.model.validate()}")
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        if self.choice is None:
            self.first_seconds = self._seconds()
        self.choice = choice_of(self.v, list(solver.response_proto.solution))
        bound: float = solver.best_objective_bound
        return ceil(bound - TINY)

    def _hint(self) -> None:
        assert self.choice is not None
        self.v.model.clear_hints()
        for number, value in enumerate(values_of(self.v, self.choice)):
            variable = self.v.model.get_int_var_from_proto_index(number)
            self.v.model.add_hint(variable, value)

    def _value(self) -> int | None:
        """Return what the choice comes to in the goal that is being taken."""
        if self.choice is None:
            return None
        return cost_of(self.v.model.proto.objective, values_of(self.v, self.choice))


def _found(laid: "Future[list[int] | None]", seconds: float) -> list[int] | None:
    """Return what has been found when so much time has passed; None when nothing has."""
    try:
        return laid.result(seconds)
    except TimeoutError:
        return None
