"""Drawings in SVG for pages to print, in millimetres; every text in them stays a text."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from html import escape
from math import ceil, floor

from capacity.words.palette import INK, Edge, Hatching, Paint
from ui.printing.lettering import width_of
from ui.printing.paper import LINE

STEP_MM, HATCH_MM, DOTS = 1.7, 0.28, "0.28,1.42"
"""From line to line of a hatching, along the paper's edges, and how thick a line is. Lines are
drawn one by one: patterns make a printed page of many megabytes."""

THIN_MM, THICK_MM, DASHES = 0.2, 0.6, "1.2,0.8"
ROUNDING_MM = 0.01

LATE_MM = 1.0
"""The thick right edge of a check that is out late."""


Line = tuple[tuple[float, float], tuple[float, float]]
"""From a point to another."""


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
    """Shapes in turn, each over those before."""

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
        line = (
            "" if edge == "none" else f' stroke="{edge}" stroke-width="{edge_mm}"{_dashed(dashes)}'
        )
        self._parts.append(f'<rect {_place(box)} fill="{fill}"{line}/>')

    def painted(self, box: Box, paint: Paint) -> None:
        """Draw a rectangle in a colour of the palette, with its hatching, without an edge."""
        self.box(box, paint.fill)
        if paint.hatching is Hatching.NONE:
            return
        dashes = DOTS if paint.hatching is Hatching.DOTS else ""
        lines = "".join(
            f"M{x1:.2f},{y1:.2f}L{x2:.2f},{y2:.2f}"
            for (x1, y1), (x2, y2) in hatching_of(box, paint.hatching)
        )
        self._parts.append(
            f'<path d="{lines}" fill="none" stroke="{paint.lines}" stroke-width="{HATCH_MM}"'
            f"{_dashed(dashes)}/>"
        )

    def line(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        colour: str = INK,
        mm: float = THIN_MM,
        dashes: str = "",
    ) -> None:
        """Draw a line from a point to another."""
        (x1, y1), (x2, y2) = start, end
        self._parts.append(
            f'<line x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}" '
            f'stroke="{colour}" stroke-width="{mm}"{_dashed(dashes)}/>'
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
        if not text:
            return
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

    def svg(self, told: str) -> str:
        """Return the drawing; ``told`` says what it shows to those who do not see it."""
        return "".join(
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(told)}" '
                f'width="{self.width_mm:.2f}mm" height="{self.height_mm:.2f}mm" '
                f'viewBox="0 0 {self.width_mm:.2f} {self.height_mm:.2f}" font-family="sans-serif">',
                *self._parts,
                "</svg>",
            )
        )


def hatching_of(box: Box, hatching: Hatching) -> Iterator[Line]:
    """Give the lines of a hatching within a box; where boxes meet they go on.

    Rising lines are those where ``x + y`` is a multiple of the step, falling ones where ``x - y``
    is; dots stand on upright lines.
    """
    if hatching in (Hatching.RISING, Hatching.CROSSED):
        for c in _multiples(box.x + box.y, box.right + box.foot):
            left, right = max(box.x, c - box.foot), min(box.right, c - box.y)
            yield (left, c - left), (right, c - right)
    if hatching in (Hatching.FALLING, Hatching.CROSSED):
        for c in _multiples(box.x - box.foot, box.right - box.y):
            left, right = max(box.x, c + box.y), min(box.right, c + box.foot)
            yield (left, left - c), (right, right - c)
    if hatching is Hatching.LEVEL:
        for y in _multiples(box.y, box.foot):
            yield (box.x, y), (box.right, y)
    if hatching is Hatching.DOTS:
        for x in _multiples(box.x, box.right):
            yield (x, box.y), (x, box.foot)


def _multiples(first: float, last: float) -> Iterator[float]:
    for number in range(ceil(first / STEP_MM), floor(last / STEP_MM) + 1):
        yield number * STEP_MM


def edge_of(paint: Paint) -> tuple[str, str]:
    """Return colour and dashes of the line around a colour of the palette on paper."""
    match paint.edge:
        case Edge.NONE:
            return "none", ""
        case Edge.DASHED:
            return paint.lines, DASHES
        case Edge.THIN:
            return INK, ""


def _dashed(dashes: str) -> str:
    return f' stroke-dasharray="{dashes}"' if dashes else ""


def _place(box: Box) -> str:
    return (
        f'x="{box.x:.2f}" y="{box.y:.2f}" width="{max(0.0, box.width):.2f}" '
        f'height="{max(0.0, box.height):.2f}"'
    )
