"""What is around the bars of a page of the wall sheet: dates, bays, today, and what is below."""

from datetime import timedelta
from itertools import groupby

from capacity.words import hours
from capacity.words.marks import AGREED, SQUARE, TRIANGLE, late
from capacity.words.palette import (
    CLOSED,
    DAY_OFF,
    GREY,
    INK,
    OPTION,
    OVERLOAD,
    OWN_FLEET,
    THIRD_PARTY,
    WHITE,
    Paint,
)
from ui.printing.drawing import DASHES, LATE_MM, THICK_MM, Box, Drawing, edge_of
from ui.printing.lettering import cut_to, lines_of, width_of
from ui.printing.paper import LINE
from ui.printing.wall_page import PAD_MM, WallPage
from ui.printing.wall_words import THIRD_PARTY_MARK, short_day

SWATCH_MM = 8.0

LEGEND: tuple[tuple[str, Paint | None, str], ...] = (
    (OWN_FLEET.word, OWN_FLEET, ""),
    (THIRD_PARTY.word, THIRD_PARTY, THIRD_PARTY_MARK),
    (OPTION.word, OPTION, ""),
    ("bay and day are fixed", None, SQUARE),
    ("out late", None, late(3)),
    ("Agreed out", None, AGREED),
    (CLOSED.word, CLOSED, ""),
    ("empty, not free (c: changeover)", None, ""),
    (DAY_OFF.word, DAY_OFF, ""),
    (f"{OVERLOAD.word}, all skills", OVERLOAD, TRIANGLE),
)
"""Word, colour, and what is written on it."""


def draw_legend(drawing: Drawing, page: WallPage) -> None:
    """Draw the colours and marks in one line above the dates, each with its word."""
    size, left = page.small_mm, 0.0
    for word, paint, sign in LEGEND:
        box = Box(left, 0, max(SWATCH_MM, (width_of(sign) + 1) * size), size * 1.6)
        _swatch(drawing, box, paint, sign)
        drawing.text((box.x + 2 * PAD_MM + (1 if sign == AGREED else 0), 1.15 * size), sign, size)
        drawing.text((box.right + 1, 1.15 * size), word, size)
        left = box.right + 1 + width_of(word) * size + 2


def _swatch(drawing: Drawing, box: Box, paint: Paint | None, sign: str) -> None:
    if paint is not None:
        drawing.painted(box, paint)
        colour, dashes = edge_of(paint)
        drawing.box(box, edge=colour, dashes=dashes)
    elif sign == SQUARE:
        drawing.box(box, edge=INK, edge_mm=THICK_MM)
    elif sign == AGREED:
        drawing.line((box.x, box.y), (box.x, box.foot), mm=THICK_MM)
    elif sign:
        drawing.box(box, edge=INK)
        drawing.box(Box(box.right - LATE_MM, box.y, LATE_MM, box.height), INK)
    else:
        drawing.box(box, WHITE, GREY, dashes=DASHES)


def draw_days_off(drawing: Drawing, page: WallPage) -> None:
    """Shade the days on which the base does not work, over all bays."""
    foot = page.bays_foot_mm
    off = [when for when, is_off in zip(page.drawn.days, page.drawn.off, strict=True) if is_off]
    for when in filter(page.is_on, off):
        left = page.x(when)
        drawing.painted(Box(left, page.head_mm, page.day_mm, foot - page.head_mm), DAY_OFF)


