"""Which bay holds which check when, as rows for the occupancy chart.

A bay is a row of height 1, counted from the top, with three lanes: a block with the check's
name, a strip of its stages below, and below that what was agreed about its out day.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from capacity.facts import Check, Closure, Status
from capacity.plans.plan import Placement
from capacity.reports.plan.blocked_days import BlockedDays, blocked_days
from capacity.reports.plan.view import View
from capacity.words import day, days
from capacity.words.marks import AGREED, SQUARE, late
from capacity.words.palette import OPTION, OWN_FLEET, THIRD_PARTY, Paint
from ui.days import at
from ui.rows import Row

BLOCK_LANE, STAGE_LANE = (0.06, 0.40), (0.42, 0.58)
DUE_LANES = (0.69, 0.88)
"""Two lanes, so that what is told of two checks one after the other never shares a line."""

LETTER_PIXELS, NARROWEST_PIXELS = 7.0, 800.0
"""A letter, and the chart on a page of 1,024 pixels: how many days a text takes up."""

NO_SLOT = "no slot"
WHOSE = (OWN_FLEET, THIRD_PARTY, OPTION)
"""What a block is painted by; an option, whosever it is, may not be taken in the end."""

LONGEST_NAME = 14
"""Letters of a check's name below its block, where no bar bounds it."""

HALF_BAR = 0.09
"""Half as high as the upright bar of an agreed day, in rows."""

NEAR_DAYS = 14
"""A day agreed further ahead than this is not drawn: it would run under the next check."""

LINES_ACROSS = 90


@dataclass(frozen=True, slots=True)
class Occupancy:
    """All rows of the chart; ``first`` and ``last`` are the days that it covers.

    ``begins`` is the first day of the plan where aircraft are in from before, else None.
    ``bays`` are the rows from the top; above the bays stand those of checks without a slot,
    ``waiting``. ``blocked`` are days on which a bay is empty and yet not free.
    """

    bays: tuple[str, ...]
    mondays: tuple[date, ...]
    first: date
    last: date
    begins: date | None
    works: tuple[str, ...]
    blocks: tuple[Row, ...]
    stages: tuple[Row, ...]
    due: tuple[Row, ...]
    option_lines: tuple[Row, ...]
    waiting: tuple[Row, ...]
    blocked: tuple[Row, ...]
    blocked_lines: tuple[Row, ...]
    closures: tuple[Row, ...]
    closure_lines: tuple[Row, ...]


