"""Shortest projects with limited heads: a crew plan meets all hours in so many days, not in less.

Sources beside each network. A stage stands for an activity; see ``tests.crews.networks``.
Activities with several resources take the same heads on every day by a row added here: a crew
plan by itself may take one skill first and another then, which a last test shows.
"""

from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.crews.networks import (
    PATTERSON_2,
    PATTERSON_8,
    TEN_JOBS,
    Network,
    eleven_activities,
    read_single_mode,
    staffing,
    with_successors,
)
from tests.crews.problems import can_be_met, proven, value

DATA = Path(__file__).parent / "data"

# PSPLIB J30 (Kolisch & Sprecher 1996), optimum 47; numbers as in the examples of OR-Tools (seen).
# A job is (days, resource, heads, successors): each takes one resource at the most.
J301_2 = {
    1: (0, 1, 0, (2, 3, 4)),
    2: (2, 3, 2, (10,)),
    3: (10, 2, 8, (5, 9, 15)),
    4: (7, 3, 7, (7, 13)),
    5: (1, 1, 8, (6, 17)),
    6: (3, 4, 8, (13, 16, 18)),
    7: (6, 3, 5, (8, 11, 19)),
    8: (2, 2, 9, (27,)),
    9: (10, 4, 2, (14, 28)),
    10: (5, 1, 1, (12, 22)),
    11: (9, 1, 2, (21, 26)),
    12: (4, 3, 6, (24,)),
    13: (4, 2, 5, (25,)),
    14: (2, 3, 10, (25,)),
    15: (4, 4, 10, (21,)),
    16: (10, 1, 10, (20, 26)),
    17: (10, 3, 7, (21, 26, 29)),
    18: (7, 1, 5, (23,)),
    19: (10, 4, 7, (25,)),
    20: (7, 3, 3, (31,)),
    21: (2, 2, 7, (31,)),
    22: (1, 1, 10, (27, 29)),
    23: (2, 1, 8, (31,)),
    24: (2, 4, 8, (29,)),
    25: (2, 4, 7, (30,)),
    26: (9, 1, 7, (27,)),
    27: (1, 4, 1, (30,)),
    28: (4, 1, 8, (30,)),
    29: (7, 2, 3, (32,)),
    30: (8, 3, 8, (32,)),
    31: (9, 2, 6, (32,)),
    32: (0, 1, 0, ()),
}


def j301_2() -> Network:
    return with_successors(
        {
            job: (days, tuple(heads if k == resource else 0 for k in range(1, 5)), after)
            for job, (days, resource, heads, after) in J301_2.items()
        }
    )


def is_shortest(network: Network, days: int, heads: Iterable[int]) -> bool:
    """Return whether so many days do, and one less does not; both proven."""
    heads = tuple(heads)
    enough = can_be_met(staffing(network, days, heads), steady=True)
    return enough and not can_be_met(staffing(network, days - 1, heads), steady=True)


def test_patterson_2_takes_7_days() -> None:
    """Patterson's problem 2, heads 5, 5, 3: optimum 7."""
    assert is_shortest(PATTERSON_2, 7, (5, 5, 3))


def test_patterson_8_takes_11_days_with_four_heads_and_8_with_five() -> None:
    """Patterson's problem 8, four heads: optimum 11; its critical path is 8 days."""
    assert is_shortest(PATTERSON_8, 11, (4,))
    assert is_shortest(PATTERSON_8, 8, (5,))


def test_the_ten_jobs_take_21_days_and_14_with_heads_enough() -> None:
    """The manual of Python-MIP, heads 6, 8: optimum 21 asserted in its examples (seen)."""
    assert is_shortest(TEN_JOBS, 21, (6, 8))
    assert is_shortest(TEN_JOBS, 14, (40, 40))


def test_j301_1_takes_43_days() -> None:
    """PSPLIB J30 1_1 (Kolisch & Sprecher 1996): optimum 43 (from memory; here proven)."""
    network, heads = read_single_mode(DATA / "j301_1.sm")
    assert (len(network), heads) == (30, (12, 13, 4, 12))
    assert is_shortest(network, 43, heads)
    # The file's own length of the critical path, MPM-Time.
    assert is_shortest(network, 38, (99, 99, 99, 99))


def test_j301_2_takes_47_days() -> None:
    """PSPLIB J30 1_2: optimum 47 (from memory; here proven); critical path 42 (file, seen)."""
    assert is_shortest(j301_2(), 47, (14, 10, 11, 14))
    assert is_shortest(j301_2(), 42, (99, 99, 99, 99))


def test_eleven_activities_take_18_days() -> None:
    """A set of lectures on project management, 18 days (seen)."""
    assert is_shortest(eleven_activities("B"), 18, (40,))


@pytest.mark.parametrize(("days", "is_enough"), [(11, True), (10, False), (9, False)])
def test_days_that_are_not_enough_are_told_as_hours_short(days: int, is_enough: bool) -> None:
    """The search gives each stage the hours it can, and proves that some are nobody's."""
    solved = proven(staffing(PATTERSON_8, days, (4,)))
    assert (value(solved, "overload") == 0) is is_enough


def test_a_stage_may_take_one_skill_first_and_another_then() -> None:
    """Without the added row Patterson 2 is staffed in its critical path of 6 days."""
    assert can_be_met(staffing(PATTERSON_2, 6, (5, 5, 3)))
    assert not can_be_met(staffing(PATTERSON_2, 5, (9, 9, 9)))