def draw_dates(drawing: Drawing, page: WallPage) -> None:
    """Write months, weeks with their Mondays and, where there is room, days; draw their lines."""
    size, step, top = page.letter_mm, page.letter_mm * LINE, page.dates_mm
    foot = page.bays_foot_mm
    count = (page.sheet.until - page.sheet.first).days
    shown = [page.sheet.first + timedelta(days=number) for number in range(count)]
    for _, days in groupby(shown, key=lambda when: (when.year, when.month)):
        month = list(days)
        room = (page.x(month[-1]) + page.day_mm - page.x(month[0])) / size
        words = (f"{month[0]:%B %Y}", f"{month[0]:%b %Y}", f"{month[0]:%b}")
        word = next((word for word in words if width_of(word) <= room), "")
        drawing.text((page.x(month[0]) + PAD_MM, top + size), word, size, rim=WHITE)
        drawing.line((page.x(month[0]), top), (page.x(month[0]), top + step))
    for monday in shown[::7]:
        left = page.x(monday)
        week = f"W{monday.isocalendar().week:02d}, {short_day(monday)}"
        drawing.text((left + PAD_MM, top + step + size), week, size, rim=WHITE)
        drawing.line((left, top + step), (left, foot), GREY)
    if page.shows_days:
        for when in shown:
            middle = page.x(when) + page.day_mm / 2
            at = (middle, top + 2 * step + page.small_mm)
            drawing.text(at, f"{when.day}", page.small_mm, anchor="middle", rim=WHITE)


def draw_bays(drawing: Drawing, page: WallPage) -> None:
    """Write hangars and bays to the left, a line under each; a hangar's line is thicker."""
    paper, size, row = page.paper, page.letter_mm, 0
    for hangar, bays in page.sheet.hangars:
        top = page.head_mm + row * page.row_mm
        foot = top + len(bays) * page.row_mm
        drawing.line((0, top), (paper.width, top), mm=THICK_MM)
        word = cut_to(hangar, (foot - top - 2 * PAD_MM) / size)
        at = (size, (top + foot) / 2)
        drawing.text(at, word, size, anchor="middle", is_upright=True)
        for bay in bays:
            here = Box(paper.hangar_mm, page.head_mm + row * page.row_mm, paper.bay_mm, page.row_mm)
            drawing.lines(
                lines_of([bay.name], paper.bay_mm / size, page.most_lines(size)), here, size
            )
            row += 1
            below = page.head_mm + row * page.row_mm
            drawing.line((paper.hangar_mm, below), (paper.width, below), GREY)
    foot = page.bays_foot_mm
    drawing.line((0, foot), (paper.width, foot), mm=THICK_MM)


def draw_today(drawing: Drawing, page: WallPage) -> None:
    """Draw the line of today over the bays."""
    if page.is_on(page.today):
        x = page.x(page.today)
        drawing.line((x, page.head_mm), (x, page.bays_foot_mm), INK, THICK_MM, DASHES)


def draw_word_of_today(drawing: Drawing, page: WallPage) -> None:
    """Write above the dates which day is today, and lead from there to its line."""
    if not page.is_on(page.today):
        return
    x, size, word = page.x(page.today), page.letter_mm, f"today, {short_day(page.today)}"
    wide = width_of(word) * size + 2 * PAD_MM
    left, top = min(x, page.paper.width - wide), page.dates_mm - size * LINE
    drawing.line((x, page.dates_mm), (x, page.head_mm), INK, THICK_MM, DASHES)
    drawing.box(Box(left, top, wide, size * LINE), WHITE, INK)
    drawing.text((left + PAD_MM, top + size), word, size)


def draw_below(drawing: Drawing, page: WallPage) -> None:
    """Write the overload of each week and the checks without a slot below the bays."""
    size, step = page.letter_mm, page.letter_mm * LINE
    top = page.bays_foot_mm + PAD_MM
    if page.overload:
        drawing.text((0, top + size), f"{TRIANGLE} {OVERLOAD.word}", size)
        for monday, amount in page.overload.items():
            box = Box(page.x(monday), top, 7 * page.day_mm, step)
            drawing.painted(box, OVERLOAD)
            drawing.box(box, edge=INK)
            at = (box.x + PAD_MM, top + size)
            drawing.text(at, f"{TRIANGLE} {hours(amount)}", size, ink=OVERLOAD.ink)
        top += step
    for line in page.waiting:
        drawing.text((0, top + size), line, size)
        top += step
