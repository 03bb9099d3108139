"""What the plan workbook and the terminal say of levelled man-hours, against hours by hand.

The plan by hand is that of ``tests/levelled_plan.py``; the other is searched for in the
tiny sample.
"""

import io
import math
import zipfile
from collections import defaultdict
from pathlib import Path

import openpyxl
import pytest

import capacity
from capacity.plans.audit import audit
from capacity.plans.levelled import levelling_of, spread_evenly
from capacity.plans.moved_hours import moved_hours
from capacity.reports import describe
from capacity.reports.plan.largest_moves import LARGEST, largest_moves
from capacity.reports.plan.moved_words import in_words, why_moved
from capacity.reports.plan.view import view_of
from capacity.reports.plan.workbook import plan_workbook
from tests.levelled_plan import (
    MOVED,
    SAVED,
    W01,
    W02,
    W03,
    WOULD_BUY,
    even_outcome,
    levelled_base,
    levelled_outcome,
)

SAMPLES = Path(__file__).parents[3] / "sample_inputs"
OF_STAGES = {
    "Levelled man-hours (h)",
    "In another week than if spread evenly (h)",
    "Where they lie",
}
OF_WEEKS = {
    "Demand spread evenly (h)",
    "Moved in (+) or out (-) by levelling (h)",
    "Bought if spread evenly (h)",
    "Saved by levelling (EUR)",
}


def rows(book, sheet: str) -> list[dict[str, object]]:
    headings, *lines = book[sheet].iter_rows(values_only=True)
    return [dict(zip(headings, line, strict=True)) for line in lines if any(line)]


def book_of(outcome, base=None):
    content = plan_workbook(base or levelled_base(), outcome, ())
    return openpyxl.load_workbook(io.BytesIO(content))


def overview(book) -> dict[object, object]:
    return {row[0]: row[1] for row in book["Overview"].iter_rows(values_only=True) if row[0]}


@pytest.fixture(scope="module")
def book():
    return book_of(levelled_outcome())


def test_stages_tell_where_their_hours_lie(book):
    first, second = rows(book, "Stages")
    assert first["Levelled man-hours (h)"] == 100
    assert first["In another week than if spread evenly (h)"] == pytest.approx(20)
    assert first["Where they lie"] == (
        "Mechanic: 60 h in 2027-W01 (evenly 40 h), 40 h in 2027-W02 (evenly 60 h)"
    )
    assert second["In another week than if spread evenly (h)"] == pytest.approx(10)


def test_weeks_stand_beside_those_of_the_even_spread(book):
    found = {row["Week"]: row for row in rows(book, "Man-hours")}
    demand = {week: found[week]["Demand (h)"] for week in (W01, W02, W03)}
    even = {week: found[week]["Demand spread evenly (h)"] for week in (W01, W02, W03)}
    assert demand == pytest.approx({W01: 60, W02: 70, W03: 70})
    assert even == pytest.approx({W01: 40, W02: 100, W03: 60})
    moved = [row["Moved in (+) or out (-) by levelling (h)"] for row in found.values()]
    assert moved[:3] == pytest.approx([20, -30, 10])
    assert math.fsum(moved) == pytest.approx(0, abs=1e-9)
    would_buy = {week: row["Bought if spread evenly (h)"] for week, row in found.items()}
    assert would_buy[W02] == pytest.approx(WOULD_BUY)
    assert math.fsum(would_buy.values()) == pytest.approx(WOULD_BUY)
    saved = {week: row["Saved by levelling (EUR)"] for week, row in found.items()}
    assert saved[W02] == pytest.approx(SAVED)
    assert math.fsum(saved.values()) == pytest.approx(SAVED)


def test_the_largest_moves_stand_on_the_overview_with_their_reasons(book):
    lines = list(book["Overview"].iter_rows(values_only=True))
    top = next(number for number, line in enumerate(lines) if line[0] == LARGEST)
    assert lines[top + 1][:6] == ("Check", "Aircraft", "Skill", "Stage", "Hours moved", "Why")
    first, second = lines[top + 2 : top + 4]
    assert (first[0], *first[2:5]) == (
        "C1",
        "Mechanic",
        "Work",
        "20 h brought forward from 2027-W02 to 2027-W01",
    )
    assert "would have bought 30 h (contract 16 h and overtime 14 h) for 2,120 EUR" in first[5]
    assert (second[0], second[4]) == ("C2", "10 h put off from 2027-W02 to 2027-W03")
    assert not any(lines[top + 4])


def test_only_so_many_moves_are_told_the_largest_first():
    view = view_of(levelled_base(), levelled_outcome(), ())
    assert [move.check for move in largest_moves(view)] == ["C1", "C2"]
    assert [move.check for move in largest_moves(view, most=1)] == ["C1"]
    assert largest_moves(view_of(levelled_base(), even_outcome(), ())) == ()


