"""The command as a person types it: exit codes, outputs, and nothing half done."""

import json
import subprocess
import sys
from pathlib import Path

import openpyxl
import pytest
from rich.console import Console

from capacity.cli import main
from capacity.commands.exits import Exit
from capacity.plans.outcome import Progress
from capacity.progress_line import ProgressLine

pytestmark = pytest.mark.usefixtures("reads_once")

SAMPLES = Path(__file__).parents[1] / "sample_inputs"


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as ended:
        main(list(arguments))
    return int(ended.value.code)


def test_a_good_book_checks_with_0(capsys):
    assert run("verify", str(SAMPLES / "quarter.xlsx")) == Exit.PLANNED
    assert "0 errors, 0 warnings" in capsys.readouterr().out


def test_a_broken_book_shows_every_error_and_checks_with_1(capsys):
    assert run("verify", str(SAMPLES / "broken.xlsx")) == Exit.INPUT_ERRORS
    shown = capsys.readouterr()
    assert "error Bays!A8" in shown.err
    assert "error Checks!C14" in shown.err


def test_planning_a_broken_book_ends_with_1_and_writes_nothing(tmp_path, capsys):
    out = tmp_path / "plan.xlsx"
    assert run("plan", str(SAMPLES / "broken.xlsx"), "--out", str(out)) == Exit.INPUT_ERRORS
    assert not out.exists()
    assert "nothing was done" in capsys.readouterr().err


def test_tiny_costs_3700_and_is_written_whole(tmp_path, capsys):
    # 3,600 early + 800 overtime + 800 late - 1,500 earned; WORKBOOK.md works it out by hand.
    before = (SAMPLES / "tiny.xlsx").read_bytes()
    out, summary = tmp_path / "plan.xlsx", tmp_path / "plan.json"
    arguments = ("--out", str(out), "--plan-out", str(summary), "--seconds", "20")
    assert run("plan", str(SAMPLES / "tiny.xlsx"), *arguments) == Exit.PLANNED
    said = json.loads(summary.read_text(encoding="utf-8"))
    assert said["outcome"] == "planned"
    assert said["goals"] == {"days_past_latest_in": 0, "overload_hours": 0, "money": 3700}
    assert said["bound"] == pytest.approx(3700)
    assert {p["check"]: p["in"] for p in said["placements"]} == {
        "T1": "2027-01-04",
        "T2": "2027-01-11",
        "T3": "2027-01-07",
        "T4": "2027-01-18",
    }
    assert "Overview" in openpyxl.load_workbook(out).sheetnames
    assert (
        "The cost of the plan is 3,700 EUR. Proven: no plan costs less." in capsys.readouterr().out
    )
    assert (SAMPLES / "tiny.xlsx").read_bytes() == before


def test_a_run_goes_on_from_an_earlier_plan(tmp_path, capsys):
    tiny, summary = str(SAMPLES / "tiny.xlsx"), tmp_path / "plan.json"
    assert run("plan", tiny, "--seconds", "20", "--plan-out", str(summary)) == Exit.PLANNED
    earlier = summary.read_bytes()
    again = tmp_path / "again.json"
    arguments = ("--plan", str(summary), "--seconds", "0.1", "--plan-out", str(again))
    assert run("plan", tiny, *arguments) == Exit.PLANNED
    said = json.loads(again.read_text(encoding="utf-8"))
    assert said["goals"]["money"] == 3700
    assert "note:" not in capsys.readouterr().out
    assert summary.read_bytes() == earlier


def test_checks_of_an_earlier_plan_that_the_book_lacks_are_named(tmp_path, capsys):
    summary = tmp_path / "plan.json"
    assert run("plan", str(SAMPLES / "tiny.xlsx"), "--plan-out", str(summary)) == Exit.PLANNED
    told = json.loads(summary.read_text(encoding="utf-8"))
    told["placements"][0]["check"] = "T9"
    summary.write_text(json.dumps(told), encoding="utf-8")
    capsys.readouterr()
    assert run("plan", str(SAMPLES / "tiny.xlsx"), "--plan", str(summary)) == Exit.PLANNED
    assert "has checks that are not in the workbook: T9." in capsys.readouterr().out


def test_an_earlier_plan_that_is_none_is_an_input_error_and_never_written_to(tmp_path, capsys):
    summary = tmp_path / "plan.json"
    summary.write_text("{}", encoding="utf-8")
    tiny = str(SAMPLES / "tiny.xlsx")
    assert run("plan", tiny, "--plan", str(summary)) == Exit.INPUT_ERRORS
    assert "placements" in capsys.readouterr().err
    ended = run("plan", tiny, "--plan", str(summary), "--plan-out", str(summary))
    assert ended == Exit.USAGE
    assert summary.read_text(encoding="utf-8") == "{}"


@pytest.mark.parametrize(
    "arguments",
    [
        ("plan",),
        ("fly", "book.xlsx"),
        ("plan", "book.xlsx", "--seconds", "soon"),
        ("plan", "book.xlsx", "--seconds", "0"),
        ("plan", "book.xlsx", "--out", "plan.pdf"),
        ("plan", "book.xlsx", "--out", "no/such/folder/plan.xlsx"),
        ("plan", "book.xlsx", "--out", "book.xlsx"),
        ("verify", "book.xlsx", "--fast"),
    ],
)
def test_wrong_usage_ends_with_64(arguments, capsys):
    assert run(*arguments) == Exit.USAGE
    assert "Error" in capsys.readouterr().err


def test_a_folder_as_output_is_refused_before_the_search(tmp_path, capsys):
    out = tmp_path / "plan.xlsx"
    out.mkdir()
    assert run("plan", str(SAMPLES / "tiny.xlsx"), "--out", str(out)) == Exit.USAGE
    assert "is a folder" in capsys.readouterr().err


def test_an_output_that_cannot_be_written_is_said(tmp_path, capsys):
    out = tmp_path / f"{'x' * 300}.xlsx"  # no file system takes so long a name
    ended = run("plan", str(SAMPLES / "tiny.xlsx"), "--out", str(out))
    assert ended == Exit.CANNOT_WRITE
    assert "xxx" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_missing_file_is_an_input_error(capsys):
    assert run("plan", "nowhere.xlsx") == Exit.INPUT_ERRORS
    assert "nowhere.xlsx" in capsys.readouterr().err


def test_the_module_runs_as_a_command():
    done = subprocess.run(
        [sys.executable, "-m", "capacity", "--help"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert "plan" in done.stdout


def test_progress_names_time_money_bound_and_gap():
    console = Console(force_terminal=False, width=200, record=True)
    with ProgressLine("EUR", 60, console) as line:
        line.show(Progress(1.0, 0, 1000.0, None, None, "first draft"))
        line.show(Progress(2.0, 2, 900.0, 800.0, 1 / 9, "proof"))
        line.show(Progress(3.0, 2, 900.0, 850.0, 0.05, "proof"))
    shown = console.export_text().splitlines()
    assert shown == [
        "  0.0 s of 60 s | getting ready",
        "  1.0 s of 60 s | cost 1,000 EUR | proven bound none yet | by first draft",
        "  2.0 s of 60 s | 2 days past Latest in | cost 900 EUR | proven bound 800 EUR"
        " | gap 11.11 % | by proof",
    ]


def test_progress_is_live_on_a_terminal():
    console = Console(force_terminal=True, width=200, record=True)
    with ProgressLine("EUR", 60, console) as line:
        line.show(Progress(1.0, 0, 1000.0, 990.0, 0.01, "first draft"))
    assert "gap 1.00 %" in console.export_text()
