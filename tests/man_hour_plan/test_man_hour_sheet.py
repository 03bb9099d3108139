"""The sheet of the man-hour plan, read back from a workbook."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import openpyxl
import pytest

import capacity
from capacity.facts import Absence, Base, Employment, Function, FunctionStaff
from capacity.reports.kit.sheet import Book
from capacity.reports.plan.sheet_man_hour_plan import SHEET, man_hour_plan_sheet
from capacity.reports.plan.view import view_of
from tests.plans import stories
from tests.plans.stories import FIRST_DAY, PLENTY

Cells = list[tuple[object, ...]]


def sheet_of(base: Base) -> Cells:
    """Plan the base, write the sheet alone and read it back."""
    outcome = capacity.plan(base, capacity.Settings(seconds=10))
    assert isinstance(outcome, capacity.Planned)
    book = Book("test")
    man_hour_plan_sheet(book, view_of(base, outcome, ()))
    read = openpyxl.load_workbook(BytesIO(book.content()))
    return list(read[SHEET].iter_rows(values_only=True))


@pytest.fixture(scope="module")
def told() -> Cells:
    """Ten employed people and eleven of a contractor; six of the ten are away in February."""
    crews = (
        replace(PLENTY, heads=10),
        replace(PLENTY, name="Guests", heads=11, employment=Employment.CONTRACT),
    )
    return sheet_of(
        stories.base(
            replace(stories.check(), earliest_in=FIRST_DAY),
            crews=crews,
            absences=(Absence("Plenty", date(2027, 2, 1), date(2027, 2, 28), 6),),
            functions=(FunctionStaff(Function.PLAN, None, 1, 140, 0.0),),
            man_hour_plan_name="Maintenance resource plan",
            plan_date=date(2026, 12, 15),
        )
    )


def row_of(cells: Cells, *begin: object) -> tuple[object, ...]:
    """Return the only row that begins so."""
    (row,) = [row for row in cells if row[: len(begin)] == begin]
    return row


def lines(cells: Cells) -> str:
    """Return the texts of the first column."""
    return "\n".join(str(row[0]) for row in cells if row[0] is not None)


def test_the_title_is_the_name_the_base_gives_it(told):
    assert told[0][0] == "Maintenance resource plan of Hillside"


def test_the_date_the_review_and_both_denominators_are_said(told):
    text = lines(told)
    assert "next review due by Mon 15 Mar 2027" in text
    assert "(planned available - actually available) / planned available" in text
    assert "(needed - available) / needed is another figure" in text
    assert "does not replace approved data" in text


def test_a_month_more_than_a_quarter_short_says_so_in_words_and_figures(told):
    # 21 people x 10 h x 28 days, 6 of them away: 6/21 = 28.57 %
    february = row_of(told, "Feb 2027", "perform")
    assert february[2:5] == pytest.approx((5880, 1680, 4200))
    assert february[5] == pytest.approx(100 * 6 / 21)
    assert february[8] == "for review: more than 25 % below planned"
    assert "perform in Feb 2027 (less than planned)" in lines(told)


def test_whatever_is_marked_below_is_counted_and_named_for_review(told):
    """Feb falls short of the plan; shift Day has too few employed: two marks, two cases."""
    said = next(str(row[0]) for row in told if str(row[0]).startswith("For review"))
    marks = ("for review", "less than half own staff")
    marked = [row for row in told if str(row[8]).startswith(marks)]
    assert said.startswith(f"For review, {len(marked)} cases: ")
    assert "shift Day in North (less than half own staff)" in said


def test_a_month_short_of_what_is_needed_is_for_review_too():
    """100 h a day are asked and one person gives 10: marked for review with nobody away."""
    work = stories.package(stories.stage("Work", 10, hours=1000.0), name="Ten days")
    told = sheet_of(
        stories.base(stories.check(), packages=(work,), crews=(replace(PLENTY, heads=1),))
    )
    said = next(str(row[0]) for row in told if str(row[0]).startswith("For review"))
    marked = [row for row in told if "not covered" in str(row[8])]
    assert marked
    assert said.startswith(f"For review, {len(marked)} case")
    assert "perform in Jan 2027 (less than needed)" in said


def test_a_month_in_part_says_from_when(told):
    january = row_of(told, "Jan 2027", "perform")
    assert january[5] == 0
    assert january[8] == "from Mon 4 Jan 2027 on only"
    assert row_of(told, "Feb 2027", "plan")[2] == pytest.approx(140)


def test_functions_of_which_nothing_is_told_are_named(told):
    assert "Nothing is stated for: supervise, inspect, monitor quality." in lines(told)


def test_checks_beyond_the_plan_are_said_to_be_missing(told):
    assert "Checks that come in after Sun 28 Feb 2027 are not in this plan" in lines(told)


def test_a_shift_with_too_few_employed_says_so(told):
    row = row_of(told, "Day", "North")
    assert row[2:6] == (4, 11, 8, 56)
    assert row[8] == "less than half own staff on 56 days, worst shown"


def test_nothing_to_tell_is_said_too():
    text = lines(sheet_of(stories.base()))
    assert "For review: nothing" in text
    assert "On every shift at least half of those who work are own staff." in text
    assert "No plan date is given; counted from the first day, Mon 4 Jan 2027" in text
    assert "Own-staff share rule is off" in lines(
        sheet_of(stories.base(own_staff_share_rule=False))
    )
