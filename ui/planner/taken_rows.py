"""Days on which a bay is empty and yet not free, as marks of the board."""

from collections.abc import Iterator, Mapping
from datetime import timedelta

from capacity.facts import Base, Closure
from capacity.reports.plan.blocked_days import BlockedDays, blocked_days
from capacity.reports.plan.view import View
from capacity.words import counted, day
from capacity.words.palette import CLOSED
from ui.board.rows import Taken
from ui.planner.span import Span

CHANGEOVER = "changeover"


def taken_of(view: View, base: Base, span: Span) -> tuple[Taken, ...]:
    """Return the days on which a bay is empty and yet not free."""
    row_of = {bay.name: number for number, bay in enumerate(base.bays)}
    closed = [
        _closed(closure, row_of[closure.bay], span)
        for closure in base.closures
        if closure.last >= span.first and closure.first < span.until
    ]
    blocked = [_blocked(b, row_of[b.bay], span) for b in blocked_days(base, view.placements)]
    return (*closed, *blocked, *_changeovers(view, base, row_of, span))


def _closed(closure: Closure, row: int, span: Span) -> Taken:
    first, until = span.cut(closure.first, closure.last + timedelta(days=1))
    reason = f": {closure.reason}" if closure.reason else ""
    return Taken(
        row,
        first,
        until,
        CLOSED.word,
        f"{CLOSED.word}{reason}",
        (f"{closure.bay} closed{reason}", f"{day(closure.first)} to {day(closure.last)}"),
    )


def _blocked(blocked: BlockedDays, row: int, span: Span) -> Taken:
    first, until = span.cut(blocked.first, blocked.until)
    last = blocked.until - timedelta(days=1)
    return Taken(
        row,
        first,
        until,
        blocked.kind,
        f"{blocked.kind} by {blocked.check}",
        (
            f"{blocked.bay} is empty, but not free: {blocked.kind} by {blocked.check} in "
            f"{blocked.by_bay}",
            f"{day(blocked.first)} to {day(last)}",
        ),
    )


def _changeovers(view: View, base: Base, row_of: Mapping[str, int], span: Span) -> Iterator[Taken]:
    """Give the days after each stay on which its bay is made ready for the next check."""
    shown = [p for p in view.placements if p.bay in row_of]
    begins = {(p.bay, p.in_day) for p in shown}
    for placement in shown:
        bay = base.bays[row_of[placement.bay]]
        until = placement.out_day + timedelta(days=bay.changeover_days)
        first, end = span.cut(placement.out_day, until)
        if first < end and (placement.bay, placement.out_day) not in begins:
            yield Taken(
                row_of[placement.bay],
                first,
                end,
                CHANGEOVER,
                CHANGEOVER,
                (
                    f"{bay.name}: {counted(bay.changeover_days, 'day')} of changeover after "
                    f"{placement.check}",
                    f"{day(placement.out_day)} to {day(until - timedelta(days=1))}",
                ),
            )
