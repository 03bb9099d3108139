"""From cells to an editable table and back: nothing is lost, nothing is made up."""

from datetime import date, datetime

import pytest

from capacity.inputs.reading.edited_copy import SheetTable, TableRow
from capacity.messages import Level
from tests.ui.ways_through import SAMPLES
from ui.desk.opened_workbook import opened_from_bytes, opened_from_path, tables_of, with_edits
from ui.planner.editing import (
    EDITED_SHEETS,
    SHEETS_OF_CHOICES,
    Kind,
    choices_of,
    edit_from,
    edit_table,
    edits_in_words,
)

CHOICES = {"Status": ("fixed", "booked", "option"), "Type": ("T30", "T40")}


def table(*rows: dict[str, object], headings=("Check", "Type", "Status", "Latest in", "Price")):
    numbered = tuple(TableRow(number, row) for number, row in enumerate(rows, start=2))
    return edit_table(SheetTable("Checks", headings, numbered), CHOICES)


def kinds(edited) -> dict[str, Kind]:
    return {column.heading: column.kind for column in edited.columns}


def test_columns_are_edited_as_what_they_hold():
    edited = table({"Check": "C1", "Type": "T30", "Status": "booked",
                    "Latest in": datetime(2027, 1, 9), "Price": 5})  # fmt: skip
    assert kinds(edited) == {
        "Check": Kind.TEXT, "Type": Kind.CHOICE, "Status": Kind.CHOICE,
        "Latest in": Kind.DATE, "Price": Kind.NUMBER,
    }  # fmt: skip
    assert edited.rows[0]["Latest in"] == date(2027, 1, 9)


def test_what_does_not_fit_its_column_can_still_be_seen_and_corrected():
    edited = table(
        {"Check": 7.0, "Type": "T99", "Status": "Booked?", "Latest in": "soon", "Price": "dear"}
    )
    assert set(kinds(edited).values()) == {Kind.TEXT}
    assert edited.rows[0] == {
        "Check": "7", "Type": "T99", "Status": "Booked?", "Latest in": "soon", "Price": "dear"
    }  # fmt: skip


def test_a_correction_of_a_text_becomes_the_date_or_number_that_it_should_be():
    edited = table({"Check": "C1", "Latest in": "soon", "Price": "dear"})
    changed = edit_from(edited, {"edited_rows": {0: {"Latest in": "2027-01-09", "Price": "5.5"}}})
    assert changed.changed == {2: {"Latest in": date(2027, 1, 9), "Price": 5.5}}


def test_changes_are_told_by_the_rows_of_the_sheet():
    edited = table({"Check": "C1"}, {"Check": "C2"}, {"Check": "C3"})
    changed = edit_from(
        edited,
        {
            "edited_rows": {"1": {"Latest in": "2027-02-01T00:00:00.000", "Price": None}},
            "added_rows": [{"Check": "C4", "Price": 3}, {}, {"Type": None}],
            "deleted_rows": [2],
        },
    )
    assert changed.changed == {3: {"Latest in": date(2027, 2, 1), "Price": None}}
    assert changed.added == ({"Check": "C4", "Price": 3},)
    assert changed.removed == frozenset({4})
    assert not changed.is_empty
    assert edits_in_words([changed]) == "1 row changed, 1 row added, 1 row removed"


def test_a_row_that_is_changed_and_then_deleted_is_deleted():
    edited = table({"Check": "C1"})
    changed = edit_from(edited, {"edited_rows": {0: {"Price": 3}}, "deleted_rows": [0]})
    assert (changed.changed, changed.removed) == ({}, frozenset({2}))


LONG = "\U00010400" * 90 + ".xlsx"
"""90 letters of four bytes each."""


@pytest.mark.parametrize(
    "nothing", [{}, {"edited_rows": {}, "added_rows": [], "deleted_rows": []}, {"added_rows": [{}]}]
)
def test_no_change_is_none(nothing):
    edit = edit_from(table({"Check": "C1"}), nothing)
    assert edit.is_empty
    assert edits_in_words([edit]) == ""


@pytest.mark.parametrize("name", ["tiny.xlsx", "quarter.xlsx", "broken.xlsx"])
def test_every_sample_can_be_edited(name):
    opened = opened_from_path(SAMPLES / name)
    found = tables_of(opened.name, opened.content, (*EDITED_SHEETS, *SHEETS_OF_CHOICES))
    choices = choices_of(found)
    assert choices["Fixed bay"] == choices["Bay"]
    assert [edit_table(t, choices).sheet for t in found[: len(EDITED_SHEETS)]] == list(EDITED_SHEETS)


def test_a_change_in_the_table_comes_out_of_the_reader_and_leaves_the_opened_bytes_alone():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    before = bytes(opened.content)
    found = tables_of(opened.name, opened.content, (*EDITED_SHEETS, *SHEETS_OF_CHOICES))
    checks = edit_table(found[0], choices_of(found))
    changed = with_edits(opened, [edit_from(checks, {"edited_rows": {3: {"Price": 9000}}})])
    assert changed.book.base.checks[3].price == 9000
    assert (changed.is_edited, opened.is_edited) == (True, False)
    assert opened.content == before


def test_a_change_that_spoils_the_workbook_is_found_with_its_cell():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    found = tables_of(opened.name, opened.content, (*EDITED_SHEETS, *SHEETS_OF_CHOICES))
    checks = edit_table(found[0], choices_of(found))
    changed = with_edits(opened, [edit_from(checks, {"edited_rows": {1: {"Type": "No such"}}})])
    assert changed.book.base is None
    assert [f.where for f in changed.book.messages if f.level is Level.ERROR] == ["Checks!C3"]


@pytest.mark.parametrize(
    "name",
    [
        "../../etc/passwd.xlsx",
        "a" * 300 + ".xlsx",
        "<b>.xlsx",
        ".xlsx",
        "..",
        "a/b.csv",
        LONG,
        "\ud800.xlsx",
    ],
)
def test_no_name_of_an_upload_leads_anywhere(name):
    opened = opened_from_bytes(name, b"not a workbook")
    assert opened.book.base is None
    assert opened.errors == 1
