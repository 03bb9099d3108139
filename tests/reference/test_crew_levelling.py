"""Level days at a fixed end: the least sum of squares of heads a day, and the lowest peak.

The objective is that of Burgess and Killebrew (1962): squares of the daily use, the end
fixed. The goal ``unevenness`` is that sum as long as there are no more than 40 heads a day.
Optima of Patterson's problems and of the ten jobs were found by enumeration for notes on
these networks, and are found again by enumeration here where that is quick.
"""

from collections import Counter
from collections.abc import Iterator
from itertools import product

import pytest

from capacity.crews.model.solve import Solved
from capacity.crews.problem import CrewProblem, Task
from tests.crews.networks import (
    PATTERSON_2,
    PATTERSON_8,
    TEN_JOBS,
    Network,
    eleven_activities,
    staffing,
)
from tests.crews.problems import HEAD_DAY, can_be_met, proven, value

MANY = (12,)


def profile(solved: Solved, of: CrewProblem) -> list[int]:
    """Return the heads at work on each day."""
    heads: Counter[int] = Counter()
    for (number, _, _), there in solved.choice.heads.items():
        heads[of.shifts[number].day] += there
    return [heads[day] for day in range(of.days)]


def days_of(of: CrewProblem, spans: list[int]) -> dict[str, int]:
    return {t.stage: t.spans[s].first for t, s in zip(of.tasks, spans, strict=True)}


def used(network: Network, days: int, starts: dict[str, int]) -> list[int]:
    """Return the heads that the activities take on each day."""
    heads = [0] * days
    for name, start in starts.items():
        for day in range(start, start + network[name].days):
            heads[day] += network[name].units[0]
    return heads


def arrangements(network: Network, tasks: tuple[Task, ...]) -> Iterator[dict[str, int]]:
    """Go through all starts within the floats that keep the order."""
    ways = [[span.first for span in task.spans] for task in tasks]
    for chosen in product(*ways):
        starts = dict(zip(network, chosen, strict=True))
        if all(
            starts[before] + network[before].days <= starts[name]
            for name, activity in network.items()
            for before in activity.after
        ):
            yield starts


@pytest.mark.parametrize(
    ("network", "days", "earliest", "least"),
    [(PATTERSON_2, 6, 60, 48), (PATTERSON_8, 8, 226, 200)],
    ids=["Patterson 2", "Patterson 8"],
)
def test_patterson_is_level_by_its_first_resource(
    network: Network, days: int, earliest: int, least: int
) -> None:
    asked = staffing(network, days, MANY, ["R1"])
    first = {task.stage: min(span.first for span in task.spans) for task in asked.tasks}
    assert sum(heads**2 for heads in used(network, days, first)) == earliest
    solved = proven(asked)
    assert value(solved, "levelling index") == least
    squares = [
        sum(heads**2 for heads in used(network, days, starts))
        for starts in arrangements(network, asked.tasks)
    ]
    assert min(squares) == least


def test_patterson_8_is_perfectly_flat() -> None:
    asked = staffing(PATTERSON_8, 8, MANY)
    assert profile(proven(asked), asked) == [5] * 8


def test_patterson_2_is_done_by_four_heads_not_by_three() -> None:
    """Its first resource alone: level days have a peak of 4 instead of 5."""
    assert can_be_met(staffing(PATTERSON_2, 6, (4,), ["R1"]))
    assert not can_be_met(staffing(PATTERSON_2, 6, (3,), ["R1"]))


def test_ten_jobs_are_more_level_the_more_days_there_are() -> None:
    """First resource: 591 as early as they may, 583 level; 373 and a peak of 5 in 21 days."""
    short = staffing(TEN_JOBS, 14, MANY, ["R1"])
    first = {task.stage: min(span.first for span in task.spans) for task in short.tasks}
    assert sum(heads**2 for heads in used(TEN_JOBS, 14, first)) == 591
    assert value(proven(short), "levelling index") == 583
    long = staffing(TEN_JOBS, 21, (5,), ["R1"])
    assert value(proven(long), "levelling index") == 373
    assert not can_be_met(staffing(TEN_JOBS, 21, (4,), ["R1"]))


@pytest.mark.parametrize("before_f", ["B", "D"])
def test_eleven_activities_come_to_701(before_f: str) -> None:
    """743 as early as they may, with a peak of 9 and 111 man-days (seen); 701 level."""
    network = eleven_activities(before_f)
    asked = staffing(network, 18, MANY)
    first = {task.stage: min(span.first for span in task.spans) for task in asked.tasks}
    early = used(network, 18, first)
    if before_f == "B":
        assert early == [5, 5, 5, 9, 9, 9, 9, 9, 6, 5, 5, 5, 5, 6, 4, 5, 5, 5]
        assert (sum(early), sum(heads**2 for heads in early)) == (111, 743)
    solved = proven(asked)
    assert value(solved, "levelling index") == 701
    level = used(network, 18, days_of(asked, solved.choice.span))
    assert level == profile(solved, asked)
    assert (sum(level), sum(heads**2 for heads in level)) == (111, 701)
    given = sum(solved.choice.hours.values())
    assert given == 111 * HEAD_DAY
    # Those without float stay where they are; they have no other way to be run.
    starts = days_of(asked, solved.choice.span)
    critical = {"A": 0, "C": 3, "I": 9, "J": 13, "K": 15}
    assert {name: starts[name] for name in critical} == critical
    assert [t.stage for t in asked.tasks if not t.moves] == list(critical)


@pytest.mark.parametrize("before_f", ["B", "D"])
def test_eleven_activities_are_done_by_eight_heads_not_by_seven(before_f: str) -> None:
    network = eleven_activities(before_f)
    assert can_be_met(staffing(network, 18, (8,)))
    assert not can_be_met(staffing(network, 18, (7,)))


def test_at_701_both_ways_to_read_the_figure_have_their_peak() -> None:
    """F after B: 8 heads do at 701; F after D: with 8 heads it is 703."""
    assert value(proven(staffing(eleven_activities("B"), 18, (8,))), "levelling index") == 701
    assert value(proven(staffing(eleven_activities("D"), 18, (8,))), "levelling index") == 703
