"""What the plan store holds, as people read it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum


class Role(StrEnum):
    """What somebody may do with the store; each role may all that those before it may."""

    READ = "read"
    PLAN = "plan"
    AGREE = "agree"

    @property
    def rank(self) -> int:
        """Return 0 for the role that may least."""
        return list(Role).index(self)


class Status(StrEnum):
    """Where a plan stands: nobody agreed it yet, it is in force, or another has taken its place."""

    DRAFT = "draft"
    AGREED = "agreed"
    SUPERSEDED = "superseded"


@dataclass(frozen=True, slots=True)
class Figures:
    """What of a plan people compare: days past ``Latest in``, and its cost in money."""

    days_past: int
    cost: float
    overload_hours: float


@dataclass(frozen=True, slots=True)
class NewPlan:
    """A plan to be saved: its plan file, and the workbook that it was made for, byte for byte.

    It is of the days ``[first_day, until)`` of a base. ``follows`` is the number in the store of
    the plan that it was made from; None for one that was made from nothing.
    """

    base: str
    first_day: date
    until: date
    plan_number: str
    workbook_name: str
    workbook: bytes
    plan_file: bytes
    figures: Figures
    currency: str = "EUR"
    settings: Mapping[str, str] = field(default_factory=dict)
    follows: int | None = None


@dataclass(frozen=True, slots=True)
class SavedPlan:
    """A plan in the store, without its files: ``id`` is its number there, which no other has.

    ``version`` counts the plans of the base that begin on the same day, from 1; ``workbook`` is
    the SHA-256 of the workbook.
    """

    id: int
    base: str
    first_day: date
    until: date
    version: int
    plan_number: str
    status: Status
    figures: Figures
    currency: str
    workbook_name: str
    workbook: str
    settings: Mapping[str, str]
    follows: int | None
    saved_by: str
    saved_at: datetime


@dataclass(frozen=True, slots=True)
class Event:
    """Something that was done with a plan: saved, agreed, superseded, or what somebody said."""

    plan: int
    what: str
    text: str
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class WorkbookFile:
    """A workbook as it was saved."""

    name: str
    content: bytes
