"""When the last of several visits can be out, all aircraft being there on day 0.

Sources: {9, 8, 8, 7, 4} on three machines from McNaughton, Management Science 6, 1959;
{5, 5, 4, 4, 3, 3, 3} on three from Graham, Bounds on Multiprocessing Timing Anomalies, 1969,
where the longest-first rule needs 11 days (both from memory); the optima 15 and 9 found by
going through all assignments in a test here.
"""

from itertools import product

import pytest

from tests.reference import stories
from tests.reference.stories import day, proven, visit

SETS = [((9, 8, 8, 7, 4), 15), ((5, 5, 4, 4, 3, 3, 3), 9)]


def money_when_agreed_out(lengths: tuple[int, ...], last: int) -> tuple[float, float]:
    """Return the least money at 1 a day past day ``last``, and its proven bound."""
    visits = [
        visit(f"V{number}", days, 0, 30, agreed_out=day(last), late_cost_per_day=1.0)
        for number, days in enumerate(lengths)
    ]
    planned = proven(stories.base(stories.bays(3), *visits))
    assert planned.bound is not None
    return planned.audit.goals.money, planned.bound


@pytest.mark.parametrize(("lengths", "optimum"), SETS)
def test_all_visits_are_out_on_the_optimal_day(lengths: tuple[int, ...], optimum: int) -> None:
    money, _ = money_when_agreed_out(lengths, optimum)
    assert money == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("lengths", "optimum"), SETS)
def test_and_provably_not_a_day_sooner(lengths: tuple[int, ...], optimum: int) -> None:
    money, bound = money_when_agreed_out(lengths, optimum - 1)
    assert money >= 1.0 - 1e-6
    assert bound > 0.5


@pytest.mark.parametrize(("lengths", "optimum"), SETS)
def test_no_assignment_ends_sooner(lengths: tuple[int, ...], optimum: int) -> None:
    def last_out(assignment: tuple[int, ...]) -> int:
        bays = [0, 0, 0]
        for days, bay in zip(lengths, assignment, strict=True):
            bays[bay] += days
        return max(bays)

    assert min(map(last_out, product(range(3), repeat=len(lengths)))) == optimum
