"""Legends as pictures in SVG: swatches as large as a word, with the lines and edges of each.

The chart library has no lines upon a colour, and its swatches are too small to tell apart.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from capacity.words.palette import Edge, Hatching, Paint
from ui.look import Look

SWATCH_WIDTH, SWATCH_HEIGHT = 44, 20
LETTER_PIXELS, GAP, LINE_HEIGHT = 7.2, 10, 30
MOST_PIXELS = 1180
"""A legend is as wide as a page of 1,280 pixels; what is longer goes on in another line."""

LINES = {
    Hatching.RISING: "M-2,10L10,-2M4,16L16,4M-5,7L7,-5",
    Hatching.FALLING: "M-2,2L10,14M4,-4L16,8M-5,5L7,17",
    Hatching.CROSSED: "M-2,10L10,-2M4,16L16,4M-2,2L10,14M4,-4L16,8",
    Hatching.LEVEL: "M0,3H12M0,9H12",
    Hatching.DOTS: "M2,3h1.5M8,9h1.5",
}
"""The lines of a square of 12 pixels, which are repeated."""


@dataclass(frozen=True, slots=True)
class Swatch:
    """A field of colour with the word beside it; ``sign`` is printed on the colour.

    ``colour`` is for what is no meaning of the palette, a kind of work.
    """

    word: str
    paint: Paint | None = None
    colour: str = ""
    sign: str = ""


def legend(title: str, swatches: Sequence[Swatch], look: Look) -> str:
    """Return a legend as SVG; every text stays a text."""
    widths = [SWATCH_WIDTH + GAP + LETTER_PIXELS * len(s.word) + 2 * GAP for s in swatches]
    before = LETTER_PIXELS * len(title) + 2 * GAP if title else 0.0
    places = list(_places(before, widths))
    width = max((left + wide for (left, _), wide in zip(places, widths, strict=True)), default=0)
    height = LINE_HEIGHT * (1 + max((line for _, line in places), default=0))
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="{height}" '
        f'font-family="sans-serif" font-size="13" fill="{look.ink}">',
        f'<text x="0" y="19">{escape(title)}</text>',
    ]
    for number, (swatch, (left, line)) in enumerate(zip(swatches, places, strict=True)):
        parts += _drawn(swatch, left, LINE_HEIGHT * line + 5, number, look)
    return "".join([*parts, "</svg>"])


def words_of(title: str, swatches: Sequence[Swatch]) -> str:
    """Return a legend for those who do not see it."""
    return f"{title}: {', '.join(swatch.word for swatch in swatches)}"


def _places(before: float, widths: Sequence[float]) -> Iterator[tuple[float, int]]:
    """Give each swatch its left edge and its line."""
    line, left = 0, before
    for width in widths:
        if left + width > MOST_PIXELS and left > before:
            line, left = line + 1, before
        yield left, line
        left += width


def _drawn(swatch: Swatch, left: float, top: float, number: int, look: Look) -> Iterator[str]:
    paint = swatch.paint
    ground = swatch.colour or (look.paper if paint is None else look.ground(paint))
    edge = look.ink if paint is None else _edge(paint, look)
    dashes = "5,3" if paint is not None and paint.edge is Edge.DASHED else ""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    box = f'x="{left:.1f}" y="{top}" width="{SWATCH_WIDTH}" height="{SWATCH_HEIGHT}"'
    yield f'<rect {box} fill="{ground}"/>'
    if paint is not None and paint.hatching is not Hatching.NONE:
        # Named by its picture, since several pictures may stand on one printed page.
        name = f"{paint.word.replace(' ', '-')}-{number}"
        lines = look.ink if paint.lines == paint.ink and ground == look.paper else paint.lines
        yield (
            f'<pattern id="{name}" width="12" height="12" patternUnits="userSpaceOnUse">'
            f'<path d="{LINES[paint.hatching]}" stroke="{lines}" stroke-width="1.4"/></pattern>'
            f'<rect {box} fill="url(#{name})"/>'
        )
    yield f'<rect {box} fill="none" stroke="{edge}" stroke-width="1"{dashed}/>'
    if swatch.sign:
        ink = look.ink if paint is None else look.ink_on(paint)
        middle = left + SWATCH_WIDTH / 2
        yield (
            f'<text x="{middle:.1f}" y="{top + 15}" text-anchor="middle" fill="{ink}">'
            f"{escape(swatch.sign)}</text>"
        )
    yield f'<text x="{left + SWATCH_WIDTH + GAP:.1f}" y="{top + 14}">{escape(swatch.word)}</text>'


def _edge(paint: Paint, look: Look) -> str:
    match paint.edge:
        case Edge.NONE:
            return "none"
        case Edge.DASHED:
            return paint.lines
        case _:
            return look.ink
