"""From cells to an editable table and back: nothing is lost, nothing is made up."""

from datetime import date, datetime

import pytest

from capacity.inputs.reading.edited_copy import SheetTable, TableRow
from capacity.inputs.reading.sheets import SHEETS
from capacity.messages import Level
from tests.ui.ways_through import SAMPLES
from ui.desk.held_workbook import sheets_of
from ui.desk.opened_workbook import opened_from_bytes, opened_from_path, with_edits
from ui.planner.editing import (
    EDITED_SHEETS,
    OFFERED_SETTINGS,
    Kind,
    as_added,
    edit_from,
    edit_table,
    edits_in_words,
    with_offers,
)
from ui.planner.offers import choices_for
from ui.planner.pending import pending_with

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
    chosen = {"Type": Kind.CHOICE, "Status": Kind.CHOICE}
    assert kinds(edited) == dict.fromkeys(edited.rows[0], Kind.TEXT) | chosen
    assert [c.choices for c in edited.columns if c.choices] == [
        ("T30", "T40", "T99"), ("fixed", "booked", "option", "Booked?")
    ]  # fmt: skip
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


def test_settings_that_the_sheet_lacks_have_a_row_to_fill():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    base = base_table(opened)
    names = [row["Setting"] for row in base.rows]
    assert set(names) == set(OFFERED_SETTINGS)
    assert {row["Value"] for row in base.rows if base.numbers[names.index(row["Setting"])]
            in base.offered} == {None}  # fmt: skip
    told = {"Daily peak %": "125", "Into float": "yes", "Moves on days off": "no",
            "Man-hours counted by": "day", "Plan date": "1 Dec 2026"}  # fmt: skip
    edit = edit_from(
        base, {"edited_rows": {names.index(name): {"Value": told[name]} for name in told}}
    )
    changed = with_edits(opened, [as_added(edit, base)])
    stages = [stage for package in changed.book.base.packages for stage in package.stages]
    assert {(stage.daily_peak, stage.into_float) for stage in stages} == {(1.25, True)}
    assert changed.book.base.plan_date == date(2026, 12, 1)
    assert changed.book.base.counts_days
    assert not changed.book.base.comes_in_on_days_off
    assert not changed.book.base.leaves_on_days_off
    # Now they are in the sheet, and no row is offered a second time.
    again = base_table(changed)
    assert len(again.rows) == len(base.rows)
    assert len(again.offered) == len(base.offered) - len(told)


def test_offered_rows_left_blank_or_deleted_change_nothing():
    base = base_table(opened_from_path(SAMPLES / "tiny.xlsx"))
    last = len(base.rows) - 1
    assert as_added(edit_from(base, {"deleted_rows": [last]}), base).is_empty
    blank = pending_with(base, None, {"edited_rows": {last: {"Value": None}}})
    assert as_added(blank, base).is_empty


@pytest.mark.parametrize(
    ("setting", "value"), [("Daily peak %", "50"), ("Daily peak %", "much"), ("Into float", "soon")]
)
def test_a_wrong_setting_is_shown_with_its_cell_and_remedy(setting, value):
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    base = base_table(opened)
    row = [row["Setting"] for row in base.rows].index(setting)
    edit = edit_from(base, {"edited_rows": {row: {"Value": value}}})
    changed = with_edits(opened, [as_added(edit, base)])
    (error,) = [f for f in changed.book.messages if f.level is Level.ERROR]
    assert error.where == "Base!B11"  # the first row below those of the sample
    assert error.remedy


def test_peak_and_float_of_a_stage_are_set_in_columns_that_were_not_there():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    packages = table_of(opened, "Packages")
    found = kinds(packages)
    assert (found["Daily peak %"], found["Into float"]) == (Kind.NUMBER, Kind.CHOICE)
    assert found["Package"] == Kind.TEXT  # a package may get its first stage here
    edit = edit_from(packages, {"edited_rows": {1: {"Daily peak %": 150, "Into float": "yes"}}})
    changed = with_edits(opened, [edit])
    stages = changed.book.base.packages[0].stages
    assert [stage.daily_peak for stage in stages] == [1.0, 1.5, 1.0]
    assert [stage.into_float for stage in stages] == [False, True, False]


