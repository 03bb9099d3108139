"""Rows of windows at a shop, taken in when they are found broken: same answers as all rows."""

import numpy as np
import pytest

from capacity.facts import Package, Shop, ShopLoop, Stage
from capacity.search_settings import SearchSettings
from capacity.slots.engines.highs import branch_and_cut, relax
from capacity.slots.finding.side import anneal
from capacity.slots.line.reports import DaysBound, MoneyBound
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Restricted
from capacity.slots.proving.relaxations import bound_by_relaxations
from capacity.slots.proving.side import prove
from tests.reference import stories
from tests.reference.stories import day, visit
from tests.slots.building import Built, built
from tests.slots.desk import Desk

# Rows are left out however few there are.
LAZY = SearchSettings(most_entries_at_once=0)
SENT = Package(
    "sent",
    (Stage("Open", "maintenance", 1), Stage("Close", "maintenance", 1, after=("Open",))),
)


@pytest.fixture(scope="module")
def hangar() -> Built:
    """Five checks in five bays that all send ten items to a shop that does five a day."""
    checks = [
        visit(name, 1, 0, 3, package="sent", agreed_out=day(3), late_cost_per_day=100.0 + number)
        for number, name in enumerate("ABCDE")
    ]
    base = stories.base(stories.bays(5), *checks, longest_wait_days=6, longest_delay_days=2)
    return built(
        base.replace(
            packages=(*base.packages, SENT),
            shops=(Shop("Wheels", 5.0),),
            shop_loops=(ShopLoop("sent", "Wheels", 10, "Open", "Close"),),
        )
    )


def test_few_rows_are_all_there_from_the_start(hangar: Built) -> None:
    many = SearchSettings(most_entries_at_once=10**9)
    assert LazyRows(hangar.program, many).program is hangar.program


def test_windows_of_shops_are_out_at_first_and_all_else_is_in(
    hangar: Built,
) -> None:
    shops = {shop.name for shop in hangar.base.shops}
    light = LazyRows(hangar.program, LAZY).program
    out = set(hangar.program.row_names) - set(light.row_names)
    assert out
    assert all(name.split(" from ")[0] in shops for name in out)
    assert not any(name.split(" from ")[0] in shops for name in light.row_names)
    assert light.size == hangar.program.size


def test_a_choice_that_breaks_rows_is_told_and_broken_no_more(
    hangar: Built,
) -> None:
    punctual = hangar.program.within_days(0).program
    rows = LazyRows(punctual, LAZY)
    steps = 0
    while True:
        solved = branch_and_cut(money_form(rows.program), None, 60.0)
        assert solved.finished
        assert solved.chosen is not None
        holds = punctual.holds(solved.chosen)
        assert rows.broken_by(solved.chosen) is not holds
        if holds:
            break
        assert not rows.program.holds(solved.chosen)
        steps += 1
    whole = branch_and_cut(money_form(punctual), None, 60.0)
    assert steps > 0
    assert solved.bound == pytest.approx(whole.bound)


def test_rows_taken_in_leave_the_columns_of_plans_in_time_as_they_are(
    hangar: Built,
) -> None:
    rows = LazyRows(hangar.program, LAZY)
    before = rows.within(0)
    solved = branch_and_cut(money_form(before.program), None, 60.0)
    assert rows.broken_by(before.to_whole(solved.chosen))
    after = rows.within(0)
    assert after.number.tolist() == before.number.tolist()
    assert len(after.program.capacity) > len(before.program.capacity)
    assert after.program.days_allowed == 0
    assert rows.within(1).program.size > after.program.size


def test_the_relaxation_grows_to_that_of_all_rows(hangar: Built) -> None:
    punctual = hangar.program.within_days(0).program
    rows = LazyRows(punctual, LAZY)
    everything, told = np.arange(punctual.size), []
    bound_by_relaxations(
        rows, lambda: (Restricted(rows.program, everything), money_form(rows.program)), told.append
    )
    assert told == sorted(told)
    assert told[-1] == pytest.approx(relax(money_form(punctual)), rel=1e-4)
    assert len(rows.program.row_names) < len(punctual.row_names)


def test_both_sides_come_to_the_optimum_of_all_rows(hangar: Built) -> None:
    desk = Desk(hangar.program, 60.0, LAZY)
    rows = LazyRows(hangar.program, LAZY)
    anneal(desk, rows, 1.0, seed=1)
    assert len(rows.program.row_names) > len(LazyRows(hangar.program, LAZY).program.row_names)
    prove(desk)
    days, money = desk.best[1]
    assert days == max(word.days for word in desk.words if isinstance(word, DaysBound))
    bounds = [word for word in desk.words if isinstance(word, MoneyBound) and word.days == days]
    restricted = hangar.program.within_days(days)
    optimum = branch_and_cut(money_form(restricted.program), None, 60.0)
    assert optimum.finished
    assert money == pytest.approx(optimum.bound, rel=1e-5)
    assert max(word.money for word in bounds) == pytest.approx(optimum.bound, rel=1e-5)
