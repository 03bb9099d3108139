"""Checks added to a copy of a workbook read back as they were given; all else stays."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest

import capacity
from capacity import OutputError
from capacity.facts import Check, Package, Stage, Status
from capacity.inputs import read_book
from capacity.inputs.limited import booked
from capacity.inputs.reading.booked_copy import booked_copy

SAMPLES = Path(__file__).parents[3] / "sample_inputs"
STAGE = Stage("Work", "maintenance", 12, {"Mechanic": 300.0}, max_heads=9)
PACKAGE = Package("AOG-1 work", (STAGE,), ("Alder 50",))
CHECK = Check(
    "AOG-1",
    "QA-07",
    "Alder 50",
    "AOG-1 work",
    Status.BOOKED,
    date(2027, 1, 5),
    date(2027, 1, 20),
    customer="=1+1",
    third_party=True,
    agreed_out=date(2027, 2, 1),
    late_cost_per_day=12.5,
    price=100.0,
    agreed_days=None,
)


def read_back(path: Path, content: bytes, tmp_path: Path):
    copy = tmp_path / f"copy of {path.name}"
    copy.write_bytes(content)
    book = read_book(copy)
    assert book.base is not None, [str(message) for message in book.messages]
    return book.base


def test_the_copy_says_all_of_it_and_what_the_workbook_said(tmp_path: Path) -> None:
    path = SAMPLES / "tiny.xlsx"
    before, bytes_before = read_book(path).base, path.read_bytes()
    assert before is not None
    found = read_back(path, booked_copy(path, [CHECK], [PACKAGE]), tmp_path)
    assert found == before.replace(
        checks=(*before.checks, CHECK), packages=(*before.packages, PACKAGE)
    )
    assert path.read_bytes() == bytes_before


def test_man_hours_are_added_in_the_form_that_the_sheet_has(tmp_path: Path) -> None:
    path = tmp_path / "columns.xlsx"
    book = openpyxl.load_workbook(SAMPLES / "tiny.xlsx")
    rows = list(book["Package hours"].iter_rows(min_row=2, values_only=True))
    book.remove(book["Package hours"])
    sheet = book.create_sheet("Package hours")
    sheet.append(["Package", "Stage", "Mechanic"])
    for package, stage, _, hours in rows:
        sheet.append([package, stage, hours])
    book.save(path)
    found = read_back(path, booked(path, [CHECK], [PACKAGE]), tmp_path)
    assert found.package("AOG-1 work") == PACKAGE
    again = openpyxl.load_workbook(tmp_path / "copy of columns.xlsx")["Package hours"]
    assert [cell.value for cell in again[1]] == ["Package", "Stage", "Mechanic"]


def test_what_a_base_has_beyond_a_workbook_goes_into_the_next_one(tmp_path: Path) -> None:
    path, out = SAMPLES / "tiny.xlsx", tmp_path / "next.xlsx"
    line = "Alder 50; 2 days; Mechanic 30; max heads 9"
    base = capacity.with_aircraft_on_ground(capacity.read(path), [line], date(2027, 1, 5))
    capacity.write_next_workbook(base, path, out)
    assert capacity.read(out) == base
    with pytest.raises(OutputError, match="is the workbook itself"):
        capacity.write_next_workbook(base, out, out)


@pytest.mark.parametrize("name", ["tiny.xlsx", "quarter.xlsx"])
def test_notes_and_formats_of_the_workbook_stay(name: str, tmp_path: Path) -> None:
    path = SAMPLES / name
    content = booked_copy(path, [replace(CHECK, customer="")], [])
    copy = tmp_path / "copy.xlsx"
    copy.write_bytes(content)
    old, new = openpyxl.load_workbook(path), openpyxl.load_workbook(copy)
    assert old.sheetnames == new.sheetnames
    for sheet in old.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                there = new[sheet.title][cell.coordinate]
                assert (there.value, there.number_format) == (cell.value, cell.number_format)
                assert (there.comment and there.comment.text) == (
                    cell.comment and cell.comment.text
                )
