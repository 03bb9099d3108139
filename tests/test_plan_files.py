"""Plan files and the workbooks they are read with, as a person types it: a base of two checks."""

import json
from datetime import date
from pathlib import Path

import pytest

from capacity.cli import main
from capacity.commands.exits import Exit
from capacity.inputs import read_book
from capacity.reports.plan_files.asked_plan import read_plan
from tests.inputs.books import Sheets, change, valid, write_folder, write_workbook

pytestmark = pytest.mark.usefixtures("reads_once")

ALL_ABOUT_A_PLAN = [
    ("overtime", "--no-measures"),
    ("risk", "--simulations", "100"),
    ("crews", "--seconds", "1"),
    ("explain", "--seconds", "1"),
    ("explain", "--check", "C1", "--seconds", "1"),
    ("enquiry", "--type", "T30", "--package", "paint prep", "--earliest", "2027-01-18"),
]


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(argument) for argument in arguments])
    return int(ended.value.code)


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """A workbook and its plan."""
    folder = tmp_path_factory.mktemp("plan")
    book = write_workbook(valid(), folder / "book.xlsx")
    ended = run("plan", book, "--plan-out", folder / "plan.json", "--seconds", "5")
    assert ended == Exit.PLANNED
    return folder


def changed(folder: Path, *cells: tuple) -> Path:
    sheets: Sheets = valid()
    for cell in cells:
        change(sheets, *cell)
    return write_workbook(sheets, folder / "changed.xlsx")


def rewritten(folder: Path, name: str, **keys: object) -> Path:
    told = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    told["made"].update(keys)
    path = folder / f"{name}.json"
    path.write_text(json.dumps(told), encoding="utf-8")
    return path


def test_a_plan_of_the_same_workbook_is_taken_without_a_word(folder, capsys):
    assert (
        run("overtime", folder / "book.xlsx", "--plan", folder / "plan.json", "--no-measures") == 0
    )
    said = capsys.readouterr()
    assert "plan.json" not in said.out + said.err


def test_the_same_tables_as_a_folder_are_the_same_workbook(folder, tmp_path, capsys):
    tables = write_folder(valid(), tmp_path / "tables")
    assert run("overtime", tables, "--plan", folder / "plan.json", "--no-measures") == Exit.PLANNED
    assert "plan.json" not in capsys.readouterr().out


@pytest.mark.parametrize("question", ALL_ABOUT_A_PLAN)
def test_a_plan_of_other_figures_is_refused_with_what_changed(folder, capsys, question):
    hours = [("Package hours", row, "Man-hours", h * 1.5) for row, h in ((2, 40), (3, 60))]
    book = changed(folder, *hours)
    name, *options = question
    assert run(name, book, "--plan", folder / "plan.json", *options) == Exit.INPUT_ERRORS
    said = capsys.readouterr().err
    assert "Package hours: 'light' changed" in said
    assert "other man-hours than this workbook demands: 2027-W01 mechanic" in said
    assert "plan or replan, with --plan" in said


def test_other_people_are_other_figures(folder, capsys):
    book = changed(folder, ("Crews", "red", "Heads", 1))
    assert run("risk", book, "--plan", folder / "plan.json") == Exit.INPUT_ERRORS
    said = capsys.readouterr().err
    assert "Crews: 'red' changed" in said
    assert "it states a cost of" in said


def test_a_change_that_leaves_the_figures_is_told_and_no_more(folder, capsys):
    book = changed(folder, ("Checks", "C2", "Customer", "Aero West"))
    assert run("overtime", book, "--plan", folder / "plan.json", "--no-measures") == Exit.PLANNED
    assert "Checks: 'C2' changed" in capsys.readouterr().out


def test_plan_and_re_plan_go_on_and_say_what_changed(folder, capsys):
    book = changed(folder, ("Package hours", 2, "Man-hours", 60))
    assert run("plan", book, "--plan", folder / "plan.json", "--seconds", "2") == Exit.PLANNED
    assert "Package hours: 'light' changed" in capsys.readouterr().out
    options = ("--today", "2027-01-04", "--seconds", "2")
    assert run("replan", book, "--plan", folder / "plan.json", *options) == Exit.PLANNED
    assert "Package hours: 'light' changed" in capsys.readouterr().out


