"""Workbooks: kinds that are refused, bounds, stored results of formulas, what is hidden."""

import random
import re
import struct
import zipfile

import openpyxl
import pytest
from openpyxl.chart import BarChart, Reference
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from capacity.inputs import read_book
from capacity.messages import Level
from tests.inputs.books import (
    change,
    errors,
    read,
    the_error,
    valid,
    write_workbook,
)

# First bytes of a compound file, as its published format description gives them ([MS-CFB] 2.2).
COMPOUND_FILE = bytes([0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1])


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"", "the file is empty"),
        (COMPOUND_FILE + bytes(600), "protected by a password"),
        (b"Check;Aircraft\n", "not an .xlsx workbook"),
        (b"PK\x03\x04 but nothing more", "damaged"),
        (b"<html></html>", "not an .xlsx workbook"),
    ],
)
def test_other_files_are_refused_by_name(tmp_path, content, what):
    path = tmp_path / "plan.xlsx"
    path.write_bytes(content)
    message = the_error(read_book(path))
    assert message.where == "plan.xlsx"
    assert what in message.what


def test_a_file_that_is_not_there_is_a_message(tmp_path):
    assert "cannot be opened" in the_error(read_book(tmp_path / "none.xlsx")).what


def test_a_zip_of_other_things_is_no_workbook(tmp_path):
    path = tmp_path / "letters.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("letter.txt", "hello")
    assert "not an .xlsx workbook" in the_error(read_book(path)).what


def test_an_open_document_is_told_from_a_damaged_workbook(tmp_path):
    """Its archive begins with a part ``mimetype`` (OpenDocument 1.3 part 2, 3.3, from memory)."""
    path = tmp_path / "plan.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", "<office/>")
    message = the_error(read_book(path))
    assert "an archive of another kind, such as .ods" in message.what
    assert "damaged" not in message.what


