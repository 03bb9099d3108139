"""Re-plans, read back from their workbook and their text."""

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook

import capacity
from capacity import Settings
from capacity.facts import Base, Check, Package, Skill, Stage
from capacity.plans.plan import Plan
from capacity.questions.replan.move_costs import MoveCosts
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Cause, Change, Reason, Replanned, What
from capacity.reports.replan.text import replan_in_words
from capacity.reports.replan.wording import (
    proof_in_words,
    reason_in_words,
    saved_in_words,
    what_in_words,
)
from capacity.reports.replan.workbook import replan_workbook, write_replan_workbook
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, visit
from tests.reports.sheet_reading import KINDS_OF_COST, at, opened, row_of, table, texts

FEW = Settings(seconds=5)
PLAIN = MoveCosts(day_booked=5.0, day_option=5.0, bay=1.0, near=0.0, third_party=1.0)
BUSY = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))


def busy_base(*checks: Check) -> Base:
    """One bay, 70 regular man-hours a week and 7 of overtime; a busy visit asks 100."""
    base = stories.base(bays(1), *checks, skills=(Skill("Mechanic", 50.0, 0.1, 70.0, 0.0),))
    return base.replace(packages=(*base.packages, BUSY))


A = visit("A", 7, 0, 0, package="busy", customer="Marrow Airways", third_party=True)
B = visit("B", 3, 7, 13, early_cost_per_day=10.0)
C = visit("C", 2, 20, 20)


def plan_of(base: Base) -> Plan:
    found = planned(base)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def answer() -> Replanned:
    """A slips by four days, C is cancelled, N is new on the days where B stood."""
    old = busy_base(A, B, C)
    new = busy_base(replace(A, earliest_in=day(4), latest_in=day(4)), B, visit("N", 5, 12, 12))
    found = replan(new, plan_of(old), day(0), FEW, move_costs=PLAIN)
    assert isinstance(found, Replanned)
    return found


@pytest.fixture(scope="module")
def book(answer: Replanned) -> Workbook:
    """Its workbook, read again."""
    return opened(replan_workbook(answer))


def test_every_change_is_told_with_its_reason_and_price(answer: Replanned, book: Workbook) -> None:
    rows = table(book["Changes"])
    assert list(rows) == [change.check for change in answer.changes] == ["A", "B", "N", "C"]
    a, b, n, c = rows.values()
    assert (a["What"], a["In before"], a["In now"]) == ("another in day", at(0), at(4))
    assert a["Customer"] == "Marrow Airways"
    assert a["In later by (days)"] == 4
    assert a["Why"] == "its window slipped 4 days later than its old in day allows"
    assert a["Price of the move (EUR)"] == pytest.approx(4 * 5.0)
    assert (b["In before"], b["Why"]) == (at(13), "displaced by N")
    assert (n["What"], n["Bay before"], n["In later by (days)"]) == ("new", None, None)
    assert (c["What"], c["In before"], c["In now"]) == ("cancelled", at(20), None)
    assert c["Aircraft"] is None
    total = sum(float(str(row["Price of the move (EUR)"])) for row in rows.values())
    assert total == pytest.approx(answer.found.move_price)


def test_who_must_be_told_stands_beside_each_change(answer: Replanned, book: Workbook) -> None:
    rows = table(book["Changes"])
    assert rows["A"]["Tell customer"] == "Marrow Airways"
    assert (rows["A"]["Tell bays"], rows["A"]["Tell crews"]) == ("B1", "Day crew")
    assert rows["C"]["Tell customer"] == "customer and crews: see the workbook of the plan before"
    assert "  tell: Marrow Airways; bays B1; crews Day crew" in replan_in_words(answer)


def test_the_new_plan_is_written_whole_from_python(answer: Replanned, tmp_path: Path) -> None:
    base = answer.base
    for name in ("plan.xlsx", "plan.json", "bays.ics"):
        capacity.report(base, answer, tmp_path / name)
    slots = openpyxl.load_workbook(tmp_path / "plan.xlsx")["Slots"]
    assert {row[0] for row in slots.iter_rows(min_row=2, values_only=True)} >= {"A", "B", "N"}
    asked = capacity.read_plan(base, tmp_path / "plan.json")
    assert asked.plan.by_check() == answer.plan.by_check()
    assert b"END:VCALENDAR" in (tmp_path / "bays.ics").read_bytes()


