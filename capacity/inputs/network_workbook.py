"""Read several bases and what they are asked: a workbook beside those of the bases.

Its sheet ``Bases`` names the workbooks, which stay as they are; ``Enquiries`` has the columns of
``Checks``; ``Ferry costs`` a row for each base that may take an enquiry. Nothing is taken for
granted of a base that has no row there: it is not asked.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar, TypeVar

from pydantic import Field

from capacity.facts import Base, SharedEnquiry
from capacity.inputs.enquiries_workbook import enquiries_of
from capacity.inputs.enquiry_faults import EnquiryRow, check_of
from capacity.inputs.reading.by_kind import tables_or_message
from capacity.inputs.reading.cells import Money, Name, Text
from capacity.inputs.reading.places import same
from capacity.inputs.reading.raw import RawBook, RawTable
from capacity.inputs.reading.row_model import Row
from capacity.inputs.reading.rows import SheetRows
from capacity.inputs.reading.sheet_reader import SheetReader
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.words import day, listed, quoted

MOST_BASES = 100


class BaseLine(Row):
    """A base and its workbook, named from where this workbook lies."""

    sheet: ClassVar[str] = "Bases"
    identity: ClassVar[tuple[str, ...]] = ("base",)

    base: Name = Field(alias="Base")
    workbook: Text = Field(alias="Workbook")


class FerryRow(Row):
    """A base that may take an enquiry, and what flying it there and back costs."""

    sheet: ClassVar[str] = "Ferry costs"
    identity: ClassVar[tuple[str, ...]] = ("check", "base")

    check: Name = Field(alias="Check")
    base: Name = Field(alias="Base")
    ferry_cost: Money = Field(alias="Ferry cost")


MODELS: tuple[type[Row], ...] = (BaseLine, EnquiryRow, FerryRow)
R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True)
class NamedBase:
    """A base by the name it has here, its workbook, and the cell that names that."""

    name: str
    workbook: str
    where: str


def bases_named(path: Path) -> tuple[tuple[NamedBase, ...], list[Message]]:
    """Return the bases that a file names, and everything wrong with their sheet or the file."""
    raw = tables_or_message(path, _is_known)
    if isinstance(raw, Message):
        return (), [raw]
    messages = [*raw.messages, *_unknown_sheets(raw)]
    rows = _read(BaseLine, raw, path, messages)
    found: dict[str, NamedBase] = {}
    files: dict[str, str] = {}
    for row in rows.rows:
        where = rows.places.cell(row.row, "Workbook")
        if row.base in found:
            what = f"'{row.base}' is named twice."
            cell = rows.places.cell(row.row, "Base")
            messages.append(_error(cell, what, "Rename or delete one of the two."))
        elif row.workbook in files:
            what = f"'{row.workbook}' is the workbook of '{files[row.workbook]}' already."
            messages.append(_error(where, what, "Name a workbook for each base."))
        else:
            found[row.base] = NamedBase(row.base, row.workbook, where)
            files[row.workbook] = row.base
    if len(found) > MOST_BASES:
        what = f"{len(found)} bases are more than {MOST_BASES}."
        messages.append(_error(rows.places.label, what, "Plan fewer of them together."))
        return (), messages
    return tuple(found.values()), messages


def shared_enquiries(
    path: Path, named: Sequence[NamedBase], bases: Mapping[str, Base]
) -> tuple[tuple[SharedEnquiry, ...], list[Message]]:
    """Return what the bases are asked, and everything wrong with it; bad input never raises.

    ``bases`` are those that could be read. What ``bases_named`` says of the file is not said again.
    """
    raw = tables_or_message(path, _is_known)
    if isinstance(raw, Message):
        return (), []
    messages: list[Message] = [*_unlike(named, bases)]
    ferries = _read(FerryRow, raw, path, messages)
    table = _table(EnquiryRow, raw)
    rows = _read(EnquiryRow, raw, path, messages)
    named_checks = {identity[0] for _, identity in rows.identities}
    costs: defaultdict[str, dict[str, float]] = defaultdict(dict)
    names = {one.name for one in named}
    for row in ferries.rows:
        where = ferries.places.cell(row.row, "Check")
        if rows.names_known and row.check not in named_checks:
            what = f"'{row.check}' is not in the sheet {EnquiryRow.sheet}."
            remedy = suggest(row.check, sorted(named_checks), f"the sheet {EnquiryRow.sheet}")
            messages.append(_error(where, what, remedy))
        if row.base not in names:
            cell = ferries.places.cell(row.row, "Base")
            what = f"'{row.base}' is not in the sheet {BaseLine.sheet}."
            remedy = suggest(row.base, sorted(names), f"the sheet {BaseLine.sheet}")
            messages.append(_error(cell, what, remedy))
        if row.base in costs[row.check]:
            what = f"'{row.check}' has a ferry cost to '{row.base}' twice."
            messages.append(_error(where, what, "Delete one of the two."))
        costs[row.check][row.base] = row.ferry_cost
    if ferries.whole:
        messages += _asked_nowhere(rows, costs)
    if table is not None:
        messages += _faults_at_bases(table, rows, costs, bases, messages)
    enquiries = tuple(SharedEnquiry(check_of(row), costs[row.check]) for row in rows.rows)
    return enquiries, messages


def _asked_nowhere(
    rows: SheetRows[EnquiryRow], costs: Mapping[str, Mapping[str, float]]
) -> Iterator[Message]:
    for number, (name, *_) in rows.identities:
        if not costs.get(name):
            what = f"no base is asked about '{name}'."
            remedy = f"Add a row to the sheet {FerryRow.sheet} for each base that may take it."
            yield _error(rows.places.cell(number, "Check"), what, remedy)


def _faults_at_bases(
    table: RawTable,
    rows: SheetRows[EnquiryRow],
    costs: Mapping[str, Mapping[str, float]],
    bases: Mapping[str, Base],
    known: Sequence[Message],
) -> Iterator[Message]:
    """Yield what is wrong with enquiries at the bases that are asked, by the rules of one base.

    What is so at all of them is said once, else it says at which ones.
    """
    heading, *lines = table.rows
    names = {number: identity[0] for number, identity in rows.identities}
    asked = {
        base: [line for line in lines if base in costs.get(names.get(line[0], ""), {})]
        for base in bases
    }
    said: dict[Message, list[str]] = {}
    for base, facts in bases.items():
        if asked[base]:
            part = RawTable(table.label, (heading, *asked[base]), table.whole)
            for message in enquiries_of(part, facts, [])[1]:
                said.setdefault(message, []).append(base)
    for message, at in said.items():
        if message in known:
            continue
        number = int("".join(mark for mark in message.where.split("!")[-1] if mark.isdigit()) or 0)
        all_asked = [base for base in bases if any(line[0] == number for line in asked[base])]
        if len(at) < len(all_asked):
            what = f"at {listed(at)}: {message.what}"
            yield Message(message.level, message.where, what, message.remedy)
        else:
            yield message


def _unlike(named: Sequence[NamedBase], bases: Mapping[str, Base]) -> Iterator[Message]:
    """Yield what keeps bases from being planned together: other money, another first day."""
    there = [one for one in named if one.name in bases]
    for one in there[1:]:
        first, own = bases[there[0].name], bases[one.name]
        if own.currency != first.currency:
            what = f"its Currency is {own.currency}, that of '{there[0].name}' is {first.currency}."
            yield _error(one.where, what, "Plan bases of one currency together.")
        if own.first_day != first.first_day:
            what = (
                f"its First day is {day(own.first_day)}, that of '{there[0].name}' is "
                f"{day(first.first_day)}."
            )
            remedy = "Bring both workbooks to the same First day (capacity roll)."
            yield _error(one.where, what, remedy)


def _is_known(title: str) -> bool:
    return same(title) in {same(model.sheet) for model in MODELS}


def _unknown_sheets(raw: RawBook) -> Iterator[Message]:
    known = [model.sheet for model in MODELS]
    for title in raw.titles:
        if not _is_known(title):
            what = f"the sheet is not read; known are {quoted(known)}."
            yield Message(Level.WARNING, title, what, "Leave it, rename it, or delete it.")


def _table(model: type[Row], raw: RawBook) -> RawTable | None:
    found = (table for title, table in raw.tables.items() if same(title) == same(model.sheet))
    table = next(found, None)
    return None if table is None or not table.whole or not table.rows else table


def _read(model: type[R], raw: RawBook, path: Path, messages: list[Message]) -> SheetRows[R]:
    """Return the rows of a sheet that must be there, with at least one row."""
    table = _table(model, raw)
    if table is None:
        headings = quoted(model.needed_headings())
        what = f"there is no sheet {model.sheet}, or nothing in it; present are "
        what += f"{quoted(raw.titles)}."
        messages.append(_error(path.name, what, f"Add it, with at least {headings}."))
        return SheetReader(model, RawTable(model.sheet, ((1, ()),)), []).read()
    rows = SheetReader(model, table, messages).read()
    if len(table.rows) < 2:
        messages.append(_error(table.label, "the sheet has no rows.", "Fill in a row."))
    return rows


def _error(where: str, what: str, remedy: str) -> Message:
    return Message(Level.ERROR, where, what, remedy)