def test_a_chart_in_place_of_a_table_is_told(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    book = openpyxl.load_workbook(path)
    del book["Checks"]
    chart = BarChart()
    chart.add_data(Reference(book["Skills"], min_col=2, min_row=1, max_row=3))
    book.create_chartsheet("Checks").add_chart(chart)
    book.save(path)
    message = the_error(read_book(path))
    assert message.where == "Checks"
    assert message.what == "the sheet is a chart and has no cells."


def test_hidden_rows_and_sheets_are_read_and_noted(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    plain = read_book(path).base
    book = openpyxl.load_workbook(path)
    for row in (3, 4, 900):  # nothing stands in the last one
        book["Checks"].row_dimensions[row].hidden = True
    book["Checks"].column_dimensions["E"].hidden = True
    book["Bay closures"].sheet_state = "hidden"
    book.save(path)
    found = read_book(path)
    assert found.base == plain
    assert [(f.level, f.where, f.what) for f in found.messages] == [
        (
            Level.NOTE,
            "Bay closures",
            "the sheet is hidden, and is read like any other.",
        ),
        (Level.NOTE, "Checks!A3", "row 3 and 1 more are hidden, and read like any other."),
    ]


def test_dates_of_the_1904_system_are_the_days_that_a_person_sees(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    book = openpyxl.load_workbook(path)
    book.epoch = CALENDAR_MAC_1904
    book.save(path)
    assert read_book(path).base == read(valid(), tmp_path).base


def test_a_truncated_workbook_is_a_message_wherever_it_ends(tmp_path):
    content = write_workbook(valid(), tmp_path / "book.xlsx").read_bytes()
    path = tmp_path / "cut.xlsx"
    for share in (0.01, 0.3, 0.6, 0.9, 0.999):
        path.write_bytes(content[: int(len(content) * share)])
        assert "damaged" in the_error(read_book(path)).what


def test_flipped_bytes_never_raise(tmp_path):
    content = write_workbook(valid(), tmp_path / "book.xlsx").read_bytes()
    path = tmp_path / "flipped.xlsx"
    chance = random.Random(4)
    for _ in range(60):
        spoiled = bytearray(content)
        for _ in range(3):
            spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
        path.write_bytes(spoiled)
        errors(read_book(path))


def test_a_damaged_sheet_is_named_and_the_others_are_read(tmp_path):
    source = write_workbook(valid(), tmp_path / "book.xlsx")
    path = tmp_path / "spoiled.xlsx"
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(path, "w") as new:
        for part in old.namelist():
            content = old.read(part)
            if part == "xl/worksheets/sheet2.xml":
                content = content.replace(b"<v>60</v>", b"<v>NaN</v>")
            new.writestr(part, content)
    message = the_error(read_book(path))
    assert message.where == "Skills"
    assert "damaged" in message.what


def test_a_number_too_large_to_be_finite_is_an_error(tmp_path):
    source = write_workbook(valid(), tmp_path / "book.xlsx")
    path = tmp_path / "endless.xlsx"
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(path, "w") as new:
        for part in old.namelist():
            new.writestr(part, old.read(part).replace(b"<v>20.5</v>", b"<v>1E999</v>"))
    message = the_error(read_book(path))
    assert message.where == "Package hours!D4"
    assert message.what == "Man-hours holds inf, which is not a finite number."


def test_an_encrypted_archive_is_refused(tmp_path):
    """Bit 0 of the general purpose flag marks encryption (zip application note, 4.4.4)."""
    content = bytearray(write_workbook(valid(), tmp_path / "book.xlsx").read_bytes())
    entry = content.index(b"PK\x01\x02")
    struct.pack_into("<H", content, entry + 8, 1)
    path = tmp_path / "locked.xlsx"
    path.write_bytes(content)
    assert "password" in the_error(read_book(path)).what


def test_an_empty_workbook_lacks_every_sheet(tmp_path):
    path = tmp_path / "empty.xlsx"
    openpyxl.Workbook().save(path)
    found = errors(read_book(path))
    assert [message.where for message in found] == [
        "Base", "Skills", "Bays", "Aircraft types", "Packages", "Package hours", "Checks",
        "Crews", "Shift patterns", "Shifts",
    ]  # fmt: skip
    assert "present are 'Sheet'" in found[0].what


def test_a_wrongly_declared_size_hides_nothing(tmp_path):
    source = write_workbook(valid(), tmp_path / "book.xlsx")
    path = tmp_path / "small.xlsx"
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(path, "w") as new:
        for part in old.namelist():
            content = old.read(part)
            if part.startswith("xl/worksheets/"):
                content, found = re.subn(rb'(<dimension ref=")[A-Z0-9:]+', rb"\1A1", content)
                assert found == 1
            new.writestr(part, content)
    assert read_book(path) == read_book(source)


def test_a_formula_without_a_stored_result_is_not_taken_for_blank(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C1", "Price", "=100*2")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "a formula without a stored result" in message.what
    assert "save it" in message.remedy


def test_formulas_with_a_result_count_and_one_that_gives_empty_text_is_blank(tmp_path):
    """A stored text result has the cell type ``str`` (ECMA-376 part 1, 18.18.11, from memory)."""
    sheets = valid()
    change(sheets, "Package hours", 2, "Man-hours", "=20*2")
    change(sheets, "Checks", "C1", "Customer", '=IF(1>0,"","x")')
    source = write_workbook(sheets, tmp_path / "formulas.xlsx")
    assert [f.where for f in errors(read_book(source))] == ["Package hours!D2", "Checks!E2"]
    path = tmp_path / "stored.xlsx"
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(path, "w") as new:
        for part in old.namelist():
            content = old.read(part)
            content = content.replace(b"<f>20*2</f><v></v>", b"<f>20*2</f><v>40</v>")
            content = content.replace(b"<f>20*2</f><v />", b"<f>20*2</f><v>40</v>")
            content = re.sub(rb'<c r="E2"([^>]*)><f>IF', rb'<c r="E2"\1 t="str"><f>IF', content)
            new.writestr(part, content)
    change(sheets, "Package hours", 2, "Man-hours", 40)
    change(sheets, "Checks", "C1", "Customer", None)
    found = read_book(path)
    assert found.messages == ()
    assert found.base == read(sheets, tmp_path).base


def test_a_cell_that_shows_a_percent_sign_means_what_it_shows(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    book = openpyxl.load_workbook(path)
    book["Base"]["B6"] = 0.8
    book["Base"]["B6"].number_format = "0%"
    book["Skills"]["C2"].number_format = '0"%"'  # the sign is mere text, the value stays 20
    book.save(path)
    assert read_book(path).base == read(valid(), tmp_path).base


def test_sheets_and_headings_match_whatever_their_case_and_blanks(tmp_path):
    sheets = {f" {title.upper()}": rows for title, rows in valid().items()}
    for rows in sheets.values():
        rows[0] = [f" {str(heading).lower()} " for heading in rows[0]]
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base == read(valid(), tmp_path).base
    assert book.where("Checks", "C3", "Fixed in") == " CHECKS!O4"


def test_the_file_is_never_written_to(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    before = path.read_bytes()
    path.chmod(0o444)
    assert all(f.level is not Level.ERROR for f in read_book(path).messages)
    assert path.read_bytes() == before
