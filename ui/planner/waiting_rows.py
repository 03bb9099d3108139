"""What waits for a slot, as rows of the shelf above the bays."""

import math
from datetime import timedelta

from capacity.facts import Check
from capacity.reports.plan.view import View
from capacity.words import day
from ui.board.rows import Waiting
from ui.planner.block_rows import held_in_words, whose
from ui.planner.span import Span

NO_SLOT, NOT_TAKEN = "no slot", "not taken"

LETTER_PIXELS, NARROWEST_PIXELS = 7.0, 800.0
"""A letter, and the board on a page of 1,024 pixels: how many days a text takes up."""

MOST_DAYS_SHOWN = 112
"""The days across a page at first: more weeks have to be zoomed out to or scrolled to."""


def waiting_of(view: View, span: Span) -> tuple[Waiting, ...]:
    """Return the checks without a slot, then the options not taken, over the days they may come in.

    They stand in as many rows as it takes for each to be read.
    """
    plan = view.outcome.plan
    days_a_letter = LETTER_PIXELS / NARROWEST_PIXELS * min(span.day_count, MOST_DAYS_SHOWN)
    ends: list[int] = []
    rows = []
    for names, slot in ((plan.not_placed, NO_SLOT), (plan.refused, NOT_TAKEN)):
        checks = (view.base.check(name) for name in names if view.base.has_check(name))
        for check in sorted(checks, key=lambda c: (c.earliest_in, c.name)):
            label = f"{check.aircraft}: {slot}"
            first, until = span.cut(check.earliest_in, check.latest_in + timedelta(days=1))
            first = min(first, span.day_count - 1)
            until = max(until, first + 1)
            wide = math.ceil(days_a_letter * (len(check.name) + len(label) + 5))
            row = next((n for n, end in enumerate(ends) if end <= first), len(ends))
            ends[row : row + 1] = [max(until, first + wide)]
            rows.append(_waits(view, check, row, (first, until), label, slot))
    return tuple(rows)


def _waits(
    view: View, check: Check, row: int, window: tuple[int, int], label: str, slot: str
) -> Waiting:
    told = [
        f"Check {check.name}, aircraft {check.aircraft}, {check.type}, {check.package}: {slot}",
        f"May come in from {day(check.earliest_in)} to {day(check.latest_in)} (Latest in)",
        f"Status {check.status.value}",
    ]
    if check.customer or check.third_party:
        told.insert(1, f"Customer {check.customer or 'not stated'}")
    if check.agreed_out is not None:
        told.append(f"Agreed out {day(check.agreed_out)}")
    return Waiting(
        check=check.name,
        row=row,
        first=window[0],
        until=window[1],
        label=label,
        slot=slot,
        paint=whose(check).word,
        status=check.status.value,
        customer=check.customer,
        told=tuple(told),
        days=sum(stage.days for stage in view.stages[check.name].values()),
        held=held_in_words(check),
    )
