"""The first crew plan keeps every rule of the model, wherever the stages are put."""

from dataclasses import replace
from functools import cache
from random import Random

import numpy as np
import pytest
from ortools.sat.python import cp_model

from capacity.crews.assign import crew_plan_of
from capacity.crews.choice import CrewChoice, is_runnable
from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_problem import crew_problem
from capacity.crews.first_crews import first_crews
from capacity.crews.model.choice_values import values_of
from capacity.crews.model.goals import crews_per_aircraft, unevenness
from capacity.crews.model.relaxed import linear_model
from capacity.crews.model.rules import RULES
from capacity.crews.model.variables import Variables
from capacity.crews.problem import Caps, CrewProblem, OvertimeLimit
from tests.crews.problems import HEAD_DAY, daily, problem, spans, task
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

    def broken_by(self, choice: CrewChoice) -> list[str]:
        """Return the names of the rows, or bounds, that a choice breaks."""
        model, values = self.model, np.array(values_of(self.v, choice), dtype=np.float64)
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
    return [planned, *(chosen for chosen in drawn if is_runnable(problem, chosen))]


@cache
def drawn_with_problem(seed: int) -> tuple[ToStaff, CrewProblem]:
    drawn = to_staff(seed)
    return drawn, crew_problem(drawn.plan, drawn.base, drawn.settings)


@pytest.mark.parametrize("seed", SEEDS)
def test_it_keeps_every_row_of_the_model(seed: int) -> None:
    _, problem = drawn_with_problem(seed)
    assert is_runnable(problem, [0] * len(problem.tasks))
    rows = Rows(problem)
    for chosen in arrangements(problem, seed):
        assert rows.broken_by(first_crews(problem, chosen)) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_it_stands_up_to_the_audit(seed: int) -> None:
    drawn, problem = drawn_with_problem(seed)
    for chosen in arrangements(problem, seed):
        made = crew_plan_of(
            first_crews(problem, chosen), problem, drawn.base.first_day, drawn.settings.weeks
        )
        assert audit_crews(made, drawn.plan, drawn.base, drawn.settings).broken == ()


def test_one_person_is_not_brought_in_twice_for_critical_work() -> None:
    """A crew of one with two parts free is one person, in one licensed skill or in two."""
    licences = {"B1": "B1", "B2": "B2"}
    critical = replace(
        task("Work", spans(1, 1), critical=True), hundredths={"B1": 2, "B2": 2, "Mechanic": 2}
    )
    mechanics = daily({"Mechanic": 4}, 1)
    for skills in (("B1",), ("B2",), ("B1", "B2")):
        crews = [*mechanics, replace(mechanics[0], crew="One", heads=1, skills=skills)]
        asked = problem(1, [critical], crews, licence_of=licences, parts=4)
        choice = first_crews(asked, [0])
        assert Rows(asked).broken_by(choice) == []
        assert sum(choice.short.values()) == 6
    pair = [
        *mechanics,
        replace(mechanics[0], crew="One", heads=1, skills=("B1", "B2")),
        replace(mechanics[0], crew="Other", heads=1, skills=("B2",)),
    ]
    asked = problem(1, [critical], pair, licence_of=licences, parts=4)
    choice = first_crews(asked, [0])
    assert Rows(asked).broken_by(choice) == []
    assert sum(choice.short.values()) == 0


def test_overtime_keeps_to_the_rooms_of_working_time_rules() -> None:
    """Two people may add 2 each a day; over two days a head has room for 3."""
    crews = [replace(shift, extra=2) for shift in daily({"Mechanic": 2}, 2)]
    work = replace(task("Work", spans(2, 2)), hundredths={"Mechanic": 4 * (HEAD_DAY + 2)})
    caps = (Caps("Mechanic", range(0, 2), overtime=99, contract=0),)
    overtime_limits = (
        OvertimeLimit("Crew Mechanic", range(0, 2), 3),
        OvertimeLimit("Crew Mechanic", range(0, 1), 1),
    )
    for kept, added in (((), 8), (overtime_limits[:1], 6), (overtime_limits, 6)):
        asked = problem(2, [work], crews, caps=caps, overtime_limits=kept)
        choice = first_crews(asked, [0])
        assert Rows(asked).broken_by(choice) == []
        assert sum(choice.overtime.values()) == added


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
