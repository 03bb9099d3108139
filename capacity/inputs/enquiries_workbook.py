"""Read aircraft that a base is asked about: a workbook with the columns of ``Checks``."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import ClassVar

from pydantic import Field

from capacity.facts import Base, Check, Status
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.cells import Day, Money
from capacity.inputs.reading.local_marks import LocalText
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import RawBook, RawTable, UnreadableCell
from capacity.inputs.reading.rows import SheetRows
from capacity.inputs.reading.sheet_reader import SheetReader
from capacity.inputs.reading.sheets import CheckRow, StatusWord
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.words import day, days, quoted

TITLES = ("Enquiries", "Checks")
Where = Callable[[Check, str], str]

TypedRow = Mapping[str, object]
"""What stands in a row, by heading: texts, numbers and dates."""

UNREADABLE = "#unreadable"
"""What stands for a cell that holds no value that can be used."""


class EnquiryRow(CheckRow):
    """An aircraft that is asked about: a row of ``Checks`` whose status is option if blank."""

    sheet: ClassVar[str] = "Enquiries"
    columns_needed: ClassVar[frozenset[str]] = frozenset()

    status: StatusWord = Field("option", alias="Status")
    earliest_in: Day = Field(alias="Earliest in")
    latest_in: Day = Field(alias="Latest in")
    price: Money = Field(0.0, alias="Price")


def enquiries_and_messages(path: Path, base: Base) -> tuple[tuple[Check, ...], list[Message]]:
    """Return the enquiries and everything worth saying about them; bad input never raises."""
    table, messages = _table_at(path)
    return ((), messages) if table is None else enquiries_of(table, base, messages)


def rows_and_messages(path: Path, base: Base) -> tuple[tuple[TypedRow, ...], list[Message]]:
    """Return the rows as they stand, and the messages of ``enquiries_and_messages``.

    What stands under headings that are not known is told, and is not among the rows.
    """
    table, messages = _table_at(path)
    if table is None:
        return (), messages
    (_, titles), *rows = table.rows
    known = {same(heading): heading for heading in EnquiryRow.headings()}
    headings = [known.get(same(title)) if isinstance(title, str) else None for title in titles]
    _, messages = enquiries_of(table, base, messages)
    return tuple(_as_typed(headings, cells) for _, cells in rows), messages


def enquiries_of(
    table: RawTable, base: Base, messages: list[Message]
) -> tuple[tuple[Check, ...], list[Message]]:
    """Return the enquiries of a table whose first row are headings; messages are added to."""
    rows: SheetRows[EnquiryRow] = SheetReader(EnquiryRow, table, messages).read()
    messages += _named_twice(rows)
    row_of = {row.check: row for row in rows.rows}

    def at(check: Check, field: str) -> str:
        row = row_of[check.name]
        return rows.places.cell(row.row, row.heading(field))

    checks = tuple(_check(row) for row in row_of.values())
    messages += faults_of_enquiries(checks, base, at)
    if not any(message.level is Level.ERROR for message in messages):
        messages += notes_of_enquiries(checks, base, at)
    return checks, messages


def faults_of_enquiries(
    enquiries: Sequence[Check], base: Base, at: Where | None = None
) -> Iterator[Message]:
    """Yield everything that keeps enquiries from being put to a base.

    ``at`` tells the cell of a field of an enquiry; without it the enquiry and field are named.
    """
    at = at or (lambda check, field: f"{check.name}, {EnquiryRow.heading(field)}")
    taken = {check.name for check in base.checks}
    types = {aircraft.name for aircraft in base.types}
    packages = {package.name for package in base.packages}
    seen: set[str] = set()
    for enquiry in enquiries:
        for field, name, known, sheet in (
            ("type", enquiry.type, types, "Aircraft types"),
            ("package", enquiry.package, packages, "Packages"),
        ):
            if name not in known:
                what = f"'{name}' is not in the sheet {sheet} of the base's workbook."
                yield _error(at(enquiry, field), what, suggest(name, known, f"the sheet {sheet}"))
        yield from _other_types(enquiry, base, at)
        if enquiry.name in taken:
            what = f"'{enquiry.name}' is already a check in the base's workbook."
            yield _error(at(enquiry, "check"), what, "Give the enquiry a name of its own.")
        if enquiry.name in seen:
            what = f"'{enquiry.name}' is asked about twice."
            yield _error(at(enquiry, "check"), what, "Rename or delete one of the two.")
        seen.add(enquiry.name)
        yield from _misfitting_figures(enquiry, at)
        yield from _window_faults(enquiry, base, at)


def notes_of_enquiries(
    enquiries: Sequence[Check], base: Base, at: Where | None = None
) -> Iterator[Message]:
    """Yield what a person should make sure of before enquiries without a fault are answered.

    A package that names no types is told, where no check of the base has it on that type.
    """
    at = at or (lambda check, field: f"{check.name}, {EnquiryRow.heading(field)}")
    untold = {package.name for package in base.packages if not package.types}
    known = {(check.package, check.type) for check in base.checks}
    for enquiry in enquiries:
        if enquiry.package in untold and (enquiry.package, enquiry.type) not in known:
            yield Message(
                Level.NOTE,
                at(enquiry, "package"),
                f"the package '{enquiry.package}' names no types, and no check in the workbook has "
                f"it on the type '{enquiry.type}'.",
                f"Make sure that it is for '{enquiry.type}', or fill in Types of the package.",
            )


def _other_types(enquiry: Check, base: Base, at: Where) -> Iterator[Message]:
    package = next((package for package in base.packages if package.name == enquiry.package), None)
    is_known = any(aircraft.name == enquiry.type for aircraft in base.types)
    if package is not None and is_known and not package.is_for(enquiry.type):
        what = f"the package '{package.name}' is for {quoted(package.types)}, not '{enquiry.type}'."
        yield _error(at(enquiry, "package"), what, "Name another package, or correct the type.")


def _misfitting_figures(enquiry: Check, at: Where) -> Iterator[Message]:
    if enquiry.status is not Status.OPTION:
        what = f"the enquiry '{enquiry.name}' is {enquiry.status}."
        remedy = "Make it an option; a check that is already agreed belongs in the base's workbook."
        yield _error(at(enquiry, "status"), what, remedy)
    if enquiry.agreed_out is not None and enquiry.agreed_days is not None:
        what = "Agreed out and Agreed days are both given."
        yield _error(at(enquiry, "agreed_days"), what, "Keep the one that was promised.")
    if enquiry.held_in is not None or enquiry.held_bay is not None:
        yield _error(at(enquiry, "held"), "Held is for checks, not for an enquiry.", "Clear it.")
        return
    for field in ("fixed_bay", "fixed_in", "remaining"):
        if getattr(enquiry, field) is not None:
            what = f"{EnquiryRow.heading(field)} is for fixed checks, not for an enquiry."
            yield _error(at(enquiry, field), what, "Clear it.")


def _window_faults(enquiry: Check, base: Base, at: Where) -> Iterator[Message]:
    first, last = enquiry.earliest_in, enquiry.latest_in
    if first > last:
        what = f"Latest in {day(last)} is before Earliest in {day(first)}."
        yield _error(at(enquiry, "latest_in"), what, "Correct one of the two.")
    elif first > base.last_in_day:
        what = (
            f"Earliest in {day(first)} is after {day(base.last_in_day)}, the last day on which a "
            "check can "
            "come in under this plan."
        )
        yield _error(at(enquiry, "earliest_in"), what, "Leave the enquiry out, or raise Weeks.")
    elif last < base.first_day:
        late = days((base.first_day - last).days)
        what = (
            f"Latest in {day(last)} is {late} before the First day {day(base.first_day)} of the "
            "plan."
        )
        yield _error(at(enquiry, "latest_in"), what, "Correct it, or leave the enquiry out.")
    if base.has_lapsed(enquiry):
        assert enquiry.decide_by is not None
        what = f"the enquiry has lapsed: Decide by is {day(enquiry.decide_by)}."
        yield _error(at(enquiry, "decide_by"), what, "Correct it, or leave the enquiry out.")
    if enquiry.agreed_out is not None and enquiry.agreed_out <= first:
        what = f"Agreed out {day(enquiry.agreed_out)} is not after Earliest in {day(first)}."
        yield _error(at(enquiry, "agreed_out"), what, "Correct it, or leave it blank.")


def _table_at(path: Path) -> tuple[RawTable | None, list[Message]]:
    name = path.name or str(path)
    raw = tables_or_message(path, _is_wanted)
    if isinstance(raw, Message):
        return None, [raw]
    messages = list(raw.messages)
    return _table(raw, name, messages), messages


def _as_typed(headings: Sequence[str | None], cells: Sequence[object]) -> TypedRow:
    """Return a row as a person would type it, a date as a date; blank cells are left out."""
    values = zip(headings, cells, strict=False)
    return {h: _typed(cell) for h, cell in values if h is not None and cell is not None}


def _typed(cell: object) -> object:
    match cell:
        case LocalText():
            return cell.day or (cell.plain and float(cell.plain)) or str(cell)
        case UnreadableCell():
            return UNREADABLE
        case datetime():
            return cell.date()
        case bool():
            return "yes" if cell else "no"
        case date() | int():
            return cell
        case float():
            return float(cell)
        case _:
            return str(cell)


def _is_wanted(title: str) -> bool:
    return same(title) in {same(known) for known in TITLES}


def _table(raw: RawBook, name: str, messages: list[Message]) -> RawTable | None:
    """Return the one table of enquiries; messages say why there is none."""
    by_title = {same(title): table for title, table in raw.tables.items()}
    found = [by_title[same(title)] for title in TITLES if same(title) in by_title]
    if not found:
        what = f"there is no sheet Enquiries; present are {quoted(raw.titles)}."
        messages.append(_error(name, what, "Add it, with the columns of Checks."))
        return None
    table = found[0]
    if not table.whole:  # why, the reader has said
        return None
    if len(table.rows) < 2:
        messages.append(
            _error(table.label, "the sheet has no rows.", "Fill in a row for each enquiry.")
        )
        return None
    return table


def _named_twice(rows: SheetRows[EnquiryRow]) -> Iterator[Message]:
    for row, identity in rows.identities:
        first = rows.named[identity[0]]
        if row != first:
            where = rows.places.cell(row, EnquiryRow.heading("check"))
            what = f"'{identity[0]}' is here and in row {first}."
            yield _error(where, what, "Rename or delete one of the two.")


def _check(row: EnquiryRow) -> Check:
    return Check(
        name=row.check,
        aircraft=row.aircraft,
        type=row.type,
        package=row.package,
        status=Status(row.status),
        earliest_in=row.earliest_in,
        latest_in=row.latest_in,
        customer=row.customer,
        third_party=row.third_party,
        wanted_in=row.wanted_in,
        agreed_out=row.agreed_out,
        early_cost_per_day=row.early_cost_per_day,
        late_cost_per_day=row.late_cost_per_day,
        price=row.price,
        findings_factor=row.findings_factor,
        fixed_bay=row.fixed_bay,
        fixed_in=row.fixed_in,
        remaining=row.remaining,
        agreed_days=row.agreed_days,
        wanted_cost_per_day=row.wanted_cost_per_day,
        decide_by=row.decide_by,
        held_in=row.held_in,
        held_bay=row.held_bay,
    )


def _error(where: str, what: str, remedy: str) -> Message:
    return Message(Level.ERROR, where, what, remedy)
