"""Columns that change no plan are noted, never silently ignored."""

from datetime import date

import pytest

from capacity.messages import Level
from tests.inputs.books import change, errors, read, valid


@pytest.mark.parametrize("heading", ["Critical", "By night"])
def test_values_that_ask_for_nothing_pass(tmp_path, heading):
    sheets = valid()
    change(sheets, "Packages", 2, heading, {"Critical": "no", "By night": "yes"}[heading])
    assert read(sheets, tmp_path).messages == ()


def test_columns_that_ask_nothing_are_noted_once_each(tmp_path):
    sheets = valid()
    expected = {
        change(sheets, "Skills", "mechanic", "Licence", "b1"),
        change(sheets, "Packages", 2, "Findings spread %", 20),
        change(sheets, "Packages", 2, "Critical", "yes"),
        change(sheets, "Packages", 2, "By night", "no"),
        change(sheets, "Packages", 2, "Types", "T30, T40"),
        change(sheets, "Checks", "C1", "Wanted in", date(2027, 1, 5)),
    }
    change(sheets, "Packages", 3, "Critical", "yes")
    book = read(sheets, tmp_path)
    assert not errors(book)
    assert book.base is not None
    assert book.base.skills[0].licence == "B1"
    assert {message.level for message in book.messages} == {Level.NOTE}
    assert {message.where for message in book.messages} == expected
    assert len(book.messages) == len(expected)