@pytest.mark.parametrize(("heading", "value"), [("Daily peak %", 99), ("Daily peak %", 401)])
def test_a_wrong_peak_of_a_stage_is_shown_with_its_cell_and_remedy(heading, value):
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    packages = table_of(opened, "Packages")
    changed = with_edits(opened, [edit_from(packages, {"edited_rows": {1: {heading: value}}})])
    (error,) = [f for f in changed.book.messages if f.level is Level.ERROR]
    assert error.where == "Packages!G3"
    assert error.remedy


def table_of(opened, sheet: str):
    """Return a sheet as it is edited."""
    found = sheets_of(opened, EDITED_SHEETS)
    return edit_table(found[sheet], choices_for(found[sheet], list(found.values())))


def base_table(opened):
    """Return the sheet of the settings as it is edited."""
    return with_offers(table_of(opened, "Base"))


LONG = "\U00010400" * 90 + ".xlsx"
"""90 letters of four bytes each."""


@pytest.mark.parametrize(
    "nothing", [{}, {"edited_rows": {}, "added_rows": [], "deleted_rows": []}, {"added_rows": [{}]}]
)
def test_no_change_is_none(nothing):
    edit = edit_from(table({"Check": "C1"}), nothing)
    assert edit.is_empty
    assert edits_in_words([edit]) == ""


@pytest.mark.parametrize("name", ["tiny.xlsx", "broken.xlsx"])
def test_every_sheet_of_every_sample_can_be_edited(name):
    opened = opened_from_path(SAMPLES / name)
    for sheet in EDITED_SHEETS:
        edited = table_of(opened, sheet)
        assert all(column.help for column in edited.columns), sheet
        assert edited.columns[0].is_key, sheet


def test_the_sheets_are_those_of_the_workbook():
    assert set(EDITED_SHEETS) == {"Base", *(model.sheet for model in SHEETS)}


def test_a_change_in_the_table_comes_out_of_the_reader_and_leaves_the_opened_bytes_alone():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    before = bytes(opened.content)
    checks = table_of(opened, "Checks")
    changed = with_edits(opened, [edit_from(checks, {"edited_rows": {3: {"Price": 9000}}})])
    assert changed.book.base.checks[3].price == 9000
    assert (changed.is_edited, opened.is_edited) == (True, False)
    assert opened.content == before


def test_a_change_that_spoils_the_workbook_is_found_with_its_cell():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    checks = table_of(opened, "Checks")
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


def test_progress_is_told_in_a_workbook_that_had_no_sheet_for_it():
    opened = opened_from_path(SAMPLES / "tiny.xlsx")
    progress = table_of(opened, "Progress")
    found = kinds(progress)
    assert (found["As of"], found["Done %"], found["Finished"]) == (
        Kind.DATE,
        Kind.NUMBER,
        Kind.DATE,
    )
    row = {"Check": "T1", "Stage": "Open", "As of": "2027-01-04", "Done %": 50}
    changed = with_edits(opened, [edit_from(progress, {"added_rows": [row]})])
    assert changed.book.base is not None, changed.book.messages
    (told,) = changed.book.base.progress
    assert (told.check, told.stage, told.done) == ("T1", "Open", 0.5)


def test_a_column_takes_what_its_sheet_is_read_as():
    """No list of headings to be kept: what the reader wants is what a typed text becomes."""
    for sheet, heading, typed, becomes in (
        ("Packages", "Material cost", "1200", 1200.0),
        ("Crews", "From", "2027-01-04", date(2027, 1, 4)),
        ("Progress", "Done %", "40", 40.0),
        ("Checks", "Aircraft", "1200", "1200"),
        ("Base", "Value", "0.5", 0.5),
    ):
        headings = ("A", heading)
        table = edit_table(SheetTable(sheet, headings, (TableRow(2, {}),)), {})
        edit = edit_from(table, {"edited_rows": {0: {heading: typed}}})
        assert edit.changed == {2: {heading: becomes}}, heading
