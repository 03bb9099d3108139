"""One shift list as a page to print: HTML on its own, black on white, no script, no outside file.

Browsers print it as it is. A list longer than a sheet of paper goes on with its headings repeated.
"""

import re
from collections.abc import Callable, Iterator
from html import escape
from math import fsum

from capacity.reports.crews_workbook import FATIGUE, SHARED_PEOPLE, Line, ShiftList
from capacity.reports.wording import CAUTION, counted
from capacity.reports.wording import day as as_day

COLUMNS: tuple[tuple[str, bool, Callable[[Line], str]], ...] = (
    ("Bay", False, lambda line: line.bay),
    ("Aircraft", False, lambda line: f"{line.aircraft} ({line.check})"),
    ("Stage", False, lambda line: line.stage),
    ("Skill", False, lambda line: line.skill),
    ("Crew", False, lambda line: line.crew),
    ("People", True, lambda line: f"{line.people:,.2f}"),
    ("Man-hours", True, lambda line: f"{line.hours:,.1f}"),
    ("Overtime (h)", True, lambda line: f"{line.overtime:,.1f}" if line.overtime else "\u2013"),
    ("Mind", False, lambda line: line.remarks),
)
"""Heading, whether it is a number, and what stands in the cell."""

LONGEST_SHIFT_NAME = 40

# The policy is a second lock behind the escaping: nothing in the page may run or be fetched.
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
STYLE = """\
@page { size: A4 landscape; margin: 12mm; }
html { background: #fff; color: #000; font: 10pt/1.35 sans-serif; }
body { margin: 0 auto; max-width: 273mm; }
h1 { font-size: 15pt; margin: 0 0 1mm; }
h1, p, td, th { overflow-wrap: anywhere; }
p { margin: 0 0 2mm; }
table { border-collapse: collapse; margin: 3mm 0; width: 100%; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
td, th { border: 0.3mm solid #000; padding: 1mm 1.5mm; text-align: left; vertical-align: top; }
.number { overflow-wrap: normal; text-align: right; white-space: nowrap; }
.caution { border: 0.5mm solid #000; font-weight: bold; padding: 1.5mm; }
@media screen { body { padding: 8mm; } }
"""


def shift_page(shift_list: ShiftList, base_name: str) -> bytes:
    """Return a shift list of a base as an HTML page, in UTF-8; every text stays a text."""
    title = f"{as_day(shift_list.day)}, shift {shift_list.shift} from {shift_list.begins}"
    parts = (
        "<!DOCTYPE html>",
        '<html lang="en"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">',
        f"<title>{escape(f'{title} - {base_name}')}</title>",
        f"<style>{STYLE}</style></head><body>",
        f"<p>{escape(base_name)}</p>",
        f"<h1>{escape(title)}</h1>",
        f'<p class="caution">{escape(CAUTION)}</p>',
        f"<p>{escape(_sum_of(shift_list))}</p>",
        *_table(shift_list),
        f"<p>{escape(SHARED_PEOPLE)}</p>",
        f"<p>{escape(FATIGUE)}</p>",
        "</body></html>",
        "",
    )
    return "\n".join(parts).encode()


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


def _table(shift_list: ShiftList) -> Iterator[str]:
    headings = "".join(
        f'<th scope="col"{_kind(number)}>{escape(name)}</th>' for name, number, _ in COLUMNS
    )
    yield f"<table><thead><tr>{headings}</tr></thead><tbody>"
    for line in shift_list.lines:
        cells = (f"<td{_kind(number)}>{escape(cell(line))}</td>" for _, number, cell in COLUMNS)
        yield f"<tr>{''.join(cells)}</tr>"
    yield "</tbody></table>"


def _kind(number: bool) -> str:
    return ' class="number"' if number else ""
