"""An edited copy reads as the edit meant it, and everything else as before."""

import hashlib
import zipfile
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from openpyxl.comments import Comment

from capacity.errors import InputError
from capacity.inputs import read_book
from capacity.inputs.reading.edited_copy import SheetEdit, sheet_tables
from capacity.inputs.reading.spliced_copy import spliced_copy

ROWS = {
    "Base": [["Setting", "Value"], ["Base", "Northfield"], ["First day", date(2027, 1, 4)],
             ["Weeks", 4], ["Working days", "Mon-Fri"]],
    "Skills": [["Skill", "Overtime cost", "Overtime cap %", "Contract cost", "Contract cap %"],
               ["mechanic", 60, 20, 90, 25]],
    "Bays": [["Bay", "Max span m", "Max length m", "Max tail m", "Work"],
             ["B1", 40, 45, 14, "maintenance"]],
    "Aircraft types": [["Type", "Span m", "Length m", "Tail m"], ["T30", 34, 38, 12]],
    "Packages": [["Package", "Stage", "Work", "Days"], ["light", "open", "maintenance", 2]],
    "Package hours": [["Package", "Stage", "Skill", "Man-hours"], ["light", "open", "mechanic", 9]],
    "Checks": [["Check", "Aircraft", "Type", "Package", "Status", "Earliest in", "Latest in",
                "Agreed out", "Early cost per day", "Late cost per day", "Fixed bay",
                "Fixed in", "Remaining %"],
               ["C1", "N-1", "T30", "light", "booked", date(2027, 1, 4), date(2027, 1, 12),
                date(2027, 1, 15), 100, 500],
               ["C2", "N-2", "T30", "light", "fixed", None, None, None, 0, 0, "B1",
                date(2027, 1, 1), 0.5]],
    "Crews": [["Crew", "Skills", "Heads", "Pattern", "Starts cycle on"],
              ["red", "mechanic", 10, "days", date(2027, 1, 4)]],
    "Shift patterns": [["Pattern", "Cycle"], ["days", "D D D D D - -"]],
    "Shifts": [["Shift", "Start", "Hours"], ["D", "07:00", 8]],
}  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> Path:
    book = openpyxl.Workbook()
    del book["Sheet"]
    for title, rows in ROWS.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    book["Checks"]["M3"].number_format = "0%"
    book["Checks"]["A1"].comment = Comment("a note", "author")
    path = tmp_path / "book.xlsx"
    book.save(path)
    assert read_book(path).messages == ()
    return path


def read_again(content: bytes, path: Path):
    copy = path.with_name("copy.xlsx")
    copy.write_bytes(content)
    return read_book(copy)


def test_a_table_shows_what_stands_there_under_all_headings(path):
    checks, closures = sheet_tables(path, ["Checks", "Bay closures"])
    assert checks.sheet == "Checks"
    assert checks.headings[:3] == ("Check", "Aircraft", "Type")
    assert "Wanted in" in checks.headings  # not in this workbook, but it may be
    assert [row.number for row in checks.rows] == [2, 3]
    assert checks.rows[0].values["Latest in"] == datetime(2027, 1, 12)
    assert "Fixed bay" not in checks.rows[0].values
    assert checks.rows[1].values["Remaining %"] == 50
    assert closures.rows == ()
    assert closures.headings == ("Bay", "From", "To", "Reason")


def test_without_edits_the_copy_reads_the_same(path):
    assert read_again(spliced_copy(path, []), path).base == read_book(path).base


def test_the_workbook_itself_is_never_touched(path):
    before = hashlib.sha256(path.read_bytes()).hexdigest()
    spliced_copy(path, [SheetEdit("Checks", {2: {"Check": "X"}})])
    assert hashlib.sha256(path.read_bytes()).hexdigest() == before


def test_changed_cells_read_as_changed_and_nothing_else_does(path):
    edit = SheetEdit("Checks", {2: {"Latest in": date(2027, 1, 15), "Late cost per day": 750}})
    book = read_again(spliced_copy(path, [edit]), path)
    before = read_book(path).base
    changed = book.base.checks[0]
    assert (changed.latest_in, changed.late_cost_per_day) == (date(2027, 1, 15), 750)
    assert book.base.replace(checks=before.checks) == before
    assert book.base.checks[1] == before.checks[1]


def test_percent_is_written_as_the_cell_shows_it(path):
    book = read_again(spliced_copy(path, [SheetEdit("Checks", {3: {"Remaining %": 75}})]), path)
    assert book.base.checks[1].remaining == 0.75


def test_a_cell_formatted_as_percent_but_blank_reads_what_was_typed(path):
    opened = openpyxl.load_workbook(path)
    opened["Checks"]["M3"].value = None
    opened.save(path)
    book = read_again(spliced_copy(path, [SheetEdit("Checks", {3: {"Remaining %": 75}})]), path)
    assert book.base.checks[1].remaining == 0.75


