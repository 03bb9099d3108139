"""How large the print of a shift list is, and how a long one is parted, so that sheets are full.

The page is laid out before a browser has its fonts: heights are those of a wide font
(``lettering``), so what fits here fits in print.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import ceil

from ui.printing.lettering import width_of

WIDTH_MM, HEIGHT_MM = 273.0, 181.0
"""Of A4 landscape within its margins, less two millimetres."""

POINT_MM, LINE = 0.3528, 1.35
CELL_WIDTH_MM, CELL_HEIGHT_MM = 3.3, 2.4
"""What edges and the room beside and above the words of a cell take."""

PLAIN, BOLD = 0.92, 1.02
"""Sentences are narrower than the widths of ``lettering``, which are for names in capitals and
figures; bold print is a little wider."""

SPACES_MM = 15.0
"""Of the lines around a table that are not its own: room between them, the frame of the caution."""


@dataclass(frozen=True, slots=True)
class Column:
    """A heading with the width of its column in millimetres."""

    heading: str
    width_mm: float


@dataclass(frozen=True, slots=True)
class Print:
    """A size of print: ``name`` is its class in the page."""

    name: str
    points: float

    @property
    def letter_mm(self) -> float:
        """Size of a letter."""
        return self.points * POINT_MM

    @property
    def line_mm(self) -> float:
        """Height of a line."""
        return self.letter_mm * LINE


PRINTS = (Print("size10", 10.0), Print("size9", 9.0), Print("size8", 8.0), Print("size7", 7.0))
"""From the largest; what does not fit in the smallest is parted, in the last but one."""

PARTED = PRINTS[2]

Row = Sequence[str]


def style_of(columns: Sequence[Column]) -> str:
    """Return the style: the widths of the columns, a sheet of paper a list, the sizes of print."""
    widths = "".join(
        f".list th:nth-child({number}) {{ width: {column.width_mm - CELL_WIDTH_MM:g}mm; }}\n"
        for number, column in enumerate(columns, start=1)
    )
    sizes = "".join(f".{one.name} {{ font-size: {one.points:g}pt; }}\n" for one in PRINTS)
    return (
        f".list table {{ table-layout: fixed; }}\n.list td, .list th {{ overflow-wrap: anywhere; "
        f"white-space: normal; }}\n.list + .list {{ break-before: page; }}\n{widths}{sizes}"
    )


def print_of(columns: Sequence[Column], rows: Sequence[Row], around: Row) -> Print:
    """Return the largest print in which all rows fit on one sheet, else that of parts."""
    for size in PRINTS:
        if heights_mm(columns, rows, size) <= room_mm(columns, around, size):
            return size
    return PARTED


def parts_of(
    columns: Sequence[Column], rows: Sequence[Row], around: Row, size: Print
) -> list[range]:
    """Return which rows stand on which sheet: in turn, about the same height on each."""
    room = room_mm(columns, around, size)
    heights = [height_mm(columns, row, size) for row in rows]
    fewest = max(1, ceil(sum(heights) / room))
    for count in range(fewest, len(rows) + 1):
        parts = _parted(heights, count)
        if all(sum(heights[part.start : part.stop]) <= room for part in parts):
            return parts
    return [range(number, number + 1) for number in range(len(rows))] or [range(0)]


def room_mm(columns: Sequence[Column], around: Row, size: Print) -> float:
    """Return how much of a sheet of paper is left for rows, beside what stands around them."""
    words = sum(_lines(text, WIDTH_MM, size, BOLD) for text in around) + 2
    head = max(_lines(c.heading, c.width_mm - CELL_WIDTH_MM, size, BOLD) for c in columns)
    return HEIGHT_MM - SPACES_MM - (words + head) * size.line_mm - CELL_HEIGHT_MM


def heights_mm(columns: Sequence[Column], rows: Sequence[Row], size: Print) -> float:
    """Return how high rows are in all, in millimetres."""
    return sum(height_mm(columns, row, size) for row in rows)


def height_mm(columns: Sequence[Column], row: Row, size: Print) -> float:
    """Return how high a row is: as its highest cell."""
    lines = max(
        _lines(text, column.width_mm - CELL_WIDTH_MM, size)
        for text, column in zip(row, columns, strict=True)
    )
    return lines * size.line_mm + CELL_HEIGHT_MM


def _lines(text: str, width_mm: float, size: Print, wider: float = PLAIN) -> int:
    """Return on how many lines a text stands, words whole where they can be."""
    room = width_mm / (size.letter_mm * wider)
    lines, left = 1, room
    for word in text.split():
        wide = width_of(word)
        if wide > left and left < room:
            lines, left = lines + 1, room
        if wide > room:
            further = ceil(wide / room) - 1
            lines, wide = lines + further, wide - further * room
        left -= wide + width_of(" ")
    return lines


def _parted(heights: Sequence[float], count: int) -> list[range]:
    """Part rows at the ends nearest to equal shares of their height."""
    ends = [0.0, *accumulate(heights)]
    cuts = [0]
    for number in range(1, count):
        share = ends[-1] * number / count
        nearest = min(range(len(ends)), key=lambda end: abs(ends[end] - share))
        cuts.append(min(max(nearest, cuts[-1] + 1), len(heights) - (count - number)))
    return [range(a, b) for a, b in zip(cuts, [*cuts[1:], len(heights)], strict=True)]
