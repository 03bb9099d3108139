"""Sheets, headings and rows: what is missing, unknown, twice or astray."""

import pytest

from tests.inputs.books import (
    VALID,
    change,
    errors,
    read,
    the_error,
    the_warning,
    valid,
    warnings,
)

OPTIONAL = ("Bay closures", "Absence")


def test_the_valid_book_has_no_messages(tmp_path):
    book = read(valid(), tmp_path)
    assert book.messages == ()
    assert book.base is not None
    assert [check.name for check in book.base.checks] == ["C1", "C2", "C3", "C4"]


@pytest.mark.parametrize("title", [title for title in VALID if title not in OPTIONAL])
def test_a_missing_sheet_is_told_with_those_present(tmp_path, title):
    sheets = valid()
    del sheets[title]
    message = the_error(read(sheets, tmp_path))
    assert message.where == title
    assert "the sheet is missing; present are" in message.what
    assert all(f"'{other}'" in message.what for other in sheets)


def test_optional_sheets_may_be_missing_or_empty(tmp_path):
    sheets = valid()
    del sheets["Bay closures"]
    sheets["Absence"] = []
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    assert book.base.closures == book.base.absences == ()


def test_an_empty_sheet_and_one_without_rows_are_errors(tmp_path):
    sheets = valid()
    sheets["Checks"] = []
    assert the_error(read(sheets, tmp_path)).what == "the sheet is empty."
    sheets["Checks"] = valid()["Checks"][:1]
    assert the_error(read(sheets, tmp_path)).what == "the sheet has headings but no rows."


def test_an_unknown_sheet_is_a_warning_with_the_nearest(tmp_path):
    sheets = valid()
    sheets["Absences"] = sheets.pop("Absence")
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Absences"
    assert message.remedy == "Did you mean 'Absence'?"


@pytest.mark.parametrize("heading", ["Check", "Type", "Status", "Earliest in", "Late cost per day"])
def test_a_missing_column_is_told_once(tmp_path, heading):
    sheets = valid()
    sheets["Checks"][0][sheets["Checks"][0].index(heading)] = None
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == ("Checks", f"the column '{heading}' is missing.")


def test_a_mistyped_heading_is_a_warning_with_the_nearest(tmp_path):
    sheets = valid()
    sheets["Checks"][0][4] = "Custommer"
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Checks!E1"
    assert message.remedy == "Did you mean 'Customer'?"


def test_a_heading_that_stands_twice_is_an_error(tmp_path):
    sheets = valid()
    sheets["Checks"][0][4] = "type "
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Checks!E1"
    assert message.what == "the heading 'Type' is here and in C1."


def test_blank_rows_are_skipped_and_row_numbers_stay_those_of_the_sheet(tmp_path):
    sheets = valid()
    sheets["Bays"].insert(1, [None] * 8)
    sheets["Bays"].insert(0, ["  "])
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.where("Bays", "B2") == "Bays!A5"


def test_values_without_a_heading_are_told_once_a_column(tmp_path):
    sheets = valid()
    sheets["Shifts"][0] += [None, None]
    sheets["Shifts"][1] += [None, "remember"]
    sheets["Shifts"].append(["N", "22:00", 7.5, "yes", None, "too"])
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Shifts!F2"
    assert "without a heading" in message.what


def test_an_unknown_setting_is_a_warning_with_the_nearest(tmp_path):
    sheets = valid()
    change(sheets, "Base", "Productivity %", "Setting", "Productivty %")
    book = read(sheets, tmp_path)
    message = the_warning(book)
    assert message.where == "Base!A6"
    assert message.remedy == "Did you mean 'Productivity %'?"
    assert book.base is not None
    assert book.base.productivity == 0.75


@pytest.mark.parametrize("setting", ["Base", "First day", "Weeks"])
def test_a_missing_setting_is_an_error(tmp_path, setting):
    sheets = valid()
    sheets["Base"] = [row for row in sheets["Base"] if row[0] != setting]
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == ("Base", f"the setting '{setting}' is missing.")


def test_a_setting_that_stands_twice_is_an_error(tmp_path):
    sheets = valid()
    sheets["Base"].append(["weeks", 5])
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == (
        "Base!A8",
        "the setting 'Weeks' is here and in row 4.",
    )


def test_a_base_sheet_without_headings_is_told(tmp_path):
    sheets = valid()
    del sheets["Base"][0]
    book = read(sheets, tmp_path)
    assert [message.what for message in errors(book)] == [
        "the column 'Setting' is missing.",
        "the column 'Value' is missing.",
    ]
    assert warnings(book)


def test_where_falls_back_to_the_sheet(tmp_path):
    book = read(valid(), tmp_path)
    assert book.where("Checks", "C3", "fixed in") == "Checks!O4"
    assert book.where("Checks", "C3") == "Checks!A4"
    assert book.where("Checks", "C9", "Fixed in") == "Checks"
    assert book.where("Equipment", "jacks") == "Equipment"
    assert book.where("Base", "Weeks", "Value") == "Base!B4"
    assert book.where("Nowhere", "x") == "Nowhere"


@pytest.mark.parametrize("above", [["All checks of the quarter"], ["sep=", None], ["a", 1, "b"]])
def test_a_row_above_the_headings_is_one_error(tmp_path, above):
    sheets = valid()
    sheets["Checks"].insert(0, above)
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == ("Checks!A1", "the headings stand in row 2.")


def test_a_sheet_without_rows_makes_no_further_noise(tmp_path):
    for title in ("Bays", "Packages", "Skills", "Aircraft types"):
        sheets = valid()
        del sheets[title][1:]
        message = the_error(read(sheets, tmp_path))
        assert message.where == f"{title}!A2"
        assert message.what == "the sheet has headings but no rows."


def test_a_sheet_without_rows_still_tells_its_missing_columns(tmp_path):
    sheets = valid()
    sheets["Bays"] = [["Bay", "Work"]]
    told = [message.what for message in errors(read(sheets, tmp_path))]
    assert "the column 'Max span m' is missing." in told
    assert "the sheet has headings but no rows." in told


def test_a_sheet_of_unknown_headings_makes_no_further_noise(tmp_path):
    sheets = valid()
    sheets["Skills"][0] = ["Gewerk", "Zuschlag", "Grenze", "Fremd", "Fremdgrenze"]
    assert {message.where for message in errors(read(sheets, tmp_path))} == {"Skills"}
