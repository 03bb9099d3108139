"""The sheet Licences."""

from datetime import date

import pytest

from capacity.facts import Licence
from tests.inputs.books import change, read, the_error, valid

UNTIL = date(2027, 1, 15)


def book_with(tmp_path, *rows, sheets=None):
    sheets = sheets or valid()
    sheets["Licences"] = [["Crew", "Skill or type", "People", "Until"], *map(list, rows)]
    return read(sheets, tmp_path)


def test_rows_are_read(tmp_path):
    book = book_with(tmp_path, ("red", "mechanic", 2, UNTIL), ("red", "T40", 1, UNTIL))
    assert book.base.licences == (
        Licence("red", "mechanic", 2, UNTIL),
        Licence("red", "T40", 1, UNTIL),
    )


def test_an_empty_or_missing_sheet_changes_nothing(tmp_path):
    assert book_with(tmp_path).base == read(valid(), tmp_path).base


@pytest.mark.parametrize(
    ("row", "where", "what", "remedy"),
    [
        (("rad", "mechanic", 1, UNTIL), "A2", "'rad' is not in the sheet Crews", "'red'"),
        (("red", "mechanics", 1, UNTIL), "B2", "neither a skill of the crew", "'mechanic'"),
        (("red", "sheet metal", 1, UNTIL), "B2", "neither a skill of the crew", "Known are"),
        (("red", "mechanic", 11, UNTIL), "C2", "11 people of the crew 'red'", "Correct People"),
        (("red", "mechanic", 0, UNTIL), "C2", "People is 0", "at least 1"),
    ],
)
def test_what_cannot_be_is_an_error_with_its_cell(tmp_path, row, where, what, remedy):
    error = the_error(book_with(tmp_path, row))
    assert error.where == f"Licences!{where}"
    assert what in error.what
    assert remedy in error.remedy


def test_people_add_up_over_rows(tmp_path):
    rows = [("red", "mechanic", 6, UNTIL), ("red", "mechanic", 5, date(2027, 1, 20))]
    error = the_error(book_with(tmp_path, *rows))
    assert error.where == "Licences!C3"
    assert "11 people" in error.what


def test_a_type_that_the_crew_does_not_work_on_is_refused(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "red", "Types", "T30, T40")
    assert book_with(tmp_path, ("red", "T40", 1, UNTIL), sheets=sheets).base is not None
    change(sheets, "Crews", "red", "Types", "T30")
    messages = book_with(tmp_path, ("red", "T40", 1, UNTIL), sheets=sheets).messages
    assert "Licences!B2" in {message.where for message in messages}