@pytest.mark.parametrize(
    "question",
    [("plan", "--plan"), ("replan", "--today", "2027-01-04", "--plan"), ("risk", "--plan")],
)
def test_a_plan_of_another_base_is_refused(folder, capsys, question):
    book = changed(folder, ("Base", "Base", "Value", "Southfield"))
    name, *options = question
    assert run(name, book, *options, folder / "plan.json") == Exit.INPUT_ERRORS
    said = capsys.readouterr().err
    assert "a plan of the base 'Northfield', but the workbook is of 'Southfield'" in said
    told = folder / "plan.json"
    assert run("compare", book, "--plan", told, "--plan", told) == Exit.INPUT_ERRORS


def test_an_older_file_is_read_with_a_note(folder, capsys):
    told = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    del told["made"]
    old = folder / "old.json"
    old.write_text(json.dumps(told), encoding="utf-8")
    assert run("overtime", folder / "book.xlsx", "--plan", old, "--no-measures") == Exit.PLANNED
    assert "an older version wrote it" in capsys.readouterr().out
    book = changed(folder, ("Package hours", 2, "Man-hours", 60))
    assert run("overtime", book, "--plan", old, "--no-measures") == Exit.INPUT_ERRORS
    other = changed(folder, *[("Checks", f"C{n}", "Check", f"D{n}") for n in range(1, 5)])
    assert run("plan", other, "--plan", old) == Exit.INPUT_ERRORS
    assert "none of its checks is in the workbook" in capsys.readouterr().err


def test_a_file_of_a_newer_version_is_told(folder, capsys):
    newer = rewritten(folder, "newer", version="2.0.0")
    assert run("overtime", folder / "book.xlsx", "--plan", newer, "--no-measures") == Exit.PLANNED
    assert "version 2.0.0 of this program wrote it" in capsys.readouterr().out


def test_what_is_wrong_with_made_is_told_with_its_place(folder, capsys):
    wrong = rewritten(folder, "wrong", time="noon", held="C1", workbook={"Checks": {"C1": 7}})
    assert run("risk", folder / "book.xlsx", "--plan", wrong) == Exit.INPUT_ERRORS
    said = capsys.readouterr().err
    assert all(f"made.{key}" in said for key in ("time", "held", "workbook.Checks.C1"))


def test_plans_are_compared_when_checks_were_cancelled_and_added(folder, capsys):
    sheets = valid()
    sheets["Checks"] = [row for row in sheets["Checks"] if row[0] != "C2"]
    sheets["Checks"].append(
        ["C9", "N-9", "T30", "paint prep", "own", "no", "booked", date(2027, 1, 18),
         date(2027, 1, 25), None, 0, 0, None, None, None, None]
    )  # fmt: skip
    book = write_workbook(sheets, folder / "next.xlsx")
    plan, new, out = (folder / name for name in ("plan.json", "new.json", "told.xlsx"))
    assert run("plan", book, "--plan", plan, "--plan-out", new, "--seconds", "3") == Exit.PLANNED
    capsys.readouterr()
    assert run("compare", book, "--plan", plan, "--plan", new, "--out", out) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "Only in plan: C2." in said
    assert "Only in new: C9." in said
    assert "the 3 checks that both plans and the workbook have" in said
    assert "0 of 3 checks differ" in said
    assert out.exists()


def test_questions_about_a_re_planned_file_count_work_from_its_day(folder, capsys):
    """Also of checks that the re-plan holds on days before the first day of the workbook."""
    sheets = valid()
    change(sheets, "Checks", "C1", "Remaining %", 60)
    change(sheets, "Base", "First day", "Value", date(2027, 1, 14))
    sheets["Checks"] = [row for row in sheets["Checks"] if row[0] != "C3"]
    book, again = write_workbook(sheets, folder / "later.xlsx"), folder / "again.json"
    options = ("--today", "2027-01-15", "--seconds", "3", "--plan-out", again)
    assert run("replan", book, "--plan", folder / "plan.json", *options) == Exit.PLANNED
    made = json.loads(again.read_text(encoding="utf-8"))["made"]
    assert made["work_counts_from"] == "2027-01-15"
    assert made["held"] == ["C1"]
    base = read_book(book).base
    assert base is not None
    asked = read_plan(base, again)
    assert asked.notes == ()
    assert asked.base.work_left_from == date(2027, 1, 15)
    capsys.readouterr()
    for name, *more in ALL_ABOUT_A_PLAN:
        assert run(name, book, "--plan", again, *more) == Exit.PLANNED, name
    assert run("compare", book, "--plan", again, "--plan", again) == Exit.PLANNED
    said = capsys.readouterr().out
    assert "Remaining %" in said  # from which day it counts
    # As of that day C1 is in, and its share agrees with the days.
    assert not [line for line in said.splitlines() if "warning" in line and "'C1'" in line]
