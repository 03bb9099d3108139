"""CSV as programs write it that are set to a language with decimal commas."""

import csv
from datetime import date, time
from pathlib import Path

import pytest

from capacity.inputs.read_input import read_book
from capacity.inputs.reading.local_marks import delimiter_of
from capacity.messages import Level
from capacity.reports.plan_files.fingerprint import fingerprint_of
from tests.inputs.books import Sheets, change, errors, read, the_error, valid


def as_exported(value: object, decimal: str) -> str:
    """Return a cell as such a program writes it."""
    match value:
        case None:
            return ""
        case date():
            return f"{value.day}.{value.month}.{value.year}"
        case time():
            return f"{value:%H:%M}"
        case float():
            return str(value).replace(".", decimal)
        case _:
            return str(value)


def folder_of(
    sheets: Sheets, path: Path, delimiter: str = ";", decimal: str = ",", before: str = ""
) -> Path:
    path.mkdir()
    for title, rows in sheets.items():
        with (path / f"{title}.csv").open("w", encoding="utf-8-sig", newline="") as stream:
            stream.write(before)
            writer = csv.writer(stream, delimiter=delimiter)
            writer.writerows([as_exported(cell, decimal) for cell in row] for row in rows)
    return path


@pytest.mark.parametrize("delimiter", [";", "\t"])
@pytest.mark.parametrize("decimal", [",", "."])
def test_they_say_the_same_as_the_workbook(tmp_path, delimiter, decimal):
    book = read_book(folder_of(valid(), tmp_path / "tables", delimiter, decimal))
    assert {message.level for message in book.messages} == {Level.NOTE}
    assert fingerprint_of(book.base) == fingerprint_of(read(valid(), tmp_path).base)
    assert book.where("Checks", "C3", "Fixed in") == "Checks.csv!O4"


def test_what_was_taken_is_told_once_for_files_alike(tmp_path):
    book = read_book(folder_of(valid(), tmp_path / "tables"))
    told = {message.where: message.what for message in book.messages}
    separated = "the columns are separated by semicolons"
    days_first = "dates such as 4.1.2027 are read as day, month, year."
    comma = "the decimal sign is a comma."
    alike = "The same goes for"
    assert told == {
        "Absence.csv": f"{separated}; {days_first} {alike} Base.csv, Bay closures.csv, Checks.csv "
        "and Crews.csv.",
        "Aircraft types.csv": f"{separated}. {alike} Packages.csv, Shift patterns.csv and "
        "Skills.csv.",
        "Bays.csv": f"{separated}; {comma} {alike} Package hours.csv and Shifts.csv.",
    }


def test_a_line_that_names_the_delimiter_is_no_row(tmp_path):
    folder = folder_of(valid(), tmp_path / "tables", before="sep=;\r\n")
    book = read_book(folder)
    assert book.base == read(valid(), tmp_path).base
    assert book.where("Checks", "C3") == "Checks.csv!A4"


@pytest.mark.parametrize(
    ("typed", "others", "hours"),
    [
        ("12,5", (), 12.5),
        ("1234,567", (), 1234.567),  # no sign between its thousands, so none between these
        ("0,125", (), 0.125),
        ("1.234,5", (), 1234.5),
        ("1,234.5", (), 1234.5),
        ("1,234", ("0,5",), 1.234),  # the file has shown what its commas are
        ("1.234", ("0.5",), 1.234),
        ("1200", ("0,5",), 1200),
        ("+7,5", (), 7.5),
    ],
)
def test_numbers_with_one_meaning(tmp_path, typed, others, hours):
    sheets = valid()
    change(sheets, "Package hours", 4, "Man-hours", 20)
    for row, value in enumerate((typed, *others), start=2):
        change(sheets, "Package hours", row, "Man-hours", value)
    book = read_book(folder_of(sheets, tmp_path / "tables"))
    assert errors(book) == []
    assert book.base.packages[0].stages[0].man_hours["mechanic"] == pytest.approx(hours, abs=1e-12)


