"""Which bay holds which check when, as rows for the occupancy chart.

A bay is a row of height 1, counted from the top, with three lanes: a block with the check's
name, a strip of its stages below, and below that what was agreed about the day it goes home.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from capacity.facts import Closure, Status
from capacity.plans.plan import Placement
from capacity.reports.view import View
from capacity.reports.wording import day, days
from ui.charts.common import Row, at

BLOCK_LANE, STAGE_LANE, DUE_LANE = (0.10, 0.50), (0.52, 0.74), 0.87
LETTER_PIXELS = 7.0
CHART_PIXELS = 1000.0
"""About as wide as the chart is drawn; only whether a label fits depends on it."""

NEAR_DAYS = 14
"""A day agreed further ahead than this is not drawn: it would run under the next check."""

LINES_ACROSS = 90


@dataclass(frozen=True, slots=True)
class Occupancy:
    """All rows of the chart; ``first`` and ``last`` are the days that it covers.

    ``begins`` is the first day of the plan where aircraft are in from before, else None.
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
    closures: tuple[Row, ...]
    closure_lines: tuple[Row, ...]


def occupancy_of(view: View) -> Occupancy:
    """Return what the plan of a view puts into the bays."""
    base = view.base
    first = min([base.first_day, *(p.in_day for p in view.placements)])
    last = max([base.last_in_day, *(p.out_day for p in view.placements)])
    row_of = {bay.name: number for number, bay in enumerate(base.bays)}
    shown = [p for p in view.placements if p.bay in row_of]
    span = (last - first).days + 1
    closures = [c for c in base.closures if c.last >= first and c.first <= last]
    step = max(1.0, span / LINES_ACROSS)
    return Occupancy(
        bays=tuple(row_of),
        mondays=tuple(_mondays(first, last)),
        first=first,
        last=last + timedelta(days=span // 25 + 1),
        begins=base.first_day if first < base.first_day else None,
        works=tuple(dict.fromkeys(s.work for p in base.packages for s in p.stages)),
        blocks=tuple(_block(view, p, row_of[p.bay], span) for p in shown),
        stages=tuple(row for p in shown for row in _stages(view, p, row_of[p.bay])),
        due=tuple(row for p in shown for row in _due(view, p, row_of[p.bay])),
        closures=tuple(_closed(c, row_of, first, last, span) for c in closures),
        closure_lines=tuple(
            line for c in closures for line in _slanted(c, row_of[c.bay], first, last, step)
        ),
    )


def _mondays(first: date, last: date) -> Iterator[date]:
    monday = first + timedelta(days=-first.weekday() % 7)
    while monday <= last:
        yield monday
        monday += timedelta(days=7)


def _block(view: View, placement: Placement, row: int, span: int) -> Row:
    check = view.checks[placement.check]
    account = view.accounts[check.name]
    firm = check.status is Status.FIXED
    name = f"{'■ ' if firm else ''}{check.name}"
    stay = (placement.out_day - placement.in_day).days
    room = int(stay / span * CHART_PIXELS / LETTER_PIXELS)
    return {
        "check": check.name,
        "bay": placement.bay,
        "from": at(placement.in_day),
        "until": at(placement.out_day),
        "y0": row + BLOCK_LANE[0],
        "y1": row + BLOCK_LANE[1],
        "label": _fitting((f"{name} {check.aircraft}", name, check.name), room),
        "aircraft": check.aircraft,
        "package": check.package,
        "customer": check.customer or "not told",
        "status": f"{check.status.value}{', bay and day stand' if firm else ''}",
        "whose": "third party" if check.third_party else "own fleet",
        "stay": days(stay),
        "past": days(account.days_past_latest_in),
        "is_fixed": firm,
    }


def _fitting(labels: Sequence[str], room: int) -> str:
    """Return the longest label that fits, or what fits of the shortest, if it still tells."""
    for label in labels:
        if len(label) <= room:
            return label
    return f"{labels[-1][: room - 1]}…" if room > 3 else ""


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


def _due(view: View, placement: Placement, row: int) -> Iterator[Row]:
    """Give what was agreed, at the last bay of the check."""
    check, account = view.checks[placement.check], view.accounts[placement.check]
    agreed = check.agreed_out
    if agreed is None or placement.out_day != account.out_day:
        return
    spare = (agreed - placement.out_day).days
    if spare > NEAR_DAYS:
        return
    missed = account.late_days > 0
    yield {
        "check": check.name,
        "verdict": "out late" if missed else "out as agreed",
        "agreed": at(agreed),
        # Under its own block: a day agreed before it comes in lies under another check.
        "mark": at(max(agreed, placement.in_day)),
        "out": at(placement.out_day),
        "y": row + DUE_LANE,
        "label": f"+{account.late_days} d" if missed else "",
        "told": f"{days(account.late_days)} late" if missed else f"{days(spare)} spare",
    }


def _closed(closure: Closure, row_of: Mapping[str, int], first: date, last: date, span: int) -> Row:
    begin, end = _drawn(closure, first, last)
    row = row_of[closure.bay]
    room = int((end - begin).days / span * CHART_PIXELS / LETTER_PIXELS)
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
        "label": _fitting((f"closed{reason}", "closed"), room) if room >= 6 else "",
    }


def _slanted(
    closure: Closure, row: int, first: date, last: date, step_days: float
) -> Iterator[Row]:
    """Give the slanted lines over a closed bay, which tell it from an empty one in grey too."""
    begin, end = (datetime.combine(when, time()) for when in _drawn(closure, first, last))
    step = timedelta(days=step_days)
    foot, start = row + STAGE_LANE[1], begin
    rise = STAGE_LANE[1] - BLOCK_LANE[0]
    while start < end:
        top = min(start + step, end)
        share = (top - start) / step
        yield {
            "from": start.isoformat(),
            "until": top.isoformat(),
            "y0": foot,
            "y1": foot - rise * share,
        }
        start += step


def _drawn(closure: Closure, first: date, last: date) -> tuple[date, date]:
    """Return the part of a closure that the chart covers, its end not included."""
    return max(closure.first, first), min(closure.last, last) + timedelta(days=1)
