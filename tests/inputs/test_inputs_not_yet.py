"""What no rule honours yet is refused or noted, never silently ignored."""

from datetime import date

import pytest

from capacity.findings import Level
from tests.inputs.books import change, errors, read, the_error, valid


@pytest.mark.parametrize(
    ("sheet", "row", "heading", "value"),
    [
        ("Crews", "red", "Skills", "mechanic, sheet metal"),
        ("Crews", "red", "Types", "T30"),
    ],
)
def test_a_filled_column_that_is_not_planned_yet_is_an_error(tmp_path, sheet, row, heading, value):
    sheets = valid()
    where = change(sheets, sheet, row, heading, value)
    finding = the_error(read(sheets, tmp_path))
    assert finding.where == where
    assert "is not planned yet" in finding.what


@pytest.mark.parametrize("heading", ["Critical", "By night"])
def test_values_that_ask_for_nothing_pass(tmp_path, heading):
    sheets = valid()
    change(sheets, "Packages", 2, heading, {"Critical": "no", "By night": "yes"}[heading])
    assert read(sheets, tmp_path).findings == ()


def test_a_second_kind_of_work_in_a_package_is_an_error(tmp_path):
    sheets = valid()
    change(sheets, "Bays", "B1", "Work", "maintenance, paint")
    where = change(sheets, "Packages", 4, "Work", "paint")
    finding = the_error(read(sheets, tmp_path))
    assert finding.where == where
    assert "needs 'maintenance' and 'paint'" in finding.what


@pytest.mark.parametrize(
    ("title", "headings", "row"),
    [
        ("Shops", ["Shop", "Items per day"], ["seats", 2]),
        (
            "Shop loops",
            ["Package", "Shop", "Items", "Leave at", "Back for"],
            ["light", "seats", 3, "open", "close"],
        ),
    ],
)
def test_a_sheet_that_is_not_planned_yet_may_be_there_without_rows(tmp_path, title, headings, row):
    sheets = valid()
    sheets[title] = [headings]
    assert read(sheets, tmp_path).findings == ()
    sheets[title].append(row)
    finding = the_error(read(sheets, tmp_path))
    assert finding.where == f"{title}!A2"
    assert "is not planned yet" in finding.what


def test_columns_that_ask_nothing_are_noted_once_each(tmp_path):
    sheets = valid()
    expected = {
        change(sheets, "Skills", "mechanic", "Licence", "b1"),
        change(sheets, "Packages", 2, "Findings spread %", 20),
        change(sheets, "Packages", 2, "Critical", "yes"),
        change(sheets, "Packages", 2, "By night", "no"),
        change(sheets, "Checks", "C1", "Wanted in", date(2027, 1, 5)),
    }
    change(sheets, "Packages", 3, "Critical", "yes")
    book = read(sheets, tmp_path)
    assert not errors(book)
    assert book.base is not None
    assert book.base.skills[0].licence == "B1"
    assert {finding.level for finding in book.findings} == {Level.NOTE}
    assert {finding.where for finding in book.findings} == expected
    assert len(book.findings) == len(expected)
