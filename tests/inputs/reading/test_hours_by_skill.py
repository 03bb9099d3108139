"""Package hours with a column a skill say the same as with a row a stage and skill."""

from pathlib import Path

import pytest

from capacity.inputs.read_input import read_book
from capacity.inputs.reading.edited_copy import SheetEdit, sheet_tables
from capacity.inputs.reading.spliced_copy import spliced_copy
from capacity.messages import Level
from capacity.reports.plan_files.fingerprint import fingerprint_of
from tests.inputs.books import Sheets, errors, read, the_error, valid, write_folder, write_workbook

BY_SKILL = [
    ["Package", "Stage", "sheet metal", "mechanic"],
    ["light", "open", None, 40],
    ["light", "inspect", 20.5, 60],
    ["light", "close", None, 30],
    ["paint prep", "wash", None, 8],
]


def by_skill(*changes: tuple[int, int, object]) -> Sheets:
    """Return the valid sheets with a column a skill, and with cells changed: row, column, value."""
    rows = [list(row) for row in BY_SKILL]
    for row, column, value in changes:
        while len(rows[row]) <= column:
            rows[row].append(None)
        rows[row][column] = value
    return valid() | {"Package hours": rows}


@pytest.mark.parametrize("as_folder", [False, True], ids=["workbook", "folder"])
def test_both_forms_say_the_same(tmp_path, as_folder):
    rows = read(valid(), tmp_path).base
    sheets = by_skill()
    book = (
        read_book(write_folder(sheets, tmp_path / "tables"))
        if as_folder
        else read(sheets, tmp_path)
    )
    assert book.messages == ()
    assert book.base == rows
    assert fingerprint_of(book.base) == fingerprint_of(rows)


def test_the_order_and_the_case_of_headings_are_free(tmp_path):
    rows = [["MECHANIC", " Sheet  metal", "stage", "package"], [40, None, "open", "light"],
            [60, 20.5, "inspect", "light"], [30, 0, "close", "light"],
            [8, None, "wash", "paint prep"]]  # fmt: skip
    book = read(valid() | {"Package hours": rows}, tmp_path)
    assert book.messages == ()
    assert fingerprint_of(book.base) == fingerprint_of(read(valid(), tmp_path).base)


@pytest.mark.parametrize(
    ("change", "where", "what", "remedy"),
    [
        ((2, 3, "many"), "D3",
         "mechanic holds the text 'many' where a number is wanted.", "plain number"),
        ((2, 2, -1), "C3", "sheet metal is -1.", "at least 0"),
        ((2, 1, "inspct"), "B3", "'inspct' is not a stage of the package 'light'.", "'inspect'"),
        ((2, 0, None), "A3", "Package is blank.", "Fill it in."),
        ((3, 1, "open"), "B4", "'light / open' is here and in row 2.", "delete one"),
        ((0, 2, "sheet metall"), "C1",
         "'sheet metall' is not in the sheet Skills, and the column below it holds man-hours.",
         "Did you mean 'sheet metal'?"),
        ((0, 2, "Mechanic"), "D1", "the heading 'mechanic' is here and in C1.", "Delete or rename"),
    ],
)  # fmt: skip
def test_each_fault_has_its_cell(tmp_path, change, where, what, remedy):
    message = the_error(read(by_skill(change), tmp_path))
    assert (message.where, message.what) == (f"Package hours!{where}", what)
    assert remedy in message.remedy


def test_a_column_of_numbers_that_is_no_skill_is_not_lost_silently(tmp_path):
    message = the_error(read(by_skill((0, 4, "Total"), (2, 4, 80)), tmp_path))
    assert message.where == "Package hours!E1"
    assert "If it is none, delete it." in message.remedy


@pytest.mark.parametrize("heading", ["Remarks", "row"])
def test_a_column_of_words_that_is_no_skill_is_a_warning(tmp_path, heading):
    book = read(by_skill((0, 4, heading), (2, 4, "see card 7")), tmp_path)
    (message,) = [m for m in book.messages if m.level is not Level.NOTE]
    assert (message.level, message.where) == (Level.WARNING, "Package hours!E1")
    assert "not read" in message.what
    assert book.base == read(valid(), tmp_path).base


@pytest.mark.parametrize("heading", ["Skill", "Man-hours"])
def test_a_column_of_a_skill_beside_those_of_the_other_form_is_an_error(tmp_path, heading):
    sheets = valid()
    sheets["Package hours"][0].append("mechanic")
    sheets["Package hours"][1].append(12)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Package hours!E1"
    assert message.what == (
        "'mechanic' is a column of a skill beside the columns Skill and Man-hours."
    )
    assert "Keep one form" in message.remedy
    half = by_skill((0, 4, heading), (2, 4, "mechanic"))
    assert {"Package hours!C1", "Package hours!D1"} <= {
        m.where for m in errors(read(half, tmp_path))
    }


def test_a_skill_without_people_is_told_at_its_heading(tmp_path):
    sheets = by_skill()
    sheets["Crews"] = [row for row in sheets["Crews"] if "sheet metal" not in str(row[1])]
    where = {m.where for m in read(sheets, tmp_path).messages if "nobody has the skill" in m.what}
    assert where == {"Package hours!C1"}


def test_a_package_whose_cells_are_all_blank_has_no_man_hours(tmp_path):
    (message,) = read(by_skill((4, 3, None)), tmp_path).messages
    assert message.what.startswith("the package 'paint prep' has no man-hours")


def test_a_skill_may_be_called_like_anything(tmp_path):
    # A column of this name cannot be a skill: it is the package's.
    sheets = by_skill()
    sheets["Skills"].append(["Package", 1, 1, 1, 1])
    assert read(sheets, tmp_path).base is not None


def test_an_edited_copy_keeps_the_form(tmp_path: Path):
    source = write_workbook(by_skill(), tmp_path / "base.xlsx")
    (table,) = sheet_tables(source, ["Package hours"])
    assert table.headings == ("Package", "Stage", "sheet metal", "mechanic")
    assert table.rows[1].values == {
        "Package": "light", "Stage": "inspect", "sheet metal": 20.5, "mechanic": 60,
    }  # fmt: skip
    changed = SheetEdit(
        "Package hours",
        {3: {"mechanic": 70}},
        ({"Package": "paint prep", "Stage": "wash", "mechanic": 9},),
        removed=frozenset({5}),
    )
    (tmp_path / "copy.xlsx").write_bytes(spliced_copy(source, [changed]))
    book = read_book(tmp_path / "copy.xlsx")
    assert book.messages == ()
    packages = {package.name: package for package in book.base.packages}
    assert packages["light"].stages[1].man_hours == {"sheet metal": 20.5, "mechanic": 70}
    assert packages["paint prep"].stages[0].man_hours == {"mechanic": 9}
