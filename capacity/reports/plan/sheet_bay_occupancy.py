"""The sheet ``Bay occupancy``: which check is in which bay on which day, drawn in cells."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from operator import attrgetter

from capacity.facts import Bay, Check, Status
from capacity.plans.plan import Placement
from capacity.reports.kit import formats
from capacity.reports.kit.formats import Look
from capacity.reports.kit.sheet import A3, Book, Sheet
from capacity.reports.plan.agreed_bars import bar_columns, told_in_the_slot
from capacity.reports.plan.bay_header import (
    BAY_COLUMN,
    FIRST_BAY_ROW,
    FIRST_DAY_COLUMN,
    SHEET,
    write_header,
)
from capacity.reports.plan.blocked_days import BlockedDays, blocked_days
from capacity.reports.plan.drawn_days import DrawnDays, drawn_days
from capacity.reports.plan.view import View
from capacity.words import day
from capacity.words.marks import AGREED, SQUARE, late

BAY_HEIGHT = 50
"""Points: four lines of small text."""

PAGE_SCALE = 56
"""Per cent at which ``DAYS_ON_A_PAGE`` days fit on a page, also in a font a third wider."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Something that takes a bay over ``[first, until)``, with the text written inside.

    ``name`` is the check's with its aircraft, to be read on every page where it stands.
    """

    first: date
    until: date
    text: str
    look: Look
    name: str = ""


def bay_occupancy_sheet(book: Book, view: View) -> None:
    """Add the sheet: a row a bay, grouped by hangar, and a column a calendar day."""
    sheet = book.sheet(SHEET, paper=A3)
    drawn = drawn_days(view)
    sheet.hide_gridlines()
    write_header(sheet, view, drawn)
    blocked = list(blocked_days(view.base, view.placements))
    row = FIRST_BAY_ROW
    for hangar, bays in _by_hangar(view.base.bays):
        sheet.run(row, 0, 0, hangar, formats.BAY_HEADING, rows=len(bays))
        for bay in bays:
            sheet.height(row, BAY_HEIGHT)
            sheet.write(row, BAY_COLUMN, bay.name, formats.BAY_HEADING)
            marks, bars = _marks(view, bay, drawn, blocked)
            _draw_bay(sheet, row, drawn, marks, bars)
            row += 1
    row = _list_without_slot(sheet, row + 1, view)
    _list_unseen(sheet, row, view, drawn)
    if len(drawn.pages) > 1:
        begins = [FIRST_DAY_COLUMN + page.start for page in drawn.pages[1:]]
        sheet.columns_of_pages(begins, PAGE_SCALE)


def _by_hangar(bays: tuple[Bay, ...]) -> Iterable[tuple[str, list[Bay]]]:
    """Group the bays by hangar, both in the order of the input."""
    order = list(dict.fromkeys(bay.hangar for bay in bays))
    ranked = sorted(bays, key=lambda bay: order.index(bay.hangar))
    return [(hangar, list(group)) for hangar, group in groupby(ranked, attrgetter("hangar"))]


def _marks(
    view: View, bay: Bay, drawn: DrawnDays, all_blocked: Sequence[BlockedDays]
) -> tuple[list[Mark], Collection[int]]:
    """Return what takes the bay, and the columns of the bars upon days that nothing takes.

    Where two things meet, the later in the list is drawn.
    """
    placements = [p for p in view.placements if p.bay == bay.name]
    turn = timedelta(days=bay.changeover_days)
    changeovers = [Mark(p.out_day, p.out_day + turn, "c", formats.CHANGEOVER) for p in placements]
    closures = [
        Mark(
            c.first,
            c.last + timedelta(days=1),
            f"closed: {c.reason}" if c.reason else "closed",
            formats.CLOSED,
        )
        for c in view.base.closures
        if c.bay == bay.name
    ]
    blocked = [
        Mark(b.first, b.until, f"{b.kind}\nby {b.check}", formats.BLOCKED)
        for b in all_blocked
        if b.bay == bay.name
    ]
    beside = blocked + changeovers + closures
    spans = [(m.first, m.until) for m in beside] + [(p.in_day, p.out_day) for p in placements]
    taken = {column for span in spans for column in drawn.columns(*span)}
    bars = bar_columns(view, placements, drawn, taken)
    stays = [
        mark for p in placements for mark in _stay(view, p, drawn, told_in_the_slot(view, p, bars))
    ]
    return beside + stays, bars.values()


def _stay(view: View, placement: Placement, drawn: DrawnDays, agreed: str) -> Iterable[Mark]:
    """Yield the stay, and the part of it past the agreed out day as a mark of its own.

    The name is written in the first of the two that is drawn at all. ``agreed`` is the line about
    a day of Agreed out that no bar shows.
    """
    check = view.base.check(placement.check)
    late_from = placement.out_day
    agreed_out = view.agreed_out(placement)
    if agreed_out is not None:
        late_from = min(max(agreed_out, placement.in_day), placement.out_day)
    name = named = f"{check.name}{' 3P' if check.third_party else ''}\n{check.aircraft}"
    if check.status is Status.FIXED:
        name += f" {SQUARE}"
    elif check.status is Status.OPTION:
        name += f" {check.status}"
    account = view.account_at(placement)
    if account is not None and account.days_past_latest_in:
        name += f"\nin {account.days_past_latest_in} d past"
    if agreed:
        name += f"\n{agreed}"
    # How late it is out is written where it leaves.
    told = "late"
    if agreed_out is not None and view.last_of[check.name] is placement:
        told = late((placement.out_day - agreed_out).days)
    look = _look_of(check)
    if drawn.columns(placement.in_day, late_from):
        yield Mark(placement.in_day, late_from, name, look, named)
    else:
        told = f"{name}\n{told}"
    if late_from < placement.out_day:
        yield Mark(late_from, placement.out_day, told, {**look, **formats.LATE_EDGE}, named)


def _look_of(check: Check) -> Look:
    if check.status is Status.OPTION:
        return formats.OPTION_STAY
    return formats.THIRD_PARTY_STAY if check.third_party else formats.OWN_STAY


def _draw_bay(
    sheet: Sheet, row: int, drawn: DrawnDays, marks: list[Mark], bars: Collection[int]
) -> None:
    """Draw each mark as a run of cells, and the days that nothing takes as empty ones.

    A run ends at the edge of a page to print and goes on with its name on the next.
    """
    taken: list[Mark | None] = [None] * len(drawn.days)
    for mark in marks:
        for column in drawn.columns(mark.first, mark.until):
            taken[column] = mark
    written: set[tuple[int, int]] = set()
    named: set[tuple[str, int]] = set()
    for _, group in groupby(enumerate(taken), key=lambda i: (id(i[1]), drawn.page_of(i[0]))):
        cells = list(group)
        first, taker = cells[0]
        last = cells[-1][0]
        if taker is None:
            for column in range(first, last + 1):
                look = drawn.look(column)
                if column in bars:
                    sheet.write(
                        row, FIRST_DAY_COLUMN + column, AGREED, {**look, **formats.AGREED_BAR}
                    )
                else:
                    sheet.write(row, FIRST_DAY_COLUMN + column, None, look)
            continue
        # A mark that another one cuts in two is named once a page.
        page = drawn.page_of(first)
        goes_on = any(mark == id(taker) for mark, _ in written)
        text = "" if (id(taker), page) in written else _text(taker, drawn, goes_on)
        if (taker.name, page) not in named and not text.startswith(taker.name):
            text = f"{taker.name}\n{text}"
        written.add((id(taker), page))
        named.add((taker.name, page))
        sheet.run(row, FIRST_DAY_COLUMN + first, FIRST_DAY_COLUMN + last, text, taker.look)


def _text(mark: Mark, drawn: DrawnDays, goes_on: bool) -> str:
    """Return the text of a mark, and its dates where it reaches beyond the days drawn.

    ``goes_on`` is where it has come over from an earlier page.
    """
    is_long = mark.first < drawn.days[0] or (goes_on and mark.look != formats.CHANGEOVER)
    since = f"\nsince {day(mark.first)}" if is_long else ""
    still = f"\nuntil {day(mark.until)}" if mark.until > drawn.days[-1] + drawn.ONE_DAY else ""
    return mark.text + since + still


def _list_without_slot(sheet: Sheet, row: int, view: View) -> int:
    """Name the checks that are in no bay; return the row below."""
    for name in view.outcome.plan.not_placed:
        if view.base.has_check(name):
            check = view.base.check(name)
            window = f"Earliest in {day(check.earliest_in)}, Latest in {day(check.latest_in)}"
            sheet.write(row, 0, f"No slot: {name}, {check.aircraft}; {window}", formats.SECTION)
            row += 1
    return row


def _list_unseen(sheet: Sheet, row: int, view: View, drawn: DrawnDays) -> None:
    """Name the stays that lie wholly outside the days drawn."""
    unseen = [p for p in view.placements if not drawn.columns(p.in_day, p.out_day)]
    for number, placement in enumerate(unseen, start=row):
        sheet.write(
            number,
            0,
            f"Not drawn: {placement.check} in {placement.bay} from {day(placement.in_day)} "
            f"to {day(placement.out_day)}",
        )
