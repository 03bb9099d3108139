"""Scenarios of all kinds for any workbook: heads, closures, findings, levelling, enquiries, prices.

Invented, and drawn from nothing: the workbook's own first crews, bays and checks, changed a little.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from capacity.facts import Base, Check, Status
from tests.inputs.books import write_workbook

Cells = list[object]
HEADINGS: Cells = ["Scenario", "Sheet", "Row", "Column", "Change", "Value"]
WEEK = timedelta(weeks=1)


def write_questions(base: Base, path: Path) -> Path:
    """Write the workbook of scenarios of a base, and return its path."""
    return write_workbook({"Scenarios": [HEADINGS, *_rows(base)]}, path)


def _rows(base: Base) -> Iterator[Cells]:
    for crew in base.crews[:2]:
        yield [f"one more in {crew.name}", "Crews", crew.name, "Heads", "add", 1]
        yield [f"one less in {crew.name}", "Crews", crew.name, "Heads", "add", -1]
    shut = base.first_day + (base.weeks - 1) * WEEK
    for bay in base.bays[:2]:
        yield from _new(f"{bay.name} shut", "Bay closures", Bay=bay.name, From=shut, To=shut + WEEK)
    for change, value in (("multiply", 1.2), ("multiply", 0.8), ("add", 10)):
        yield [f"findings: {change} {value}", "Packages", "every row", "Findings %", change, value]
    for peak in (130, 160):
        yield [f"daily peak {peak} %", "Base", "Daily peak %", "Value", None, peak]
    booked = [check for check in base.checks if check.status is Status.BOOKED]
    for number, like in enumerate(booked[:2]):
        yield from _enquiry(f"enquiry {number + 1}", like, base.first_day + number * WEEK)
    skill = base.skills[0].name
    yield [f"dearer overtime: {skill}", "Skills", skill, "Overtime cost", "multiply", 1.25]
    yield [f"less overtime: {skill}", "Skills", skill, "Overtime cap %", "multiply", 0.5]


def _enquiry(name: str, like: Check, earliest: date) -> Iterator[Cells]:
    return _new(
        name,
        "Checks",
        Check=f"asked {like.name}",
        Aircraft=f"asked {like.name}",
        Type=like.type,
        Package=like.package,
        Customer="Somebody (invented)",
        Status="option",
        Price=20_000,
        **{"Third party": "yes", "Earliest in": earliest, "Latest in": earliest + WEEK},
    )


def _new(name: str, sheet: str, **cells: object) -> Iterator[Cells]:
    for column, value in cells.items():
        yield [name, sheet, "new row", column, None, value]