def occupancy_of(view: View) -> Occupancy:
    """Return what the plan of a view puts into the bays."""
    base = view.base
    first = min([base.first_day, *(p.in_day for p in view.placements)])
    last = max([base.last_in_day, *(d for p in view.placements for d in _ends(view, p))])
    waiting = _waiting(view, first, last)
    above = 1 + max((math.floor(float(str(row["y0"]))) for row in waiting), default=-1)
    row_of = {bay.name: above + number for number, bay in enumerate(base.bays)}
    blocked = tuple(blocked_days(base, view.placements))
    shown = [p for p in view.placements if p.bay in row_of]
    span = (last - first).days + 1
    closures = [c for c in base.closures if c.last >= first and c.first <= last]
    step = span / LINES_ACROSS
    return Occupancy(
        bays=(*[NO_SLOT] * above, *row_of),
        mondays=tuple(_mondays(first, last)),
        first=first,
        last=last + timedelta(days=span // 25 + 1),
        begins=base.first_day if first < base.first_day else None,
        works=tuple(dict.fromkeys(s.work for p in base.packages for s in p.stages)),
        blocks=tuple(_block(view, p, row_of[p.bay]) for p in shown),
        stages=tuple(row for p in shown for row in _stages(view, p, row_of[p.bay])),
        due=tuple(row for p, lane in _lanes(shown) for row in _due(view, p, row_of[p.bay] + lane)),
        option_lines=tuple(
            line
            for p in shown
            if whose(view.base.check(p.check)) is OPTION
            for line in _slanted(p.in_day, p.out_day, row_of[p.bay], step, foot=BLOCK_LANE[1])
        ),
        waiting=waiting,
        blocked=tuple(_blocked(b, row_of[b.bay]) for b in blocked),
        blocked_lines=tuple(
            line for b in blocked for line in _slanted(b.first, b.until, row_of[b.bay], step)
        ),
        closures=tuple(_closed(c, row_of, first, last) for c in closures),
        closure_lines=tuple(
            line
            for c in closures
            for line in _slanted(*_drawn(c, first, last), row_of[c.bay], step, is_down=True)
        ),
    )


def _ends(view: View, placement: Placement) -> Iterator[date]:
    """Give the out day of a stay and, where it is drawn, the day of Agreed out."""
    yield placement.out_day
    agreed = view.agreed_out(placement)
    if agreed is not None and (agreed - placement.out_day).days <= NEAR_DAYS:
        yield agreed


def _mondays(first: date, last: date) -> Iterator[date]:
    monday = first + timedelta(days=-first.weekday() % 7)
    while monday <= last:
        yield monday
        monday += timedelta(days=7)


def _lanes(placements: Sequence[Placement]) -> Iterator[tuple[Placement, float]]:
    """Give each stay one of the lanes below it, neighbours in a bay never the same."""
    count: Counter[str] = Counter()
    for placement in sorted(placements, key=lambda p: p.in_day):
        yield placement, DUE_LANES[count[placement.bay] % len(DUE_LANES)]
        count[placement.bay] += 1


def _waiting(view: View, first: date, last: date) -> tuple[Row, ...]:
    """Give the checks without a slot over the days on which they could come in.

    They stand in as many rows as it takes for each to be read; a frame too short for its label
    has it to its right.
    """
    days_a_letter = LETTER_PIXELS / NARROWEST_PIXELS * ((last - first).days + 1)
    ends: list[date] = []
    rows = []
    names = (name for name in view.outcome.plan.not_placed if view.base.has_check(name))
    for check in sorted((view.base.check(n) for n in names), key=lambda c: (c.earliest_in, c.name)):
        label = f"{check.name} {check.aircraft}: {NO_SLOT}"
        days_of_label = math.ceil(days_a_letter * (len(label) + 2))
        begin = min(max(check.earliest_in, first), last)
        until = max(begin, min(check.latest_in, last)) + timedelta(days=1)
        is_short = (until - begin).days < days_of_label
        words_at = until if is_short else begin
        row = next((n for n, end in enumerate(ends) if end <= begin), len(ends))
        ends[row : row + 1] = [max(until, words_at + timedelta(days=days_of_label))]
        rows.append(
            {
                "check": check.name,
                "aircraft": check.aircraft,
                "package": check.package,
                "customer": check.customer or "not stated",
                "status": check.status.value,
                "earliest": day(check.earliest_in),
                "latest": day(check.latest_in),
                "slot": NO_SLOT,
                "from": at(begin),
                "until": at(until),
                "y0": row + BLOCK_LANE[0],
                "y1": row + BLOCK_LANE[1],
                "words_at": at(words_at),
                "label": label,
            }
        )
    return tuple(rows)


def _block(view: View, placement: Placement, row: int) -> Row:
    check = view.base.check(placement.check)
    account = view.accounts[check.name]
    firm = check.status is Status.FIXED
    stay = (placement.out_day - placement.in_day).days
    more = f" {check.aircraft}"
    if check.third_party:  # said in words too, for those who print in grey
        more += f", {check.customer or THIRD_PARTY.word}"
    if account.days_past_latest_in:
        more = f", {account.days_past_latest_in} d past Latest in"
    return {
        "check": check.name,
        "bay": placement.bay,
        "from": at(placement.in_day),
        "until": at(placement.out_day),
        "y0": row + BLOCK_LANE[0],
        "y1": row + BLOCK_LANE[1],
        "label": f"{f'{SQUARE} ' if firm else ''}{check.name}{more}",
        "is_past": account.days_past_latest_in > 0,
        "aircraft": check.aircraft,
        "package": check.package,
        "customer": check.customer or "not stated",
        "status": f"{check.status.value}{', bay and day are fixed' if firm else ''}",
        "whose": whose(check).word,
        "stay": days(stay),
        "past": days(account.days_past_latest_in),
        "is_fixed": firm,
        "is_late": account.late_days > 0 and placement.out_day == account.out_day,
    }


def whose(check: Check) -> Paint:
    """Return what a check is painted by."""
    if check.status is Status.OPTION:
        return OPTION
    return THIRD_PARTY if check.third_party else OWN_FLEET


def _stages(view: View, placement: Placement, row: int) -> Iterator[Row]:
    stages = view.stages[placement.check]
    for done in placement.stages:
        stage, last = stages[done.stage], done.until - timedelta(days=1)
        yield {
            "check": placement.check,
            "stage": done.stage,
            "work": stage.work,
            "alone": "yes" if stage.alone else "no",
            "from": at(done.first),
            "until": at(done.until),
            "last": at(last),
            "first_told": day(done.first),
            "last_told": day(last),
            "y0": row + STAGE_LANE[0],
            "y1": row + STAGE_LANE[1],
        }


def _due(view: View, placement: Placement, y: float) -> Iterator[Row]:
    """Give what was agreed, at the last bay of the check, with its name."""
    check, account = view.base.check(placement.check), view.accounts[placement.check]
    agreed = account.agreed_out
    if agreed is None or placement.out_day != account.out_day:
        return
    early = (agreed - placement.out_day).days
    if early > NEAR_DAYS:
        return
    missed = account.late_days > 0
    # Under its own block: a day agreed before it comes in lies under another check.
    mark = max(agreed, placement.in_day)
    yield {
        "check": check.name,
        "verdict": "late out" if missed else "out as agreed",
        "agreed": at(agreed),
        "mark": at(mark),
        "out": at(placement.out_day),
        "words_at": at(max(mark, placement.out_day)),
        "y": y,
        "y0": y - HALF_BAR,
        "y1": y + HALF_BAR,
        "label": f"{_cut(check.name)} {late(account.late_days) if missed else AGREED}",
        "told": f"{days(account.late_days)} late out" if missed else f"{days(early)} before it",
    }


def _cut(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…"


def _blocked(blocked: BlockedDays, row: int) -> Row:
    return {
        "bay": blocked.bay,
        "from": at(blocked.first),
        "until": at(blocked.until),
        "last": at(blocked.until - timedelta(days=1)),
        "y0": row + BLOCK_LANE[0],
        "y1": row + STAGE_LANE[1],
        "kind": blocked.kind,
        "by": f"{blocked.check} in {blocked.by_bay}",
        "label": f"{blocked.kind} by {blocked.check}",
    }


def _closed(closure: Closure, row_of: Mapping[str, int], first: date, last: date) -> Row:
    begin, end = _drawn(closure, first, last)
    row = row_of[closure.bay]
    reason = f": {closure.reason}" if closure.reason else ""
    return {
        "bay": closure.bay,
        "from": at(begin),
        "until": at(end),
        "first": at(closure.first),
        "last": at(closure.last),
        "y0": row + BLOCK_LANE[0],
        "y1": row + STAGE_LANE[1],
        "reason": closure.reason or "not stated",
        "label": f"closed{reason}",
    }


def _slanted(
    begin: date,
    end: date,
    row: int,
    step_days: float,
    *,
    is_down: bool = False,
    foot: float = STAGE_LANE[1],
) -> Iterator[Row]:
    """Give slanted lines over days, rising or falling, down to ``foot``: they tell in grey too."""
    start, until = (datetime.combine(when, time()) for when in (begin, end))
    step = timedelta(days=step_days)
    rise = foot - BLOCK_LANE[0]
    while start < until:
        top = min(start + step, until)
        share = rise * ((top - start) / step)
        begins_at = row + (BLOCK_LANE[0] if is_down else foot)
        yield {
            "from": start.isoformat(),
            "until": top.isoformat(),
            "y0": begins_at,
            "y1": begins_at + (share if is_down else -share),
        }
        start += step


def _drawn(closure: Closure, first: date, last: date) -> tuple[date, date]:
    """Return the part of a closure that the chart covers, its end not included."""
    return max(closure.first, first), min(closure.last, last) + timedelta(days=1)
