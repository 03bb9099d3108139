"""What a plan says of work beyond the packages: sheet, messages, cautions of new stages."""

import io

import openpyxl
import pytest

import capacity
from capacity.cautions.applying import cautions_of_plan
from capacity.facts import Base, ExtraReason, ExtraWork
from capacity.messages import Level
from capacity.plans.outcome import Planned
from capacity.reports import describe
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.workbook import plan_workbook
from tests.plans.stories import MECHANIC, base, check, day
from tests.plans.test_extra_work import HEAVY


@pytest.fixture(scope="module")
def world() -> Base:
    extra = (
        ExtraWork("C1", "inspect", MECHANIC.name, 30, ExtraReason.DEFERRED_DEFECT),
        ExtraWork("C1", "Fuel tank entry", MECHANIC.name, 40, ExtraReason.MODIFICATION,
                  ("inspect",), "maintenance", 4),
    )  # fmt: skip
    return base(check(package="Heavy", latest_in=day(5)), packages=(HEAVY,), extra_work=extra)


@pytest.fixture(scope="module")
def outcome(world) -> Planned:
    found = capacity.plan(world, capacity.Settings(seconds=10))
    assert isinstance(found, capacity.Planned)
    return found


def test_the_plan_has_the_new_stage_before_the_last_one(outcome):
    (placement,) = outcome.plan.placements
    assert [
        (s.stage, (s.first - day(5)).days, (s.until - day(5)).days) for s in placement.stages
    ] == [
        ("open", 0, 2),
        ("inspect", 2, 5),
        ("Fuel tank entry", 5, 9),
        ("close", 9, 10),
    ]
    assert sum(week.demand for week in outcome.audit.weeks) == pytest.approx(20 + 50 + 40 + 10)


def test_the_sheet_has_every_row_with_its_days(world, outcome):
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(world, outcome, ())))
    headings, *lines = book["Extra work"].iter_rows(values_only=True)
    first, second = (dict(zip(headings, line, strict=True)) for line in lines)
    assert (first["Stage"], first["Reason"], first["Man-hours (h)"]) == (
        "inspect",
        "deferred defect",
        30,
    )
    assert first["Remarks"] is None
    assert second["Remarks"] == "a stage of this check alone"
    assert second["From"].date() == day(10)


def test_a_note_says_hours_by_reason(world, outcome):
    (note,) = [m for m in plan_messages(outcome, world) if m.where == "Extra work"]
    assert note.level is Level.NOTE
    assert note.what == (
        "C1 has 70 h beyond its package: 30 h deferred defect and 40 h modification."
    )
    assert describe(world, outcome)


def test_a_new_stage_gets_the_cautions_of_its_name(world, outcome):
    told = {(one.stage, one.caution.id) for one in cautions_of_plan(outcome.plan, world)}
    assert any(stage == "Fuel tank entry" for stage, _ in told)


def test_crews_and_risk_know_new_stages(world, outcome):
    settings = capacity.CrewSettings(weeks=2, seconds=5)
    staffed = capacity.assign_crews(world, outcome.plan, settings)
    assert "Fuel tank entry" in {stage.stage for stage in staffed.plan.stages}
    risk = capacity.risk_of(world, outcome.plan, capacity.RiskSettings(draws=50))
    assert risk.checks[0].check == "C1"


def test_without_extra_work_nothing_is_said_of_it():
    plain = base(check(package="Heavy"), packages=(HEAVY,))
    found = capacity.plan(plain, capacity.Settings(seconds=5))
    assert isinstance(found, capacity.Planned)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(plain, found, ())))
    assert "Extra work" not in book.sheetnames
