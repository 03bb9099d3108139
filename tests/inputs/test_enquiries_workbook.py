"""Enquiries read from a workbook with the columns of ``Checks``."""

import csv
from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from capacity import InputError
from capacity.facts import Status
from capacity.inputs.enquiries_workbook import enquiries_and_messages
from capacity.messages import Level
from capacity.questions.enquiries.asked import enquiry as enquiry_of
from capacity.reading import read_enquiries
from tests.reference import stories
from tests.reference.stories import bays, day, visit

pytestmark = pytest.mark.usefixtures("reads_once")

BASE = stories.base(bays(1), visit("A", 5, 0, 0))
HEADINGS = ["Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price"]
GOOD = ["O1", "X-1", "Twin", "5 days", day(3), day(9), 12_500]


def book(path: Path, *rows: list[object], title: str = "Enquiries") -> Path:
    workbook = openpyxl.Workbook()
    sheet = workbook.active
    assert sheet is not None
    sheet.title = title
    for row in rows:
        sheet.append(row)
    workbook.save(path)
    return path


def lines_of(path: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_enquiries(BASE, path)
    assert all(message.remedy for message in caught.value.messages)
    return [f"{message.where}: {message.what}" for message in caught.value.messages]


@pytest.mark.parametrize("title", ["Enquiries", "checks", "ENQUIRIES"])
def test_rows_are_options(tmp_path: Path, title: str) -> None:
    path = book(tmp_path / "enquiries.xlsx", HEADINGS, GOOD, title=title)
    (enquiry,) = read_enquiries(BASE, path)
    assert (enquiry.name, enquiry.status, enquiry.price) == ("O1", Status.OPTION, 12_500.0)
    assert (enquiry.earliest_in, enquiry.latest_in) == (day(3), day(9))


def test_a_package_that_is_not_for_the_type_is_an_error(tmp_path: Path) -> None:
    packages = tuple(replace(p, types=("Wide",)) for p in BASE.packages)
    wide = replace(BASE.types[0], name="Wide")
    base = BASE.replace(packages=packages, types=(*BASE.types, wide), checks=())
    enquiries, (message,) = enquiries_and_messages(book(tmp_path / "o.xlsx", HEADINGS, GOOD), base)
    assert (message.level, message.where) == (Level.ERROR, "Enquiries!D2")
    assert message.what == "the package '5 days' is for 'Wide', not 'Twin'."
    assert [enquiry.name for enquiry in enquiries] == ["O1"]
    with pytest.raises(InputError, match="is for 'Wide', not 'Twin'"):
        enquiry_of(base, "Twin", "5 days", day(3))
    assert enquiry_of(base, "Wide", "5 days", day(3)).type == "Wide"


def test_it_is_noted_that_a_package_names_no_types_where_no_check_shows_that_it_fits(
    tmp_path: Path,
) -> None:
    other = [*GOOD[:3], "6 days", *GOOD[4:]]
    rows = [GOOD, ["O2", *other[1:]]]  # the base has a check of 5 days on a Twin, none of 6
    enquiries, (note,) = enquiries_and_messages(book(tmp_path / "o.xlsx", HEADINGS, *rows), BASE)
    assert len(enquiries) == 2
    assert (note.level, note.where) == (Level.NOTE, "Enquiries!D3")
    assert note.what.startswith("the package '6 days' names no types, and no check in the workbook")
    assert note.remedy.startswith("Make sure that it is for 'Twin'")
    told = tuple(replace(p, types=("Twin",)) for p in BASE.packages)
    assert enquiries_and_messages(tmp_path / "o.xlsx", BASE.replace(packages=told))[1] == []


def test_a_folder_of_csv_files_is_read_too(tmp_path: Path) -> None:
    with (tmp_path / "Enquiries.csv").open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([HEADINGS, [*map(str, GOOD)]])
    assert [enquiry.name for enquiry in read_enquiries(BASE, tmp_path)] == ["O1"]


def test_all_faults_are_told_at_once_with_their_cells(tmp_path: Path) -> None:
    status = [*HEADINGS, "Status"]
    rows = [
        ["O1", "X-1", "Twim", "5 days", day(3), day(9), 1, "option"],
        ["O2", "X-2", "Twin", "5 days", day(9), day(3), 1, "booked"],
        ["A", "X-3", "Twin", "6 day", day(3), day(9), -1, None],
        ["A", "X-4", "Twin", "5 days", day(3), day(9), 1, None],
        ["O5", "X-5", "Twin", "5 days", None, day(9), 1, None],
    ]
    lines = lines_of(book(tmp_path / "enquiries.xlsx", status, *rows))
    assert [line.partition(":")[0] for line in lines] == [
        "Enquiries!G4",
        "Enquiries!E6",
        "Enquiries!A5",
        "Enquiries!C2",
        "Enquiries!H3",
        "Enquiries!F3",
        "Enquiries!A5",
        "Enquiries!D4",
        "Enquiries!A4",
    ]


def test_a_missing_column_is_told(tmp_path: Path) -> None:
    path = book(tmp_path / "enquiries.xlsx", HEADINGS[:3], GOOD[:3])
    assert lines_of(path) == [
        "Enquiries: the column 'Earliest in' is missing.",
        "Enquiries: the column 'Latest in' is missing.",
        "Enquiries: the column 'Package' is missing.",
    ]


def test_a_book_without_enquiries_is_told(tmp_path: Path) -> None:
    path = book(tmp_path / "enquiries.xlsx", HEADINGS, GOOD, title="Prices")
    (line,) = lines_of(path)
    assert "there is no sheet Enquiries; present are 'Prices'" in line
    (line,) = lines_of(book(tmp_path / "empty.xlsx", HEADINGS))
    assert line == "Enquiries: the sheet has no rows."
    (line,) = lines_of(tmp_path / "none.xlsx")
    assert "cannot be opened" in line
    (tmp_path / "text.xlsx").write_text("no workbook", encoding="utf-8")
    (line,) = lines_of(tmp_path / "text.xlsx")
    assert "not an .xlsx workbook" in line


def test_dates_outside_the_plan_are_told(tmp_path: Path) -> None:
    late = ["O2", "X-2", "Twin", "5 days", date(2028, 1, 1), date(2028, 1, 3), 5]
    early = ["O3", "X-3", "Twin", "5 days", date(2026, 1, 1), date(2026, 1, 3), 5]
    lines = lines_of(book(tmp_path / "enquiries.xlsx", HEADINGS, GOOD, late, early))
    assert [line.partition(":")[0] for line in lines] == ["Enquiries!E3", "Enquiries!F4"]
