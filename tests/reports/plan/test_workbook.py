"""The plan workbook, opened again by another library."""

import csv
import io
import re
import zipfile
from collections import Counter
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from capacity.errors import OutputError
from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Planned
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.reports import report
from capacity.reports.plan.sheet_overload import askers
from capacity.reports.plan.view import view_of
from capacity.reports.plan.workbook import plan_workbook
from capacity.words.marks import SQUARE, TRIANGLE
from tests.reports.sheet_reading import KINDS_OF_COST

SHEETS = [
    "Overview",
    "Key figures",
    "Bay occupancy",
    "Slots",
    "Stages",
    "Overload weeks",
    "Man-hours",
    "Man-hours by month",
    "Crew hours",
    "Man-hour charts",
    "Messages",
    "Cautions",
    "Settings",
]


@pytest.fixture(scope="module")
def content(planned: Planned, base: Base, messages: tuple[Message, ...]) -> bytes:
    """The workbook as the bytes of a file."""
    return plan_workbook(base, planned, messages)


@pytest.fixture(scope="module")
def book(content: bytes) -> Workbook:
    """The workbook, read again."""
    return openpyxl.load_workbook(io.BytesIO(content))


def table(sheet: Worksheet) -> list[dict[str, object]]:
    """Return the rows of a sheet whose first row holds the headings."""
    headings, *rows = sheet.iter_rows(values_only=True)
    return [dict(zip(map(str, headings), row, strict=True)) for row in rows]


def row_of(sheet: Worksheet, label: str) -> list[object]:
    """Return the only row whose first cell holds the label."""
    (row,) = (list(r) for r in sheet.iter_rows(values_only=True) if r[0] == label)
    return row


def texts(sheet: Worksheet) -> list[str]:
    cells = (cell for row in sheet.iter_rows(values_only=True) for cell in row)
    return [cell for cell in cells if isinstance(cell, str)]


def test_the_sheets_print_landscape_one_page_wide_with_their_headings(book: Workbook) -> None:
    assert book.sheetnames == SHEETS
    for sheet in book:
        upright = sheet.title == "Man-hour charts"
        assert (sheet.page_setup.orientation != "landscape") == upright
        # Breaks between chosen days count at a scale alone, not where a sheet is to fit.
        assert bool(sheet.sheet_properties.pageSetUpPr.fitToPage) == (
            sheet.title != "Bay occupancy"
        )
    for name in ("Slots", "Stages", "Man-hours", "Messages"):
        assert book[name].print_title_rows == "$1:$1"
        assert book[name].freeze_panes[-1] == "2"
        assert book[name].auto_filter.ref


def test_no_cell_holds_a_formula(book: Workbook) -> None:
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert kinds <= {"s", "n", "d"}


def test_money_by_kind_adds_up_to_the_money_of_the_plan(book: Workbook, planned: Planned) -> None:
    sheet = book["Overview"]
    parts = [row_of(sheet, kind)[3] for kind in KINDS_OF_COST]
    assert all(isinstance(part, int | float) and part != 0 for part in parts)
    assert sum(parts) == pytest.approx(planned.audit.goals.money)  # type: ignore[arg-type]
    assert row_of(sheet, "Cost of the plan")[3] == pytest.approx(planned.audit.goals.money)
    assert row_of(sheet, "2. Cost of the plan")[1] == pytest.approx(planned.audit.goals.money)


def test_the_overview_is_loud_about_what_is_left_out(book: Workbook) -> None:
    sheet = book["Overview"]
    said = texts(sheet)
    assert any(text.startswith("No slot: 1 fixed or booked check") for text in said)
    assert row_of(sheet, "V038")[0] == "V038"
    assert row_of(sheet, "V013")[5] == "option, Middle"
    assert any("licensed staff" in text for text in said)
    assert any("could still save at most 4,321 EUR (0.4 %)" in text for text in said)


def test_every_placement_has_a_row_with_real_dates(book: Workbook, planned: Planned) -> None:
    rows = table(book["Slots"])
    assert [row["Check"] for row in rows] == [
        p.check for p in sorted(planned.plan.placements, key=lambda p: (p.in_day, p.check))
    ]
    for row in rows:
        came, left = row["In"], row["Out (bay free from this day)"]
        assert isinstance(came, datetime)
        assert isinstance(left, datetime)
        assert (left - came).days == row["Days in the bay"]
    assert book["Slots"]["C2"].number_format == "ddd d mmm yyyy"


