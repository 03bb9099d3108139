"""An empty workbook tells what is missing, and is sound once that is filled in."""

from datetime import date
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils import column_index_from_string, range_boundaries

import capacity
from capacity.cli import main
from capacity.commands.exits import Exit
from capacity.errors import OutputError, SettingsError
from capacity.inputs.read_input import read_book
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.sheets import SHEETS, CheckRow, SettingLine, Settings
from capacity.inputs.reading.spliced_copy import spliced_copy
from capacity.messages import Level
from capacity.reports.plan_files.fingerprint import fingerprint_of
from capacity.template.lists import LAST_ROW, offer_of
from capacity.template.new_workbook import new_workbook
from capacity.template.notes import NOTES
from capacity.template.placeholders import HoursBy, Placeholders

WANTED = Placeholders(bays=2, types=1, packages=2, checks=3, crews=1, skills=("Airframe", "Cabin"))
FIRST_DAY = date(2027, 1, 4)

ANSWERS = {
    "Base": {"Base": "Fernfield (invented)", "First day": FIRST_DAY, "Weeks": 4},
    "Skills": {},
    "Bays": {"Max span m": 40, "Max length m": 40, "Max tail m": 12, "Work": "maintenance"},
    "Aircraft types": {"Span m": 30, "Length m": 30, "Tail m": 10},
    "Packages": {"Work": "maintenance", "Days": 5},
    "Package hours": {"Man-hours": 40},
    "Checks": {
        "Aircraft": "Q-FRNA",
        "Type": "Type 1",
        "Package": "Package 1",
        "Status": "booked",
        "Earliest in": FIRST_DAY,
        "Latest in": date(2027, 1, 25),
    },
    "Crews": {
        "Skills": "Airframe, Cabin", "Heads": 8, "Pattern": "Week", "Starts cycle on": FIRST_DAY,
    },
    "Shift patterns": {"Pattern": "Week", "Cycle": "D D D D D - -"},
    "Shifts": {"Shift": "D", "Start": "06:00", "Hours": 8},
}  # fmt: skip
"""What a planner types into each row of a sheet."""


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as ended:
        main(["new", *arguments])
    return int(ended.value.code or 0)


def written(folder: Path, wanted: Placeholders = WANTED) -> Path:
    new_workbook(folder / "base.xlsx", wanted)
    return folder / "base.xlsx"


def filled_in(path: Path) -> Path:
    """Fill every blank that has an answer, as a person would."""
    book = openpyxl.load_workbook(path)
    for sheet in book:
        answers = ANSWERS.get(sheet.title, {})
        if sheet.title == "Base":
            for row in sheet.iter_rows(min_row=2):
                row[1].value = answers.get(row[0].value, row[1].value)
            continue
        places = {cell.value: cell.column for cell in sheet[1]}
        for number in range(2, max(sheet.max_row, 2) + 1):
            for heading, answer in answers.items():
                if heading in places and (answers is not ANSWERS["Bays"] or number < 4):
                    sheet.cell(number, places[heading]).value = answer
    book.save(path)
    return path


def cells_of(path: Path, title: str) -> openpyxl.worksheet.worksheet.Worksheet:
    return openpyxl.load_workbook(path)[title]


def test_nothing_but_what_is_to_be_filled_in_is_said(tmp_path):
    read = read_book(written(tmp_path))
    assert {message.level for message in read.messages} == {Level.ERROR}
    for message in read.messages:
        assert message.what.endswith("is blank."), message
        assert message.remedy == "Fill it in."
        assert "!" in message.where
    places = {message.where for message in read.messages}
    assert {"Base!B2", "Base!B3", "Bays!C2", "Bays!F3", "Package hours!D5", "Checks!G4"} <= places


def test_without_any_count_each_sheet_with_no_rows_is_named_by_its_first_cell(tmp_path):
    read = read_book(written(tmp_path, Placeholders()))
    assert [(m.where, m.remedy) for m in read.messages if not m.where.startswith("Base")] == [
        (f"{sheet}!A2", "Fill in its rows.")
        for sheet in ("Skills", "Bays", "Aircraft types", "Packages", "Checks")
    ]


@pytest.mark.parametrize("hours_by", HoursBy)
def test_filled_in_it_can_be_planned_and_every_setting_is_at_its_default(tmp_path, hours_by):
    path = filled_in(written(tmp_path, Placeholders(
        bays=2, types=1, packages=2, checks=3, crews=1, skills=("Airframe", "Cabin"),
        hours_by=hours_by,
    )))  # fmt: skip
    if hours_by is HoursBy.COLUMNS:
        book = openpyxl.load_workbook(path)
        for row in book["Package hours"].iter_rows(min_row=2, min_col=3):
            for cell in row:
                cell.value = 40
        book.save(path)
    read = read_book(path)
    assert [m for m in read.messages if m.level is not Level.NOTE] == []
    assert read.base is not None
    assert len(read.base.checks) == 3
    assert read.base.packages[0].stages[0].man_hours == {"Airframe": 40, "Cabin": 40}
    # Settings at their defaults leave no trace in the fingerprint.
    assert set(fingerprint_of(read.base)["Base"]) == {"Base", "First day", "Weeks"}
    assert capacity.plan(read.base, capacity.Settings(seconds=5)).plan.placements