def test_added_rows_stand_below_and_look_like_the_row_above(path):
    row = {"Crew": "blue", "Skills": "mechanic", "Heads": 4, "Pattern": "days",
           "Starts cycle on": date(2027, 1, 4), "Employment": "contract"}  # fmt: skip
    content = spliced_copy(path, [SheetEdit("Crews", added=(row,))])
    book = read_again(content, path)
    assert [(crew.name, crew.heads) for crew in book.base.crews] == [("red", 10), ("blue", 4)]
    assert book.base.crews[1].employment == "contract"  # in a column that was not there before
    assert book.where("Crews", "blue", "Heads") == "Crews!C3"


def test_a_sheet_that_is_missing_is_added(path):
    row = {"Bay": "B1", "From": date(2027, 2, 1), "To": date(2027, 2, 2), "Reason": "door"}
    book = read_again(spliced_copy(path, [SheetEdit("Bay closures", added=(row,))]), path)
    (closure,) = book.base.closures
    assert (closure.first, closure.last, closure.reason) == (
        date(2027, 2, 1),
        date(2027, 2, 2),
        "door",
    )


def test_removed_rows_are_blank_and_the_others_keep_their_numbers(path):
    book = read_again(spliced_copy(path, [SheetEdit("Checks", removed=frozenset({2}))]), path)
    assert [check.name for check in book.base.checks] == ["C2"]
    assert book.where("Checks", "C2") == "Checks!A3"


def test_faults_of_an_edit_are_found_by_the_reader_with_their_cells(path):
    edit = SheetEdit("Checks", {2: {"Type": "T99"}})
    book = read_again(spliced_copy(path, [edit]), path)
    assert book.base is None
    assert [message.where for message in book.messages] == ["Checks!C2"]


def test_text_that_looks_like_a_formula_stays_text(path):
    edit = SheetEdit("Checks", {2: {"Aircraft": "=1+1"}})
    content = spliced_copy(path, [edit])
    assert read_again(content, path).base.checks[0].aircraft == "=1+1"
    cell = openpyxl.load_workbook(path.with_name("copy.xlsx"))["Checks"]["B2"]
    assert (cell.value, cell.data_type) == ("=1+1", "s")


def test_control_characters_do_not_stop_the_writing(path):
    content = spliced_copy(path, [SheetEdit("Checks", {2: {"Aircraft": "N\x00-\x0b9"}})])
    assert read_again(content, path).base.checks[0].aircraft == "N-9"


def test_formulas_stay_with_the_results_stored_for_them(path):
    # A spreadsheet program stores the result beside the formula; openpyxl cannot, so by hand.
    stored = path.with_name("stored.xlsx")
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(stored, "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "xl/worksheets/sheet7.xml":
                assert b"<v>500</v>" in data
                data = data.replace(b"<v>500</v>", b"<f>250*2</f><v>500</v>")
            new.writestr(name, data)
    before = read_book(stored).base
    edit = SheetEdit("Checks", {2: {"Early cost per day": 120}})
    after = read_again(spliced_copy(stored, [edit]), path).base
    assert after.checks[0].late_cost_per_day == before.checks[0].late_cost_per_day == 500
    assert after.checks[0].early_cost_per_day == 120


def test_notes_are_kept(path):
    content = spliced_copy(path, [SheetEdit("Checks", {2: {"Aircraft": "N-7"}})])
    read_again(content, path)
    kept = openpyxl.load_workbook(path.with_name("copy.xlsx"))["Checks"]["A1"].comment
    assert kept.text == "a note"


def test_merged_cells_are_refused_with_their_place(path):
    opened = openpyxl.load_workbook(path)
    opened["Checks"].merge_cells("K2:L2")
    opened.save(path)
    with pytest.raises(InputError, match="Checks!L2"):
        spliced_copy(path, [SheetEdit("Checks", {2: {"Fixed in": date(2027, 1, 4)}})])


def test_a_file_that_is_no_workbook_is_refused(tmp_path):
    path = tmp_path / "book.xlsx"
    path.write_bytes(b"PK but no more")
    with pytest.raises(InputError):
        sheet_tables(path, ["Checks"])
    with pytest.raises(InputError):
        spliced_copy(path, [])


def test_texts_that_look_like_formulas_stay_the_same_texts(tmp_path):
    book = openpyxl.load_workbook(Path(__file__).parents[3] / "sample_inputs" / "tiny.xlsx")
    sheet = book["Checks"]
    column = [cell.value for cell in sheet[1]].index("Customer") + 1
    texts = ("=1+1", "+49 30 1", "@SUM(A1)", "-2")
    for row, text in enumerate(texts[:3], start=2):
        sheet.cell(row, column).value = text
        sheet.cell(row, column).data_type = "s"
    path = tmp_path / "texts.xlsx"
    book.save(path)
    edit = SheetEdit("Checks", changed={5: {"Customer": texts[3]}}, added=({"Customer": "=A1"},))
    again = tmp_path / "again.xlsx"
    again.write_bytes(spliced_copy(path, [edit]))
    cells = [openpyxl.load_workbook(again)["Checks"].cell(row, column) for row in range(2, 7)]
    assert [cell.value for cell in cells] == [*texts, "=A1"]
    assert {cell.data_type for cell in cells} == {"s"}
