"""What a sheet says on paper: which plan it is of, when it was issued, who stands on each page."""

import io
import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import openpyxl
import pytest

from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.reports import describe
from capacity.reports.crews import workbook as crews_workbook
from capacity.reports.crews.workbook import Line, ShiftList
from capacity.reports.kit import formats
from capacity.reports.kit.issue import issue_line, plan_number
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.table import Column, write_table
from capacity.reports.plan.workbook import plan_workbook

PAGE = date(2027, 3, 15)
"""A Monday, 11 weeks at the most after the first day drawn, 29 December."""

WIDER = 1.3
"""A machine without the font of the workbook takes one that is up to so much wider."""

MOMENT = datetime(2026, 11, 27, 7, 5, tzinfo=UTC)


def test_a_plan_number_follows_from_what_the_plan_says_alone(planned: Planned) -> None:
    plan = planned.plan
    number = plan_number(plan)
    assert re.fullmatch("[A-Z2-7]{4}-[A-Z2-7]{4}", number)
    turned = replace(plan, placements=plan.placements[::-1], not_placed=plan.not_placed[::-1])
    assert plan_number(turned) == number
    assert plan_number(replace(plan, refused=())) == number, "a plan file does not name them"
    first, *rest = plan.placements
    later = replace(first, out_day=first.out_day + timedelta(days=1))
    assert plan_number(replace(plan, placements=(later, *rest))) != number
    assert plan_number(replace(plan, not_placed=("X", *plan.not_placed))) != number


def test_the_number_of_no_placements_was_worked_out_by_hand() -> None:
    # printf "[[], []]" | sha256sum | cut -c1-10 | xxd -r -p | base32
    assert plan_number(Plan(())) == "U2BQ-SYAR"


@pytest.mark.parametrize(
    ("moment", "told"),
    [
        (MOMENT, "Issued Fri 27 Nov 2026 07:05 UTC"),
        (MOMENT.astimezone(timezone(timedelta(hours=5.5))), "12:35 UTC+05:30"),
    ],
)
def test_the_moment_is_told_with_its_zone(moment: datetime, told: str) -> None:
    assert issue_line((), moment).endswith(told)


def test_every_sheet_has_plan_number_moment_and_caution_at_its_foot(
    planned: Planned, base: Base
) -> None:
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, planned, ())))
    for sheet in book:
        foot = sheet.oddFooter
        assert foot.left.text.split("\n")[0] == "&A"
        assert f"Plan {plan_number(planned.plan)}, issued " in foot.left.text
        assert "licensed staff come first" in foot.center.text
        assert foot.right.text == "Page &P of &N"
    assert f"Plan {plan_number(planned.plan)}" in describe(base, planned)


def test_a_bar_that_goes_on_to_the_next_page_has_its_name_there(
    planned: Planned, base: Base
) -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, planned, ())))["Bay occupancy"]
    breaks = [one.id for one in sheet.col_breaks.brk]
    assert breaks, "twenty weeks do not go on one page"
    headings = {column: sheet.cell(6, column + 1).value for column in breaks}
    assert set(headings.values()) == {"Mo"}
    assert sheet.print_title_cols == "$A:$B"
    for area in sheet.merged_cells.ranges:
        if area.min_row > 3:
            assert not any(area.min_col <= column < area.max_col for column in breaks)
    going_on = [p for p in planned.plan.placements if p.in_day < PAGE < p.out_day]
    texts = [str(row[breaks[0]].value or "") for row in sheet.iter_rows(min_row=8)]
    assert {text.split("\n")[0].removesuffix(" 3P") for text in texts if "ZZ-" in text} >= {
        p.check for p in going_on
    }
    # At this scale a page is as wide as its days: points of A3 between the margins.
    width = sum((7 * w + 5) * 0.75 for w in (12, 9, *[2.6] * 77))
    assert WIDER * width * sheet.page_setup.scale / 100 <= (420 / 25.4 - 0.8) * 72


