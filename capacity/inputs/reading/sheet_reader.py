"""One raw table becomes the rows of its sheet, with a message for every faulty cell."""

from collections import Counter
from collections.abc import Mapping
from typing import Generic, TypeVar

from openpyxl.utils import get_column_letter
from pydantic_core import PydanticCustomError

from capacity.inputs.reading.cells import shown, text
from capacity.inputs.reading.places import Places, same
from capacity.inputs.reading.raw import RawTable, UnreadableCell
from capacity.inputs.reading.row_model import Row, validate
from capacity.inputs.reading.rows import Identity, SheetRows
from capacity.inputs.wording import nearest
from capacity.messages import Level, Message

R = TypeVar("R", bound=Row)
Cells = tuple[object, ...]

MOST_FAULTS_OF_A_COLUMN = 50  # what a person still reads; the rest is counted


class SheetReader(Generic[R]):
    """Reads one table; what is wrong with it is added to ``messages``."""

    def __init__(self, model: type[R], table: RawTable, messages: list[Message]) -> None:
        """Understand the headings: the first row that is not blank."""
        self._model = model
        self._label = table.label
        self._messages = messages
        (self._heading_row, headings), *self._raw_rows = table.rows
        self._headings = headings
        self._columns: dict[int, str] = {}
        self._letters: dict[str, str] = {}
        for place, cell in enumerate(headings):
            if cell is not None:
                self._take_heading(place, cell)
        self._missing = set(model.needed_headings()) - set(self._letters)
        self._name_headings = [model.heading(field) for field in model.identity]
        self._faults: Counter[str] = Counter()
        self._stray: set[int] = set()

    def read(self) -> SheetRows[R]:
        """Return the rows that could be read, and the names of all."""
        for heading in sorted(self._missing):
            self._error(self._label, f"the column '{heading}' is missing.", "Add it.")
        rows: list[R] = []
        identities: list[tuple[int, Identity]] = []
        faulty: set[str] = set()
        nameless = faults = 0
        for number, cells in self._raw_rows:
            self._warn_of_stray_cells(number, cells)
            values = self._known_cells(cells)
            if not values:
                continue
            row, name = self._row(number, values), self._identity(values)
            if name:
                identities.append((number, name))
            elif self._model.identity:
                nameless += 1
            if row is not None:
                rows.append(row)
                continue
            faults += 1
            if name:
                faulty.add(name[0])
        self._count_further_faults()
        named: dict[str, int] = {}
        for number, identity in identities:
            named.setdefault(identity[0], number)
        return SheetRows(
            places=Places(self._label, self._letters, named),
            rows=() if self._missing else tuple(rows),  # no rule speaks of half a sheet
            identities=tuple(identities),
            named=named,
            faulty=frozenset(faulty),
            names_known=not nameless and self._missing.isdisjoint(self._name_headings),
            whole=not faults and not self._missing,
        )

    def _take_heading(self, place: int, cell: object) -> None:
        letter = get_column_letter(place + 1)
        where = f"{self._label}!{letter}{self._heading_row}"
        if isinstance(cell, UnreadableCell):
            self._error(where, f"the heading {cell.what}", cell.remedy)
            return
        known = {same(heading): heading for heading in self._model.headings()}
        written = shown(cell).strip()
        heading = known.get(same(written))
        if heading is None:
            near = nearest(written, known.values())
            self._warn(
                where,
                f"the column '{written}' is not known and is not read.",
                f"Did you mean '{near}'?" if near else "Leave it, or delete it.",
            )
        elif heading in self._letters:
            first = f"{self._letters[heading]}{self._heading_row}"
            self._error(
                where,
                f"the heading '{heading}' is here and in {first}.",
                "Delete or rename one of the two columns.",
            )
        else:
            self._columns[place] = heading
            self._letters[heading] = letter

    def _known_cells(self, cells: Cells) -> dict[str, object]:
        return {
            heading: cells[place]
            for place, heading in self._columns.items()
            if place < len(cells) and cells[place] is not None
        }

    def _warn_of_stray_cells(self, number: int, cells: Cells) -> None:
        """Warn, once a column, of values that stand below no heading."""
        for place, cell in enumerate(cells):
            has_heading = place < len(self._headings) and self._headings[place] is not None
            if cell is None or has_heading or place in self._stray:
                continue
            self._stray.add(place)
            self._warn(
                f"{self._label}!{get_column_letter(place + 1)}{number}",
                "a value is in a column without a heading, and is not read.",
                "Delete it, or give the column its heading.",
            )

    def _identity(self, values: Mapping[str, object]) -> Identity | None:
        """Return what the row is called by, also when other cells of it are faulty."""
        try:
            return tuple(text(values[heading]) for heading in self._name_headings) or None
        except (KeyError, PydanticCustomError):
            return None

    def _row(self, number: int, values: Mapping[str, object]) -> R | None:
        row, faults = validate(self._model, number, values)
        for fault in faults:
            if fault.heading in self._missing:
                continue
            self._faults[fault.heading] += 1
            if self._faults[fault.heading] <= MOST_FAULTS_OF_A_COLUMN:
                letter = self._letters.get(fault.heading, "")
                where = f"{self._label}!{letter}{number}"
                self._error(where, f"{fault.heading} {fault.what}", fault.remedy)
        return row

    def _count_further_faults(self) -> None:
        for heading, count in self._faults.items():
            if count > MOST_FAULTS_OF_A_COLUMN:
                self._error(
                    self._label,
                    f"{count - MOST_FAULTS_OF_A_COLUMN:,} more cells of '{heading}' are faulty.",
                    "Correct the column as a whole.",
                )

    def _error(self, where: str, what: str, remedy: str) -> None:
        self._messages.append(Message(Level.ERROR, where, what, remedy))

    def _warn(self, where: str, what: str, remedy: str) -> None:
        self._messages.append(Message(Level.WARNING, where, what, remedy))
