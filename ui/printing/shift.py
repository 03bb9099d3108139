"""One shift list as a page to print."""

import re
from collections.abc import Callable
from math import fsum

from capacity.plans.plan import Plan
from capacity.reports.crews.workbook import FATIGUE, SHARED_PEOPLE, Line, ShiftList
from capacity.reports.plan.wording import CAUTION
from capacity.words import counted
from ui.printing.sheet import NOTHING, Cell, caution, paragraph, sheet, table

COLUMNS: tuple[tuple[str, bool, Callable[[Line], str]], ...] = (
    ("Bay", False, lambda line: line.bay),
    ("Aircraft", False, lambda line: f"{line.aircraft} ({line.check})"),
    ("Stage", False, lambda line: line.stage),
    ("Skill", False, lambda line: line.skill),
    ("Crew", False, lambda line: line.crew),
    ("People", True, lambda line: f"{line.people:,.2f}"),
    ("Man-hours", True, lambda line: f"{line.hours:,.1f}"),
    ("Overtime (h)", True, lambda line: f"{line.overtime:,.1f}" if line.overtime else NOTHING),
    ("Remarks", False, lambda line: line.remarks),
)
"""Heading, whether it is a number, and what stands in the cell."""

LONGEST_SHIFT_NAME = 40


def shift_page(shift_list: ShiftList, base_name: str, plan: Plan | None = None) -> bytes:
    """Return a shift list of a base as an HTML page, in UTF-8; every text stays a text."""
    title = shift_list.title
    headings = [Cell(name, is_number) for name, is_number, _ in COLUMNS]
    rows = [
        [Cell(text(line), is_number) for _, is_number, text in COLUMNS] for line in shift_list.lines
    ]
    body = (
        caution(CAUTION),
        paragraph(_sum_of(shift_list)),
        table(headings, rows),
        paragraph(SHARED_PEOPLE),
        paragraph(FATIGUE),
    )
    return sheet(title, base_name, body, plan)


def file_name_of(shift_list: ShiftList) -> str:
    """Return a name for the page that every file system takes: ``shift-2027-01-04-D.html``."""
    shift = re.sub(r"[^\w-]", "_", shift_list.shift)[:LONGEST_SHIFT_NAME]
    return f"shift-{shift_list.day.isoformat()}-{shift}.html"


def _sum_of(shift_list: ShiftList) -> str:
    lines = shift_list.lines
    aircraft = counted(len({line.check for line in lines}), "check")
    booked, overtime = fsum(line.hours for line in lines), fsum(line.overtime for line in lines)
    return (
        f"{counted(len(lines), 'line')}, {aircraft}, {booked:,.1f} booked man-hours; "
        f"overtime {overtime:,.1f} h. A proposal: the shift lead sees who is there, fit for the "
        "work and authorised. It is no record of work done."
    )
