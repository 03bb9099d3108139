"""The work of a desk as it is written to disk and read again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from pydantic import TypeAdapter, ValidationError

from capacity.facts import Base, WorkDone
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.plans.audit import audit
from capacity.plans.outcome import Planned, Progress, Refusal
from capacity.plans.plan import Goals, Plan
from capacity.settings import Settings

FORMAT = 1
CENT = 0.005

Cell = tuple[str, str | float | int | bool | None]
"""What kind of value, ``date`` or ``plain``, and the value, a date as ISO text."""


@dataclass(frozen=True, slots=True)
class SavedEdit:
    """Changes of a sheet that are not used yet."""

    sheet: str
    changed: dict[int, dict[str, Cell]]
    added: tuple[dict[str, Cell], ...]
    removed: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SavedBook:
    """A workbook: its bytes are in a file named by their SHA-256."""

    name: str
    content: str
    is_edited: bool


@dataclass(frozen=True, slots=True)
class SavedDesk:
    """What is open, the changes that are not used yet, the kind of work going on, and enquiries.

    ``enquiries`` are the rows of their table as they are typed.
    """

    format: int
    original: SavedBook
    opened: SavedBook
    edits: tuple[SavedEdit, ...]
    work: str
    enquiries: tuple[dict[str, Cell], ...] = ()


@dataclass(frozen=True, slots=True)
class SavedNews:
    """What a re-plan's base has beyond its workbook, as in the field ``made`` of a plan file."""

    work_counts_from: date | None
    held: tuple[str, ...]
    work_done: tuple[WorkDone, ...]


@dataclass(frozen=True, slots=True)
class SavedPlan:
    """A plan with what its search came to; ``goals`` are what the audit then said."""

    format: int
    made_from: SavedBook
    plan: Plan
    goals: Goals
    bound: float | None
    gap: float | None
    days_bound: int
    seconds: float
    stopped_by: str
    settings: Settings
    versions: dict[str, str]
    history: tuple[Progress, ...]
    faults: tuple[str, ...]
    refusals: tuple[Refusal, ...]
    news: SavedNews | None = None


_DESK, _PLAN = TypeAdapter(SavedDesk), TypeAdapter(SavedPlan)


def desk_bytes(saved: SavedDesk) -> bytes:
    """Return a desk as JSON."""
    return _DESK.dump_json(saved)


def desk_from(content: bytes | None) -> SavedDesk | None:
    """Return the desk that JSON holds; None if it holds none of this format."""
    try:
        saved = _DESK.validate_json(content or b"")
    except ValidationError:
        return None
    return saved if saved.format == FORMAT else None


def plan_bytes(planned: Planned, made_from: SavedBook, news: SavedNews | None = None) -> bytes:
    """Return a plan as JSON."""
    return _PLAN.dump_json(saved_plan(planned, made_from, news))


def saved_plan(planned: Planned, made_from: SavedBook, news: SavedNews | None = None) -> SavedPlan:
    """Return a plan as it is written."""
    return SavedPlan(
        format=FORMAT,
        made_from=made_from,
        plan=planned.plan,
        goals=planned.audit.goals,
        bound=planned.bound,
        gap=planned.gap,
        days_bound=planned.days_bound,
        seconds=planned.seconds,
        stopped_by=planned.stopped_by,
        settings=planned.settings,
        versions=dict(planned.versions),
        history=planned.history,
        faults=planned.faults,
        refusals=planned.refusals,
        news=news,
    )


def plan_from(content: bytes | None) -> SavedPlan | None:
    """Return the plan that JSON holds; None if it holds none of this format."""
    try:
        saved = _PLAN.validate_json(content or b"")
    except ValidationError:
        return None
    return saved if saved.format == FORMAT else None


def audited_again(saved: SavedPlan, base: Base) -> Planned | None:
    """Return the plan with a new audit; None if it breaks a rule of the base.

    What was proven is left out where the audit comes to other figures than it did then.
    """
    names = {check.name for check in base.checks}
    bays = {bay.name for bay in base.bays}
    placed = {placement.check for placement in saved.plan.placements}
    if not placed <= names or not {p.bay for p in saved.plan.placements} <= bays:
        return None
    found = audit(base, saved.plan)
    if found.broken:
        return None
    same = (
        found.goals.days_past_latest_in == saved.goals.days_past_latest_in
        and abs(found.goals.money - saved.goals.money) <= CENT
    )
    return Planned(
        plan=saved.plan,
        audit=found,
        bound=saved.bound if same else None,
        gap=saved.gap if same else None,
        days_bound=saved.days_bound if same else 0,
        seconds=saved.seconds,
        stopped_by=saved.stopped_by,
        settings=saved.settings,
        versions=saved.versions,
        history=saved.history,
        faults=saved.faults,
        refusals=saved.refusals if same else (),
    )


def saved_edits(pending: Mapping[str, SheetEdit]) -> tuple[SavedEdit, ...]:
    """Return changes as they are written."""
    return tuple(
        SavedEdit(
            edit.sheet,
            {number: _cells(values) for number, values in edit.changed.items()},
            tuple(_cells(row) for row in edit.added),
            tuple(sorted(edit.removed)),
        )
        for edit in pending.values()
    )


def edits_from(saved: tuple[SavedEdit, ...]) -> dict[str, SheetEdit]:
    """Return changes that were written."""
    return {
        edit.sheet: SheetEdit(
            edit.sheet,
            {number: _values(cells) for number, cells in edit.changed.items()},
            tuple(_values(row) for row in edit.added),
            frozenset(edit.removed),
        )
        for edit in saved
    }


def saved_rows(rows: Sequence[Mapping[str, object]]) -> tuple[dict[str, Cell], ...]:
    """Return rows of a table as they are written."""
    return tuple(_cells(row) for row in rows)


def rows_from(saved: Sequence[Mapping[str, Cell]]) -> tuple[dict[str, object], ...]:
    """Return rows of a table that were written."""
    return tuple(_values(row) for row in saved)


def _cells(values: Mapping[str, object]) -> dict[str, Cell]:
    return {heading: _cell(value) for heading, value in values.items()}


def _cell(value: object) -> Cell:
    if isinstance(value, date):
        return "date", value.isoformat()[:10]
    if value is None or isinstance(value, str | bool | int | float):
        return "plain", value
    return "plain", str(value)


def _values(cells: Mapping[str, Cell]) -> dict[str, object]:
    return {
        heading: date.fromisoformat(str(value)) if kind == "date" else value
        for heading, (kind, value) in cells.items()
    }
