"""What changed since the plan before and since the workbook was opened."""

from dataclasses import replace

from capacity.inputs.book import Book
from capacity.plans.plan import Plan
from tests.ui.plans import base, stay, view
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook
from ui.desk.plan_job import PLAN, plan_at_first, plan_before
from ui.planner.since import change_in_words, moved_since, since_in_words

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


def test_a_desk_knows_the_plan_before_and_the_first_one_since_the_workbook_was_opened():
    desk, outcome = Desk("secret"), view().outcome
    desk.open(OpenedBook("book.xlsx", None, Book(base(), ())))
    said = []
    for plan in (ONE, MOVED, FEWER):
        desk.put(PLAN, desk.opened, replace(outcome, plan=plan))
        said.append(list(since_in_words(desk)))
    assert (plan_before(desk), plan_at_first(desk)) == (MOVED, ONE)
    assert said[0] == []
    assert said[1][0].startswith("Since the plan before: 1 check in another slot. What moved")
    assert "Since the workbook was opened: 1 check in another slot, 1 check without" in said[2][0]
    desk.open(desk.opened)
    assert plan_at_first(desk) is None
