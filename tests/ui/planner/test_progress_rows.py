"""Monday's progress: the stages in work by the plan, and what is told of them."""

from datetime import date, datetime

import pytest

from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable, TableRow
from capacity.plans.plan import Placement, Plan, StageDays
from tests.ui.ways_through import SAMPLES
from ui.desk.opened_workbook import opened_from_path, with_edits
from ui.planner.progress_rows import stages_in_work, told_in_grid, told_on, with_told

FRIDAY = date(2027, 1, 8)
HEADINGS = ("Check", "Stage", "As of", "Done %", "Hours booked", "Hours to go", "Finished")
KEYS = [("T1", "Open"), ("T1", "Repair"), ("T3", "Open")]


def jan(day: int) -> date:
    return date(2027, 1, day)


def sheet(*rows: tuple) -> SheetTable:
    """Return the sheet Progress with these rows under its headings, from row 2 on."""
    told = [{h: v for h, v in zip(HEADINGS, row, strict=False) if v is not None} for row in rows]
    return SheetTable(
        "Progress", HEADINGS, tuple(TableRow(n, row) for n, row in enumerate(told, start=2))
    )


@pytest.fixture(scope="module")
def opened():
    return opened_from_path(SAMPLES / "tiny.xlsx")


PLAN = Plan(
    (
        Placement("T1", "Bay 1", "Open", jan(4), jan(11), (
            StageDays("Open", jan(4), jan(5)), StageDays("Repair", jan(5), jan(8)),
            StageDays("Close", jan(8), jan(11)))),
        Placement("T3", "Bay 2", "Open", jan(7), jan(12), (
            StageDays("Open", jan(7), jan(8)), StageDays("Repair", jan(8), jan(11)),
            StageDays("Close", jan(11), jan(12)))),
        Placement("T2", "Bay 1", "Open", jan(11), jan(16), (StageDays("Open", jan(11), jan(12)),)),
    )
)  # fmt: skip


def keys(opened, progress: SheetTable, as_of: date = FRIDAY) -> list[tuple[str, str]]:
    return [row.key for row in stages_in_work(PLAN, opened.book.base, progress, as_of)]


def test_stages_begun_by_the_plan_are_in_work_until_they_are_told_to_be_done(opened):
    assert keys(opened, sheet()) == KEYS
    (first, _, last) = stages_in_work(PLAN, opened.book.base, sheet(), FRIDAY)
    assert (first.first, first.last, first.hours) == (jan(4), jan(4), 40)
    assert last.aircraft == "Q-TNYC"
    assert keys(opened, sheet(), jan(4)) == []
    assert keys(opened, sheet(("T1", "Open", datetime(2027, 1, 6), 100))) == KEYS[1:]
    assert keys(opened, sheet(("T1", "Open", jan(6), None, None, None, jan(5)))) == KEYS[1:]
    assert keys(opened, sheet(("T1", "Open", jan(6), 100, None, 8))) == KEYS
    assert keys(opened, sheet(("T1", None, jan(6), 100))) == KEYS[2:]
    # Told on the day itself it is still shown: it may be corrected.
    assert keys(opened, sheet(("T1", "Open", FRIDAY, 100))) == KEYS


def test_a_stage_begun_early_and_what_was_told_last_are_shown(opened):
    progress = sheet(("T3", "Repair", jan(7), 10, 12), ("T1", "Repair", jan(5), 20, 30, 90),
                     ("T1", "Repair", jan(6), 40))  # fmt: skip
    rows = stages_in_work(PLAN, opened.book.base, progress, FRIDAY)
    assert {row.key: row.told for row in rows} == {
        ("T1", "Open"): "",
        ("T1", "Repair"): "40 % done as of Wed 6 Jan 2027",
        ("T3", "Open"): "",
        ("T3", "Repair"): "10 % done, 12 h booked as of Thu 7 Jan 2027",
    }


def test_a_check_of_which_nobody_says_that_it_left_is_asked_about_for_two_weeks(opened):
    assert ("T1", "Close") in keys(opened, sheet(), jan(25))
    assert ("T1", "Close") not in keys(opened, sheet(), jan(26))


def test_what_is_typed_becomes_rows_of_the_sheet_and_can_be_taken_back(opened):
    rows = stages_in_work(PLAN, opened.book.base, sheet(), FRIDAY)
    told = told_in_grid(rows, {}, {"edited_rows": {"1": {"Done %": 40, "Hours booked": 75},
                                                   "0": {"Finished": "2027-01-05"}}})  # fmt: skip
    edit = with_told(sheet(), SheetEdit("Progress"), FRIDAY, told)
    assert edit.added == (
        {"Check": "T1", "Stage": "Repair", "As of": FRIDAY, "Done %": 40, "Hours booked": 75},
        {"Check": "T1", "Stage": "Open", "As of": FRIDAY, "Finished": jan(5)},
    )
    changed = with_edits(opened, [edit])
    assert [row.what for row in changed.book.messages if row.level == "error"] != []  # of later
    again = told_in_grid(rows, told, {"edited_rows": {1: {"Done %": 50}}})
    more = with_told(sheet(), edit, FRIDAY, again)
    assert more.added[0] == {**edit.added[0], "Done %": 50}
    assert len(more.added) == 2
    blank = told_in_grid(rows, again, {"edited_rows": {1: {"Done %": None, "Hours booked": None}}})
    assert with_told(sheet(), more, FRIDAY, blank).added == edit.added[1:]


def test_a_row_of_that_day_that_is_in_the_sheet_is_changed_and_no_other_added(opened):
    progress = sheet(("T1", "Repair", datetime(2027, 1, 8), 40, 75), ("T1", "Repair", jan(6), 20))
    assert told_on(progress, FRIDAY) == {
        ("T1", "Repair"): {"Done %": 40, "Hours booked": 75, "Hours to go": None, "Finished": None}
    }
    rows = stages_in_work(PLAN, opened.book.base, progress, FRIDAY)
    changes = {"edited_rows": {1: {"Done %": 50}}}
    told = told_in_grid(rows, told_on(progress, FRIDAY), changes)
    edit = with_told(progress, SheetEdit("Progress"), FRIDAY, told)
    assert edit == SheetEdit("Progress", {2: {"Done %": 50}})
    back = told_in_grid(rows, told_on(progress, FRIDAY), {"edited_rows": {1: {"Done %": 40}}})
    assert with_told(progress, edit, FRIDAY, back).is_empty
    # In a row that was removed nothing is told any more: it is told anew.
    gone = with_told(progress, SheetEdit("Progress", removed=frozenset({2})), FRIDAY, told)
    assert [row["Done %"] for row in gone.added] == [50]