def test_the_freeze_window_is_told_in_words() -> None:
    base = busy_base(A, B)
    plan = plan_of(base)
    late = busy_base(replace(A, earliest_in=day(4), latest_in=day(4)), B)
    for base_, days, words in (
        (base, 0, "Due today, so bay and in day stay (1): A."),
        (base, 20, "Due from today to Sun 24 Jan 2027, so bay and in day stay (2): A, B."),
        (late, 3, "A was due from today to Thu 7 Jan 2027 and cannot stay: its window slipped 4"),
    ):
        found = replan(base_, plan, day(0), FEW, move_costs=PLAIN, freeze_days=days)
        assert isinstance(found, Replanned)
        assert words in replan_in_words(found)
    nobody = replan(base, plan, day(1), FEW, move_costs=PLAIN, freeze_days=2)
    assert isinstance(nobody, Replanned)
    assert "No check is due from today to Thu 7 Jan 2027." in replan_in_words(nobody)


def test_goals_and_money_stand_side_by_side(answer: Replanned, book: Workbook) -> None:
    sheet = book["Re-plan"]
    kept, found = answer.kept, answer.found
    for label, values in (
        ("1. Days past Latest in", (kept.days_past, found.days_past)),
        ("2. Cost of the plan", (kept.money, found.money)),
        ("Prices of moves", (kept.move_price, found.move_price)),
        ("Cost of the plan", (kept.money, found.money)),
    ):
        assert row_of(sheet, label)[1:4] == pytest.approx([*values, values[1] - values[0]])
    assert sum(float(str(row_of(sheet, kind)[2])) for kind in KINDS_OF_COST) == pytest.approx(
        found.money
    )


def test_the_workbooks_hold_no_formula_and_the_caution(book: Workbook) -> None:
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert kinds <= {"s", "n", "d"}
    assert book.sheetnames[:4] == ["Overview", "Re-plan", "Changes", "Overload compared"]
    of_a_plan = ["Bay occupancy", "Slots", "Stages", "Man-hours", "Crew hours", "Settings"]
    assert set(of_a_plan) <= set(book.sheetnames)
    named = [row[0] for row in book["Overview"].iter_rows(values_only=True)]
    assert {"Re-plan", "Changes", "Overload compared"} <= set(named)
    assert any("licensed staff" in text for text in texts(book))


def test_the_text_says_what_moves_why_and_what_it_saves(answer: Replanned) -> None:
    text = replan_in_words(answer)
    assert "Re-plan of Textbook; today is Mon 4 Jan 2027" in text
    assert "4 checks changed." in text
    assert "A: another in day, 4 days later, counts as 20 EUR" in text
    assert "B1, in Mon 4 Jan 2027, out Mon 11 Jan 2027 -> B1, in Fri 8 Jan 2027" in text
    assert "why: displaced by N" in text
    assert "C: cancelled" in text
    assert "-> no slot" in text
    assert text.endswith("Have the plan checked before you promise a slot.")


def test_weeks_gone_by_are_no_news() -> None:
    """A overloads the first week in both plans; once it is over nobody can do anything."""
    busy = busy_base(A, B)
    answer = replan(busy, plan_of(busy), day(0), FEW, move_costs=PLAIN)
    assert isinstance(answer, Replanned)
    over = {load.week for load in answer.found.audit.weeks if load.overload > 0}
    assert over
    assert min(over) in replan_in_words(answer)
    later = replace(answer, today=day(28))
    assert not [week for week in over if week in replan_in_words(later)]
    assert not table(opened(replan_workbook(later))["Overload compared"])


def test_who_has_no_place_any_more_is_said_loudly() -> None:
    old = busy_base(A)
    closed = busy_base(A, visit("M", 30, 0, 0), visit("N", 30, 0, 0))
    found = replan(closed, plan_of(old), day(0), FEW, move_costs=PLAIN)
    assert isinstance(found, Replanned)
    missing = found.plan.not_placed
    assert missing
    text = replan_in_words(found)
    assert f"NO SLOT: {', '.join(missing)}" in text
    (told,) = (line for line in text.splitlines() if "in the way of its slots" in line)
    assert told.startswith("  why: it was not in the plan before; ")
    shown = opened(replan_workbook(found))["Re-plan"]
    (alarm,) = (str(c.value) for r in shown for c in r if str(c.value).startswith("No slot"))
    assert all(name in alarm for name in missing)


