"""Two plans side by side, read back from their workbook and their text."""

from pathlib import Path

import openpyxl
import pytest

from capacity.facts import Base, Check, Package, Skill, Stage, Status
from capacity.questions.compare.two_plans import Comparison, compare
from capacity.reports.compare.text import comparison_in_words
from capacity.reports.compare.workbook import comparison_workbook, write_comparison_workbook
from tests.plans.stories import placed, plan
from tests.reference import stories
from tests.reference.stories import bays, visit
from tests.reports.sheet_reading import at, opened, row_of, table, texts

BUSY = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))


def busy_base(*checks: Check) -> Base:
    """One bay, 70 regular man-hours a week and 7 of overtime; a busy visit asks 100."""
    base = stories.base(bays(1), *checks, skills=(Skill("Mechanic", 50.0, 0.1, 70.0, 0.0),))
    return base.replace(packages=(*base.packages, BUSY))


A = visit("A", 7, 0, 0, package="busy", customer="Marrow Airways", third_party=True)
B = visit("B", 3, 7, 13, early_cost_per_day=10.0)
C = visit("C", 2, 20, 20)


@pytest.fixture(scope="module")
def base() -> Base:
    """Three booked checks and an option in one bay."""
    return busy_base(A, B, C, visit("O", 2, 30, 30, status=Status.OPTION, price=500.0))


@pytest.fixture(scope="module")
def told(base: Base) -> Comparison:
    """A stands alike in both; B is later in the second, C is in the first alone, O in neither."""
    a, c = placed("A", 0, ("Work", 0, 7)), placed("C", 20, ("Work", 20, 22))
    first = plan(a, placed("B", 7, ("Work", 7, 10)), c, refused=("O",))
    second = plan(a, placed("B", 13, ("Work", 13, 16)), not_placed=("C",), refused=("O",))
    return compare(base, first, second)


def test_every_check_stands_side_by_side(told: Comparison, base: Base) -> None:
    rows = table(opened(comparison_workbook(told, base))["Slots"])
    assert {name: row["Differs in"] for name, row in rows.items()} == {
        "A": None,
        "B": "another in day",
        "C": "only in first plan",
        "O": "in neither",
    }
    b = rows["B"]
    assert (b["In in first plan"], b["In in second plan"]) == (at(7), at(13))
    assert b["In later by (days)"] == 6
    assert rows["C"]["In later by (days)"] is None
    assert rows["A"]["Customer"] == "Marrow Airways"


def test_money_of_both_and_the_difference(told: Comparison, base: Base) -> None:
    sheet = opened(comparison_workbook(told, base))["Overview"]
    # Six days before Latest in at 10 each; a check left out counts as eight days past.
    assert row_of(sheet, "Unused interval")[1:4] == [60, 0, -60]
    assert row_of(sheet, "1. Days past Latest in")[1:5] == [0, 8, 8, "days"]
    total = row_of(sheet, "Cost of the plan")
    assert total[1:4] == pytest.approx([told.first.goals.money, told.second.goals.money, -60.0])


def test_an_overload_that_is_gone_and_one_that_is_new(base: Base) -> None:
    # Seven days from day 4: 3 of them, and so 43 of 100 man-hours, in the first week; the
    # second has 57, and neither is over 77.
    first, second = plan(placed("A", 0, ("Work", 0, 7))), plan(placed("A", 4, ("Work", 4, 11)))
    for plans, remark in (((first, second), "gone"), ((second, first), "new")):
        told = compare(base, *plans)
        (row,) = table(opened(comparison_workbook(told, base))["Overload weeks"]).values()
        assert (row["Week"], row["Remarks"]) == ("2027-W01", remark)
        overloads = [row[f"Overload in {name} plan (h)"] for name in ("first", "second")]
        assert sorted(overloads) == [0, pytest.approx(23.0)]


def test_an_overload_that_stays_is_told_as_much(told: Comparison, base: Base) -> None:
    # 100 hours in a week of 70 and 7 of overtime, in both.
    (row,) = table(opened(comparison_workbook(told, base))["Overload weeks"]).values()
    assert (row["Week"], row["Remarks"]) == ("2027-W01", "the same")
    assert row["Overload in first plan (h)"] == pytest.approx(23.0)


def test_the_comparison_in_words(told: Comparison, base: Base) -> None:
    text = comparison_in_words(told, base)
    assert (
        "'second plan' has 8 more days past Latest in and costs 60 EUR less than 'first plan'."
        in text
    )
    assert "2 of 4 checks differ." in text
    assert "B: another in day" in text
    assert "C: only in first plan" in text
    assert "2027-W01  Mechanic        23 h -> 23 h  (the same)" in text
    assert text.endswith("Have the plan checked before you promise a slot.")
    same = compare(base, plan(placed("A", 0)), plan(placed("A", 0)))
    assert "Both plans have the same" in comparison_in_words(same, base)


def test_broken_rules_are_said_loudly(told: Comparison, base: Base) -> None:
    outside = plan(placed("A", 9, ("Work", 9, 16)), not_placed=("B", "C"), refused=("O",))
    broken = compare(base, outside, plan(not_placed=("A", "B", "C"), refused=("O",)))
    assert broken.first.broken
    (rule,) = broken.first.broken
    said = f"'first plan' BREAKS A RULE: {rule}"
    assert said in comparison_in_words(broken, base)
    assert said in texts(opened(comparison_workbook(broken, base)))
    assert not [t for t in texts(opened(comparison_workbook(told, base))) if "BREAKS" in t]


def test_plans_may_have_names_and_no_name_becomes_a_formula(
    told: Comparison, base: Base, tmp_path: Path
) -> None:
    path = tmp_path / "compared.xlsx"
    write_comparison_workbook(told, base, path, ("=first", "@second"))
    book = openpyxl.load_workbook(path)
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert {cell.data_type for cell in cells} <= {"s", "n", "d"}
    assert not [text for text in texts(book) if text[:1] in ("=", "+", "@", "-")]
    assert "'@second' has 8 more days" in comparison_in_words(told, base, ("=first", "@second"))