@pytest.mark.parametrize(("outcome", "lines"), [(levelled_outcome, 1), (even_outcome, 0)])
def test_a_thin_line_in_the_charts_is_the_demand_spread_evenly(outcome, lines):
    content = plan_workbook(levelled_base(), outcome(), ())
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        chart = parts.read("xl/charts/chart1.xml").decode()
    assert chart.count("<c:v>demand, spread evenly</c:v>") == lines
    # Its figures stand in the column of that heading, in the rows of the skill.
    sheet = openpyxl.load_workbook(io.BytesIO(content))["Man-hours"]
    columns = {cell.value: cell.column_letter for cell in sheet[1]}
    if lines:
        column = columns["Demand spread evenly (h)"]
        assert f"'Man-hours'!${column}$2:${column}$" in chart


def test_overview_and_terminal_tell_what_it_saves(book):
    told = overview(book)
    assert told["Hours in another week than if spread evenly (h)"] == MOVED
    assert told["That saves in the same slots (EUR)"] == SAVED
    assert (
        "30 h of work lie in another week than if spread evenly; in the same "
        "slots that saves 2,120 EUR." in describe(levelled_base(), levelled_outcome())
    )


def test_a_plan_spread_evenly_has_no_word_of_levelling():
    book = book_of(even_outcome())
    assert not OF_STAGES & set(rows(book, "Stages")[0])
    assert not OF_WEEKS & set(rows(book, "Man-hours")[0])
    assert "Hours in another week than if spread evenly (h)" not in overview(book)
    assert LARGEST not in overview(book)
    assert "evenly" not in describe(levelled_base(), even_outcome())


def test_a_levelled_workbook_differs_by_its_columns_alone_in_the_same_slots(book):
    for sheet, more in (("Stages", OF_STAGES), ("Man-hours", OF_WEEKS)):
        levelled, even = rows(book, sheet)[0], rows(book_of(even_outcome()), sheet)[0]
        assert [heading for heading in levelled if heading not in more] == list(even)
        assert set(levelled) - set(even) == more


def test_moves_say_from_which_week_to_which_and_why():
    base, outcome = levelled_base(), levelled_outcome()
    levelling = levelling_of(outcome.plan, base, outcome.audit)
    forward, later = moved_hours(levelling.weeks)
    assert in_words(forward) == "20 h brought forward from 2027-W02 to 2027-W01"
    assert in_words(later) == "10 h put off from 2027-W02 to 2027-W03"
    assert why_moved(forward, levelling.evenly, outcome.audit, base) == (
        "Spread evenly, 2027-W02 would have bought 30 h (contract 16 h and overtime 14 h) for "
        "2,120 EUR; it buys nothing now. 2027-W01 had room for 30 h within regular hours; it buys "
        "nothing now."
    )


@pytest.fixture(scope="module")
def searched(tmp_path_factory):
    """The tiny sample with a peak and float for all its stages, planned."""
    book = openpyxl.load_workbook(SAMPLES / "tiny.xlsx")
    book["Base"].append(["Daily peak %", 150])
    book["Base"].append(["Into float", "yes"])
    path = tmp_path_factory.mktemp("levelled") / "tiny.xlsx"
    book.save(path)
    base = capacity.read(path)
    return base, capacity.plan(base, capacity.Settings(seconds=10))


def test_hours_of_a_searched_plan_add_up_and_nothing_is_lost_or_made(searched):
    base, outcome = searched
    levelling = levelling_of(outcome.plan, base, outcome.audit)
    assert levelling is not None
    sums: dict[object, list[float]] = defaultdict(list)
    moved: dict[object, list[float]] = defaultdict(list)
    for one in levelling.weeks:
        sums[one.check, one.stage, one.skill].append(one.hours)
        moved[base.check(one.check).package, one.skill].append(one.moved)
    for (name, stage_name, skill), hours in sums.items():
        package = base.package(base.check(name).package)
        stage = next(s for s in package.stages if s.name == stage_name)
        # The sample has neither a findings factor nor work begun: hours with their findings.
        expected = stage.man_hours[skill] * (1 + stage.findings)
        assert math.fsum(hours) == pytest.approx(expected, abs=1e-6)
    for amounts in moved.values():
        assert math.fsum(amounts) == pytest.approx(0, abs=1e-6)
    moves = moved_hours(levelling.weeks)
    assert math.fsum(move.hours for move in moves) == pytest.approx(levelling.moved, abs=1e-4)


def test_what_levelling_saves_is_what_the_audit_of_the_even_plan_costs_more(searched):
    base, outcome = searched
    even = audit(base, spread_evenly(outcome.plan)).goals.money
    told = overview(book_of(outcome, base))
    saved = told["That saves in the same slots (EUR)"]
    assert saved == pytest.approx(even - outcome.audit.goals.money, abs=0.005)
    assert saved > 0
    by_week = [row["Saved by levelling (EUR)"] for row in rows(book_of(outcome, base), "Man-hours")]
    assert math.fsum(by_week) == pytest.approx(saved, abs=0.005)
