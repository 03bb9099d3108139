"""A spliced copy reads as the edit meant it, and every part but those edited is the same bytes."""

import hashlib
import io
import re
import zipfile
from datetime import date
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import Font, PatternFill
from openpyxl.worksheet.datavalidation import DataValidation

from capacity.errors import InputError
from capacity.inputs import read_book
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.spliced_copy import spliced_copy
from tests.inputs.books import valid, write_workbook

QUARTER = Path(__file__).parents[3] / "sample_inputs" / "quarter.xlsx"
CHECK = {
    "Check": "C9", "Aircraft": "N-9 <&>", "Type": "T30", "Package": "light", "Status": "booked",
    "Earliest in": date(2027, 1, 11), "Latest in": date(2027, 1, 20), "Price": 12.5,
}  # fmt: skip
EDITS = (
    SheetEdit("Base", changed={3: {"Value": date(2027, 1, 11)}}),
    SheetEdit(
        "Checks",
        changed={2: {"Status": "fixed", "Fixed bay": "B1", "Fixed in": date(2027, 1, 14)}},
        added=(CHECK,),
        removed=frozenset({3}),
    ),
    SheetEdit("Bay closures", removed=frozenset({2})),
    SheetEdit("Delivered", added=({"Check": "D1", "Package": "light", "Stage": "open",
                                   "Planned in": date(2026, 12, 1), "Actual man-hours": 41.5},)),
)  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A workbook with all that a library that saves it again would lose or change."""
    plain = write_workbook(valid(), tmp_path / "plain.xlsx")
    book = openpyxl.load_workbook(plain)
    sheet = book["Checks"]
    sheet.freeze_panes = "B2"
    sheet.column_dimensions["A"].width = 33
    sheet["A1"].font = Font(bold=True, color="FF0000")
    sheet["L2"].fill = PatternFill("solid", fgColor="FFFF00")
    sheet.conditional_formatting.add("A2:A9", CellIsRule("equal", ['"C1"'], font=Font(italic=True)))
    rule = DataValidation(type="list", formula1='"fixed,booked,option"', sqref="G2:G400")
    sheet.add_data_validation(rule)
    book.create_sheet("My notes").append(["keep", 1, "=1+1"])
    path = tmp_path / "book.xlsx"
    book.save(path)
    return path


def parts_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def read_again(content: bytes, path: Path):
    copy = path.with_name("copy.xlsx")
    copy.write_bytes(content)
    return read_book(copy)


def test_the_copy_reads_as_the_edit_meant_it(path: Path) -> None:
    book = read_again(spliced_copy(path, EDITS), path)
    assert book.base is not None, book.messages
    before = read_book(path).base
    assert book.base.first_day == date(2027, 1, 11)
    assert [c.name for c in book.base.checks] == ["C1", "C3", "C4", "C9"]
    first, *_, last = book.base.checks
    assert (first.fixed_bay, first.fixed_in) == ("B1", date(2027, 1, 14))
    assert (last.aircraft, last.latest_in, last.price) == ("N-9 <&>", date(2027, 1, 20), 12.5)
    assert book.base.closures == ()
    (delivered,) = book.base.delivered
    assert (delivered.planned_in, delivered.actual_hours) == (date(2026, 12, 1), 41.5)
    assert book.base.packages == before.packages
    assert book.where("Checks", "C9", "Check") == "Checks!A6"


def test_every_other_part_is_the_same_bytes_and_the_workbook_is_not_touched(path: Path) -> None:
    before = hashlib.sha256(path.read_bytes()).hexdigest()
    old, new = parts_of(path.read_bytes()), parts_of(spliced_copy(path, EDITS))
    assert hashlib.sha256(path.read_bytes()).hexdigest() == before
    differ = {name for name in old if old[name] != new.get(name)}
    assert len(differ) == 6  # three sheets, the list of parts, the workbook and its relations
    assert "xl/styles.xml" not in differ
    assert len(set(new) - set(old)) == 1


def test_formats_notes_validations_and_other_sheets_stay(path: Path) -> None:
    read_again(spliced_copy(path, EDITS), path)
    old = openpyxl.load_workbook(path)
    new = openpyxl.load_workbook(path.with_name("copy.xlsx"))
    assert new.sheetnames == [*old.sheetnames, "Delivered"]
    sheet, as_it_was = new["Checks"], old["Checks"]
    assert sheet.freeze_panes == "B2"
    assert sheet.column_dimensions["A"].width == 33
    assert sheet["A1"].font.color.rgb == as_it_was["A1"].font.color.rgb
    assert sheet["L2"].fill.fgColor.rgb == as_it_was["L2"].fill.fgColor.rgb
    assert [r.sqref for r in sheet.data_validations.dataValidation] == [
        r.sqref for r in as_it_was.data_validations.dataValidation
    ]
    assert len(sheet.conditional_formatting) == 1
    assert [c.value for c in new["My notes"][1]] == ["keep", 1, "=1+1"]
    assert sheet["O2"].is_date  # shown as a date, though the cell was empty
    assert new["Base"]["B3"].number_format == old["Base"]["B3"].number_format


def test_notes_of_the_sample_are_kept_with_their_shapes() -> None:
    edit = SheetEdit("Checks", removed=frozenset({2, 3}))
    old, new = parts_of(QUARTER.read_bytes()), parts_of(spliced_copy(QUARTER, [edit]))
    assert [name for name in old if old[name] != new[name]] == ["xl/worksheets/sheet8.xml"]
    assert b"legacyDrawing" in new["xl/worksheets/sheet8.xml"]


def test_a_copy_of_a_copy_with_cells_that_are_empty_but_formatted(path: Path) -> None:
    """Such cells close themselves: ``<c r="P2" s="3"/>``; so may rows."""
    first = path.with_name("first.xlsx")
    first.write_bytes(spliced_copy(path, EDITS))
    changes = SheetEdit("Checks", changed={2: {"Fixed in": None}, 4: {"Customer": "Aero West"}})
    again = path.with_name("again.xlsx")
    again.write_bytes(spliced_copy(first, [changes, SheetEdit("Checks", removed=frozenset({5}))]))
    third = spliced_copy(again, [SheetEdit("Checks", changed={2: {"Status": "booked"}})])
    names = [check.name for check in read_again(third, path).base.checks]
    assert names == ["C1", "C3", "C9"]
    sheet = openpyxl.load_workbook(path.with_name("copy.xlsx"))["Checks"]
    assert [sheet["A3"].value, sheet["A5"].value, sheet["E4"].value] == [None, None, "Aero West"]


def test_without_edits_every_part_is_the_same(path: Path) -> None:
    assert parts_of(spliced_copy(path, [])) == parts_of(path.read_bytes())


def test_charts_and_results_of_formulas_stay(tmp_path: Path) -> None:
    sheets = valid()
    path = tmp_path / "charts.xlsx"
    with xlsxwriter.Workbook(path) as book:
        for title, rows in sheets.items():
            sheet = book.add_worksheet(title)
            for number, row in enumerate(rows):
                for column, value in enumerate(row):
                    if isinstance(value, date):
                        shown = book.add_format({"num_format": "d mmm yyyy"})
                        sheet.write_datetime(number, column, value, shown)
                    elif value is not None:
                        write = sheet.write_string if isinstance(value, str) else sheet.write
                        write(number, column, str(value) if not isinstance(value, int | float | str)
                              else value)  # fmt: skip
        own = book.add_worksheet("Own figures")
        own.write_formula("A1", "=COUNTA(Checks!A2:A99)", None, 4)
        chart = book.add_chart({"type": "column"})
        chart.add_series({"values": "='Own figures'!$A$1:$A$1"})
        own.insert_chart("C3", chart)
    edit = SheetEdit("Checks", changed={2: {"Customer": "Aero West"}})
    new = parts_of(spliced_copy(path, [edit]))
    assert "xl/charts/chart1.xml" in new
    assert any(b"COUNTA" in content and b"<v>4</v>" in content for content in new.values())


def test_a_formula_that_others_share_is_handed_on(path: Path) -> None:
    """As spreadsheet programs store a formula that was filled down (ECMA-376 1, 18.3.1.40)."""
    name = "xl/worksheets/sheet8.xml"
    parts = parts_of(path.read_bytes())
    content = parts[name]
    for row, told in (
        (2, b'<f t="shared" ref="L2:L3" si="0">K2*5</f>'),
        (3, b'<f t="shared" si="0"/>'),
    ):
        at = content.index(f'r="L{row}"'.encode())
        at = content.index(b"<v", at)
        content = content[:at] + told + content[at:]
    parts[name] = content
    shared = path.with_name("shared.xlsx")
    with zipfile.ZipFile(shared, "w") as archive:
        for part, data in parts.items():
            archive.writestr(part, data)
    edit = SheetEdit("Checks", removed=frozenset({2}))
    copy = path.with_name("copy.xlsx")
    copy.write_bytes(spliced_copy(shared, [edit]))
    cells = openpyxl.load_workbook(copy)["Checks"]
    assert cells["L2"].value is None
    assert cells["L3"].value == "=K3*5"
    assert read_book(copy).base.checks[0].late_cost_per_day == 0  # the result that was stored


def test_cells_without_names_keep_their_places(path: Path) -> None:
    """The name of a cell may be left out: then it stands behind the one before (18.3.1.4)."""
    parts = parts_of(path.read_bytes())
    name = "xl/worksheets/sheet8.xml"
    parts[name] = re.sub(rb'<c r="[A-Z]+\d+"', b"<c", parts[name])
    nameless = path.with_name("nameless.xlsx")
    with zipfile.ZipFile(nameless, "w") as archive:
        for part, data in parts.items():
            archive.writestr(part, data)
    before = openpyxl.load_workbook(nameless)["Checks"]
    copy = path.with_name("copy.xlsx")
    copy.write_bytes(spliced_copy(nameless, [SheetEdit("Checks", {2: {"Type": None}})]))
    after = openpyxl.load_workbook(copy)["Checks"]
    assert [c.value for c in after[2]][:2] == [c.value for c in before[2]][:2]
    assert after["C2"].value is None
    assert [c.value for c in after[2]][3:] == [c.value for c in before[2]][3:]


def test_text_that_looks_like_a_formula_stays_text(path: Path) -> None:
    read_again(spliced_copy(path, [SheetEdit("Checks", {2: {"Aircraft": "=1+1\x00"}})]), path)
    cell = openpyxl.load_workbook(path.with_name("copy.xlsx"))["Checks"]["B2"]
    assert (cell.value, cell.data_type) == ("=1+1", "s")


def test_shares_are_written_as_the_cells_show_them(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    book["Checks"]["P4"].number_format = "0%"
    book["Checks"]["P4"].value = 0.5
    book.save(path)
    content = spliced_copy(path, [SheetEdit("Checks", {4: {"Remaining %": 75}})])
    assert read_again(content, path).base.checks[2].remaining == 0.75


def test_merged_cells_are_refused_with_their_place(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    book["Checks"].merge_cells("N2:O2")
    book.save(path)
    with pytest.raises(InputError, match="Checks!O2"):
        spliced_copy(path, [SheetEdit("Checks", {2: {"Fixed in": date(2027, 1, 4)}})])


def test_a_sheet_without_rows_takes_some(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    book["Absence"].delete_rows(1, 9)
    book.save(path)
    row = {"Crew": "red", "From": date(2027, 1, 5), "To": date(2027, 1, 6), "Heads": 1}
    content = spliced_copy(path, [SheetEdit("Absence", added=(row,))])
    assert read_again(content, path).base.absences[0].last == date(2027, 1, 6)
