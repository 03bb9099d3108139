"""Folders of CSV files: they say the same as a workbook, or what is wrong with a file."""

from pathlib import Path

import pytest

from capacity.inputs import read_book
from tests.inputs.books import change, errors, read, the_error, valid, write_folder


def test_one_csv_file_asks_for_its_folder(tmp_path):
    folder = write_folder(valid(), tmp_path / "tables")
    message = the_error(read_book(folder / "Checks.csv"))
    assert (message.where, message.what) == ("Checks.csv", "the file holds one table alone.")
    assert "Name the folder" in message.remedy


def test_a_csv_file_that_may_not_be_read_is_named(tmp_path, monkeypatch):
    folder = write_folder(valid(), tmp_path / "tables")
    opened = Path.open

    def refused(path, *arguments, **options):
        if path.name == "Checks.csv":
            raise PermissionError(13, "Permission denied")
        return opened(path, *arguments, **options)

    monkeypatch.setattr(Path, "open", refused)  # an administrator may read any file
    message = the_error(read_book(folder))
    assert message.where == "Checks.csv"
    assert "Permission denied" in message.what


def test_a_folder_of_csv_files_says_the_same(tmp_path):
    book = read_book(write_folder(valid(), tmp_path / "tables"))
    assert book.messages == ()
    assert book.base == read(valid(), tmp_path).base
    assert book.where("Checks", "C3", "Fixed in") == "Checks.csv!O4"


def test_csv_cells_are_named_by_file_and_numbers_must_be_plain(tmp_path):
    sheets = valid()
    change(sheets, "Package hours", 3, "Man-hours", "1,200")
    change(sheets, "Package hours", 4, "Man-hours", "nan")
    change(sheets, "Package hours", 5, "Man-hours", "-inf")
    change(sheets, "Package hours", 6, "Man-hours", "8.0")
    change(sheets, "Checks", "C1", "Latest in", "12.01.2027")
    change(sheets, "Checks", "C2", "Latest in", "#REF!")
    found = errors(read_book(write_folder(sheets, tmp_path / "tables")))
    assert [(message.where, message.what) for message in found] == [
        ("Package hours.csv!D3", "Man-hours holds the text '1,200' where a number is wanted."),
        ("Package hours.csv!D4", "Man-hours holds nan, which is not a finite number."),
        ("Package hours.csv!D5", "Man-hours holds -inf, which is not a finite number."),
        (
            "Checks.csv!I2",
            "Latest in holds the text '12.01.2027', which is not a date as year-month-day.",
        ),
        ("Checks.csv!I3", "Latest in holds the spreadsheet error #REF!."),
    ]


@pytest.mark.parametrize(
    ("content", "what"),
    [
        ("Skill,Overtime cost\n".encode("utf-16"), "not in UTF-8"),
        ("Skill\nm\u00e9chanic\n".encode("latin-1"), "not in UTF-8"),
        (b'Skill\n"mechanic\n', "cannot be read as CSV"),
        (b"", "the sheet is empty"),
    ],
)
def test_csv_files_of_other_kinds_are_refused(tmp_path, content, what):
    folder = write_folder(valid(), tmp_path / "tables")
    (folder / "Skills.csv").write_bytes(content)
    message = the_error(read_book(folder))
    assert message.where == "Skills.csv"
    assert what in message.what


def test_a_folder_without_tables_is_a_message(tmp_path):
    (tmp_path / "none").mkdir()
    assert "no .csv file" in the_error(read_book(tmp_path / "none")).what


def test_blank_lines_are_counted_too(tmp_path):
    folder = write_folder(valid(), tmp_path / "book")
    with (folder / "Checks.csv").open("a", encoding="utf-8") as stream:
        stream.write("\n" * 1_000_000)
    assert the_error(read_book(folder)).what == "the file has more than 1,000,000 lines."
