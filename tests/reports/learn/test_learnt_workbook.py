"""The workbook of what was learnt from the sample quarter."""

import io
from pathlib import Path

import openpyxl
import pytest

from capacity.cli import main
from capacity.inputs import read_book
from capacity.questions.learn.learning import learn
from capacity.reports.learn.workbook import OVERVIEW, STAGES, learnt_workbook

QUARTER = Path(__file__).parents[3] / "sample_inputs" / "quarter.xlsx"


def test_a_row_a_stage_with_the_cell_of_each_proposal():
    read = read_book(QUARTER)
    learnt = learn(read.base)
    book = openpyxl.load_workbook(io.BytesIO(learnt_workbook(learnt, read.base, read.where)))
    assert book.sheetnames == [OVERVIEW, STAGES]
    headings, *rows = book[STAGES].values
    stages = [stage for package in learnt.packages for stage in package.stages]
    assert len(rows) == len(stages) == 10
    row = dict(zip(headings, next(r for r in rows if r[1] == "Inspection"), strict=True))
    inspection = next(stage for stage in stages if stage.stage == "Inspection")
    assert row["Findings learnt (%)"] == pytest.approx(100 * inspection.findings.mean)
    cell = read.where("Packages", "Regional C-check: Inspection", "Findings %")
    assert f"({cell})" in row["Proposed"]
    assert row["How sure"] == "6 visits"
    assert row["Visits with days"] == 5


def test_the_command_answers_and_changes_nothing(tmp_path, capsys):
    before = QUARTER.read_bytes()
    with pytest.raises(SystemExit) as ended:
        main(["learn", str(QUARTER), "--out", str(tmp_path / "learnt.xlsx")])
    said = capsys.readouterr().out
    assert ended.value.code == 0
    assert "Learnt from 6 delivered checks of Stonemere" in said
    assert "proposed: Findings %" in said
    assert "Nothing is changed in the workbook" in said
    assert QUARTER.read_bytes() == before
    assert (tmp_path / "learnt.xlsx").is_file()
