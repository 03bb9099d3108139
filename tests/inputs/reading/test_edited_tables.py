"""Changes verified in memory: what is read of them is what is read of the edited copy."""

from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest

from capacity.inputs import read_book
from capacity.inputs.edited_book import book_with_edits, edited_and_read
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.edited_copy import SheetEdit, raw_book
from tests.inputs.books import valid, write_workbook

SAMPLES = Path(__file__).parents[3] / "sample_inputs"

EDITS = {
    "a cell, a row more and a row less": [
        SheetEdit(
            "Checks",
            changed={3: {"Customer": "Aero West", "Latest in": date(2027, 2, 1)}},
            added=({"Check": "C9", "Aircraft": "Q-NEW"},),
            removed=frozenset({4}),
        )
    ],
    "a cell that is cleared, and one of the wrong kind": [
        SheetEdit("Checks", changed={2: {"Type": None}, 3: {"Price": "dear"}}),
        SheetEdit("Crews", changed={2: {"Heads": "some"}}),
    ],
    "sheets that are not there are begun": [
        SheetEdit("Progress", added=({"Check": "C1", "As of": date(2027, 1, 4), "Done %": 40},)),
        SheetEdit("Base calendar", added=({"From": date(2027, 1, 9), "To": date(2027, 1, 1)},)),
    ],
    "columns that are not there": [
        SheetEdit("Packages", changed={2: {"Daily peak %": 20, "Into float": "yes"}}),
    ],
    "a sheet without rows left": [SheetEdit("Bays", removed=frozenset(range(2, 99)))],
    "nothing": [SheetEdit("Checks")],
}  # fmt: skip


@pytest.mark.parametrize("edits", EDITS.values(), ids=EDITS)
@pytest.mark.parametrize("as_of", [None, AsOf(date(2027, 1, 18))])
def test_what_is_read_is_what_the_edited_copy_says(tmp_path: Path, edits, as_of):
    path = write_workbook(valid(), tmp_path / "base.xlsx")
    content, of_copy = edited_and_read(path, edits, as_of)
    (tmp_path / "copy.xlsx").write_bytes(content)
    assert of_copy == read_book(tmp_path / "copy.xlsx", as_of)
    of_tables = book_with_edits(raw_book(path), edits, as_of)
    assert (of_tables.base, of_tables.messages) == (of_copy.base, of_copy.messages)


@pytest.mark.parametrize("name", ["tiny.xlsx", "broken.xlsx"])
def test_without_changes_every_sample_says_what_it_says(name):
    path = SAMPLES / name
    assert book_with_edits(raw_book(path), []) == read_book(path)


def test_a_share_stays_a_share(tmp_path: Path):
    """A cell that shows 40 % holds 0.4, and 60 typed over it is 60 %."""
    path = write_workbook(valid(), tmp_path / "base.xlsx")
    book = openpyxl.load_workbook(path)
    (cell,) = (row[1] for row in book["Base"].iter_rows() if row[0].value == "Productivity %")
    cell.value, cell.number_format = 0.4, "0%"
    book.save(path)
    raw = raw_book(path)
    assert book_with_edits(raw, []).base.productivity == 0.4
    edit = SheetEdit("Base", changed={cell.row: {"Value": 60}})
    assert book_with_edits(raw, [edit]).base.productivity == 0.6


def test_a_date_with_a_time_of_day_is_refused_as_in_a_file(tmp_path: Path):
    path = write_workbook(valid(), tmp_path / "base.xlsx")
    edit = SheetEdit("Checks", changed={2: {"Latest in": datetime(2027, 1, 9, 7)}})
    book = book_with_edits(raw_book(path), [edit])
    assert any("time of day" in message.what for message in book.messages)
