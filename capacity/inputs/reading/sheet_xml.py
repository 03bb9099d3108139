"""A part of a workbook, looked through in its own XML before the spreadsheet library reads it.

The library takes a part as it comes: it fills in every row up to the number that a row claims to
have, and holds whatever is nested in whatever depth. So each part is counted first, object by
object, and refused where no workbook made for this tool can need so many. What the library does
not tell about a sheet is noted on the same way.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import IO
from xml.parsers import expat

from openpyxl.utils import column_index_from_string

from capacity.inputs.reading.raw import MOST_CELLS, UnreadableError

BLOCK = 64_000  # bytes looked at at once
LAST_ROW = 1_048_576  # of a sheet of this kind (ECMA-376 Part 1, 18.3.1.73, from memory)
LAST_COLUMN = 16_384
MOST_ELEMENTS = 1_000_000  # of a part; a text that cells share has two
MOST_ELEMENTS_BESIDE_CELLS = 200_000  # of a sheet: columns, merged cells, rules of formatting
DEEPEST = 40  # elements inside each other; a cell's rich text needs seven
MOST_ATTRIBUTES = 60  # of one element
LONGEST_TEXT = (
    300_000  # bytes of one text or of one element's attributes; a cell has 32,767 letters
)
MOST_PARTS_OF_A_CELL = 5_000  # formula, value, and the runs of a rich text
MOST_DIGITS = 9
COPY = "Copy the tables into a new workbook."


@dataclass(frozen=True, slots=True)
class Untold:
    """Cells by row and column whose formula has no stored result; hidden rows with cells."""

    without_result: tuple[tuple[int, int], ...] = ()
    hidden_rows: tuple[int, ...] = ()


def untold(source: IO[bytes]) -> Untold:
    """Return what the library would not tell of a sheet.

    Raises
    ------
    UnreadableError
        When it has more of anything than a sheet of this tool can need, or when its rows or the
        cells of a row are out of order, of which the library would lose some.
    """
    rows = _Rows()
    _look_through(source, rows.begin, rows.end, rows.text)
    return Untold(tuple(rows.without_result), tuple(rows.hidden))


def refuse_unreasonable(source: IO[bytes]) -> None:
    """Look through a part that is held in memory as a whole, such as shared texts or styles.

    Raises
    ------
    UnreadableError
        When it has more of anything than a workbook of this tool can need.
    """
    elements = 0

    def begin(name: str, attributes: Mapping[str, str]) -> None:
        nonlocal elements
        elements += 1
        if elements > MOST_ELEMENTS:
            raise UnreadableError(f"a part has more than {MOST_ELEMENTS:,} elements.", COPY)

    _look_through(source, begin, lambda name: None, lambda text: None)


Begin = Callable[[str, Mapping[str, str]], None]


def _look_through(
    source: IO[bytes], begin: Begin, end: Callable[[str], None], text: Callable[[str], None]
) -> None:
    """Hand on elements by their names without a prefix, counted."""
    depth = waiting = 0

    def begin_element(name: str, attributes: Mapping[str, str]) -> None:
        nonlocal depth, waiting
        depth, waiting = depth + 1, 0
        if depth > DEEPEST:
            raise UnreadableError(f"elements are nested more than {DEEPEST} deep.", COPY)
        if len(attributes) > MOST_ATTRIBUTES:
            raise UnreadableError(f"an element has more than {MOST_ATTRIBUTES} attributes.", COPY)
        begin(name.rpartition(":")[2], attributes)

    def end_element(name: str) -> None:
        nonlocal depth, waiting
        depth, waiting = depth - 1, 0
        end(name.rpartition(":")[2])

    def refuse_definitions(*_: object) -> None:
        raise UnreadableError("a part defines entities, which no workbook does.", COPY)

    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = begin_element
    parser.EndElementHandler = end_element
    parser.CharacterDataHandler = text
    parser.StartDoctypeDeclHandler = refuse_definitions
    try:
        while block := source.read(BLOCK):
            waiting += len(block)
            if waiting > LONGEST_TEXT + BLOCK:
                raise UnreadableError(
                    f"a text or an attribute has more than {LONGEST_TEXT:,} letters.", COPY
                )
            parser.Parse(block, False)
        parser.Parse(b"", True)
    except expat.ExpatError as fault:
        raise UnreadableError(f"a part of the file is damaged ({fault}).", COPY) from fault


@dataclass
class _Rows:
    """Where the rows and cells of a sheet stand, and what is untold of them."""

    without_result: list[tuple[int, int]] = field(default_factory=list)
    hidden: list[int] = field(default_factory=list)
    row: int = 0
    column: int = 0
    cells: int = 0
    beside: int = 0
    is_hidden: bool = False
    cell: "_Cell | None" = None

    def begin(self, name: str, attributes: Mapping[str, str]) -> None:
        """Take an element's beginning in."""
        if name == "row":
            self.row = _number(attributes.get("r"), self.row)
            self.column = 0
            self.is_hidden = attributes.get("hidden") in ("1", "true")
        elif name == "c":
            self.cells += 1
            if self.cells > MOST_CELLS:
                raise UnreadableError(
                    f"the sheet has more than {MOST_CELLS:,} cells; it is not read.",
                    "Keep only the rows that this plan needs, and delete formatted empty ones.",
                )
            self._place(attributes.get("r"))
            self.cell = _Cell(is_text=attributes.get("t") == "str")
        elif self.cell is not None:
            self.cell.inside = name
            self.cell.parts += 1
            self.cell.has_formula |= name == "f"
            if self.cell.parts > MOST_PARTS_OF_A_CELL:
                raise UnreadableError(f"row {self.row} has a cell of too many parts.", COPY)
        else:
            self.beside += 1
            if self.beside > MOST_ELEMENTS_BESIDE_CELLS:
                what = f"the sheet has more than {MOST_ELEMENTS_BESIDE_CELLS:,} elements beside"
                raise UnreadableError(f"{what} its cells.", COPY)

    def text(self, text: str) -> None:
        """Take a text in."""
        if self.cell is not None and self.cell.inside == "v":
            self.cell.has_value = True

    def end(self, name: str) -> None:
        """Take an element's end in."""
        if self.cell is None:
            return
        self.cell.inside = ""
        if name != "c":
            return
        if self.cell.has_formula and not (self.cell.has_value or self.cell.is_text):
            self.without_result.append((self.row, self.column))
        if self.is_hidden and self.cell.parts:  # an empty row that is hidden hides nothing
            self.hidden.append(self.row)
            self.is_hidden = False
        self.cell = None

    def _place(self, name: str | None) -> None:
        """Go on to the cell of a name such as ``F17``; one without a name is the next."""
        if name is None:
            column, row = self.column + 1, self.row
        else:
            letters = name.rstrip("0123456789")
            digits = name[len(letters) :]
            try:
                column = column_index_from_string(letters)
            except ValueError as fault:
                raise UnreadableError(f"a cell is called '{name[:20]}'.", COPY) from fault
            row = int(digits) if 0 < len(digits) <= MOST_DIGITS else 0
        if row != self.row or column <= self.column or column > LAST_COLUMN:
            raise UnreadableError(
                f"the cells of row {self.row} are out of order, or a cell is there twice.",
                "Open the workbook in a spreadsheet program and save it there.",
            )
        self.column = column


@dataclass
class _Cell:
    """What stands in one cell: its elements are counted, and the one that is open is named."""

    is_text: bool
    has_formula: bool = False
    has_value: bool = False
    parts: int = 0
    inside: str = ""


def _number(told: str | None, last: int) -> int:
    """Return the number of a row; one that tells none is the next."""
    if told is None:
        number = last + 1
    else:
        number = int(told) if told.isascii() and told.isdigit() and len(told) <= MOST_DIGITS else 0
    if number > LAST_ROW or (told is not None and number == 0):
        raise UnreadableError(
            f"a row has the number {(told or str(number))[:20]}; the last row of a sheet is "
            f"{LAST_ROW:,}.",
            COPY,
        )
    if number <= last:
        raise UnreadableError(
            f"row {number} is below row {last}: rows are out of order, or there twice.",
            "Open the workbook in a spreadsheet program and save it there.",
        )
    return number