def test_who_comes_in_too_late_now_is_said_loudly() -> None:
    old = busy_base(A, B)
    # B can only come in behind A, which holds the bay up to day 11.
    new = busy_base(replace(A, earliest_in=day(4), latest_in=day(4)), replace(B, latest_in=day(9)))
    found = replan(new, plan_of(old), day(0), FEW, move_costs=PLAIN)
    assert isinstance(found, Replanned)
    said = "B: another in day, 2 days past Latest in, 2 days earlier"
    assert said in replan_in_words(found)
    rows = table(opened(replan_workbook(found))["Changes"])
    assert rows["B"]["Remarks"] == "2 days past Latest in"
    assert rows["A"]["Remarks"] is None


def test_with_nothing_changed_it_says_so(tmp_path: Path) -> None:
    base = busy_base(A)
    found = replan(base, plan_of(base), day(2), FEW, move_costs=PLAIN)
    assert isinstance(found, Replanned)
    assert "Nothing changes" in saved_in_words(found)
    path = tmp_path / "changes.xlsx"
    write_replan_workbook(found, path)
    book = openpyxl.load_workbook(path)
    assert not table(book["Changes"])
    assert "In already, so bay and in day stay (1): A." in texts(book)


@pytest.mark.parametrize(
    ("reason", "words"),
    [
        (Reason(Cause.NEW), "it was not in the plan before"),
        (Reason(Cause.CANCELLED), "no longer in the workbook"),
        (Reason(Cause.FIXED), "the workbook fixes it there"),
        (Reason(Cause.SLIPPED, days=-1), "slipped 1 day earlier"),
        (Reason(Cause.GREW, days=2, man_hours=40.0), "grew: 2 days longer, 40 h of work more"),
        (Reason(Cause.SHRANK, days=-1), "shrank: 1 day shorter"),
        (Reason(Cause.WORK), "its stages now have other days"),
        (Reason(Cause.LAPSED), "its Decide by has passed"),
        (Reason(Cause.HELD), "the workbook holds it there"),
        (Reason(Cause.DAY_OFF), "no longer come in, move or leave on days off"),
        (Reason(Cause.PLACE_GONE), "its old slot is gone"),
        (Reason(Cause.DISPLACED, by=("N", "M")), "displaced by N, M"),
        (Reason(Cause.CHEAPER, money=1500.0), "would cost 1,500 EUR more"),
        (Reason(Cause.FEWER_DAYS_PAST, days=3), "otherwise 3 days more past Latest in"),
        (Reason(Cause.PAST_LATEST_IN, days=3), "would be 3 days past its Latest in"),
        (Reason(Cause.IN_THE_WAY, by=("N", "M")), "N, M in the way of its slots"),
        (Reason(Cause.IN_THE_WAY), "no slot fits it"),
    ],
)
def test_each_reason_in_words(reason: Reason, words: str) -> None:
    assert words in reason_in_words(reason, busy_base())


def test_every_cause_and_every_difference_has_words() -> None:
    for cause in Cause:
        assert reason_in_words(Reason(cause, by=("N",), days=1, money=1.0), busy_base())
    for what in What:
        assert what_in_words(Change("A", (what,), (), (), 0, (), 0.0))
    lost = Change("A", (What.NEW, What.UNPLACED), (), (), 0, (), 0.0)
    assert what_in_words(lost) == "new, no slot"


@pytest.mark.parametrize(
    ("more_kept", "more_past", "words"),
    [
        (300.0, 0, "costs 300 EUR less;"),
        (-300.0, 0, "costs 300 EUR more;"),
        (-300.0, 2, "has 2 fewer days past Latest in and costs 300 EUR more;"),
        (0.0, 0, "costs as much and has as many days past Latest in;"),
    ],
)
def test_what_is_saved_in_words(
    answer: Replanned, more_kept: float, more_past: int, words: str
) -> None:
    goals = answer.found.audit.goals
    other = replace(
        goals,
        money=goals.money + more_kept,
        days_past_latest_in=goals.days_past_latest_in + more_past,
    )
    kept = replace(answer.found, audit=replace(answer.found.audit, goals=other))
    assert words in saved_in_words(replace(answer, kept=kept))


@pytest.mark.parametrize(
    ("bound", "gap", "words"),
    [
        (None, None, "no lower bound was proven"),
        (0.0, 0.0, "no plan comes to less."),
        (-100.0, 0.125, "could still save at most 100 EUR (12.5 %); this is proven."),
    ],
)
def test_what_is_proven_in_words(
    answer: Replanned, bound: float | None, gap: float | None, words: str
) -> None:
    total = answer.found.money + answer.found.move_price
    changed = replace(answer, bound=None if bound is None else total + bound, gap=gap)
    assert words in proof_in_words(changed)
