"""The bars of a page of the wall sheet: what is in a bay when, and when it is not free."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import zip_longest

from capacity.facts import Bay, Status
from capacity.plans.plan import Placement
from capacity.reports.plan.blocked_days import blocked_days
from capacity.words import day
from capacity.words.marks import AGREED
from capacity.words.palette import CLOSED, GREY, INK, WHITE
from ui.planner.block_rows import whose
from ui.printing.drawing import DASHES, LATE_MM, THICK_MM, THIN_MM, Box, Drawing, edge_of
from ui.printing.lettering import cut_to, lines_of, width_of
from ui.printing.paper import LINE
from ui.printing.wall_page import PAD_MM, WallPage
from ui.printing.wall_words import label_of, parts_of, short_day

CHANGEOVER, SHORT_CHANGEOVER = "changeover", "c"
STAGE_LINES = 1.5
"""Height of the strip of stages, in sizes of its print."""

LINES_FOR_STAGES = 4
"""In rows as high as these lines the stages stand under the words of a check."""

NEAR_DAYS = 14
"""A day agreed further ahead than this is not drawn: it tells nothing about this slot."""


def draw_bay(drawing: Drawing, page: WallPage, bay: Bay, row: int) -> None:
    """Draw the shapes of a bay, the ``row``-th from the top of the page, from 0."""
    _not_free(drawing, page, bay, row)
    for stay in _shown(page, bay):
        _stay(drawing, page, stay, row)


def write_bay(drawing: Drawing, page: WallPage, bay: Bay, row: int) -> None:
    """Write the words of the stays of a bay, over the line of today."""
    stays = page.stays_in(bay)
    for stay, following in zip_longest(stays, stays[1:]):
        if page.shows(stay.in_day, stay.out_day + timedelta(days=NEAR_DAYS)):
            free_until = _free_until(page, bay, stay, following)
            bar = _agreed(drawing, page, stay, row, free_until)
            if page.shows(stay.in_day, stay.out_day):
                _words(drawing, page, stay, row, says_agreed=not bar)


def _shown(page: WallPage, bay: Bay) -> list[Placement]:
    return [stay for stay in page.stays_in(bay) if page.shows(stay.in_day, stay.out_day)]


def _not_free(drawing: Drawing, page: WallPage, bay: Bay, row: int) -> None:
    """Draw closures, and days on which the bay is empty and yet not free, each with its word."""
    one_day = timedelta(days=1)
    for closure in page.view.base.closures:
        if closure.bay == bay.name and page.shows(closure.first, closure.last + one_day):
            box = page.span(closure.first, closure.last + one_day, row)
            drawing.painted(box, CLOSED)
            drawing.box(box, edge=INK)
            _rimmed(drawing, page, box, CLOSED.word, closure.reason)
    changing = [
        (stay.out_day, stay.out_day + timedelta(days=bay.changeover_days))
        for stay in page.stays_in(bay)
        if bay.changeover_days
    ]
    for first, until in changing:
        _empty(drawing, page, row, first, until, CHANGEOVER)
    for blocked in blocked_days(page.view.base, page.view.placements):
        if blocked.bay == bay.name:
            ends = [until for begin, until in changing if begin <= blocked.first < until]
            first = max([blocked.first, *ends])
            word = f"{blocked.kind} by {blocked.check}"
            _empty(drawing, page, row, first, blocked.until, word)


def _empty(drawing: Drawing, page: WallPage, row: int, first: date, until: date, word: str) -> None:
    if first < until and page.shows(first, until):
        box = page.span(first, until, row)
        drawing.box(box, WHITE, GREY, dashes=DASHES)
        _rimmed(drawing, page, box, word)


def _rimmed(drawing: Drawing, page: WallPage, box: Box, word: str, reason: str = "") -> None:
    """Write why a bay is not free into the lower part of its box; the upper is for bars."""
    size = page.small_mm
    room, most = (box.width - 2 * PAD_MM) / size, page.most_lines(size)
    if word == CHANGEOVER and width_of(word) > room:
        word = SHORT_CHANGEOVER
    told = f"{word}: {reason}" if reason else word
    # A reason whose words would be broken is left out.
    is_broken = any(width_of(part) > room for part in told.split())
    lines = [word] if is_broken else lines_of([told], room, most)
    high = min(box.height, max(box.height - page.bar_mm, len(lines) * size * LINE))
    here = Box(box.x + PAD_MM, box.foot - high, box.width - 2 * PAD_MM, high)
    drawing.lines(lines, here, size, rim=WHITE)


def _free_until(page: WallPage, bay: Bay, stay: Placement, following: Placement | None) -> date:
    closures = page.view.base.closures
    closed = [c.first for c in closures if c.bay == bay.name and c.last >= stay.out_day]
    return min([date.max if following is None else following.in_day, *closed])


def _stay(drawing: Drawing, page: WallPage, stay: Placement, row: int) -> None:
    """Draw the box of a stay; a side on which it goes on elsewhere has no edge."""
    box = page.span(stay.in_day, stay.out_day, row)
    check = page.view.base.check(stay.check)
    paint = whose(check)
    drawing.painted(box, paint)
    colour, dashes = edge_of(paint)
    mm = THICK_MM if check.status is Status.FIXED else THIN_MM
    ends = page.is_on(stay.in_day), page.ends_on(stay)
    _edges(drawing, box, ends, (colour, mm, dashes))
    if page.late_days(stay):
        drawing.box(Box(box.right - LATE_MM, box.y, LATE_MM, box.height), INK)
    if not ends[0]:
        left, number = page.left_mm - page.paper.beside_mm, page.sheet.before
        one_line = f"sheet {number}: {stay.check}" if number else f"before: {stay.check}"
        _beside(drawing, page, row, left, _before(page, stay), one_line)
    if not ends[1]:
        one_line = f"sheet {page.sheet.after}: {stay.check}"
        _beside(drawing, page, row, page.x(page.sheet.until), _after(page, stay), one_line)


def _edges(
    drawing: Drawing, box: Box, ends: tuple[bool, bool], line: tuple[str, float, str]
) -> None:
    colour, mm, dashes = line
    lines = [((box.x, box.y), (box.right, box.y)), ((box.x, box.foot), (box.right, box.foot))]
    if ends[0]:
        lines.append(((box.x, box.y), (box.x, box.foot)))
    if ends[1]:
        lines.append(((box.right, box.y), (box.right, box.foot)))
    for start, end in lines:
        drawing.line(start, end, colour, mm, dashes)


def _agreed(drawing: Drawing, page: WallPage, stay: Placement, row: int, free_until: date) -> bool:
    """Draw the bar at the day of Agreed out, with its word, and return whether it has room."""
    agreed = page.view.agreed_out(stay)
    if agreed is None or page.view.last_of[stay.check] is not stay or not page.is_on(agreed):
        return False
    word_mm = width_of(AGREED) * page.small_mm + 2 * PAD_MM
    ahead = (agreed - stay.out_day).days
    if not 0 < ahead <= NEAR_DAYS or page.x(agreed) + word_mm > page.x(free_until):
        return False
    box = page.span(agreed, agreed, row)
    foot = box.y + page.bar_mm
    drawing.line((box.x, box.y), (box.x, foot), INK, THICK_MM)
    at = (box.x + 2 * PAD_MM, (box.y + foot) / 2 + 0.35 * page.small_mm)
    drawing.text(at, AGREED, page.small_mm, rim=WHITE)
    return True


def _words(
    drawing: Drawing, page: WallPage, stay: Placement, row: int, *, says_agreed: bool
) -> None:
    size, most = page.letter_mm, page.most_lines(page.letter_mm)
    box, late_days = page.span(stay.in_day, stay.out_day, row), page.late_days(stay)
    paint = whose(page.view.base.check(stay.check))
    has_stages = most >= LINES_FOR_STAGES
    room = Box(
        box.x + PAD_MM,
        box.y,
        box.width - 2 * PAD_MM - (LATE_MM if late_days else 0),
        box.height - (page.small_mm * STAGE_LINES if has_stages else 0),
    )
    parts = parts_of(page.view, stay, says_agreed=says_agreed and not late_days)
    ems = room.width / size
    # Beside the days stands the name of a check that goes on elsewhere: no need to break it.
    goes_on = not (page.is_on(stay.in_day) and page.ends_on(stay))
    if not (goes_on and width_of(parts[0]) > ems):
        drawing.lines(
            label_of(parts, late_days, ems, most - has_stages), room, size, rim=paint.fill
        )
    elif late_days:
        drawing.lines(label_of([""], late_days, ems, most - has_stages), room, size, rim=paint.fill)
    if has_stages:
        _stages(drawing, page, stay, box)


def _stages(drawing: Drawing, page: WallPage, stay: Placement, box: Box) -> None:
    """Write the stages of a stay under its words, each from the day on which it begins.

    Where stages are done side by side, the later one begins where its name does.
    """
    size = page.small_mm
    top = box.foot - STAGE_LINES * size
    stages = sorted(stay.stages, key=lambda stage: (stage.first, stage.until))
    follow = [*(stage.first for stage in stages[1:]), stay.out_day]
    for stage, following in zip(stages, follow, strict=True):
        left, right = page.x(stage.first), page.x(min(stage.until, following))
        if right > left:
            here = Box(left, top, right - left, box.foot - top)
            drawing.box(here, WHITE, INK, THIN_MM / 2)
            word = cut_to(stage.stage, (here.width - PAD_MM) / size)
            drawing.text((left + PAD_MM / 2, box.foot - 0.4 * size), word, size)


def _before(page: WallPage, stay: Placement) -> list[str]:
    if page.sheet.before is None:
        weekday, _, rest = day(stay.in_day).partition(" ")
        return [f"in since {weekday}", rest, stay.check]
    return [f"from sheet {page.sheet.before}", stay.check, f"in {short_day(stay.in_day)}"]


def _after(page: WallPage, stay: Placement) -> list[str]:
    return [f"to sheet {page.sheet.after}", stay.check, f"out {short_day(stay.out_day)}"]


def _beside(
    drawing: Drawing,
    page: WallPage,
    row: int,
    left_mm: float,
    told: Sequence[str],
    one_line: str,
) -> None:
    """Write beside the days from which sheet a bar comes, or on which it goes on.

    ``one_line`` says it where the bay has no more.
    """
    size, width = page.small_mm, page.paper.beside_mm - 2 * PAD_MM
    box = Box(left_mm + PAD_MM, page.head_mm + row * page.row_mm, width, page.row_mm)
    most = page.most_lines(size)
    if most == 1:
        told = [one_line]
    drawing.lines([cut_to(one, width / size) for one in told[:most]], box, size)
