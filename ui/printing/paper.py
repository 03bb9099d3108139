"""The sheets of paper that a wall sheet is printed on, lying on their long side."""

from dataclasses import dataclass

MARGIN_MM = 8.0
HEAD_MM, FOOT_MM = 8.0, 5.0
"""Above and below a drawing: its title; plan number, caution and the number of the sheet."""

LINE = 1.22
"""Height of a line of print, as a share of the size of its letters."""

LINES_AROUND, LINES_A_BAY = 10, 1.25
"""Lines above and below the bays at most; and of a bay with a line of print and its edges."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper and, in millimetres, what is laid out on it.

    ``letter_mm`` is the size of the print; ``hangar_mm``, ``bay_mm`` and ``beside_mm`` are the
    columns of hangars, bays, and on both sides of the days what goes on on another sheet.
    """

    name: str
    width_mm: float
    height_mm: float
    letter_mm: float
    hangar_mm: float
    bay_mm: float
    beside_mm: float

    @property
    def width(self) -> float:
        """What lies between the margins."""
        return self.width_mm - 2 * MARGIN_MM

    @property
    def height(self) -> float:
        """What lies between the margins, less half a millimetre for rounding."""
        return self.height_mm - 2 * MARGIN_MM - 0.5

    @property
    def drawing_mm(self) -> float:
        """How high the drawing is."""
        return self.height - HEAD_MM - FOOT_MM

    @property
    def most_bays(self) -> int:
        """How many bays have a line of print each."""
        return int((self.drawing_mm / (self.letter_mm * LINE) - LINES_AROUND) / LINES_A_BAY)


A3 = Paper("A3", 420, 297, 2.8, 5.0, 26.0, 21.0)
A4 = Paper("A4", 297, 210, 2.1, 4.0, 18.0, 16.0)
"""ISO 216, landscape."""
