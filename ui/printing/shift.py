"""Shift lists as pages to print: each on a sheet of its own, in print as large as has room."""

import re
from collections.abc import Callable, Sequence
from datetime import datetime
from html import escape
from math import fsum

from capacity.plans.plan import Plan
from capacity.reports.crews.workbook import FATIGUE, SHARED_PEOPLE, Line, ShiftList
from capacity.reports.plan.wording import CAUTION
from capacity.words import counted
from ui.printing.sheet import (
    NOTHING,
    Cell,
    caution,
    document,
    issue_of,
    paragraph,
    style_with,
    table,
)
from ui.printing.shift_sheets import Column, Print, parts_of, print_of, style_of

COLUMNS: tuple[tuple[str, bool, Callable[[Line], str], float], ...] = (
    ("Bay", False, lambda line: line.bay, 22),
    ("Aircraft", False, lambda line: f"{line.aircraft} ({line.check})", 36),
    ("Stage", False, lambda line: line.stage, 40),
    ("Skill", False, lambda line: line.skill, 26),
    ("Crew", False, lambda line: line.crew, 34),
    ("People", True, lambda line: f"{line.people:,.2f}", 17),
    ("Man-hours", True, lambda line: f"{line.hours:,.1f}", 20),
    (
        "Overtime (h)",
        True,
        lambda line: f"{line.overtime:,.1f}" if line.overtime else NOTHING,
        20,
    ),
    ("Remarks", False, lambda line: line.remarks, 58),
)
"""Heading, whether it is a number, what stands in the cell, and its width in millimetres."""

WIDTHS = tuple(Column(name, width) for name, _, _, width in COLUMNS)
LONGEST_SHIFT_NAME = 40


def shift_page(shift_list: ShiftList, base_name: str, plan: Plan | None = None) -> bytes:
    """Return a shift list of a base as an HTML page, in UTF-8; every text stays a text."""
    return shift_pages([shift_list], base_name, plan)


def shift_pages(
    lists: Sequence[ShiftList],
    base_name: str,
    plan: Plan | None = None,
    issued: datetime | None = None,
) -> bytes:
    """Return shift lists as one HTML page, in UTF-8, that prints each on a sheet of its own.

    A list of many lines is in smaller print; one that is too long even so goes on, in parts of
    about the same length.
    """
    issue = issue_of(plan, issued)
    title = lists[0].title if len(lists) == 1 else "Shift lists"
    sections = [section for one in lists for section in _sections(one, base_name, issue)]
    return document(f"{title} - {base_name}", style_with(issue, style_of(WIDTHS)), sections)


def file_name_of(shift_list: ShiftList) -> str:
    """Return a name for the page that every file system takes: ``shift-2027-01-04-D.html``."""
    shift = re.sub(r"[^\w-]", "_", shift_list.shift)[:LONGEST_SHIFT_NAME]
    return f"shift-{shift_list.day.isoformat()}-{shift}.html"


def _sections(shift_list: ShiftList, base_name: str, issue: str) -> list[str]:
    """Return what stands on each sheet of paper of a list."""
    rows = [tuple(text(line) for _, _, text, _ in COLUMNS) for line in shift_list.lines]
    around = (base_name, shift_list.title, CAUTION, _sum_of(shift_list), SHARED_PEOPLE, FATIGUE)
    size = print_of(WIDTHS, rows, around)
    parts = parts_of(WIDTHS, rows, around, size)
    return [
        _section(shift_list, rows[part.start : part.stop], base_name, issue, size, told)
        for number, part in enumerate(parts, start=1)
        for told in (f", part {number} of {len(parts)}" if len(parts) > 1 else "",)
    ]


def _section(
    shift_list: ShiftList,
    rows: Sequence[Sequence[str]],
    base_name: str,
    issue: str,
    size: Print,
    part: str,
) -> str:
    cells = [
        [Cell(text, is_number) for text, (_, is_number, _, _) in zip(row, COLUMNS, strict=True)]
        for row in rows
    ]
    headings = [Cell(name, is_number) for name, is_number, _, _ in COLUMNS]
    return "\n".join(
        (
            f'<section class="list {size.name}">',
            f"<p>{escape(base_name)}</p>",
            f"<p>{escape(issue)}</p>",
            f"<h1>{escape(shift_list.title)}{part}</h1>",
            caution(CAUTION),
            paragraph(_sum_of(shift_list)),
            table(headings, cells),
            paragraph(SHARED_PEOPLE),
            paragraph(FATIGUE),
            "</section>",
        )
    )


def _sum_of(shift_list: ShiftList) -> str:
    lines = shift_list.lines
    aircraft = counted(len({line.check for line in lines}), "check")
    booked, overtime = fsum(line.hours for line in lines), fsum(line.overtime for line in lines)
    return (
        f"{counted(len(lines), 'line')}, {aircraft}, {booked:,.1f} booked man-hours; "
        f"overtime {overtime:,.1f} h. A proposal: the shift lead sees who is there, fit for the "
        "work and authorised. It is no record of work done."
    )
