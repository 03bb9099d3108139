"""Which weeks are dear, and what is tried on them first, by hand."""

from dataclasses import replace

import pytest

from capacity.plans.plan import WeekLoad
from capacity.questions.overtime.trials import Run, dear_runs, trials_of
from tests.bases import BAY
from tests.plans.stories import MECHANIC, base, day, plan
from tests.questions.overtime_stories import TEN, booked, fixed, stands, ten_mechanics, visit


def load(week: int, overtime: float, contract: float, overload: float, skill: str = "Mechanic"):
    return WeekLoad(
        week=f"2027-W{week:02}",
        skill=skill,
        demand=0.0,
        regular=0.0,
        overtime=overtime,
        contract=contract,
        overload=overload,
        overtime_cap=0.0,
        contract_cap=0.0,
    )


def test_runs_of_weeks_are_told_with_their_money_the_dearest_first() -> None:
    """Overtime costs 60, contract 80, overload 500; the second run ends with the last week.

    Weeks 1 and 2: 10 x 60 + 5 x 80 = 1,000 and 600; weeks 7 and 8: 20 x 500 and 60.
    """
    of = base(weeks=8)
    bought = {1: (10, 5, 0), 2: (10, 0, 0), 3: (0.04, 0, 0), 7: (0, 0, 20), 8: (1, 0, 0)}
    weeks = [load(number, *bought.get(number, (0, 0, 0))) for number in range(1, 9)]
    late, early = dear_runs(weeks, of)
    assert late == Run("Mechanic", (day(42), day(49)), 21, pytest.approx(10_060))
    assert early == Run("Mechanic", (day(0), day(7)), 25, pytest.approx(1600))


def test_each_skill_has_runs_of_its_own() -> None:
    of = base(skills=(MECHANIC, replace(MECHANIC, name="Painter", overtime_cost=70.0)))
    weeks = [load(1, 1, 0, 0), load(1, 1, 0, 0, "Painter"), load(2, 0, 0, 0)]
    assert [(run.skill, run.money) for run in dear_runs(weeks, of)] == [
        ("Painter", 70.0),
        ("Mechanic", 60.0),
    ]
    assert dear_runs((), of) == []


def test_names_that_are_taken_are_not_given_again() -> None:
    """Two crews bear the names that the contract team would have; so it is the third."""
    work = visit(800)
    names = ("Contract team Mechanic", "Contract team Mechanic 2")
    taken = [replace(TEN, name=name, heads=0) for name in names]
    story = ten_mechanics((work,), fixed("C1", work), crews=(TEN, *taken))
    (team,) = (t for t in trials_of(plan(stands("C1", work)), story) if t.kind == "contract team")
    assert team.paid_crew == "Contract team Mechanic 3"


def test_the_check_with_most_work_in_the_dear_weeks_is_moved_first() -> None:
    """Of 820 h in a week of 700 h 800 are of one check and 20 of the other."""
    heavy, light = visit(800), visit(20)
    story = ten_mechanics(
        (heavy, light),
        booked("C1", light, 0, 9),
        booked("C2", heavy, 0, 9),
        bays=(
            BAY,
            replace(BAY, name="B2"),
        ),
    )
    made = plan(stands("C1", light), stands("C2", heavy, bay="B2"))
    moved = [t.what.split()[0] for t in trials_of(made, story) if t.kind == "a check moved"]
    assert moved == ["C2", "C1"]
