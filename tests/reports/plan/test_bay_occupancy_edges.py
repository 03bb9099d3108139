"""The drawing of the bays holds at its edges: nothing placed, and stays that began long ago."""

import io
from dataclasses import replace
from datetime import date, timedelta

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from capacity.facts import Base, CalendarDays, Closure
from capacity.plans.audit import Audit
from capacity.plans.outcome import Planned
from capacity.plans.plan import Goals, Placement, Plan, StageDays
from capacity.reports.plan.workbook import plan_workbook


def drawn(planned: Planned, base: Base, *placements: Placement) -> Worksheet:
    """Return the drawn bays of a plan with these placements alone."""
    audit = Audit(Goals(0, 0.0, 0.0), (), (), 0.0, 0.0, 0.0, ())
    outcome = replace(planned, plan=Plan(placements), audit=audit, bound=None, gap=None)
    return openpyxl.load_workbook(io.BytesIO(plan_workbook(base, outcome, ())))["Bay occupancy"]


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


def test_own_days_of_the_base_are_drawn_as_they_are(planned: Planned, base: Base) -> None:
    """Tuesday 5 January is closed, and Sunday 10 January worked."""
    own = (
        CalendarDays(date(2027, 1, 5), date(2027, 1, 5), worked=False),
        CalendarDays(date(2027, 1, 10), date(2027, 1, 10), worked=True),
    )
    sheet = drawn(planned, base.replace(calendar_days=own, closures=()))
    assert sheet.cell(8, 4).fill.patternType == "gray125"
    assert sheet.cell(8, 9).fill.patternType != "gray125"
    assert sheet.cell(8, 3).fill.patternType != "gray125"


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
    sheet = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, outcome, ())))["Bay occupancy"]
    assert any(text.startswith(f"No slot: {check.name}, {check.aircraft};") for text in said(sheet))


def agreed(base: Base, day: date) -> Base:
    """Return the base with V001, which is in bay S1, agreed out on a day."""
    return base.replace(
        checks=tuple(replace(c, agreed_out=day) if c.name == "V001" else c for c in base.checks)
    )


IN, OUT = date(2027, 1, 11), date(2027, 1, 23)
OUT_COLUMN = 3 + (OUT - date(2027, 1, 4)).days


@pytest.mark.parametrize("spare", [1, 14])
def test_agreed_out_is_a_bar_with_its_word_on_a_free_day(
    planned: Planned, base: Base, spare: int
) -> None:
    base = agreed(base, OUT + timedelta(days=spare))
    sheet = drawn(planned, base, stay("V001", "S1", IN, OUT))
    (bar,) = (cell for row in sheet.iter_rows(min_row=8) for cell in row if cell.value == "agreed")
    assert bar.column == OUT_COLUMN + spare
    assert bar.border.left.style == "medium"
    # The word runs over days that nothing is written in.
    assert [sheet.cell(bar.row, bar.column + n).value for n in (1, 2)] == [None, None]
    assert "V001\nZZ-BA1 ■" in said(sheet)


@pytest.mark.parametrize(
    ("spare", "gap", "line"),
    [
        (0, 2, "| agreed"),  # the next check leaves no room for the word
        (4, 2, "| agreed Wed 27 Jan 2027"),  # the next check is there on that day
        (15, 40, ""),  # too far ahead
        (-1, 40, ""),  # it is late instead
    ],
)
def test_agreed_out_is_told_in_the_slot_where_no_bar_has_room(
    planned: Planned, base: Base, spare: int, gap: int, line: str
) -> None:
    next_in = OUT + timedelta(days=gap)
    sheet = drawn(
        planned,
        agreed(base, OUT + timedelta(days=spare)),
        stay("V001", "S1", IN, OUT),
        stay("V002", "S1", next_in, next_in + timedelta(days=9)),
    )
    texts = said(sheet)
    assert "agreed" not in texts
    (own,) = (text for text in texts if text.startswith("V001"))
    assert own == f"V001\nZZ-BA1 ■\n{line}".rstrip("\n")
    assert ("late 1 d" in texts) == (spare < 0)
