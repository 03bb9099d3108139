"""The drawing of the bays holds at its edges: nothing placed, and stays that began long ago."""

import io
from dataclasses import replace
from datetime import date

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from capacity.facts import Base, Closure
from capacity.plans.audit import Audit
from capacity.plans.outcome import Planned
from capacity.plans.plan import Goals, Placement, Plan, StageDays
from capacity.reports.plan.workbook import plan_workbook


def drawn(planned: Planned, base: Base, *placements: Placement) -> Worksheet:
    """Return the drawn bays of a plan with these placements alone."""
    audit = Audit(Goals(0, 0.0, 0.0), (), (), 0.0, 0.0, 0.0, ())
    outcome = replace(planned, plan=Plan(placements), audit=audit, bound=None, gap=None)
    return openpyxl.load_workbook(io.BytesIO(plan_workbook(outcome, base, ())))["Bay occupancy"]


def stay(check: str, bay: str, first: date, until: date) -> Placement:
    return Placement(check, bay, "Work", first, until, (StageDays("Work", first, until),))


def said(sheet: Worksheet) -> list[str]:
    rows = sheet.iter_rows(min_row=8, min_col=1, values_only=True)
    return [cell for row in rows for cell in row if isinstance(cell, str)]


def test_a_plan_without_placements_shows_the_bays(planned: Planned, base: Base) -> None:
    sheet = drawn(planned, base)
    assert [sheet.cell(row, 2).value for row in range(8, 18)] == [bay.name for bay in base.bays]
    # 4 January is the first day drawn and 23 May, the last in day of 20 weeks, the last.
    assert sheet.cell(7, 3).value == 4
    assert sheet.max_column == 2 + 20 * 7


def test_a_stay_that_began_long_ago_is_cut_and_says_since_when(
    planned: Planned, base: Base
) -> None:
    sheet = drawn(planned, base, stay("V001", "S1", date(2026, 9, 1), date(2027, 1, 9)))
    assert "V001\nZZ-BA1 ■\nsince Tue 1 Sep 2026" in said(sheet)


def test_a_stay_late_before_the_first_day_drawn_keeps_its_name(
    planned: Planned, base: Base
) -> None:
    checks = tuple(
        replace(c, agreed_out=date(2026, 10, 1)) if c.name == "V001" else c for c in base.checks
    )
    sheet = drawn(
        planned,
        base.replace(checks=checks),
        stay("V001", "S1", date(2026, 9, 1), date(2027, 1, 9)),
    )
    (text,) = (cell for cell in said(sheet) if "V001" in cell)
    assert text == "V001\nZZ-BA1 ■\nlate 100 d\nsince Thu 1 Oct 2026"


def test_a_stay_outside_the_days_drawn_is_named_below(planned: Planned, base: Base) -> None:
    sheet = drawn(planned, base, stay("V001", "S1", date(2026, 9, 1), date(2026, 9, 9)))
    assert "Not drawn: V001 in S1 from Tue 1 Sep 2026 to Wed 9 Sep 2026" in said(sheet)


def test_closures_that_overlap_or_reach_beyond_the_days_are_drawn(
    planned: Planned, base: Base
) -> None:
    closures = (
        Closure("N1", date(2026, 1, 1), date(2027, 1, 10), "roof"),
        Closure("N1", date(2027, 1, 9), date(2030, 1, 1), "sold"),
    )
    sheet = drawn(planned, base.replace(closures=closures))
    texts = said(sheet)
    assert "closed: roof\nsince Thu 1 Jan 2026" in texts
    assert "closed: sold\nuntil Wed 2 Jan 2030" in texts


@pytest.mark.parametrize(("day_of_year", "column"), [(date(2027, 1, 10), 9), (date(2027, 1, 6), 5)])
def test_days_off_are_dotted(planned: Planned, base: Base, day_of_year: date, column: int) -> None:
    # Sunday 10 January is off in a six-day week; Epiphany, 6 January, is a holiday in Austria
    # (Arbeitsruhegesetz, section 7; from memory).
    sheet = drawn(planned, base.replace(holidays="AT"))
    assert sheet.cell(7, column).value == day_of_year.day
    assert sheet.cell(8, column).fill.patternType == "gray125"
    assert sheet.cell(8, 4).fill.patternType != "gray125"


def test_a_bay_that_is_empty_and_not_free_says_why(planned: Planned, base: Base) -> None:
    one, behind, beside = base.bays[:3]
    bays = (
        one,
        replace(behind, reached_through=one.name),
        replace(beside, shares_floor_with=frozenset({one.name})),
        *base.bays[3:],
    )
    placed = stay("V001", one.name, date(2027, 1, 4), date(2027, 1, 9))
    told = said(drawn(planned, base.replace(bays=bays, closures=()), placed))
    assert "way blocked\nby V001" in told
    assert "floor taken\nby V001" in told


def test_a_check_without_a_slot_is_named_below(planned: Planned, base: Base) -> None:
    check = base.checks[1]
    audit = Audit(Goals(0, 0.0, 0.0), (), (), 0.0, 0.0, 0.0, ())
    plan = Plan((), not_placed=(check.name,))
    outcome = replace(planned, plan=plan, audit=audit, bound=None, gap=None)
    sheet = openpyxl.load_workbook(io.BytesIO(plan_workbook(outcome, base, ())))["Bay occupancy"]
    assert any(text.startswith(f"No slot: {check.name}, {check.aircraft};") for text in said(sheet))
