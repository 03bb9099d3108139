"""Tables as they stand in a file: cells with their row numbers, not yet understood."""

from collections.abc import Mapping
from dataclasses import dataclass

from capacity.messages import Message

MOST_ROWS = 20_000
MOST_COLUMNS = 200
MOST_CELLS = 500_000  # of one sheet

ERROR_CODES = frozenset(
    ["#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#SPILL!", "#CALC!"]
)


class UntypedText(str):
    """Text from a file that has no cell types, so it may stand for a number."""


class PercentNumber(float):
    """A number shown with a percent sign: its value is 0.75 where a person reads 75 %."""


@dataclass(frozen=True, slots=True)
class UnreadableCell:
    """A cell that holds something, but no value that can be used."""

    what: str
    remedy: str


@dataclass(frozen=True, slots=True)
class RawTable:
    """One sheet: its rows that are not blank, each with the number a person sees.

    ``label`` names the sheet or file in messages. ``whole`` is False when reading stopped
    before the end.
    """

    label: str
    rows: tuple[tuple[int, tuple[object, ...]], ...]
    whole: bool = True


@dataclass(frozen=True, slots=True)
class RawBook:
    """All tables that were read, by title, and the titles of all sheets that are there."""

    tables: Mapping[str, RawTable]
    titles: tuple[str, ...]
    messages: tuple[Message, ...] = ()


class UnreadableError(Exception):
    """A file, or a sheet of it, cannot be read; becomes a message before it leaves this room."""

    def __init__(self, what: str, remedy: str) -> None:
        """Keep what is wrong and what to do about it."""
        super().__init__(what)
        self.what = what
        self.remedy = remedy


class RowCollector:
    """Collects the rows of one sheet that are not blank, within bounds."""

    def __init__(self) -> None:
        """Start with no rows."""
        self.rows: list[tuple[int, tuple[object, ...]]] = []
        self._cells = 0

    def add(self, number: int, cells: list[object]) -> None:
        """Keep a row, unless it is blank; raise ``UnreadableError`` beyond the bounds."""
        self._cells += len(cells)
        while cells and cells[-1] is None:
            cells.pop()
        if len(cells) > MOST_COLUMNS:
            raise UnreadableError(
                f"row {number} has a value in column {len(cells)}; at most {MOST_COLUMNS} "
                "columns are read.",
                "Delete what is to the right of the table.",
            )
        if cells:
            self.rows.append((number, tuple(cells)))
        if len(self.rows) > MOST_ROWS + 1 or self._cells > MOST_CELLS:
            raise UnreadableError(
                f"the sheet has more than {MOST_ROWS:,} rows or {MOST_CELLS:,} cells; it is "
                "not read any further.",
                "Keep only the rows that this plan needs, and delete formatted empty ones.",
            )


def blank_to_none(value: object) -> object:
    """Return None for text without a visible character, else the value itself."""
    if isinstance(value, str) and not value.strip():
        return None
    return value


def error_cell(code: str) -> UnreadableCell:
    """Return the cell for a spreadsheet error such as ``#REF!``."""
    return UnreadableCell(
        f"holds the spreadsheet error {code}.",
        "Correct the formula, or type the value.",
    )
