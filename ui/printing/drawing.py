"""Drawings in SVG for pages to print, in millimetres; every text in them stays a text."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from html import escape

from capacity.words.palette import INK, Edge, Hatching, Paint
from ui.legend import LINES
from ui.printing.lettering import width_of
from ui.printing.paper import LINE

TILE = 0.2
"""Millimetres of a unit of the hatching: its squares of twelve units are 2.4 mm wide on paper."""

THIN_MM, THICK_MM, DASHES = 0.2, 0.6, "1.2,0.8"
ROUNDING_MM = 0.01

LATE_MM = 1.0
"""The thick right edge of a check that is out late."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle, in millimetres from the top left corner of its drawing."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Where its right edge is."""
        return self.x + self.width

    @property
    def foot(self) -> float:
        """Where its lower edge is."""
        return self.y + self.height


@dataclass(slots=True)
class Drawing:
    """Shapes in turn, each over those before; ``name`` tells the drawings of a page apart."""

    name: str
    width_mm: float
    height_mm: float
    _parts: list[str] = field(default_factory=list)

    def box(
        self,
        box: Box,
        fill: str = "none",
        edge: str = "none",
        edge_mm: float = THIN_MM,
        dashes: str = "",
    ) -> None:
        """Draw a rectangle."""
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        line = "" if edge == "none" else f' stroke="{edge}" stroke-width="{edge_mm}"{dashed}'
        self._parts.append(f'<rect {_place(box)} fill="{fill}"{line}/>')

    def painted(self, box: Box, paint: Paint) -> None:
        """Draw a rectangle in a colour of the palette, with its hatching, without an edge."""
        self.box(box, paint.fill)
        if paint.hatching is not Hatching.NONE:
            self.box(box, f"url(#{self._pattern(paint)})")

    def line(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        colour: str = INK,
        mm: float = THIN_MM,
        dashes: str = "",
    ) -> None:
        """Draw a line from a point to another."""
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        (x1, y1), (x2, y2) = start, end
        self._parts.append(
            f'<line x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}" '
            f'stroke="{colour}" stroke-width="{mm}"{dashed}/>'
        )

    def text(
        self,
        at: tuple[float, float],
        text: str,
        size_mm: float,
        *,
        ink: str = INK,
        anchor: str = "start",
        is_bold: bool = False,
        rim: str = "",
        squeezed_to: float | None = None,
        is_upright: bool = False,
    ) -> None:
        """Write a text at its ``anchor`` (start, middle or end) on a base line.

        ``rim`` is a colour around the letters, so that lines under them do not cross them;
        ``squeezed_to`` is a width in millimetres; ``is_upright`` turns it by a quarter, upwards.
        """
        x, y = at
        kinds = [
            f'x="{x:.2f}" y="{y:.2f}" font-size="{size_mm:.2f}" fill="{ink}"',
            f'text-anchor="{anchor}"' if anchor != "start" else "",
            'font-weight="bold"' if is_bold else "",
            f'stroke="{rim}" stroke-width="0.8" paint-order="stroke"' if rim else "",
            f'textLength="{squeezed_to:.2f}" lengthAdjust="spacingAndGlyphs"'
            if squeezed_to is not None
            else "",
            f'transform="rotate(-90 {x:.2f} {y:.2f})"' if is_upright else "",
        ]
        self._parts.append(f"<text {' '.join(filter(None, kinds))}>{escape(text)}</text>")

    def lines(self, lines: Sequence[str], box: Box, size_mm: float, *, rim: str = "") -> None:
        """Write lines one below the other, in the middle of a box from its top to its foot.

        A line that would be wider than the box is squeezed into it.
        """
        top = box.y + (box.height - len(lines) * size_mm * LINE) / 2
        for number, line in enumerate(lines):
            is_wide = width_of(line) * size_mm > box.width + ROUNDING_MM
            self.text(
                (box.x, top + (number + 0.8) * size_mm * LINE),
                line,
                size_mm,
                rim=rim,
                squeezed_to=box.width if is_wide else None,
            )

    def svg(self, told: str, paints: tuple[Paint, ...]) -> str:
        """Return the drawing; ``told`` says what it shows to those who do not see it.

        ``paints`` are the colours with hatching that may be drawn in it.
        """
        return "".join(
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(told)}" '
                f'width="{self.width_mm:.2f}mm" height="{self.height_mm:.2f}mm" '
                f'viewBox="0 0 {self.width_mm:.2f} {self.height_mm:.2f}" font-family="sans-serif">',
                *self._patterns(paints),
                *self._parts,
                "</svg>",
            )
        )

    def _pattern(self, paint: Paint) -> str:
        return f"{self.name}-{paint.word.replace(' ', '-')}"

    def _patterns(self, paints: tuple[Paint, ...]) -> Iterator[str]:
        for paint in paints:
            if paint.hatching is not Hatching.NONE:
                yield (
                    f'<pattern id="{self._pattern(paint)}" width="12" height="12" '
                    f'patternUnits="userSpaceOnUse" patternTransform="scale({TILE})">'
                    f'<path d="{LINES[paint.hatching]}" fill="none" stroke="{paint.lines}" '
                    'stroke-width="1.4"/></pattern>'
                )


def edge_of(paint: Paint) -> tuple[str, str]:
    """Return colour and dashes of the line around a colour of the palette on paper."""
    match paint.edge:
        case Edge.NONE:
            return "none", ""
        case Edge.DASHED:
            return paint.lines, DASHES
        case Edge.THIN:
            return INK, ""


def _place(box: Box) -> str:
    return (
        f'x="{box.x:.2f}" y="{box.y:.2f}" width="{max(0.0, box.width):.2f}" '
        f'height="{max(0.0, box.height):.2f}"'
    )
