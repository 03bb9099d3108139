"""Very large inputs: read or refused, in bounded time and memory."""

import time
import zipfile
from datetime import date

import pytest
import xlsxwriter

from capacity.inputs import read_book
from tests.inputs.books import (
    errors,
    read,
    the_error,
    valid,
    write_folder,
)
from tests.quick_and_long import some_of


def test_thousands_of_checks_are_read_in_bounded_time(tmp_path):
    """Seconds of this process, since the machine may be busy."""
    sheets = valid()
    for number in range(5_000):
        sheets["Checks"].append([f"more {number}", *sheets["Checks"][1][1:]])
    path = write_folder(sheets, tmp_path / "tables")
    started = time.process_time()
    book = read_book(path)
    assert time.process_time() - started < 30
    assert errors(book) == []
    assert book.base is not None
    assert len(book.base.checks) == 5_004


def test_a_package_of_hundreds_of_stages_is_read(tmp_path):
    sheets = valid()
    for number in range(300):
        after = ", ".join(f"part {n}" for n in range(max(0, number - 12), number)) or "-"
        sheets["Packages"].append(["long", f"part {number}", after, "maintenance", 1, 0])
    sheets["Package hours"].append(["long", "part 299", "mechanic", 5])
    base = read(sheets, tmp_path).base
    assert base is not None
    assert [len(package.stages) for package in base.packages if package.name == "long"] == [300]


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"])
def test_a_zip_bomb_is_refused_before_it_is_unpacked(tmp_path, part):
    path = tmp_path / "bomb.xlsx"
    megabytes = 300 if "sheet1" in part else 30
    with (
        zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open(part, "w") as stream,
    ):
        for _ in range(megabytes):
            stream.write(bytes(1_000_000))
    assert path.stat().st_size < 1_000_000
    assert "would unpack to" in the_error(read_book(path)).what


def test_an_archive_of_countless_parts_is_refused(tmp_path):
    path = tmp_path / "many.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        for number in range(2_100):
            archive.writestr(f"xl/media/{number}.txt", "")
    assert "2,100 parts" in the_error(read_book(path)).what


@pytest.mark.parametrize("count", some_of([21_000, 100_000], quick=1))
def test_rows_beyond_the_limit_are_one_error_in_bounded_time(tmp_path, count):
    """Without the row limit 100,000 of them take minutes."""
    sheets = valid()
    path = tmp_path / "long.xlsx"
    book = xlsxwriter.Workbook(path, {"constant_memory": True})
    for title, rows in sheets.items():
        sheet = book.add_worksheet(title)
        for number, row in enumerate(rows):
            for column, value in enumerate(row):
                if isinstance(value, date):
                    value = value.isoformat()
                sheet.write(number, column, str(value) if title == "Shifts" else value)
        if title == "Package hours":
            for number in range(len(rows), count):
                sheet.write_row(number, 0, ["light", f"stage {number}", "mechanic", 1])
    book.close()
    started = time.process_time()
    found = errors(read_book(path))
    assert time.process_time() - started < 30
    about = [message for message in found if message.where.startswith("Package hours")]
    assert len(about) == 1
    assert "more than 20,000 rows" in about[0].what


def test_values_far_to_the_right_are_refused(tmp_path):
    sheets = valid()
    sheets["Skills"][1] += [None] * 300 + ["far"]
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Skills"
    assert "at most 200 columns" in message.what
