"""What changed since the plan before and since the workbook was opened."""

from dataclasses import replace

import pytest

from capacity.inputs.book import Book
from capacity.plans.audit import audit
from capacity.plans.plan import Goals, Plan
from tests.ui.plans import base, stay, view
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook
from ui.desk.plan_job import PLAN, plan_at_first, plan_before
from ui.planner.since import (
    change_in_words,
    cost_steps_of,
    goals_in_words,
    moved_since,
    moved_table,
    since_in_words,
)

ONE = Plan((stay("C1", "B1", 0), stay("C2", "B2", 0)))
MOVED = Plan((stay("C1", "B1", 0), stay("C2", "B2", 3)))
FEWER = Plan((stay("C1", "B2", 0),), not_placed=("C2",))


def test_a_check_is_marked_by_where_it_was():
    assert moved_since(MOVED, ONE) == {"C2": "was in B2, in Mon 4 Jan 2027, out Sat 9 Jan 2027"}
    assert moved_since(ONE, FEWER)["C2"] == "had no slot"
    assert moved_since(ONE, ONE) == {}


def test_checks_that_moved_gained_or_lost_a_slot_are_counted():
    assert change_in_words(MOVED, ONE) == "1 check in another slot"
    assert change_in_words(FEWER, ONE) == (
        "1 check in another slot, 1 check without the slot that was theirs"
    )
    assert change_in_words(ONE, FEWER).endswith("1 check with a slot that had none")
    assert change_in_words(ONE, ONE) == "no check has another slot"


def test_goals_are_set_beside_those_before():
    then = Goals(days_past_latest_in=2, overload_hours=10.0, money=1000.0)
    now = Goals(days_past_latest_in=1, overload_hours=4.0, money=2500.0)
    assert goals_in_words(now, then, base()) == (
        "1 fewer day past Latest in, costs 1,500 EUR more and 6.0 h less overload"
    )


def test_the_checks_that_moved_are_a_table():
    assert moved_table(MOVED, ONE, base()) == [
        {
            "Check": "C2",
            "Before": "B2, in Mon 4 Jan 2027, out Sat 9 Jan 2027",
            "Now": "B2, in Thu 7 Jan 2027, out Tue 12 Jan 2027",
            "In later by (days)": 3,
        }
    ]
    assert [row["In later by (days)"] for row in moved_table(FEWER, ONE, base())] == [0, None]


def test_the_cost_is_told_step_by_step_from_the_workbook_of_the_plan_before():
    desk, later = Desk("secret"), view(None, *MOVED.placements).outcome
    desk.open(OpenedBook("book.xlsx", None, Book(base(), ())))
    desk.put(PLAN, desk.opened, view().outcome)
    dearer = base(closures=())
    skill = replace(dearer.skills[0], overtime_cost=120.0)
    changed = OpenedBook("book.xlsx", None, Book(dearer.replace(skills=(skill,)), ()))
    desk.use(changed)
    desk.put(PLAN, changed, replace(later, audit=audit(changed.book.base, MOVED)))
    steps, _ = cost_steps_of(desk)
    first, *between, last = (amount for _, amount in steps)
    assert first == view().outcome.audit.goals.money
    assert first + sum(between) == pytest.approx(last)
    assert last == pytest.approx(audit(changed.book.base, MOVED).goals.money)


def test_a_desk_knows_the_plan_before_and_the_first_one_since_the_workbook_was_opened():
    desk, outcome = Desk("secret"), view().outcome
    desk.open(OpenedBook("book.xlsx", None, Book(base(), ())))
    said = []
    for plan in (ONE, MOVED, FEWER):
        desk.put(PLAN, desk.opened, replace(outcome, plan=plan))
        said.append(list(since_in_words(desk)))
    assert (plan_before(desk), plan_at_first(desk)) == (MOVED, ONE)
    assert said[0] == []
    same = "days past Latest in, cost and overload are the same"
    assert said[1][0].startswith(f"Since the plan before: 1 check in another slot; {same}. What")
    assert "Since the workbook was opened: 1 check in another slot, 1 check without" in said[2][0]
    desk.open(desk.opened)
    assert plan_at_first(desk) is None
