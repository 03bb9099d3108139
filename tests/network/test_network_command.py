"""``capacity network`` from files to files."""

import shutil
from datetime import date
from pathlib import Path

import openpyxl
import pytest

import capacity
from capacity.cli import main
from capacity.commands.exits import Exit
from tests.inputs.books import write_workbook

TINY = Path(__file__).parents[2] / "sample_inputs" / "tiny.xlsx"

pytestmark = pytest.mark.usefixtures("reads_once")


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main(["network", *map(str, arguments)])
    return int(ended.value.code)


def two_tiny_bases(folder: Path, price: object = 9000) -> Path:
    for name in ("west.xlsx", "east.xlsx"):
        shutil.copyfile(TINY, folder / name)
    sheets = {
        "Bases": [["Base", "Workbook"], ["West", "west.xlsx"], ["East", "east.xlsx"]],
        "Enquiries": [
            ["Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price"],
            ["E1", "Q-E1", "Alder 50", "Week check", date(2027, 1, 18), date(2027, 1, 18), price],
        ],
        "Ferry costs": [["Check", "Base", "Ferry cost"], ["E1", "West", 300], ["E1", "East", 20]],
    }
    return write_workbook(sheets, folder / "network.xlsx")


@pytest.mark.long
def test_plans_of_each_base_go_with_a_copy_of_its_workbook(tmp_path: Path, capsys) -> None:
    (tmp_path / "plans").mkdir()
    path = two_tiny_bases(tmp_path)
    out, folder = tmp_path / "answer.xlsx", tmp_path / "plans"
    ended = run(path, "--seconds", "10", "--out", out, "--plans-out", folder)
    said = capsys.readouterr().out
    assert ended == Exit.PLANNED, said
    assert "takes E1 into" in said
    assert "for 9,000 EUR less ferry cost 20 EUR" in said
    assert {one.name for one in folder.iterdir()} == {
        "01-West.json", "01-West.xlsx", "02-East.json", "02-East.xlsx", "02-East-workbook.xlsx",
    }  # fmt: skip
    base = capacity.read(folder / "02-East-workbook.xlsx")
    assert base.check("E1").price == 8980
    plan = capacity.read_plan(base, folder / "02-East.json")
    assert not plan.notes
    assert not capacity.audit(base, plan.plan).broken
    rows = openpyxl.load_workbook(out)["Enquiries"].iter_rows(min_row=2, values_only=True)
    assert [(row[0], row[2]) for row in rows] == [("E1", "East")]


def test_inputs_are_never_written_to_and_errors_end_it(tmp_path: Path, capsys) -> None:
    path = two_tiny_bases(tmp_path, price="much")
    assert run(path, "--out", tmp_path / "answer.xlsx") == Exit.INPUT_ERRORS
    assert "Enquiries!G2: Price" in capsys.readouterr().err
    path = two_tiny_bases(tmp_path)
    assert run(path, "--out", tmp_path / "west.xlsx") == Exit.USAGE
    assert "the input is never written to" in capsys.readouterr().err