def test_money_columns_of_the_placements_add_up(book: Workbook, planned: Planned) -> None:
    rows = table(book["Slots"])
    for heading, kind in (
        ("Unused interval (EUR)", "early_money"),
        ("Late out (EUR)", "late_money"),
        ("Price earned (EUR)", "price"),
    ):
        expected = sum(getattr(account, kind) for account in planned.audit.accounts)
        assert sum(row[heading] for row in rows) == pytest.approx(expected)  # type: ignore[misc]


def test_late_checks_are_marked_by_text_and_fill(book: Workbook, planned: Planned) -> None:
    sheet = book["Slots"]
    headings = [cell.value for cell in sheet[1]]
    remark, past, late = (
        headings.index(name) for name in ("Remarks", "Days past Latest in", "Days late out")
    )
    accounts = {account.check: account for account in planned.audit.accounts}
    plain_fill = sheet.cell(2, past + 1).fill.fgColor.rgb
    marked = 0
    for row in sheet.iter_rows(min_row=2):
        account = accounts[row[0].value]
        for column, days, word in (
            (past, account.days_past_latest_in, "past Latest in"),
            (late, account.late_days, "late out"),
        ):
            assert row[column].value == days
            assert (row[column].fill.fgColor.rgb != plain_fill) == (days > 0)
            if days:
                assert word in str(row[remark].value)
                marked += 1
    assert marked >= 3


def test_every_stay_is_drawn_once_over_its_days(book: Workbook, planned: Planned) -> None:
    sheet = book["Bay occupancy"]
    names = Counter(
        text.split("\n")[0].removesuffix(" 3P") for text in texts(sheet) if "\nZZ-" in text
    )
    # Pages begin after 77 days at the most, on Mondays. Who is in then is named on both.
    pages = (date(2027, 3, 15), date(2027, 5, 31))
    stays = planned.plan.placements
    across = [p.check for p in stays for page in pages if p.in_day < page < p.out_day]
    assert across
    assert names == Counter([*(p.check for p in planned.plan.placements), *across])
    # V001 stands in S1 from 29 December, the first day drawn, to 20 January: 22 days.
    (cell,) = (c for row in sheet.iter_rows() for c in row if str(c.value).startswith("V001\n"))
    (area,) = (r for r in sheet.merged_cells.ranges if cell.coordinate in r)
    assert sheet.cell(cell.row, 2).value == "S1"
    assert (cell.column, area.size["columns"]) == (3, 22)
    assert SQUARE in str(cell.value)


def test_late_days_and_closures_are_drawn_with_pattern_and_text(book: Workbook) -> None:
    sheet = book["Bay occupancy"]
    cells = [cell for row in sheet.iter_rows(min_row=8) for cell in row]
    late = [cell for cell in cells if re.search(r"^late \d+ d", str(cell.value), re.MULTILINE)]
    closed = [cell for cell in cells if str(cell.value).startswith("closed: ")]
    assert late
    assert {cell.border.right.style for cell in late} == {"thick"}
    assert {cell.fill.patternType for cell in closed} == {"lightDown"}
    assert sorted(str(cell.value) for cell in closed) == [
        "closed: door repair",
        "closed: floor",
    ]
    # The door is shut over 14 days, both ends included.
    (door,) = (cell for cell in closed if "door" in str(cell.value))
    (area,) = (r for r in sheet.merged_cells.ranges if door.coordinate in r)
    assert area.size["columns"] == 14


def test_the_head_of_the_bay_days_names_month_week_and_day(book: Workbook) -> None:
    # ISO 8601: 1 January 2027 is a Friday in week 53 of 2026; 4 January 2027 begins week 1.
    sheet = book["Bay occupancy"]
    said = texts(sheet)
    assert "2026-W53" in said
    assert "January 2027" in said
    column = 3 + 3
    assert (sheet.cell(6, column).value, sheet.cell(7, column).value) == ("Fr", 1)
    assert sheet.freeze_panes == "C8"


def test_man_hours_are_those_of_the_audit(book: Workbook, planned: Planned) -> None:
    rows = table(book["Man-hours"])
    assert len(rows) == len(planned.audit.weeks)
    told = {(row["Week"], row["Skill"]): row for row in rows}
    for load in planned.audit.weeks:
        row = told[load.week, load.skill]
        assert row["Demand (h)"] == pytest.approx(load.demand)
        parts = ("Within regular hours (h)", "Overtime (h)", "Contract (h)")
        total = sum(row[part] for part in parts) + row["Overload (h)"]  # type: ignore
        assert total == pytest.approx(load.demand)
    airframe = told["2027-W16", "Airframe"]
    assert airframe["Used (% of regular)"] == pytest.approx(100 * 2611.0984848 / 1750.0)
    assert told["2027-W01", "Stores"]["Used (% of regular)"] == "no regular"


