"""How wide texts are in print, and how they are broken into lines that fit.

A page to print is laid out before any browser has its fonts, so widths are those of a wide
sans-serif font (DejaVu Sans, measured in Chromium and rounded up): others are narrower.
"""

from collections.abc import Sequence

NARROW, WIDE = frozenset(" .,:;|!'()[]/\\fijltrI-"), frozenset("mwMW@%&")
NARROW_EMS, COMMON_EMS, WIDE_EMS, UNKNOWN_EMS = 0.42, 0.68, 1.0, 1.1
"""Widths of a letter, as shares of the size of the print."""

ELLIPSIS = "…"


def width_of(text: str) -> float:
    """Return how wide a text is at most, in ems: multiples of the size of the print."""
    return sum(map(_width_of_letter, text))


def cut_to(text: str, ems: float) -> str:
    """Return a text no wider than ``ems``: what was cut off is told by an ellipsis."""
    if width_of(text) <= ems:
        return text
    kept, left = "", ems - _width_of_letter(ELLIPSIS)
    for letter in text:
        left -= _width_of_letter(letter)
        if left < 0:
            break
        kept += letter
    return f"{kept.rstrip()}{ELLIPSIS}" if kept else ""


def lines_of(parts: Sequence[str], ems: float, most: int) -> list[str]:
    """Return parts in turn, as many as fit into ``most`` lines of a width; commas go between.

    The first is the one that matters most: it is broken over lines, and cut short where it must
    be. A later one stands whole on a line or not at all.
    """
    first, *others = parts
    lines = _broken(first, ems, most)
    for part in others:
        if lines and width_of(longer := f"{lines[-1]}, {part}") <= ems:
            lines[-1] = longer
        elif len(lines) < most and width_of(part) <= ems:
            lines.append(part)
    return lines


def _broken(text: str, ems: float, most: int) -> list[str]:
    lines: list[str] = []
    left = text
    while left and len(lines) < most - 1 and width_of(left) > ems:
        here = _head(left, ems)
        if not here:
            return lines
        lines.append(here.strip())
        left = left[len(here) :].lstrip()
    last = cut_to(left, ems)
    return [*lines, last] if last else lines


def _head(text: str, ems: float) -> str:
    """Return as much of a text as fits, up to a blank where there is one."""
    count, room = 0, ems
    for letter in text:
        room -= _width_of_letter(letter)
        if room < 0:
            break
        count += 1
    blank = text.rfind(" ", 0, count + 1)
    return text[:blank] if blank > 0 else text[:count]


def _width_of_letter(letter: str) -> float:
    if letter in NARROW:
        return NARROW_EMS
    if letter in WIDE:
        return WIDE_EMS
    return COMMON_EMS if letter.isascii() or letter == ELLIPSIS else UNKNOWN_EMS
