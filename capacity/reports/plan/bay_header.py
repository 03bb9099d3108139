"""The head of the sheet ``Bay occupancy``: title, legend, months, weeks, days."""

from calendar import day_abbr
from collections.abc import Callable
from datetime import date
from itertools import groupby

from capacity.reports.kit import formats
from capacity.reports.kit.formats import Look
from capacity.reports.kit.sheet import Sheet
from capacity.reports.plan.drawn_days import DrawnDays
from capacity.reports.plan.view import View
from capacity.words.marks import AGREED, SQUARE, late

SHEET = "Bay occupancy"

BAY_COLUMN, FIRST_DAY_COLUMN = 1, 2
LEGEND_ROW, MONTH_ROW, WEEK_ROW, WEEKDAY_ROW, DAY_ROW, FIRST_BAY_ROW = 1, 3, 4, 5, 6, 7

DAY_WIDTH = 2.6
"""Characters: two letters of a weekday in small type."""

LEGEND_DAYS = 6
"""Columns of one entry of the legend."""

IN_THE_LEGEND: dict[str, object] = {
    "text_wrap": True,
    "valign": "vcenter",
    "font_size": 9,
    "bold": True,
    "italic": False,
}
"""Words that can be read over lines and dots."""

LEGEND: tuple[tuple[str, Look], ...] = (
    ("own fleet", formats.OWN_STAY),
    ("3P: third party", formats.THIRD_PARTY_STAY),
    ("option", formats.OPTION_STAY),
    (f"{SQUARE} fixed bay and day", formats.BAND),
    (f"{late(3)}: out late, since Agreed out", {**formats.OWN_STAY, **formats.LATE_EDGE}),
    (f"{AGREED}: Agreed out", {**formats.FREE_DAY, **formats.AGREED_BAR}),
    ("closed", formats.CLOSED),
    ("floor taken or way blocked", formats.BLOCKED),
    ("c: changeover", formats.CHANGEOVER),
    ("day off", formats.DAY_OFF),
    ("weekend", formats.WEEKEND),
)


def write_header(sheet: Sheet, view: View, drawn: DrawnDays) -> None:
    """Write everything above the bays, and keep it in sight."""
    sheet.widths([12, 9])
    columns = max(len(drawn.days), len(LEGEND) * (LEGEND_DAYS + 1))
    sheet.widths([DAY_WIDTH] * columns, first=FIRST_DAY_COLUMN)
    # The first columns stand on every page to print, and a longer text would be cut there.
    sheet.write(0, 0, SHEET, formats.TITLE)
    title = f"{view.base.name}: which check is in which bay"
    sheet.write(0, FIRST_DAY_COLUMN, title, formats.TITLE)
    sheet.height(LEGEND_ROW, 26)
    for number, (text, look) in enumerate(LEGEND):
        first = FIRST_DAY_COLUMN + number * (LEGEND_DAYS + 1)
        sheet.run(LEGEND_ROW, first, first + LEGEND_DAYS - 1, text, {**look, **IN_THE_LEGEND})
    _write_spans(sheet, MONTH_ROW, drawn, _month)
    _write_spans(sheet, WEEK_ROW, drawn, _week)
    for column, day in enumerate(drawn.days):
        look = formats.WEEKEND_HEADING if drawn.is_weekend(column) else formats.DAY_HEADING
        sheet.write(WEEKDAY_ROW, FIRST_DAY_COLUMN + column, day_abbr[day.weekday()][:2], look)
        sheet.write(DAY_ROW, FIRST_DAY_COLUMN + column, day.day, look)
    sheet.write(DAY_ROW, 0, "Hangar", formats.BAY_HEADING)
    sheet.write(DAY_ROW, BAY_COLUMN, "Bay", formats.BAY_HEADING)
    sheet.freeze(FIRST_BAY_ROW, FIRST_DAY_COLUMN)


def _write_spans(
    sheet: Sheet, row: int, drawn: DrawnDays, label: Callable[[date, int], str]
) -> None:
    """Write one cell over all days that belong together; ``label`` knows their number.

    None of them goes over the edge of a page to print.
    """

    def kind(item: tuple[int, date]) -> tuple[str, int]:
        return label(item[1], 99), drawn.page_of(item[0])

    for _, group in groupby(enumerate(drawn.days), key=kind):
        cells = list(group)
        first, last = cells[0][0], cells[-1][0]
        text = label(cells[0][1], len(cells))
        sheet.run(row, FIRST_DAY_COLUMN + first, FIRST_DAY_COLUMN + last, text, formats.DAY_HEADING)


def _month(day: date, room: int) -> str:
    return f"{day:%B %Y}" if room >= 6 else f"{day:%b}"


def _week(day: date, room: int) -> str:
    iso = day.isocalendar()
    return f"{iso.year}-W{iso.week:02d}" if room >= 4 else f"W{iso.week:02d}"
