"""The sheet Base calendar: what it may say, and what it may not."""

from datetime import date

import pytest

from capacity.facts import CalendarDays
from capacity.messages import Level
from tests.inputs.books import errors, read, the_error, valid

HEADINGS = ["From", "To", "Worked", "Hours %", "Reason"]
FRIDAY, MONDAY = date(2027, 1, 15), date(2027, 1, 18)


def book_with(tmp_path, *rows):
    sheets = valid()
    sheets["Base calendar"] = [HEADINGS, *(list(row) for row in rows)]
    return read(sheets, tmp_path)


def test_rows_become_days_of_the_base(tmp_path):
    book = book_with(
        tmp_path,
        (FRIDAY, MONDAY, "no", None, "stocktaking"),
        (date(2027, 1, 25), date(2027, 1, 29), None, 60, None),
        (date(2027, 1, 30), date(2027, 1, 30), "yes", 50, "open day"),
    )
    assert book.base.calendar_days == (
        CalendarDays(FRIDAY, MONDAY, worked=False, reason="stocktaking"),
        CalendarDays(date(2027, 1, 25), date(2027, 1, 29), hours_share=0.6),
        CalendarDays(
            date(2027, 1, 30), date(2027, 1, 30), worked=True, hours_share=0.5, reason="open day"
        ),
    )


def test_an_empty_or_missing_sheet_changes_nothing(tmp_path):
    assert read(valid(), tmp_path).base == book_with(tmp_path).base
    assert not book_with(tmp_path).messages


@pytest.mark.parametrize(
    ("row", "where", "what", "remedy"),
    [
        ((FRIDAY, MONDAY, None, None), "C2", "does not say what is different", "Type yes or no"),
        ((FRIDAY, MONDAY, "no", 50), "D2", "Worked says no", "Clear Hours %"),
        ((FRIDAY, MONDAY, "yes", 0), "D2", "Hours % is 0%", "above 0"),
        ((FRIDAY, MONDAY, "yes", 120), "D2", "Hours % is 120%", "at most 100"),
        ((FRIDAY, MONDAY, "maybe", None), "C2", "holds 'maybe'", "yes or no"),
        ((MONDAY, FRIDAY, "no", None), "A2", "is after To Fri 15 Jan 2027", "Correct one"),
        ((FRIDAY, date(2028, 1, 16), "no", None), "B2", "is of 367 days", "366 days at most"),
    ],
)
def test_a_row_that_cannot_be_meant_is_an_error_with_its_cell(tmp_path, row, where, what, remedy):
    error = the_error(book_with(tmp_path, row))
    assert error.where == f"Base calendar!{where}"
    assert what in error.what
    assert remedy in error.remedy


def test_rows_that_share_a_day_must_agree(tmp_path):
    error = the_error(
        book_with(tmp_path, (FRIDAY, MONDAY, "no", None), (MONDAY, MONDAY, None, 50, "audit"))
    )
    assert error.where == "Base calendar!A3"
    assert "Mon 18 Jan 2027 is in row 2 too" in error.what
    agreed = book_with(tmp_path, (FRIDAY, MONDAY, "no", None), (MONDAY, MONDAY, "no", None))
    assert not errors(agreed)


def test_a_year_closed_row_by_row_is_refused(tmp_path):
    year = (date(2027, 2, 1), date(2027, 12, 31), "no", None)
    error = the_error(book_with(tmp_path, year, (date(2028, 1, 1), date(2028, 2, 15), "no", None)))
    assert error.where == "Base calendar!C3"
    assert "closed on 380 days in all" in error.what


def test_weekends_that_are_worked_are_noted(tmp_path):
    (note,) = book_with(tmp_path, (FRIDAY, date(2027, 1, 24), "yes", 80)).messages
    assert note.level is Level.NOTE
    assert note.where == "Base calendar!C2"
    assert "4 days that would be off: Sat 16 Jan 2027, Sun 17 Jan 2027, Sat 23 Jan" in note.what


def test_a_fixed_check_is_held_to_the_days_that_are_worked(tmp_path):
    """C3, in B2 since 31 December, has 3 days of work; closed days keep it there for C4."""
    sheets = valid()
    for row in sheets["Checks"]:
        if row[0] == "C4":
            row[sheets["Checks"][0].index("Fixed bay")] = "B2"
            row[sheets["Checks"][0].index("Type")] = "T30"
    assert not errors(read(sheets, tmp_path))
    sheets["Base calendar"] = [HEADINGS, [date(2027, 1, 4), date(2027, 1, 12), "no", None, None]]
    assert errors(read(sheets, tmp_path))
