"""The best sequence in one bay.

Source: the problems are those of Pinedo, Scheduling: Theory, Algorithms, and Systems (from
memory); the optimum of each example found by going through all sequences in a test here.
"""

from itertools import combinations, permutations

import pytest

from capacity.facts import Check, Status
from capacity.questions.by_hand.answering import ByHand
from capacity.questions.by_hand.values import HandMove
from tests.reference import stories
from tests.reference.stories import day, in_turn, proven, visit
from tests.samples.laid_plan import laid_plan

WEIGHTED = {"1": (12, 16, 4.0), "2": (8, 26, 5.0), "3": (15, 25, 3.0), "4": (9, 27, 5.0)}
RELEASED = {"1": (4, 0, 8), "2": (2, 1, 12), "3": (6, 3, 11), "4": (5, 5, 10)}
MOORE_HODGSON = {"1": (7, 9), "2": (8, 17), "3": (4, 18), "4": (6, 19), "5": (6, 21)}


def weighted_tardiness(sequence: tuple[str, ...]) -> float:
    total, now = 0.0, 0
    for job in sequence:
        days, due, weight = WEIGHTED[job]
        now += days
        total += weight * max(0, now - due)
    return total


def test_weighted_tardiness_is_67_in_the_sequence_1_2_4_3() -> None:
    visits = [
        visit(job, days, 0, 60, agreed_out=day(due), late_cost_per_day=weight)
        for job, (days, due, weight) in WEIGHTED.items()
    ]
    planned = proven(stories.base(stories.bays(1), *visits))
    assert planned.audit.goals.money == pytest.approx(67.0)
    assert planned.bound == pytest.approx(67.0, rel=1e-5)
    assert in_turn(planned) == "1-2-4-3"


def test_no_other_sequence_has_a_weighted_tardiness_of_67_or_less() -> None:
    best = [s for s in permutations(WEIGHTED) if weighted_tardiness(s) <= 67.0]
    assert best == [("1", "2", "4", "3")]


def test_the_sequence_1_2_3_4_is_put_right_by_hand() -> None:
    """Each move costs what the formula of weighted tardiness says that it does."""
    visits = [
        visit(job, days, 0, 60, agreed_out=day(due), late_cost_per_day=weight)
        for job, (days, due, weight) in WEIGHTED.items()
    ]
    base = stories.base(stories.bays(1), *visits)
    starts = {"1": 0, "2": 12, "3": 20, "4": 35}
    plan = laid_plan(base, [(job, "B1", day(start)) for job, start in starts.items()])
    desk = ByHand(base, plan)
    at_20 = HandMove("4", "B1", day(20))
    assert [blocker.by for blocker in desk.answer((), at_20).in_the_way] == [("3",)]
    moves = (HandMove("3"), at_20, HandMove("3", "B1", day(29)))
    assert all(desk.answer(moves[:n], move).is_legal for n, move in enumerate(moves))
    before, after = (desk.plan_after(made)[1].goals.money for made in ((), moves))
    assert before == pytest.approx(weighted_tardiness(("1", "2", "3", "4")))
    assert after == pytest.approx(67.0)


def released(latest: int) -> tuple[Check, ...]:
    """Visits that may be out ``latest`` days after they are due, and no day later."""
    return tuple(
        visit(job, days, release, due + latest - days)
        for job, (days, release, due) in RELEASED.items()
    )


def test_with_release_days_nobody_need_be_more_than_5_days_late_in_the_sequence_1_3_4_2() -> None:
    planned = proven(stories.base(stories.bays(1), *released(latest=5)))
    assert planned.audit.goals.days_past_latest_in == 0
    assert in_turn(planned) == "1-3-4-2"


def test_with_release_days_somebody_is_more_than_4_days_late() -> None:
    assert proven(stories.base(stories.bays(1), *released(latest=4))).days_bound > 0


def on_time(jobs: tuple[str, ...]) -> bool:
    """Say whether the jobs keep their due days, the earliest due first."""
    now = 0
    for job in sorted(jobs, key=lambda job: MOORE_HODGSON[job][1]):
        now += MOORE_HODGSON[job][0]
        if now > MOORE_HODGSON[job][1]:
            return False
    return True


def test_of_five_visits_two_cannot_be_home_in_time() -> None:
    # An option is never placed past Latest in; each one placed earns 1.
    options = [
        visit(job, days, 0, due - days, status=Status.OPTION, price=1.0)
        for job, (days, due) in MOORE_HODGSON.items()
    ]
    planned = proven(stories.base(stories.bays(1), *options))
    assert len(planned.plan.refused) == 2
    assert planned.audit.goals.money == pytest.approx(-3.0)
    assert planned.bound == pytest.approx(-3.0, rel=1e-5)


def test_three_of_the_five_visits_are_the_most() -> None:
    assert any(on_time(jobs) for jobs in combinations(MOORE_HODGSON, 3))
    assert not any(on_time(jobs) for jobs in combinations(MOORE_HODGSON, 4))
