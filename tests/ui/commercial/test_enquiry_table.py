"""The table in which enquiries are typed: what it shows, and what is taken from it."""

from datetime import date

import pandas as pd
import pytest

from capacity.inputs.reading.cell_kinds import Kind
from tests.ui.enquiry_plans import opened_tiny
from ui.commercial.enquiry_table import LEAST_ROWS, columns_of, frame_of, rows_of

ROW = {
    "Check": "P",
    "Type": "Linden 180",
    "Package": "Week check",
    "Earliest in": date(2027, 1, 4),
    "Price": 9000.0,
    "Third party": "no",
}


@pytest.fixture(scope="module")
def base():
    return opened_tiny().book.base


def kinds(rows, base) -> dict[str, Kind]:
    return {column.heading: column.kind for column in columns_of(rows, base)}


def test_what_is_typed_comes_back_and_blank_rows_between_count(base):
    frame = frame_of([ROW, {}, ROW], columns_of([ROW], base))
    assert rows_of(frame) == (ROW, {}, ROW)
    assert list(frame.index) == list(range(1, LEAST_ROWS + 1))


def test_a_row_with_nothing_but_what_is_usual_is_blank(base):
    frame = frame_of([], columns_of([], base))
    assert list(frame["Third party"]) == ["yes"] * LEAST_ROWS
    assert rows_of(frame) == ()
    assert rows_of(pd.DataFrame({"Check": ["  "], "Price": [float("nan")]})) == ()


def test_lists_hold_what_the_base_has(base):
    offered = {column.heading: column.choices for column in columns_of([], base)}
    assert offered["Type"] == tuple(one.name for one in base.types)
    assert offered["Package"] == tuple(one.name for one in base.packages)
    assert offered["Third party"] == ("yes", "no")
    assert all(column.help for column in columns_of([], base))


def test_what_a_list_or_a_date_picker_cannot_show_is_shown_as_text(base):
    wrong = {**ROW, "Type": "Linden 999", "Earliest in": "tomorrow", "Price": "dear"}
    shown = kinds([ROW, wrong], base)
    assert {shown[h] for h in ("Type", "Earliest in", "Price")} == {Kind.TEXT}
    assert shown["Package"] is Kind.CHOICE
    frame = frame_of([ROW, wrong], columns_of([ROW, wrong], base))
    assert rows_of(frame)[1] == wrong
    assert rows_of(frame)[0]["Earliest in"] == "2027-01-04"


def test_a_column_of_fixed_checks_is_shown_where_a_file_fills_it(base):
    assert "Fixed bay" not in kinds([ROW], base)
    assert "Fixed bay" in kinds([{**ROW, "Fixed bay": "Large bay"}], base)