def test_each_skill_has_a_chart_of_its_own_rows(content: bytes, base: Base) -> None:
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        charts = [n for n in parts.namelist() if n.startswith("xl/charts/chart")]
        first = parts.read("xl/charts/chart1.xml").decode()
    assert len(charts) == len(base.skills)
    # 20 weeks of Airframe stand below the headings; demand parts are stacked under two lines.
    assert "'Man-hours'!$G$2:$G$21" in first
    assert first.count("<c:ser>") == 6
    assert "man-hours per week (h)" in first
    assert "ISO week" in first


def test_overload_weeks_are_told_by_text_and_fill(book: Workbook, planned: Planned) -> None:
    sheet = book["Overload weeks"]
    skills = [cell.value for cell in sheet[4]]
    fills: dict[str, set[str]] = {}
    for load in planned.audit.weeks:
        (row,) = (r for r in sheet.iter_rows(4, 25) if r[0].value == load.week)
        cell = row[skills.index(load.skill)]
        said = str(cell.value)
        word = next(w for w in ("overload", "contract", "overtime", "used", "no") if w in said)
        if word == "used" and load.demand >= 0.9 * load.regular:
            word = "nearly used"
        fills.setdefault(word, set()).add(cell.fill.fgColor.rgb)
        assert (word == "overload") == (TRIANGLE in said) == (load.overload >= 0.05)
    told_apart = [fills[word] for word in ("overload", "overtime", "nearly used", "used")]
    assert all(len(fill) == 1 for fill in told_apart)
    assert len(set.union(*told_apart)) == 4


def test_the_worst_week_comes_first_with_the_checks_that_ask(
    book: Workbook, planned: Planned
) -> None:
    sheet = book["Overload weeks"]
    (heading,) = (r[0].row for r in sheet.iter_rows(26) if r[0].value == "Week")
    first, second = (list(r) for r in sheet.iter_rows(heading + 1, heading + 2, values_only=True))
    worst = max(planned.audit.weeks, key=lambda load: load.overload)
    assert (first[0], first[2]) == (worst.week, worst.skill)
    assert first[3] == pytest.approx(worst.overload)
    assert first[3] >= second[3]
    # Cabin work is in heavy packages only; four of them are in work in that week.
    assert second[2] == "Cabin"
    assert second[9] == "V003, V032, V009, V034"


@pytest.mark.parametrize(
    ("week", "asked"), [("2026-W53", False), ("2027-W01", True), ("2027-W02", False)]
)
def test_a_check_asks_only_in_the_weeks_of_its_stages(
    planned: Planned, base: Base, week: str, asked: bool
) -> None:
    # From Monday 4 January up to, not including, Monday 11 January.
    days = (date(2027, 1, 4), date(2027, 1, 11))
    stay = Placement("V010", "N3", "Work", *days, (StageDays("Work", *days),))
    view = view_of(base, replace(planned, plan=Plan((stay,))), ())
    load = replace(planned.audit.weeks[0], week=week, skill="Airframe")
    assert askers(view, load) == (["V010"] if asked else [])
    assert askers(view, replace(load, skill="Cabin")) == []


def test_messages_and_settings_are_told(book: Workbook) -> None:
    rows = table(book["Messages"])
    assert (rows[0]["Level"], rows[0]["Where"]) == ("warning", "Checks!X1")
    sheet = book["Settings"]
    assert row_of(sheet, "Productivity")[1:3] == [75, "% of attended hours"]
    assert row_of(sheet, "solver")[1] == "9.9"
    assert row_of(sheet, "Seed")[1] == 1


def test_an_old_file_is_replaced_whole(planned: Planned, base: Base, tmp_path: Path) -> None:
    path = tmp_path / "Plan.XLSX"
    path.write_bytes(b"x" * 1_000_000)
    report(base, planned, path)
    assert openpyxl.load_workbook(path).sheetnames == SHEETS
    assert [p.name for p in tmp_path.iterdir()] == ["Plan.XLSX"]


def test_a_path_that_cannot_be_written_leaves_nothing(
    planned: Planned, base: Base, tmp_path: Path
) -> None:
    with pytest.raises(OutputError, match="folder does not exist"):
        report(base, planned, tmp_path / "nowhere" / "plan.xlsx")
    assert not list(tmp_path.iterdir())


def test_saved_as_csv_no_text_starts_a_formula(book: Workbook) -> None:
    for sheet in book:
        out = io.StringIO()
        csv.writer(out).writerows(sheet.iter_rows(values_only=True))
        for row in csv.reader(io.StringIO(out.getvalue())):
            assert not [cell for cell in row if cell[:1] in ("=", "+", "@", "\t", "\r")]