def test_every_sheet_is_there_with_all_of_its_headings_and_every_heading_has_a_note(tmp_path):
    book = openpyxl.load_workbook(written(tmp_path))
    assert book.sheetnames == ["Base", *(model.sheet for model in SHEETS)]
    for sheet in book:
        assert sheet.freeze_panes == "B2"
        for cell in sheet[1]:
            assert cell.comment is not None, f"{sheet.title}: {cell.value}"
    for model in SHEETS:
        assert [cell.value for cell in book[model.sheet][1]] == list(model.headings())
    settings = {row[0].value: row[0].comment for row in book["Base"].iter_rows(min_row=2)}
    assert list(settings) == list(Settings.headings())
    assert all(comment is not None for comment in settings.values())


def test_no_note_is_of_a_heading_that_is_not_there():
    there = {
        (m.sheet, heading) for m in (*SHEETS, SettingLine, Settings) for heading in m.headings()
    }
    assert set(NOTES) == there


def test_notes_are_sentences():
    for note in NOTES.values():
        assert note.endswith("."), note
        assert "  " not in note


def lists_in(path: Path) -> dict[tuple[str, str], str]:
    """Return what each column, or setting, offers, as the file says it."""
    found = {}
    for sheet in openpyxl.load_workbook(path):
        for rule in sheet.data_validations.dataValidation:
            assert rule.type == "list"
            for cells in rule.sqref.ranges:
                row, column = cells.min_row, cells.min_col
                if sheet.title == "Base":
                    found["Base", sheet.cell(row, 1).value] = rule.formula1
                    continue
                assert (row, cells.max_row) == (2, LAST_ROW)
                found[sheet.title, sheet.cell(1, column).value] = rule.formula1
    return found


def test_lists_offer_words_and_the_names_of_other_sheets_in_later_rows_too(tmp_path):
    offered = lists_in(written(tmp_path))
    assert offered["Checks", "Status"] == '"fixed,booked,option"'
    assert offered["Base", "Working-time mode"] == '"off,warn,hold"'
    for column, (sheet, heading) in {
        ("Checks", "Type"): ("Aircraft types", "Type"),
        ("Checks", "Package"): ("Packages", "Package"),
        ("Checks", "Fixed bay"): ("Bays", "Bay"),
        ("Package hours", "Package"): ("Packages", "Package"),
        ("Package hours", "Stage"): ("Packages", "Stage"),
        ("Package hours", "Skill"): ("Skills", "Skill"),
        ("Bay closures", "Bay"): ("Bays", "Bay"),
        ("Bays", "Reached through"): ("Bays", "Bay"),
        ("Crews", "Skills"): ("Skills", "Skill"),
        ("Crews", "Pattern"): ("Shift patterns", "Pattern"),
        ("Shift patterns", "Cycle"): ("Shifts", "Shift"),
        ("Absence", "Crew"): ("Crews", "Crew"),
        ("Shop loops", "Leave at"): ("Packages", "Stage"),
    }.items():
        title, _, cells = offered[column].rpartition("!")
        assert title.strip("'") == sheet, column
        first, top, last, bottom = range_boundaries(cells)
        assert (top, bottom) == (2, LAST_ROW)
        assert first == last
        assert cells_of(tmp_path / "base.xlsx", sheet).cell(1, first).value == heading
    assert ("Checks", "Check") not in offered
    assert ("Bays", "Bay") not in offered


def test_a_comma_list_may_stand_where_names_are_offered():
    assert offer_of(CheckRow, "type").rule()["error_type"] == "warning"
    delivered = next(model for model in SHEETS if model.sheet == "Delivered")
    assert offer_of(delivered, "check").other_texts, "a check that is gone is in no other sheet"
    crews = next(model for model in SHEETS if model.sheet == "Crews")
    assert offer_of(crews, "skills").rule()["show_error"] is False


def test_lists_are_short_enough_to_stand_in_a_cell(tmp_path):
    # A spreadsheet program takes at most 255 characters of words (XlsxWriter's documentation).
    assert all(len(rule) <= 255 for rule in lists_in(written(tmp_path)).values())


