"""What is told in sentences, with the cells that a planner looks at."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from capacity import InputError
from capacity.cells import cells
from capacity.facts import Base, Closure, Equipment, EquipmentOutage, ReadyDate, Shop
from capacity.inputs import read_book
from capacity.plans.plan import Plan
from capacity.questions.conflicts.confirmed import UNKNOWN
from capacity.questions.conflicts.values import Conflict, Conflicts, FewestDays, WayOut
from capacity.questions.conflicts.ways_wording import way_text
from capacity.questions.conflicts.wording import conflict_sentences, rule_text
from capacity.questions.why.explain import explain
from capacity.settings import Settings
from capacity.slots.rules.alone_stages import ALONE
from capacity.slots.rules.bay_days import CHANGEOVER, FURTHER_BAY, ONE_AT_A_TIME, SHORTER_CHANGEOVER
from capacity.slots.rules.changes import Change
from capacity.slots.rules.closures import CLOSES_LATER, CLOSURE, OPEN_AGAIN, OPENS_SOONER
from capacity.slots.rules.days_off import DAYS_OFF
from capacity.slots.rules.equipment import EQUIPMENT, IN_USE_AGAIN, MORE_EQUIPMENT, OUTAGE
from capacity.slots.rules.families import kinds
from capacity.slots.rules.floor_shared import FLOOR
from capacity.slots.rules.held import HELD
from capacity.slots.rules.longest_wait import LONGER_WAIT, WAIT
from capacity.slots.rules.moves_on_days_off import DAY_OFF_IN, DAY_OFF_OUT
from capacity.slots.rules.period import MORE_WEEKS, PERIOD
from capacity.slots.rules.ready_dates import PART_EARLIER, READY
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.shop_windows import FASTER_SHOP, SHOP
from capacity.slots.rules.ways_clear import WAY
from capacity.slots.rules.windows import (
    EARLIER,
    EXTENDED,
    FIXED_PLACE,
    GIVEN_UP,
    LATER,
    LATEST_IN,
    OTHER_BAY,
    OTHER_DAY,
    WINDOW,
)
from capacity.words import hours, listed, money
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit


def where(sheet: str, name: str, column: str) -> str:
    """Give cells as a workbook would, one row a name."""
    letters = {"Earliest in": "H", "Latest in": "I", "Fixed bay": "P", "Fixed in": "Q"}
    letters |= {"Not before": "C"}
    letters |= {"From": "B", "To": "C", "Reached through": "H", "Shares floor with": "I"}
    row = int(name[1:]) + 1 if name.startswith("#") else 5
    return f"{sheet}!{letters.get(column, 'A')}{row}"


def rich_base() -> Base:
    outer, inner = bays(2, changeover_days=2)
    inner = replace(inner, reached_through="B1", shares_floor_with=frozenset({"B1"}))
    return stories.base(
        (outer, inner),
        visit("C1", 5, 0, 4),
        fixed("C3", 5, 3, "B1", latest_in=day(1)),
        visit("H1", 5, 2, 9, held_in=day(2), held_bay="B2"),
        closures=(
            Closure("B2", day(30), day(31)),
            Closure("B1", day(1), day(3), "floor repaired"),
        ),
        equipment=(Equipment("Jack set", 2),),
        equipment_outages=(EquipmentOutage("Jack set", day(0), day(2), 1),),
        shops=(Shop("Wheels", 1.5),),
        ready_dates=(ReadyDate("C1", "Work", day(2), "part"),),
    )


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        (
            Rule(WINDOW, "C1"),
            "the window of C1, in from Mon 4 Jan 2027 to Fri 8 Jan 2027 (Checks!H5:I5); B1 or B2 "
            "can hold it",
        ),
        (
            Rule(FIXED_PLACE, "C3"),
            "the fixed bay and day of C3, B1 on Thu 7 Jan 2027 (Checks!P5:Q5)",
        ),
        (Rule(LATEST_IN, "C3"), "the Latest in of C3, Tue 5 Jan 2027 (Checks!I5)"),
        (Rule(ONE_AT_A_TIME, "B1"), "one aircraft at a time in B1 (Bays!A5)"),
        (Rule(CHANGEOVER, "B1"), "2 days between two aircraft in B1 (Bays!A5)"),
        (
            Rule(CLOSURE, "B1", row=1),
            "the closure of B1 from Tue 5 Jan 2027 to Thu 7 Jan 2027, floor repaired "
            "(Bay closures!B3:C3)",
        ),
        (Rule(WAY, "B2", "B1"), "B2 is reached through B1 (Bays!H5)"),
        (Rule(FLOOR, "B1", "B2"), "B1 and B2 share floor (Bays!I5)"),
        (Rule(EQUIPMENT, "Jack set"), "2 x Jack set (Equipment!A5)"),
        (
            Rule(OUTAGE, "Jack set", row=0),
            "1 x Jack set out of use from Mon 4 Jan 2027 to Wed 6 Jan 2027 "
            "(Equipment outages!B2:C2)",
        ),
        (Rule(SHOP, "Wheels"), "1.5 items a day in Wheels (Shops!A5)"),
        (
            Rule(PERIOD, "Weeks"),
            "no check comes in after Sun 14 Mar 2027, the end of the 10 weeks planned (Base!A5)",
        ),
        (
            Rule(DAYS_OFF, "Working days"),
            "the base does not work every day: Working days (Base!A5)",
        ),
        (Rule(HELD, "H1"), "H1 is held in B2 on Wed 6 Jan 2027 (Checks!A5)"),
        (
            Rule(DAY_OFF_IN, "Moves on days off"),
            "no aircraft comes in on a day off (Base!A5)",
        ),
        (
            Rule(DAY_OFF_OUT, "Moves on days off"),
            "an aircraft keeps its bay over days off, until the next worked day (Base!A5)",
        ),
        (
            Rule(WAIT, "Longest wait days"),
            "an aircraft waits up to 3 days for its next bay or its turn at a shop (Base!A5)",
        ),
        (Rule(ALONE, "P", "Swing"), "'Swing' of P is done alone (Packages!A5)"),
        (
            Rule(READY, "C1", "Work", row=0),
            "'Work' of C1 not before Wed 6 Jan 2027 (part) (Ready dates!C2)",
        ),
        (UNKNOWN, "some rule that this explanation does not know"),
    ],
    ids=lambda value: value.kind.name if isinstance(value, Rule) else "",
)
def test_a_rule_is_told_with_its_cells(rule: Rule, text: str) -> None:
    assert rule_text(rule, rich_base(), where) == text


def test_every_kind_of_rule_has_words() -> None:
    (mark,) = test_a_rule_is_told_with_its_cells.pytestmark
    assert {rule.kind for rule, _ in mark.args[1]} == kinds() | {UNKNOWN.kind}


@pytest.mark.parametrize(
    ("change", "rule", "amount", "start"),
    [
        (
            LATER,
            Rule(WINDOW, "C1"),
            3,
            "bring C1 in up to 3 days past its Latest in (by Mon 11 Jan 2027), only with an "
            "approved extension (Checks!I5); fewer do not help.",
        ),
        (
            EARLIER,
            Rule(WINDOW, "C1"),
            1,
            "let C1 come in 1 day earlier, from Sun 3 Jan 2027 (Checks!H5)",
        ),
        (
            OTHER_DAY,
            Rule(FIXED_PLACE, "C3"),
            -2,
            "fix C3 2 days earlier, on Tue 5 Jan 2027 (Checks!Q5)",
        ),
        (OTHER_BAY, Rule(FIXED_PLACE, "C3"), 1, "fix C3 in B2 (Checks!P5)."),
        (
            EXTENDED,
            Rule(LATEST_IN, "C3"),
            2,
            "have the Latest in of C3 extended by 2 days (Checks!I5)",
        ),
        (GIVEN_UP, Rule(WINDOW, "C1"), 1, "leave out C1 (Checks!A5)."),
        (
            OPENS_SOONER,
            Rule(CLOSURE, "B1", row=1),
            1,
            "end the closure of B1 1 day earlier, on Wed 6 Jan 2027 (Bay closures!C3)",
        ),
        (
            CLOSES_LATER,
            Rule(CLOSURE, "B1", row=1),
            1,
            "begin the closure of B1 1 day later, on Wed 6 Jan 2027 (Bay closures!B3)",
        ),
        (
            OPEN_AGAIN,
            Rule(CLOSURE, "B1", row=1),
            1,
            "do without the closure of B1 (Bay closures!B3:C3).",
        ),
        (
            SHORTER_CHANGEOVER,
            Rule(CHANGEOVER, "B1"),
            1,
            "make the changeover in B1 1 day shorter (Bays!A5)",
        ),
        (
            IN_USE_AGAIN,
            Rule(OUTAGE, "Jack set", row=0),
            1,
            "put off the outage of Jack set (Equipment outages!B2:C2).",
        ),
        (
            MORE_EQUIPMENT,
            Rule(EQUIPMENT, "Jack set"),
            1,
            "have 1 x Jack set more (Equipment!A5)",
        ),
        (
            PART_EARLIER,
            Rule(READY, "C1", "Work", row=0),
            1,
            "get part for 'Work' of C1 1 day earlier, by Tue 5 Jan 2027 (Ready dates!C2)",
        ),
        (
            FASTER_SHOP,
            Rule(SHOP, "Wheels"),
            2,
            "turn round 2 items a day more in Wheels (Shops!A5)",
        ),
        (
            MORE_WEEKS,
            Rule(PERIOD, "Weeks"),
            2,
            "plan 2 weeks more (Base!A5); fewer do not help.",
        ),
        (
            LONGER_WAIT,
            Rule(WAIT, "Longest wait days"),
            2,
            "let aircraft wait up to 5 days for a bay or a shop (Base!A5); fewer do not help.",
        ),
        (
            FURTHER_BAY,
            Rule(ONE_AT_A_TIME, "B1"),
            1,
            "have one more bay like B2 (Bays!A5), with a way of its own.",
        ),
    ],
    ids=lambda value: value.name if isinstance(value, Change) else "",
)
def test_a_way_out_is_told_with_what_its_plan_costs(
    change: Change, rule: Rule, amount: int, start: str
) -> None:
    base = rich_base()
    way = WayOut(change, rule, amount, 0, True, base, Plan(()), 3, 1234.4, 1200.0, "B2")
    text = way_text(way, base, where)
    assert text.startswith(start)
    assert text.endswith(
        "The plan found with it has 3 days past Latest in and costs 1,234 EUR, not less than "
        "1,200 EUR."
    )
    punctual = replace(way, days_past=0, bound=1234.4, is_least=False)
    assert way_text(punctual, base, where).endswith("The plan found with it costs 1,234 EUR.")
    doubtful = "whether fewer help is not proven" in way_text(punctual, base, where)
    assert doubtful is ("fewer do not help" in text)


def test_a_conflict_says_that_no_smaller_part_conflicts() -> None:
    base = stories.base(bays(1), visit("A", 5, 6, 6), visit("B", 5, 8, 9))
    lines = explain(base, settings=Settings(seconds=20), where=where).sentences
    assert lines[0] == (
        "It is proven impossible that all fixed and booked checks come in by their Latest in."
    )
    assert lines[1] == "These conflict with each other:"
    assert lines[5] == (
        "No smaller part of it conflicts: without any one of these, the others can hold."
    )
    assert lines[6] == "Each of these alone is a way out, solved and audited:"
    assert lines[7].startswith("  1. bring B in up to 2 days past its Latest in")
    assert lines[-1] == (
        "If only the windows give way, the fewest days past Latest in found are 2 in all "
        "(late B by 2 days); fewer are proven impossible."
    )


def test_doubt_is_told_as_doubt() -> None:
    base = rich_base()
    rules = (Rule(WINDOW, "C1"), Rule(ONE_AT_A_TIME, "B1"))
    conflict = Conflict(rules, False, (), ((LATER, rules[0]),))
    fewest = FewestDays(9, 4, (), ("C1",))
    found = Conflicts(("C1",), False, False, (conflict,), all_told=False, fewest_days=fewest)
    text = "\n".join(conflict_sentences(found, base))
    assert "A smaller part of it may already conflict; that was not proven" in text
    assert "No smaller part" not in text
    assert "Not settled in the time given: 'comes in later' of C1." in text
    assert "There are, or may be, more conflicts than these" in text
    assert "no slot for C1); at least 4 days are unavoidable" in text
    unknown = conflict_sentences(replace(found, possible=None, conflicts=()), base)
    assert unknown[0].startswith("It was not proven in the time given whether")
    assert len(unknown) == 1


def test_two_changes_at_once_are_not_tried_and_that_is_said() -> None:
    conflict = Conflict((Rule(WINDOW, "C1"), Rule(ONE_AT_A_TIME, "B1")), True)
    found = Conflicts(("C1",), True, False, (conflict,))
    text = "\n".join(conflict_sentences(found, rich_base()))
    assert "more than one has to change" in text
    assert "It is proven impossible that the fixed checks do not conflict with each other." in text


def test_a_plan_that_leaves_somebody_out_in_vain_is_told_so() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 2), visit("B", 5, 8, 9))
    plan = planned(base)
    assert plan is not None
    without = replace(
        plan,
        placements=tuple(p for p in plan.placements if p.check == "A"),
        not_placed=("B",),
    )
    told = explain(base, without, Settings(seconds=10))
    assert told.conflicts is not None
    assert told.conflicts.possible
    assert "So this plan is not the best one in this respect: search longer." in told.sentences
    assert [why.check for why in told.whys] == ["B"]


def test_a_plan_that_keeps_all_windows_has_no_conflict_to_tell() -> None:
    base = stories.base(
        bays(1), visit("A", 5, 0, 2), visit("B", 5, 8, 9, agreed_out=day(9), late_cost_per_day=5.0)
    )
    told = explain(base, planned(base), Settings(seconds=10))
    assert told.conflicts is None
    assert [why.check for why in told.whys] == ["B"]  # out late


def test_a_check_is_asked_about_within_a_plan_only() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 2))
    with pytest.raises(ValueError, match="give the plan"):
        explain(base, check="A")
    with pytest.raises(InputError, match="'A2' is not a check in the workbook"):
        explain(base, planned(base), check="A2")


def test_a_real_workbook_is_told_in_its_own_cells() -> None:
    book = read_book(Path(__file__).parents[3] / "sample_inputs" / "tiny.xlsx")
    assert book.base is not None
    base = book.base
    name = next(check.name for check in base.checks if check.status == "booked")
    text = rule_text(Rule(WINDOW, name), base, book.where)
    assert re.search(r"\(Checks!([A-Z]+)(\d+):[A-Z]+\2\)", text)


def test_words() -> None:
    assert cells(where, "Checks", "C1", "Latest in") == "(Checks!I5)"
    assert cells(lambda *_: "Checks", "Checks", "C1", "Earliest in", "Latest in") == "(Checks)"
    assert (hours(9.94), hours(12.6), listed(["a", "b", "c"])) == ("9.9 h", "13 h", "a, b and c")
    assert money(-0.2, rich_base()) == "0 EUR"