@pytest.mark.parametrize(
    ("typed", "other", "what"),
    [
        ("1,234", None, "holds '1,234', which may be 1234 or 1.234."),
        ("1.234", None, "holds '1.234', which may be 1234 or 1.234."),
        ("1.234", "0,5", "holds '1.234', which may be 1234 or 1.234."),
        ("-1,234", None, "holds '-1,234', which may be -1234 or -1.234."),
        ("1,2,3", None, "holds the text '1,2,3' where a number is wanted."),
        ("12,5 h", None, "holds the text '12,5 h' where a number is wanted."),
        ("1,5e3", None, "holds the text '1,5e3' where a number is wanted."),
    ],
)
def test_numbers_that_may_mean_two_things_are_refused(tmp_path, typed, other, what):
    sheets = valid()
    change(sheets, "Package hours", 2, "Man-hours", typed)
    change(sheets, "Package hours", 4, "Man-hours", other or 20)
    message = the_error(read_book(folder_of(sheets, tmp_path / "tables")))
    assert (message.where, message.what) == ("Package hours.csv!D2", f"Man-hours {what}")
    assert message.remedy


def test_both_signs_in_one_file_are_told_and_only_sure_numbers_are_taken(tmp_path):
    sheets = valid()
    for row, value in ((2, "12,5"), (3, "7.25"), (4, "1,234")):
        change(sheets, "Package hours", row, "Man-hours", value)
    book = read_book(folder_of(sheets, tmp_path / "tables"))
    assert the_error(book).where == "Package hours.csv!D4"
    said = [m.what for m in book.messages if m.where == "Package hours.csv"]
    assert any("decimal commas and decimal points both occur" in what for what in said)


@pytest.mark.parametrize("typed", ["31.2.2027", "4.1.27", "4/1/2027", "2027.01.04"])
def test_dates_that_are_none_are_refused(tmp_path, typed):
    sheets = valid()
    change(sheets, "Checks", "C1", "Latest in", typed)
    assert the_error(read_book(folder_of(sheets, tmp_path / "tables"))).where == "Checks.csv!I2"


def test_comma_lists_of_names_that_are_numbers_stay_lists(tmp_path):
    sheets = valid()
    for row, name in ((2, "1"), (3, "2"), (4, "3")):
        change(sheets, "Packages", row, "Stage", name)
    change(sheets, "Packages", 4, "After", "1,2")
    for row, name in ((2, "1"), (3, "2"), (4, "2"), (5, "3")):
        change(sheets, "Package hours", row, "Stage", name)
    book = read_book(folder_of(sheets, tmp_path / "tables"))
    assert book.base.packages[0].stages[2].after == ("1", "2")


def test_nothing_is_told_of_files_with_commas(tmp_path):
    assert read_book(folder_of(valid(), tmp_path / "tables", ",", ".")).base is None  # 4.1.2027
    sheets = valid()
    change(sheets, "Package hours", 2, "Man-hours", "12,5")
    plain = tmp_path / "plain"
    plain.mkdir()
    for title, rows in sheets.items():
        with (plain / f"{title}.csv").open("w", encoding="utf-8", newline="") as stream:
            csv.writer(stream).writerows(rows)
    assert [m.where for m in read_book(plain).messages] == ["Package hours.csv!D2"]


@pytest.mark.parametrize(
    ("headings", "delimiter"),
    [
        ("Skill;Overtime cost;Contract cost,", ";"),
        ("Skill", ","),
        ("", ","),
        ('"a;b;c;d",e,f', ","),
        ("Package\tStage", "\t"),
    ],
)
def test_the_delimiter_is_that_of_the_headings(headings, delimiter):
    assert delimiter_of(headings) == delimiter


def test_a_file_of_one_endless_line_is_refused_in_bounds(tmp_path):
    folder = folder_of(valid(), tmp_path / "tables")
    (folder / "Skills.csv").write_text(";" * 2_000_000, encoding="utf-8")
    assert "Skills.csv" in {message.where for message in errors(read_book(folder))}
