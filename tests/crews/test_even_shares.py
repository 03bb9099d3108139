"""Stages laid by even shares of their hours: published projects whose shortest days are known."""

from dataclasses import replace
from pathlib import Path
from threading import Event

import pytest

from capacity.crews.choice import is_runnable
from capacity.crews.crew_settings import CrewSettings
from capacity.crews.model.even_shares import EvenShares
from capacity.crews.model.solve import solve
from capacity.crews.problem import Caps, CrewProblem, CrewShift
from tests.crews.networks import PATTERSON_2, PATTERSON_8, TEN_JOBS, read_single_mode, staffing
from tests.crews.problems import HEAD_DAY, daily, problem, spans, task
from tests.reference.test_crew_multi_skill import (
    MSLIB,
    crew_problem_of,
    drawn,
    read_multi_skill,
    shortest_by_intervals,
)

DATA = Path(__file__).parents[1] / "reference" / "data"


def j301_1(days: int) -> CrewProblem:
    network, heads = read_single_mode(DATA / "j301_1.sm")
    return staffing(network, days, heads)


def all_met(asked: CrewProblem) -> list[int] | None:
    """Return where even shares are all met; looked at again without the model."""
    laid = EvenShares(asked, 1).with_all_met(30.0)
    if laid is not None:
        assert is_runnable(asked, laid)
    return laid


def hours_not_met(asked: CrewProblem) -> int:
    """Return what a search leaves that ends as soon as it is done with these hours."""
    stop = Event()
    solved = solve(asked, CrewSettings(seconds=30.0, workers=1), stop, lambda _: stop.set())
    assert solved is not None
    return solved.goals[0].value


def in_quarters(asked: CrewProblem) -> CrewProblem:
    """Return the problem as crew plans have it: 8 h a shift, in hundredths and quarters."""
    return replace(
        asked,
        parts=4,
        tasks=tuple(
            replace(one, hundredths={k: 100 * h for k, h in one.hundredths.items()})
            for one in asked.tasks
        ),
        shifts=tuple(replace(shift, hundredths=200) for shift in asked.shifts),
    )


def test_a_published_project_is_staffed_in_its_shortest_days() -> None:
    """PSPLIB J30 1_1 (Kolisch & Sprecher 1996): 6,376 h can be met in 43 days, its optimum."""
    assert hours_not_met(in_quarters(j301_1(43))) == 0


def test_a_published_project_of_several_skills_is_staffed_in_its_shortest_days() -> None:
    """MSLIB Set1_11 (Snauwaert & Vanhoucke 2023): 54 days by the second model, 3,304 h."""
    project = read_multi_skill(MSLIB)
    assert shortest_by_intervals(project, stays=False) == 54
    assert hours_not_met(in_quarters(crew_problem_of(project, 54))) == 0


@pytest.mark.parametrize(
    ("network", "days", "heads"),
    [(PATTERSON_2, 7, (5, 5, 3)), (PATTERSON_8, 11, (4,)), (TEN_JOBS, 21, (6, 8))],
)
def test_published_optima_are_days_enough_and_one_less_is_not(network, days, heads) -> None:
    """Sources in ``test_crew_networks``."""
    assert all_met(staffing(network, days, heads)) is not None
    assert all_met(staffing(network, days - 1, heads)) is None


def test_j301_1_does_not_fit_into_42_days() -> None:
    assert all_met(j301_1(43)) is not None
    assert all_met(j301_1(42)) is None


@pytest.mark.parametrize("seed", range(12))
def test_people_of_several_skills_are_enough_when_the_second_model_says_so(seed: int) -> None:
    """Invented: workers of one or two skills, activities of several at once."""
    project = drawn(seed)
    days = shortest_by_intervals(project, stays=False)
    assert all_met(crew_problem_of(project, days)) is not None
    assert all_met(crew_problem_of(project, days - 1)) is None


def test_stages_done_alone_and_equipment_keep_stages_apart() -> None:
    """By hand: two stages of 2 days, people for both at once; apart they need 4 days."""
    for change in ({"apart": (0,)}, {"equipment": frozenset({"Jacks"})}):
        for days, is_enough in ((3, False), (4, True)):
            first = task("First", spans(days, 2), {"R1": 1}, equipment=frozenset({"Jacks"}))
            other = task("Other", spans(days, 2), {"R1": 1}, **change)
            asked = problem(
                days, [first, other], daily({"R1": 2}, days), free={"Jacks": (1,) * days}
            )
            assert (all_met(asked) is not None) is is_enough


def test_a_stage_goes_round_the_days_on_which_nobody_is_there() -> None:
    """By hand: nobody on day 2 of 5; two days in a row are days 3 and 4, or 0 and 1."""
    shifts = [shift for shift in daily({"R1": 1}, 5) if shift.day != 2]
    one = task("Work", spans(5, 2), {"R1": 1})
    other = task("More", spans(5, 2), {"R1": 1}, check="C2")
    laid = all_met(problem(5, [one, other], shifts))
    assert laid is not None
    assert sorted(one.spans[way].first for way in laid) == [0, 3]


def test_day_work_is_for_people_of_the_day() -> None:
    night = CrewShift("Nights", 0, "Night", True, False, ("R1",), 9, HEAD_DAY)
    by_day = task("By day", spans(1, 1), {"R1": 1}, by_night=False)
    assert all_met(problem(1, [by_day], [night])) is None
    assert all_met(problem(1, [replace(by_day, by_night=True)], [night])) is not None


def test_where_regular_hours_are_not_enough_overtime_counts() -> None:
    """By hand: one head, 8 h and 2 of overtime a day; two stages of 10 h need a day each."""
    shifts = tuple(replace(shift, extra=2) for shift in daily({"R1": 1}, 2))
    one = replace(task("One", spans(2, 1)), hundredths={"R1": 10})
    other = replace(one, check="C2")
    evenly = EvenShares(problem(2, [one, other], shifts, caps=(Caps("R1", range(2), 4, 0),)), 1)
    assert evenly.with_all_met(10.0) is None
    laid = evenly.with_most_met(10.0, 1)
    assert laid is not None
    assert sorted(laid) == [0, 1]


def test_a_stage_that_nobody_can_do_keeps_no_other_from_its_day() -> None:
    """By hand: 30 h on one day are too many for one head; 8 h on either day are not."""
    large = replace(task("Large", spans(1, 1)), hundredths={"R1": 30})
    small = task("Small", spans(2, 1), {"R1": 1}, check="C2")
    asked = problem(2, [large, small], daily({"R1": 1}, 2))
    assert EvenShares(asked, 1).with_all_met(10.0) is None
    assert EvenShares(asked, 1).with_most_met(10.0, 1) is not None
    assert hours_not_met(asked) == 30 - HEAD_DAY


def test_a_search_that_was_ended_lays_nothing() -> None:
    evenly = EvenShares(staffing(PATTERSON_8, 11, (4,)), 1)
    evenly.end()
    assert evenly.with_all_met(10.0) is None
