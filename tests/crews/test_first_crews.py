"""The first crew plan keeps every rule of the model, wherever the stages are put."""

from functools import cache
from random import Random

import numpy as np
import pytest
from ortools.sat.python import cp_model

from capacity.crews.assign import crew_plan_of
from capacity.crews.choice import Choice, stands
from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_problem import crew_problem
from capacity.crews.first_crews import first_crews
from capacity.crews.model.goals import crews_per_aircraft, unevenness
from capacity.crews.model.relaxed import linear_model
from capacity.crews.model.rules import RULES
from capacity.crews.model.solve import _values
from capacity.crews.model.variables import Variables
from capacity.crews.problem import CrewProblem
from tests.crews.random_bases import ToStaff, to_staff

SEEDS = range(24)
TINY = 1e-6


class Rows:
    """All rows of the model of one problem, each under the name of its rule."""

    def __init__(self, problem: CrewProblem) -> None:
        """Post every rule, and those two goals that have rows of their own."""
        self.v = Variables(cp_model.CpModel(), problem)
        self.names = ["exactly one way"] * len(self.v.model.proto.constraints)
        for rule in (*RULES, crews_per_aircraft, unevenness):
            rule(self.v)
            more = len(self.v.model.proto.constraints) - len(self.names)
            self.names += [rule.__name__] * more
        self.model = linear_model(self.v)

    def broken_by(self, choice: Choice) -> list[str]:
        """Return the names of the rows, or bounds, that a choice breaks."""
        model, values = self.model, np.array(_values(self.v, choice), dtype=np.float64)
        sums = model.matrix @ values
        outside = (sums < model.row_lower - TINY) | (sums > model.row_upper + TINY)
        within = (values >= model.lower - TINY) & (values <= model.upper + TINY)
        names = [self.names[number] for number in np.flatnonzero(outside)]
        return names if within.all() else [*names, "bounds"]


def arrangements(problem: CrewProblem, seed: int) -> list[list[int]]:
    """Return the planned spans, and some random ones that stand."""
    random = Random(seed)
    drawn = [[random.randrange(len(task.spans)) for task in problem.tasks] for _ in range(9)]
    planned = [0] * len(problem.tasks)
    return [planned, *(spans for spans in drawn if stands(problem, spans))]


@cache
def drawn_with_problem(seed: int) -> tuple[ToStaff, CrewProblem]:
    drawn = to_staff(seed)
    return drawn, crew_problem(drawn.plan, drawn.base, drawn.settings)


@pytest.mark.parametrize("seed", SEEDS)
def test_it_keeps_every_row_of_the_model(seed: int) -> None:
    _, problem = drawn_with_problem(seed)
    assert stands(problem, [0] * len(problem.tasks))
    rows = Rows(problem)
    for spans in arrangements(problem, seed):
        assert rows.broken_by(first_crews(problem, spans)) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_it_stands_up_to_the_audit(seed: int) -> None:
    drawn, problem = drawn_with_problem(seed)
    for spans in arrangements(problem, seed):
        made = crew_plan_of(
            first_crews(problem, spans), problem, drawn.base.first_day, drawn.settings.weeks
        )
        assert audit_crews(made, drawn.plan, drawn.base, drawn.settings).broken == ()


def test_it_gives_some_hours_of_all_kinds() -> None:
    """So that the tests above say something: each kind of hours is there in some base."""
    problems = [drawn_with_problem(seed)[1] for seed in SEEDS]
    choices = [first_crews(problem, [0] * len(problem.tasks)) for problem in problems]
    assert any(choice.overtime for choice in choices)
    assert any(choice.bought for choice in choices)
    pairs = list(zip(problems, choices, strict=True))
    assert any(problem.shifts[s].called_in for problem, c in pairs for s, _, _ in c.hours)
    assert any(problem.shifts[s].contract for problem, c in pairs for s, _, _ in c.hours)
    assert any(problem.tasks[t].critical for problem, c in pairs for _, t, _ in c.hours)
    assert any(task.moves for problem in problems for task in problem.tasks)