def test_a_plan_of_one_page_has_no_break(planned: Planned, base: Base) -> None:
    short = base.replace(weeks=1)
    plan = Plan(tuple(p for p in planned.plan.placements if p.out_day < date(2027, 3, 1)))
    names = {p.check for p in plan.placements}
    few = short.replace(checks=tuple(c for c in base.checks if c.name in names))
    outcome = as_outcome(plan, few, planned.settings, 1.0, "time")
    sheet = openpyxl.load_workbook(io.BytesIO(plan_workbook(few, outcome, ())))["Bay occupancy"]
    assert not sheet.col_breaks.brk


def test_a_text_keeps_away_from_the_number_before_it() -> None:
    book = Book("Gap")
    columns: tuple[Column[int], ...] = (
        Column("Days", lambda n: n, formats.WHOLE),
        Column("Why", lambda _: "a text"),
        Column("Bay", lambda _: "N1"),
    )
    write_table(book.sheet("Gap"), 0, columns, [7])
    sheet = openpyxl.load_workbook(io.BytesIO(book.content()))["Gap"]
    assert [sheet.cell(row, 2).alignment.indent for row in (1, 2)] == [1, 1]
    assert [sheet.cell(row, 3).alignment.indent for row in (1, 2)] == [0, 0]


def line(number: int, remarks: str = "") -> Line:
    return Line("B1", "ZZ-A", f"V{number}", "Work", "Airframe", "Crew", 0.25, 2.0, 0.0, remarks)


def lists_of(*sizes: int) -> tuple[ShiftList, ...]:
    first = date(2027, 1, 4)
    return tuple(
        ShiftList(first + timedelta(days=n // 2), "DN"[n % 2], "06:00", tuple(map(line, range(s))))
        for n, s in enumerate(sizes)
    )


def test_short_shifts_share_a_page_and_none_is_split() -> None:
    book = Book("Shifts")
    crews_workbook._shift_sheet(book.sheet("Shift lists"), lists_of(*[2] * 42))
    sheet = openpyxl.load_workbook(io.BytesIO(book.content()))["Shift lists"]
    breaks = [0, *(one.id for one in sheet.row_breaks.brk)]
    assert len(breaks) <= 11, "three weeks of two shifts a day were 42 pages"
    tops = [sheet.cell(row + 1, 1).value for row in breaks]
    assert tops[0].startswith("Shift lists, Mon 4 Jan 2027 to ")
    assert tops[0].endswith(": shifts D, N")
    heights = [sheet.row_dimensions[r].height or 15 for r in range(1, sheet.max_row + 1)]
    for begin, end in zip(breaks, [*breaks[1:], sheet.max_row], strict=True):
        used = sum(heights[begin:end]) * sheet.page_setup.scale / 100
        assert used <= (210 / 25.4 - 0.5 - 0.75) * 72
    titles = [c.value for c in sheet["A"] if str(c.value).endswith("06:00")]
    assert len(titles) == 42
    wide = sum((7 * d.width + 5) * 0.75 for d in sheet.column_dimensions.values() if d.width)
    assert 1.2 * wide * sheet.page_setup.scale / 100 <= (297 / 25.4 - 0.8) * 72


def test_a_long_shift_has_a_page_of_its_own() -> None:
    book = Book("Shifts")
    crews_workbook._shift_sheet(book.sheet("Shift lists"), lists_of(1, 40, 1))
    sheet = openpyxl.load_workbook(io.BytesIO(book.content()))["Shift lists"]
    tops = [sheet.cell(one.id + 1, 1).value for one in sheet.row_breaks.brk]
    assert tops == [
        "Shift lists, Mon 4 Jan 2027: shift N",
        "Shift lists, Tue 5 Jan 2027: shift D",
    ]


def test_a_quarter_of_a_person_is_told_in_full() -> None:
    book = Book("Shifts")
    crews_workbook._shift_sheet(book.sheet("Shift lists"), lists_of(1))
    sheet = openpyxl.load_workbook(io.BytesIO(book.content()))["Shift lists"]
    (cell,) = (c for row in sheet.iter_rows() for c in row if c.value == 0.25)
    assert cell.number_format == "#,##0.00"
