"""The smallest sample with too few people and too many checks: a plan of it has every mark.

Its plan has overload, a check late out, one past its Latest in, one with no slot, an option not
taken, one of a third party that is, a fixed check, a bay that is closed and a changeover. It has
news of every kind too: progress, Ready dates and extra work.
"""

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

import openpyxl

import capacity

TINY = Path(capacity.__file__).parent.parent / "sample_inputs" / "tiny.xlsx"

ADDED: tuple[Mapping[str, object], ...] = (
    {
        "Check": "T5", "Aircraft": "Q-TNYE", "Type": "Linden 180", "Package": "Week check",
        "Status": "booked", "Earliest in": datetime(2027, 1, 4), "Latest in": datetime(2027, 1, 4),
        "Agreed out": datetime(2027, 1, 11),
    },
    {
        "Check": "T6", "Aircraft": "Q-TNYF", "Type": "Alder 50", "Package": "Week check",
        "Customer": "Kalmora Air", "Third party": "yes", "Status": "booked",
        "Earliest in": datetime(2027, 1, 4), "Latest in": datetime(2027, 1, 18),
        "Agreed out": datetime(2027, 1, 22), "Late cost per day": 500,
    },
    {
        "Check": "T7", "Aircraft": "Q-TNYG", "Type": "Alder 50", "Package": "Wash and inspect",
        "Customer": "Kalmora Air", "Third party": "yes", "Status": "option",
        "Earliest in": datetime(2027, 1, 18), "Latest in": datetime(2027, 1, 24),
        "Price": 100_000,
    },
)  # fmt: skip
"""T5 and T2 are both due in the large bay, which T1 and the changeover have until the 11th: one of
them has no slot and the other is out late. T7 pays for the overload that it brings."""

CHANGED: Mapping[str, Mapping[str, object]] = {
    "T2": {"Latest in": datetime(2027, 1, 4), "Agreed out": datetime(2027, 1, 11)},
    "T4": {"Price": 1},
}
"""Nobody takes T4 for 1 EUR."""


FIRST = datetime(2027, 1, 4)
NEWS: Mapping[str, tuple[tuple[object, ...], ...]] = {
    "Progress": (
        ("Check", "Stage", "As of", "Done %", "Hours booked", "Hours to go"),
        ("T1", "Open", FIRST, 10, 30, None),
        ("T1", "Repair", FIRST, None, None, 130),
    ),
    "Ready dates": (
        ("Check", "Stage", "Not before", "Reason"),
        ("T6", "Repair", datetime(2027, 1, 22), "part"),
        ("T1", "Open", datetime(2027, 1, 6), "tool"),
    ),
    "Extra work": (
        ("Check", "Stage", "After", "Work", "Days", "Skill", "Man-hours", "Reason"),
        ("T6", "Repair", None, None, None, "Mechanic", 12, "deferred defect"),
        ("T6", "Fit antenna", "Open", "maintenance", 1, "Mechanic", 8, "modification"),
    ),
}
"""What is told of checks in work, of what they wait for, and of what they have beyond packages."""


def write_troubled(path: Path) -> Path:
    """Write the workbook; the sample itself is only read."""
    book = openpyxl.load_workbook(TINY)
    checks = book["Checks"]
    headings = [cell.value for cell in checks[1]]
    for row in checks.iter_rows(min_row=2):
        for heading, value in CHANGED.get(str(row[0].value), {}).items():
            row[headings.index(heading)].value = value
    for check in ADDED:
        checks.append([check.get(str(heading)) for heading in headings])
    crews = book["Crews"]
    heads = next(cell.column for cell in crews[1] if cell.value == "Heads")
    crews.cell(2, heads).value = 3
    closures = book.create_sheet("Bay closures")
    closures.append(["Bay", "From", "To", "Reason"])
    closures.append(["Small bay", datetime(2027, 1, 4), datetime(2027, 1, 6), "door rails"])
    for title, rows in NEWS.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    book.save(path)
    return path
