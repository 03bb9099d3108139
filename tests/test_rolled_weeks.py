"""``capacity roll`` as its planner gives it: outputs, exit codes, and what is said."""

import json
import shutil
from pathlib import Path

import openpyxl
import pytest

import capacity
from capacity.cli import main
from capacity.commands.exits import Exit
from tests.inputs.books import write_folder

pytestmark = pytest.mark.usefixtures("reads_once")

TINY = Path(__file__).parents[1] / "sample_inputs" / "tiny.xlsx"
FROM_THE_11TH = ("--first-day", "2027-01-11")


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(argument) for argument in arguments])
    return int(ended.value.code or 0)


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The plan file of the tiny sample."""
    path = tmp_path_factory.mktemp("planned") / "plan.json"
    assert run("plan", TINY, "--seconds", "3", "--plan-out", path) == Exit.PLANNED
    return path


def test_next_weeks_workbook_and_the_plan_in_force_for_it(tmp_path, planned, capsys):
    week, plan = tmp_path / "week2.xlsx", tmp_path / "plan2.json"
    asked = ("roll", TINY, "--plan", planned, *FROM_THE_11TH, "--out", week, "--plan-out", plan)
    assert run(*asked) == Exit.PLANNED
    said = capsys.readouterr().out
    for line in (
        "First day Mon 4 Jan 2027 -> Mon 11 Jan 2027, 3 weeks from there.",
        "Moved to the sheet Delivered (1):",
        "In work, fixed in bay and day (1):",
        "Repair 33.3 % done, as planned",
        "'T1' has left, but nobody reported Actual in, Actual out and Actual man-hours.",
        "The plan in force stands with it: every slot is what it was.",
        f"written: {week}",
    ):
        assert line in said, line
    base = capacity.read(week)
    asked = capacity.read_plan(base, plan)
    assert asked.notes == ()
    assert {p.check for p in asked.plan.placements} == {"T2", "T3", "T4"}
    assert run("plan", week, "--plan", plan, "--seconds", "1") == Exit.PLANNED


def test_a_plan_that_news_breaks_is_not_written(tmp_path, planned, capsys):
    week = tmp_path / "week1.xlsx"
    book = openpyxl.load_workbook(TINY)
    sheet = book.create_sheet("Progress")
    sheet.append(["Check", "Stage", "As of", "Hours to go"])
    sheet.append(["T1", "Repair", "2027-01-11", 200])
    book.save(week)
    plan = tmp_path / "plan2.json"
    asked = ("roll", week, "--plan", planned, *FROM_THE_11TH, "--out", tmp_path / "week2.xlsx")
    assert run(*asked, "--plan-out", plan) == Exit.IMPOSSIBLE
    said = capsys.readouterr().out
    assert "The plan in force cannot go on as it is" in said
    assert "'T1' was to be out on Sat 9 Jan 2027, but Repair and Close not finished" in said
    assert not plan.exists()
    assert capacity.read(tmp_path / "week2.xlsx").has_check("T1")
    assert run(*asked) == Exit.PLANNED  # nobody asked for the plan


def test_a_folder_of_csv_files(tmp_path, planned):
    folder = write_folder(sheets_of(TINY), tmp_path / "week1")
    asked = ("roll", folder, "--plan", planned, *FROM_THE_11TH)
    assert run(*asked, "--out", tmp_path / "week2") == Exit.PLANNED
    assert {check.name for check in capacity.read(tmp_path / "week2").checks} == {"T2", "T3", "T4"}
    assert run(*asked, "--out", tmp_path / "week2") == Exit.USAGE
    assert run(*asked, "--out", tmp_path / "week2.xlsx") == Exit.USAGE


def sheets_of(path: Path) -> dict[str, list[list[object]]]:
    book = openpyxl.load_workbook(path)
    return {
        sheet.title: [
            [value.date() if hasattr(value, "date") and value.hour == 0 else value for value in row]
            for row in sheet.values
        ]
        for sheet in book
    }


OUT = ("--out", "week2.xlsx")


@pytest.mark.parametrize(
    ("more", "code", "said"),
    [
        ((), Exit.USAGE, "Name next week's workbook with --out."),
        (("--out", TINY), Exit.USAGE, "the input is never written to"),
        (("--out", "week2.csv"), Exit.USAGE, "name a file that ends in .xlsx"),
        ((*OUT, "--weeks", "0"), Exit.USAGE, "--weeks"),
        ((*OUT, "--book", "T1"), Exit.INPUT_ERRORS, "'T1' is fixed, not an option"),
        ((*OUT, "--drop", "X"), Exit.INPUT_ERRORS, "'X' is not in the sheet Checks"),
        ((*OUT, "--not-in", "T2"), Exit.INPUT_ERRORS, "'T2' does not come in before"),
    ],
)
def test_what_cannot_be_writes_nothing(tmp_path, monkeypatch, planned, capsys, more, code, said):
    monkeypatch.chdir(tmp_path)
    assert run("roll", TINY, "--plan", planned, *FROM_THE_11TH, *more) == code
    assert said in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_plan_of_another_base_is_refused(tmp_path, planned, capsys):
    other = tmp_path / "other.json"
    told = json.loads(planned.read_text(encoding="utf-8"))
    told["made"]["base"] = "Elsewhere"
    other.write_text(json.dumps(told), encoding="utf-8")
    asked = ("roll", TINY, "--plan", other, *FROM_THE_11TH, "--out", tmp_path / "week2.xlsx")
    assert run(*asked) == Exit.INPUT_ERRORS
    assert "plan of the base 'Elsewhere'" in capsys.readouterr().err


def test_the_input_stays_as_it_is(tmp_path, planned):
    week = tmp_path / "week1.xlsx"
    shutil.copy(TINY, week)
    before = week.read_bytes()
    asked = ("roll", week, "--plan", planned, *FROM_THE_11TH, "--out", tmp_path / "week2.xlsx")
    assert run(*asked) == Exit.PLANNED
    assert week.read_bytes() == before


def test_no_place_for_temporary_files_is_needed(tmp_path, planned, monkeypatch):
    def none(*arguments: object, **more: object) -> str:
        raise FileNotFoundError(2, "No usable temporary directory found")

    monkeypatch.setattr("tempfile.mkdtemp", none)
    monkeypatch.setattr("tempfile.gettempdir", none)
    asked = ("roll", TINY, "--plan", planned, *FROM_THE_11TH, "--out", tmp_path / "week2.xlsx")
    assert run(*asked, "--plan-out", tmp_path / "plan2.json") == Exit.PLANNED
