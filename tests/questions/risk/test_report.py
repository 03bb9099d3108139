"""The risk sheets hold the answer, and say what it rests on."""

import io
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from capacity.errors import OutputError
from capacity.questions.risk.settings import Keep, Shape
from capacity.questions.risk.simulated import Risk, RiskSettings, risk_of
from capacity.reports.risk.sheet_risk import in_words, risk_workbook, write_risk_workbook
from tests.plans.stories import base, check, day, package, placed, plan, stage

HEAVY = package(
    replace(stage("=Open", 4, hours=100, findings=0.2), findings_spread=0.5),
    stage("Repair", 6, "=Open", hours=200, findings=0.6),
    name="Ten days",
)
SPANS = ("=Open", 5, 9), ("Repair", 9, 15)
C2_SPANS = ("=Open", 15, 19), ("Repair", 19, 25)
STORY = base(
    check("C1", agreed_out=day(15), late_cost_per_day=100.0),
    check("C2", latest_in=day(40)),
    packages=(HEAVY,),
)
PLAN = plan(placed("C1", 5, *SPANS), placed("C2", 15, *C2_SPANS))
RISK = risk_of(STORY, PLAN, RiskSettings(draws=400, default_spread=0.3))


def sheet(name: str, risk: Risk = RISK) -> Worksheet:
    return load_workbook(io.BytesIO(risk_workbook(risk, STORY)))[name]


def column(of: Worksheet, heading: str) -> list[object]:
    headings = [cell.value for cell in of[1]]
    place = headings.index(heading)
    return [row[place].value for row in of.iter_rows(min_row=2)]


def test_every_check_has_its_row() -> None:
    checks = sheet("Risk of checks")
    assert column(checks, "Check") == ["C1", "C2"]
    assert column(checks, "Agreed or planned day") == ["agreed", "planned"]
    home = column(checks, "Out by then (% of simulations)")
    assert home == pytest.approx([100 * c.on_day for c in RISK.checks])
    out = [value.date() for value in column(checks, "Out by, in 80 % of simulations")]
    assert out == [c.out_safe for c in RISK.checks]
    assert column(checks, "Buffer (worked days)") == [c.buffer_days for c in RISK.checks]
    assert column(checks, "Remarks") == ["late in more than 1 of 5 simulations"] * 2


def test_every_week_and_skill_has_its_row() -> None:
    weeks = sheet("Risk of weeks")
    assert column(weeks, "Week") == [w.week for w in RISK.weeks]
    assert column(weeks, "Demand, average of the simulations (h)") == pytest.approx(
        [w.expected_demand for w in RISK.weeks]
    )


def test_the_basis_says_where_the_spread_is_from_and_what_is_assumed() -> None:
    texts = [str(cell.value) for row in sheet("Risk basis").iter_rows() for cell in row]
    assert texts.count("workbook") == texts.count("planner's judgement") == 1
    assert all(sentence in texts for sentence in (*RISK.model, *in_words(RISK, STORY)))
    assert "'=Open" in texts


def test_each_choice_is_told() -> None:
    """What is assumed names the shape, the default, the correlation and what is kept."""
    plain = " ".join(RISK.model)
    for words in ("log-normal", "planner's judgement of 30.0 %", "independently", "rounded up"):
        assert words in plain
    other = RiskSettings(draws=50, shape=Shape.TRIANGULAR, together=0.4, keep=Keep.DAYS)
    told = " ".join(risk_of(STORY, PLAN, other).model)
    for words in (
        "triangular",
        "taken as certain",
        "correlation of 0.40",
        "keeps its planned days",
    ):
        assert words in told
    assert "rounded up" not in told


def test_the_sentences_give_the_totals_and_their_error() -> None:
    """400 draws: two standard errors of a half are 100 / sqrt(400) = 5 percentage points."""
    first, _, last = in_words(RISK, STORY)
    assert f"{RISK.totals.late_checks:.1f} of 2 checks" in first
    assert "EUR" in first
    assert "5.0 percentage points" in last


def test_the_file_is_written_whole(tmp_path: Path) -> None:
    write_risk_workbook(RISK, STORY, tmp_path / "risk.xlsx")
    assert load_workbook(tmp_path / "risk.xlsx").sheetnames == [
        "Risk of checks",
        "Risk of weeks",
        "Risk basis",
    ]
    with pytest.raises(OutputError):
        write_risk_workbook(RISK, STORY, tmp_path / "none" / "risk.xlsx")
