"""Percentages that were likely meant as something else."""

import pytest

from tests.inputs.books import change, read, the_warning, valid


@pytest.mark.parametrize(
    ("sheet", "row", "heading", "column"),
    [
        ("Base", "Productivity %", "Value", "Productivity %"),
        ("Skills", "mechanic", "Overtime cap %", "Overtime cap %"),
        ("Packages", 3, "Findings %", "Findings %"),
        ("Checks", "C3", "Remaining %", "Remaining %"),
    ],
)
def test_a_share_typed_for_a_percentage_is_a_warning(tmp_path, sheet, row, heading, column):
    sheets = valid()
    where = change(sheets, sheet, row, heading, 0.75)
    message = the_warning(read(sheets, tmp_path))
    assert message.where == where
    assert message.what == f"{column} is 0.75, less than one per cent."
    assert message.remedy == "Type 75 if 75 % is meant."


def test_a_column_of_shares_is_told_once(tmp_path):
    sheets = valid()
    where = change(sheets, "Packages", 2, "Findings %", 0.2)
    change(sheets, "Packages", 3, "Findings %", 0.5)
    assert the_warning(read(sheets, tmp_path)).where == where


@pytest.mark.parametrize("percent", [0, 1, 100])
def test_nothing_one_in_a_hundred_and_all_are_percentages(tmp_path, percent):
    sheets = valid()
    change(sheets, "Packages", 3, "Findings %", percent)
    assert read(sheets, tmp_path).messages == ()


def test_more_overtime_than_regular_hours_is_a_warning(tmp_path):
    sheets = valid()
    where = change(sheets, "Skills", "mechanic", "Overtime cap %", 500)
    message = the_warning(read(sheets, tmp_path))
    assert message.where == where
    assert "more overtime, 500 %, than regular man-hours" in message.what
    change(sheets, "Skills", "mechanic", "Overtime cap %", 100)
    assert read(sheets, tmp_path).messages == ()
