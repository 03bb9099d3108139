"""Slot plans for an aircraft heavy-maintenance base, with proof.

>>> import capacity
>>> base = capacity.read("quarter.xlsx")
>>> outcome = capacity.plan(base, capacity.Settings(seconds=60))
>>> capacity.report(outcome, base, "plan.xlsx")
"""

from os import PathLike
from pathlib import Path

from capacity.errors import AuditError, CapacityError, EngineError, InputError, OutputError
from capacity.facts import Base
from capacity.findings import Finding, Level
from capacity.inputs import read_book
from capacity.plans.audit import Audit, audit
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned, Progress
from capacity.plans.plan import Placement, Plan
from capacity.planning import plan
from capacity.reports import report
from capacity.settings import Settings

__all__ = [
    "Audit",
    "AuditError",
    "Base",
    "CapacityError",
    "EngineError",
    "Finding",
    "Impossible",
    "InputError",
    "Level",
    "OutOfTime",
    "Outcome",
    "OutputError",
    "Placement",
    "Plan",
    "Planned",
    "Progress",
    "Settings",
    "audit",
    "check",
    "plan",
    "read",
    "report",
]


def check(path: str | PathLike[str]) -> tuple[Finding, ...]:
    """Return everything worth saying about a workbook or a folder of CSV files."""
    return read_book(Path(path)).findings


def read(path: str | PathLike[str]) -> Base:
    """Return the base that a workbook or a folder of CSV files describes.

    Raises
    ------
    InputError
        When the input has errors; its ``findings`` hold all of them.
    """
    book = read_book(Path(path))
    if book.base is None:
        raise InputError(book.findings)
    return book.base
