"""Which bay holds which check when, as rows for the occupancy chart.

A bay is a row of height 1, counted from the top, with three lanes: a block with the check's
name, a strip of its stages below, and below that what was agreed about the day it goes home.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from capacity.facts import Closure, Status
from capacity.plans.plan import Placement
from capacity.reports.plan.blocked_days import BlockedDays, blocked_days
from capacity.reports.plan.view import View
from capacity.words import day, days
from ui.days import at
from ui.rows import Row

BLOCK_LANE, STAGE_LANE = (0.06, 0.40), (0.42, 0.58)
DUE_LANES = (0.69, 0.88)
"""Two lanes, so that what is told of two checks one after the other never shares a line."""

LETTER_PIXELS, NARROWEST_PIXELS = 7.0, 800.0
"""A letter, and the chart on a page of 1,024 pixels: how many days a text takes up."""

NO_SLOT = "no slot"
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
    waiting: tuple[Row, ...]
    blocked: tuple[Row, ...]
    blocked_lines: tuple[Row, ...]
    closures: tuple[Row, ...]
    closure_lines: tuple[Row, ...]


def occupancy_of(view: View) -> Occupancy:
    """Return what the plan of a view puts into the bays."""
    base = view.base
    first = min([base.first_day, *(p.in_day for p in view.placements)])
    last = max([base.last_in_day, *(p.out_day for p in view.placements)])
    waiting = _waiting(view, first, last)
    above = 1 + max((math.floor(float(str(row["y0"]))) for row in waiting), default=-1)
    row_of = {bay.name: above + number for number, bay in enumerate(base.bays)}
    blocked = tuple(blocked_days(base, view.placements))
    shown = [p for p in view.placements if p.bay in row_of]
    span = (last - first).days + 1
    closures = [c for c in base.closures if c.last >= first and c.first <= last]
    step = max(1.0, span / LINES_ACROSS)
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
        waiting=waiting,
        blocked=tuple(_blocked(b, row_of[b.bay]) for b in blocked),
        blocked_lines=tuple(
            line
            for b in blocked
            for line in _slanted(b.first, b.until, row_of[b.bay], step, is_down=True)
        ),
        closures=tuple(_closed(c, row_of, first, last) for c in closures),
        closure_lines=tuple(
            line
            for c in closures
            for line in _slanted(*_drawn(c, first, last), row_of[c.bay], step)
        ),
    )


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

    They stand in as many rows as it takes for each to be read.
    """
    days_a_letter = LETTER_PIXELS / NARROWEST_PIXELS * ((last - first).days + 1)
    ends: list[date] = []
    rows = []
    names = (name for name in view.outcome.plan.not_placed if name in view.checks)
    for check in sorted((view.checks[n] for n in names), key=lambda c: (c.earliest_in, c.name)):
        label = f"{check.name} {check.aircraft}: {NO_SLOT}"
        begin = min(max(check.earliest_in, first), last)
        until = max(begin, min(check.latest_in, last)) + timedelta(days=1)
        read_until = begin + timedelta(days=math.ceil(days_a_letter * (len(label) + 2)))
        row = next((n for n, end in enumerate(ends) if end <= begin), len(ends))
        ends[row : row + 1] = [max(until, read_until)]
        rows.append(
            {
                "check": check.name,
                "aircraft": check.aircraft,
                "package": check.package,
                "customer": check.customer or "not told",
                "status": check.status.value,
                "earliest": day(check.earliest_in),
                "latest": day(check.latest_in),
                "slot": NO_SLOT,
                "from": at(begin),
                "until": at(until),
                "y0": row + BLOCK_LANE[0],
                "y1": row + BLOCK_LANE[1],
                "label": label,
            }
        )
    return tuple(rows)


def _block(view: View, placement: Placement, row: int) -> Row:
    check = view.checks[placement.check]
    account = view.accounts[check.name]
    firm = check.status is Status.FIXED
    stay = (placement.out_day - placement.in_day).days
    more = f" {check.aircraft}"
    if account.days_past_latest_in:
        more = f", {account.days_past_latest_in} d past Latest in"
    return {
        "check": check.name,
        "bay": placement.bay,
        "from": at(placement.in_day),
        "until": at(placement.out_day),
        "y0": row + BLOCK_LANE[0],
        "y1": row + BLOCK_LANE[1],
        "label": f"{'■ ' if firm else ''}{check.name}{more}",
        "is_past": account.days_past_latest_in > 0,
        "aircraft": check.aircraft,
        "package": check.package,
        "customer": check.customer or "not told",
        "status": f"{check.status.value}{', bay and day are fixed' if firm else ''}",
        "whose": "third party" if check.third_party else "own fleet",
        "stay": days(stay),
        "past": days(account.days_past_latest_in),
        "is_fixed": firm,
        "is_late": account.late_days > 0 and placement.out_day == account.out_day,
    }


def _stages(view: View, placement: Placement, row: int) -> Iterator[Row]:
    stages = view.stages[view.checks[placement.check].package]
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
    check, account = view.checks[placement.check], view.accounts[placement.check]
    agreed = check.agreed_out
    if agreed is None or placement.out_day != account.out_day:
        return
    spare = (agreed - placement.out_day).days
    if spare > NEAR_DAYS:
        return
    missed = account.late_days > 0
    # Under its own block: a day agreed before it comes in lies under another check.
    mark = max(agreed, placement.in_day)
    yield {
        "check": check.name,
        "verdict": "out late" if missed else "out as agreed",
        "agreed": at(agreed),
        "mark": at(mark),
        "out": at(placement.out_day),
        "words_at": at(max(mark, placement.out_day)),
        "y": y,
        "y0": y - HALF_BAR,
        "y1": y + HALF_BAR,
        "label": f"{_cut(check.name)} {f'late {account.late_days} d' if missed else 'agreed'}",
        "told": f"{days(account.late_days)} late" if missed else f"{days(spare)} spare",
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
        "reason": closure.reason or "not told",
        "label": f"closed{reason}",
    }


def _slanted(
    begin: date, end: date, row: int, step_days: float, *, is_down: bool = False
) -> Iterator[Row]:
    """Give the slanted lines over days without a check, which tell them in grey too."""
    start, until = (datetime.combine(when, time()) for when in (begin, end))
    step = timedelta(days=step_days)
    rise = STAGE_LANE[1] - BLOCK_LANE[0]
    while start < until:
        top = min(start + step, until)
        share = rise * ((top - start) / step)
        foot = row + (BLOCK_LANE[0] if is_down else STAGE_LANE[1])
        yield {
            "from": start.isoformat(),
            "until": top.isoformat(),
            "y0": foot,
            "y1": foot + (share if is_down else -share),
        }
        start += step


def _drawn(closure: Closure, first: date, last: date) -> tuple[date, date]:
    """Return the part of a closure that the chart covers, its end not included."""
    return max(closure.first, first), min(closure.last, last) + timedelta(days=1)
