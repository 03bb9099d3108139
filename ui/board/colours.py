"""The colours of the page as the board wants them."""

from typing import Any

from capacity.words.palette import (
    CLOSED,
    DAY_OFF,
    GREY,
    HOURS,
    INK,
    OPTION,
    OWN_FLEET,
    THIRD_PARTY,
    WHITE,
    Edge,
    Hatching,
    Paint,
)
from ui.look import DARK, Look
from ui.manager.heat_rows import PAINTS, SIGNS

TAKEN = Paint("not free", WHITE, hatching=Hatching.RISING, lines=GREY)
"""Empty, and yet not free: drawn by wide lines within an edge that tells why."""


def colours_of(look: Look) -> dict[str, Any]:
    """Return all colours, by what they mean."""
    paints = (OWN_FLEET, THIRD_PARTY, OPTION, CLOSED, DAY_OFF, *HOURS)
    return {
        "name": look.name,
        "page": {
            "ink": look.ink,
            "quiet": look.quiet,
            "rule": look.rule,
            "paper": look.paper,
            "raised": "#1b242d" if look is DARK else "#f3f6f8",
        },
        "paints": {paint.word: _painted(paint, look) for paint in paints},
        "taken": _painted(TAKEN, look),
        "bands": {
            band.value: {**_painted(paint, look), "sign": SIGNS[band]}
            for band, paint in PAINTS.items()
        },
        "works": [{"fill": fill, "ink": readable_on(fill)} for fill in look.works],
    }


def _painted(paint: Paint, look: Look) -> dict[str, str]:
    ground, ink = look.ground(paint), look.ink_on(paint)
    if paint is DAY_OFF and look is DARK:
        ground, ink = look.rule, look.ink
    lines = look.ink if paint.lines == INK and ground == look.paper else paint.lines
    border = {Edge.DASHED: paint.lines, Edge.NONE: "transparent"}.get(paint.edge, look.ink)
    return {
        "ground": ground,
        "ink": ink,
        "lines": lines,
        "hatching": paint.hatching.value,
        "edge": paint.edge.value,
        "border": border,
    }


def readable_on(fill: str) -> str:
    """Return ink or white, whichever is read more easily on a colour."""
    return max((INK, WHITE), key=lambda ink: contrast(ink, fill))


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours ``#rrggbb``, from 1 to 21 (WCAG 2.2, from memory)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
