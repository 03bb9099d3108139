"""Columns left out because no plan in time has them, or another is at least as good."""

from random import Random

import pytest
from hypothesis import strategies as st

from capacity.facts import Status
from capacity.search_settings import SearchSettings
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.dominated_columns import stand_ins, undominated
from capacity.slots.program.impossible_columns import possible_columns, possible_within
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.program import Program, Restricted
from tests.bench.invented import invented_quarter
from tests.quick_and_long import holds_for, some_of
from tests.reference import stories
from tests.reference.stories import bays, day, visit
from tests.slots.building import Built, built, keeps_rows, some_choice
from tests.slots.rich_bases import rich_base

USUAL = SearchSettings()


def narrowed(program: Program, days: int, search: SearchSettings = USUAL) -> Restricted:
    """Leave out all columns that no choice with at most ``days`` past needs."""
    possible = possible_within(program, days, search)
    return undominated(program.within_days(days, possible), program.size)


def in_days(made: Built, check: str, days: int, search: SearchSettings = USUAL) -> list[int]:
    """Return the days on which a check may come in when ``days`` past are allowed."""
    program = made.program.within_days(days).program
    number = program.checks.index(check)
    mine = possible_columns(program, search) & (program.check_of == number)
    return sorted(set(program.in_day[mine].tolist()))


def one_bay(*checks: object) -> Built:
    return built(stories.base(bays(1), *checks))


def test_a_day_that_leaves_another_check_no_place_is_impossible() -> None:
    # B can only come in on day 2 or 3, so A must have left by day 3.
    made = one_bay(visit("A", 2, 0, 5), visit("B", 3, 2, 3))
    assert in_days(made, "A", days=0) == [0, 1, 5]
    assert in_days(made, "B", days=0) == [2, 3]


def test_a_day_is_possible_when_the_days_past_that_it_costs_are_allowed() -> None:
    # A on day 2 takes the bay until day 4, and B comes in a day late.
    made = one_bay(visit("A", 2, 0, 5), visit("B", 3, 2, 3))
    assert 2 not in in_days(made, "A", days=0)
    assert 2 in in_days(made, "A", days=1)
    assert 3 not in in_days(made, "A", days=1)
    assert 3 in in_days(made, "A", days=2)


def test_days_past_of_several_others_add_up() -> None:
    # From day 1 on in bay B1, A makes one of the others come in a day late; from day 2, two days.
    made = one_bay(visit("A", 3, 0, 2), visit("B", 3, 3, 3), visit("C", 3, 6, 6))
    assert in_days(made, "A", days=1) == [0]
    assert in_days(made, "A", days=2) == [0, 1]


def test_what_is_impossible_makes_more_impossible() -> None:
    # C must have days 4 to 7. That leaves B days 0 to 3 only, and so A nothing before day 8.
    made = one_bay(visit("A", 4, 0, 9), visit("B", 4, 0, 3), visit("C", 4, 4, 4))
    assert in_days(made, "B", days=0) == [0]
    assert in_days(made, "A", days=0) == [8, 9]


def test_an_option_makes_nothing_impossible() -> None:
    made = one_bay(visit("A", 2, 0, 5), visit("B", 3, 2, 3, status=Status.OPTION))
    assert in_days(made, "A", days=0) == [0, 1, 2, 3, 4, 5]
    assert in_days(made, "B", days=0) == [2, 3]


def test_when_no_plan_has_so_few_days_past_nothing_is_possible() -> None:
    made = one_bay(visit("A", 4, 0, 0), visit("B", 4, 0, 0))
    assert not possible_columns(made.program.within_days(3).program, USUAL).any()
    assert possible_columns(made.program.within_days(4).program, USUAL).any()


def test_a_dearer_day_gives_way_to_one_that_takes_no_more() -> None:
    late = {"agreed_out": day(3), "late_cost_per_day": 100.0}
    made = built(stories.base(bays(2), visit("A", 3, 0, 2, **late)))
    program = made.program.within_days(0).program
    better = stand_ins(program)
    # Nobody else is there, so no row binds, and no later day is any better than the first.
    assert set(program.in_day[better].tolist()) == {0}
    assert (program.money[better] <= program.money).all()


def test_of_columns_that_are_alike_the_first_stands_in() -> None:
    program = built(stories.base(bays(1), visit("A", 3, 0, 2))).program
    alike = program.within_days(0).program
    assert len(set(alike.money.tolist())) == 1
    assert stand_ins(alike).tolist() == [0] * alike.size


def test_a_day_past_is_no_stand_in_for_a_day_in_time() -> None:
    # Coming in a day past Latest in would be as cheap.
    made = built(stories.base(bays(1), visit("A", 3, 4, 4)))
    program = made.program.within_days(7).program
    better = stand_ins(program)
    assert set(program.past.tolist()) == set(range(8))
    assert set(program.past[better].tolist()) == {0}


TIGHT = [(1, 6, 5, 6), (1, 7, 4, 6), (1, 8, 6, 8), (3, 10, 6, 8)]  # the second has days past


@pytest.fixture(scope="module", params=some_of(TIGHT, quick=2))
def lanes(request: pytest.FixtureRequest) -> Program:
    """Tight weeks in a few bays, half of which lie behind others."""
    seed, checks, bays_, weeks = request.param
    base = invented_quarter(seed, bays=bays_, checks=checks, weeks=weeks, lanes=True)
    return built(base).program


def test_the_least_days_and_the_least_money_stay_what_they_are(lanes: Program) -> None:
    least = branch_and_cut(days_form(lanes), None, 60.0)
    assert least.finished
    days = round(least.bound)
    whole, fewer = lanes.within_days(days).program, narrowed(lanes, days)
    assert fewer.program.size < whole.size
    optimum = branch_and_cut(money_form(whole), None, 60.0)
    again = branch_and_cut(money_form(fewer.program), None, 60.0)
    assert optimum.finished
    assert again.finished
    assert again.bound == pytest.approx(optimum.bound, rel=1e-5)
    best = fewer.from_whole(lanes.within_days(days).to_whole(optimum.chosen))
    assert best is not None
    assert keeps_rows(fewer.program, best)
    assert fewer.program.cost(best) == pytest.approx(lanes.cost(fewer.to_whole(best)))


def test_too_many_footprints_are_not_compared() -> None:
    made = one_bay(visit("A", 2, 0, 5), visit("B", 3, 2, 3))
    few = SearchSettings(most_meetings=1)
    assert in_days(made, "A", days=0, search=few) == [0, 1, 2, 3, 4, 5]


@holds_for(quick=3, long=40, rng=st.randoms(use_true_random=False))
def test_no_plan_is_lost(rng: Random) -> None:
    # A few of these bases are large, and with so many days allowed each takes minutes.
    search = SearchSettings(most_days_probed=10**9, most_meetings=10**7)
    program = built(rich_base(rng)).program
    for _ in range(3):
        chosen = some_choice(program, rng)
        days, money = program.cost(chosen)
        fewer = narrowed(program, days, search)
        mine = fewer.from_whole(chosen)
        assert mine is not None
        assert keeps_rows(fewer.program, mine)
        now_days, now_money = program.cost(fewer.to_whole(mine))
        assert now_days <= days
        assert now_money <= money + 1e-6
