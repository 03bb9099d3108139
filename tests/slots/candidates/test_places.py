"""Which bays are one place, and that a column says where and when its check comes in."""

from dataclasses import replace

import numpy as np

from capacity.slots.candidates import tied_together
from capacity.slots.finding.ruin_recreate import RuinRecreate
from capacity.slots.program.first_come import first_come
from tests.bench.invented import invented_quarter
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.slots.building import built, keeps_rows

B1, B2, B3, B4, B5 = bays(5)


def places(*all_bays):
    """Return the bays by place, each place in the order of its bays."""
    number = tied_together(stories.base(all_bays, visit("A", 3, 0, 0)))
    return sorted([bay for bay in number if number[bay] == place] for place in set(number.values()))


def test_open_bays_are_places_of_their_own():
    assert places(B1, B2, B3) == [["B1"], ["B2"], ["B3"]]


def test_a_chain_of_ways_is_one_place_and_so_is_shared_floor():
    deep = replace(B2, reached_through="B1"), replace(B3, reached_through="B2")
    beside = replace(B5, shares_floor_with=frozenset({"B4"}))
    assert places(B1, *deep, B4, beside) == [["B1", "B2", "B3"], ["B4", "B5"]]


def test_floor_ties_two_ways_together():
    behind, other = replace(B2, reached_through="B1"), replace(B4, reached_through="B3")
    sharing = replace(B3, shares_floor_with=frozenset({"B2"}))
    assert places(B1, behind, sharing, other, B5) == [["B1", "B2", "B3", "B4"], ["B5"]]


def test_a_column_says_where_and_when_and_keeps_saying_it_when_others_go():
    behind = replace(B2, reached_through="B1")
    base = stories.base([B1, behind, B3], visit("A", 3, 0, 2), longest_delay_days=1)
    program = built(base).program
    said = set(zip(program.place.tolist(), program.in_day.tolist(), strict=True))
    assert len({place for place, _ in said}) == 2
    assert {in_day - min(program.in_day) for _, in_day in said} == {0, 1, 2, 3}
    late = program.in_day == max(program.in_day)
    restricted = program.restricted_to(late).program
    assert restricted.place.tolist() == program.place[late].tolist()
    assert restricted.in_day.tolist() == program.in_day[late].tolist()


def test_rounds_in_lanes_keep_the_rows_and_their_costs():
    made = built(invented_quarter(2, bays=4, checks=12, weeks=6, lanes=True))
    search = RuinRecreate(made.program, first_come(made.program, made.slots), seed=3)
    for _ in range(100):
        search.rounds(50, 5000.0, 1e6)
        assert keeps_rows(made.program, search._state.chosen)
    now = search.program.cost(search._state.chosen)
    assert np.allclose((search.costs.days, search.costs.money), now, atol=0.01, rtol=0)