def test_dates_and_names_are_formatted_as_such(tmp_path):
    sheet = cells_of(written(tmp_path), "Checks")
    letters = {cell.value: cell.column_letter for cell in sheet[1]}

    def look(heading: str) -> str:
        wanted = column_index_from_string(letters[heading])
        return next(
            dimension.number_format
            for dimension in sheet.column_dimensions.values()
            if dimension.min <= wanted <= dimension.max
        )

    assert look("Latest in") == look("Fixed in") == "yyyy-mm-dd"
    assert look("Aircraft") == "@"  # a registration such as 3-4 does not become a date
    assert cells_of(tmp_path / "base.xlsx", "Base")["B3"].number_format == "yyyy-mm-dd"


def test_what_the_command_is_told_stands_in_the_workbook(tmp_path, capsys):
    path = tmp_path / "base.xlsx"
    options = ("--bays", "2", "--checks", "3", "--skills", "2", "--name", "Fernfield (invented)")
    day = ("--first-day", "2027-01-04", "--weeks", "13")
    assert run(str(path), *options, *day) == Exit.PLANNED
    said = capsys.readouterr().out
    assert f"written: {path}" in said
    assert f"capacity verify {path}" in said
    assert [cell.value for cell in cells_of(path, "Bays")["A"]] == ["Bay", "Bay 1", "Bay 2"]
    assert cells_of(path, "Skills")["A3"].value == "Skill 2"
    assert cells_of(path, "Checks").max_row == 4
    base = cells_of(path, "Base")
    assert [base[f"B{row}"].value for row in (2, 4)] == ["Fernfield (invented)", 13]
    assert base["B3"].value.date() == FIRST_DAY


def test_a_name_that_looks_like_a_formula_stays_text(tmp_path):
    path = tmp_path / "base.xlsx"
    assert run(str(path), "--name", "=1+1", "--skills", "=cmd") == Exit.PLANNED
    for sheet, place in (("Base", "B2"), ("Skills", "A2")):
        cell = cells_of(path, sheet)[place]
        assert cell.data_type == "s", cell.value


def test_nothing_is_replaced(tmp_path, capsys):
    path = tmp_path / "base.xlsx"
    path.write_text("mine", encoding="utf-8")
    assert run(str(path)) == Exit.CANNOT_WRITE == 73
    assert "is there already, and nothing is replaced" in capsys.readouterr().err
    assert path.read_text(encoding="utf-8") == "mine"
    assert [entry.name for entry in tmp_path.iterdir()] == ["base.xlsx"]
    with pytest.raises(OutputError):
        capacity.new_workbook(path)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("base.xls",), "name a file that ends in .xlsx"),
        (("base.xlsx", "--bays", "-1"), "--bays"),
        (("base.xlsx", "--bays", "100000"), "--bays"),
        (("base.xlsx", "--skills", "a,,b"), "names with a comma between"),
        (("base.xlsx", "--skills", "a, A"), "names with a comma between"),
        (("base.xlsx", "--skills", "5000"), "5000"),
        (("base.xlsx", "--hours-by", "columns"), "need the skills"),
        (("base.xlsx", "--hours-by", "columns", "--skills", "stage"), "'stage' is a heading"),
    ],
)
def test_wrong_usage_writes_nothing(tmp_path, monkeypatch, capsys, options, said):
    monkeypatch.chdir(tmp_path)
    assert run(*options) == Exit.USAGE
    assert said in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_folder_that_is_not_there_is_told(tmp_path, capsys):
    assert run(str(tmp_path / "none" / "base.xlsx")) == Exit.CANNOT_WRITE
    assert "folder does not exist" in capsys.readouterr().err


def test_counts_are_whole_numbers():
    with pytest.raises(SettingsError, match="bays"):
        Placeholders(bays=-1)
    with pytest.raises(SettingsError, match="weeks"):
        Placeholders(weeks=0)


@pytest.mark.parametrize("step", ["os.fsync", "pathlib.Path.replace"])
def test_a_full_disk_leaves_nothing_and_says_so(tmp_path, monkeypatch, capsys, step):
    def full(*arguments: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(step, full)
    assert run(str(tmp_path / "base.xlsx")) == Exit.CANNOT_WRITE
    assert "The disk is full" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_changed_copy_keeps_notes_and_lists(tmp_path):
    path = written(tmp_path)
    lists = lists_in(path)
    change = SheetEdit("Checks", {2: {"Aircraft": "Q-FRNA"}})
    (tmp_path / "copy.xlsx").write_bytes(spliced_copy(path, [change]))
    assert lists_in(tmp_path / "copy.xlsx") == lists
    sheet = cells_of(tmp_path / "copy.xlsx", "Checks")
    assert sheet["B2"].value == "Q-FRNA"
    assert sheet["B1"].comment.text == NOTES["Checks", "Aircraft"]
