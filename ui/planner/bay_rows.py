"""Which bay holds which check when, and what waits for a slot, as rows of the board."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.facts import Base, Check, Closure, Status
from capacity.plans.plan import Placement, StageDays
from capacity.plans.worked_days import WorkedDays
from capacity.reports.plan.blocked_days import BlockedDays, blocked_days
from capacity.reports.plan.view import View
from capacity.words import counted, day, days
from capacity.words.palette import CLOSED, OPTION, OWN_FLEET, THIRD_PARTY, Paint
from ui.board.rows import BayRow, Block, Strip, Taken, Waiting

NO_SLOT, NOT_TAKEN = "no slot", "not taken"
CHANGEOVER = "changeover"
NEAR_DAYS = 14
"""A day agreed further ahead than this is not drawn: it would run under the next check."""

MOST_LANES = 2
"""What is told of two checks one after the other never shares a line."""

LETTER_PIXELS, NARROWEST_PIXELS = 7.0, 800.0
"""A letter, and the board on a page of 1,024 pixels: how many days a text takes up."""

MOST_DAYS_SHOWN = 112
"""The days across a page at first: more weeks have to be zoomed out to or scrolled to."""


@dataclass(frozen=True, slots=True)
class Span:
    """The days of the board: ``first`` until, not including, ``until``."""

    first: date
    until: date

    def number(self, day: date) -> int:
        """Return a date as a day of the board."""
        return (day - self.first).days

    @property
    def day_count(self) -> int:
        """How many days are drawn."""
        return (self.until - self.first).days

    def cut(self, first: date, until: date) -> tuple[int, int]:
        """Return the part of ``[first, until)`` that is drawn, as days of the board."""
        begin, end = (min(max(one, self.first), self.until) for one in (first, until))
        return self.number(begin), self.number(end)


def span_of(view: View) -> Span:
    """Return the days from the first stay or day of the plan to the last, in whole weeks."""
    base = view.base
    first = min([base.first_day, *(p.in_day for p in view.placements)])
    last = max([base.last_in_day, *(d for p in view.placements for d in _ends(view, p))])
    monday = first - timedelta(days=first.weekday())
    return Span(monday, last + timedelta(days=7 - last.weekday()))


def _ends(view: View, placement: Placement) -> Iterator[date]:
    """Give the out day of a stay and, where it is drawn, the day of Agreed out."""
    yield placement.out_day
    agreed = view.agreed_out(placement)
    if agreed is not None and (agreed - placement.out_day).days <= NEAR_DAYS:
        yield agreed


def bay_rows(base: Base, blocks: Sequence[Block]) -> tuple[BayRow, ...]:
    """Return a row for each bay, the bays of one hangar together."""
    used: Counter[int] = Counter()
    for block in blocks:
        if block.agreed is not None or block.late_days:
            used[block.bay] = max(used[block.bay], block.lane + 1)
    return tuple(
        BayRow(bay.name, bay.hangar, used[number], _bay_told(base, number))
        for number, bay in enumerate(base.bays)
    )


def by_hangar(base: Base) -> Base:
    """Return a base with the bays of each hangar together, hangars in order of their first bay."""
    hangars = list(dict.fromkeys(bay.hangar for bay in base.bays))
    bays = sorted(base.bays, key=lambda bay: hangars.index(bay.hangar))
    return base.replace(bays=tuple(bays))


def _bay_told(base: Base, number: int) -> str:
    bay = base.bays[number]
    told = [f"{bay.name}, {bay.hangar}"]
    if bay.shares_floor_with:
        told.append(f"shares floor with {', '.join(sorted(bay.shares_floor_with))}")
    if bay.reached_through:
        told.append(f"reached through {bay.reached_through}")
    if bay.changeover_days:
        told.append(f"{days(bay.changeover_days)} changeover")
    return "; ".join(told)


def blocks_of(view: View, base: Base, span: Span) -> tuple[Block, ...]:
    """Return a block for each stay in a bay, in order of in day; ``base`` has bays as drawn."""
    row_of = {bay.name: number for number, bay in enumerate(base.bays)}
    greys = {work: number for number, work in enumerate(works_of(base))}
    count: Counter[str] = Counter()
    blocks = []
    for placement in view.placements:
        if placement.bay not in row_of:
            continue
        blocks.append(
            _block(view, placement, row_of[placement.bay], count[placement.bay], span, greys)
        )
        count[placement.bay] += 1
    return tuple(blocks)


def works_of(base: Base) -> tuple[str, ...]:
    """Return the kinds of work of a base in the order of its packages."""
    return tuple(dict.fromkeys(s.work for p in base.packages for s in p.stages))


def _block(
    view: View, placement: Placement, row: int, turn: int, span: Span, greys: Mapping[str, int]
) -> Block:
    check, account = view.base.check(placement.check), view.accounts[placement.check]
    is_last = placement.out_day == account.out_day
    late_days = account.late_days if is_last else 0
    past = account.days_past_latest_in
    strips = tuple(_strip(view, placement.check, stage, span, greys) for stage in placement.stages)
    more = check.aircraft
    if check.third_party:  # said in words too, for those who print in grey
        more += f", {check.customer or THIRD_PARTY.word}"
    if past:
        more = f"{past} d past Latest in, {more}"
    return Block(
        check=check.name,
        bay=row,
        stage_from=placement.stage_from,
        first=span.number(placement.in_day),
        until=span.number(placement.out_day),
        label=more,
        paint=whose(check).word,
        status=check.status.value,
        customer=check.customer,
        is_fixed=check.status is Status.FIXED,
        is_past=past > 0,
        late_days=late_days,
        agreed=_agreed_bar(placement, account.agreed_out, span) if is_last else None,
        lane=turn % MOST_LANES,
        stages=strips,
        told=tuple(_block_told(view, placement, late_days)),
        held=held_in_words(check),
    )


def held_in_words(check: Check) -> str:
    """Return what of a check's slot the workbook holds: ``bay and day``, empty for nothing."""
    held = [("bay", check.held_bay is not None), ("day", check.held_in is not None)]
    return " and ".join(what for what, is_held in held if is_held)


def _block_told(view: View, placement: Placement, late_days: int) -> Iterator[str]:
    check, account = view.base.check(placement.check), view.accounts[placement.check]
    stay = (placement.out_day - placement.in_day).days
    yield f"Check {check.name}, aircraft {check.aircraft}, {check.type}, {check.package}"
    if check.customer or check.third_party:
        third = ", third party" if check.third_party else ""
        yield f"Customer {check.customer or 'not stated'}{third}"
    is_fixed = check.status is Status.FIXED
    yield f"Status {check.status.value}{', bay and day are fixed' if is_fixed else ''}"
    yield (
        f"{placement.bay}, in {day(placement.in_day)}, out {day(placement.out_day)}, "
        f"{days(stay)} in this bay"
    )
    if account.days_past_latest_in:
        yield f"{days(account.days_past_latest_in)} past Latest in ({day(check.latest_in)})"
    if account.agreed_out is not None:
        kept = f"{days(late_days)} late out" if late_days else "kept"
        so = f": {kept}" if placement.out_day == account.out_day else ""
        yield f"Agreed out {day(account.agreed_out)}{so}"


def _agreed_bar(placement: Placement, agreed: date | None, span: Span) -> int | None:
    """Return the day of the bar; one agreed before it comes in stands under its own block."""
    if agreed is None or (agreed - placement.out_day).days > NEAR_DAYS:
        return None
    return span.number(max(agreed, placement.in_day))


def _strip(view: View, check: str, done: StageDays, span: Span, greys: Mapping[str, int]) -> Strip:
    stage = view.stages[check][done.stage]
    alone = ", nobody else on the aircraft" if stage.alone else ""
    until = day(done.until - timedelta(days=1))
    return Strip(
        name=done.stage,
        work=greys[stage.work],
        first=span.number(done.first),
        until=span.number(done.until),
        told=f"{done.stage} ({stage.work}): {day(done.first)} to {until}{alone}",
    )


def whose(check: Check) -> Paint:
    """Return what a check is painted by: an option, whosever it is, may not be taken in the end."""
    if check.status is Status.OPTION:
        return OPTION
    return THIRD_PARTY if check.third_party else OWN_FLEET


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


def days_off(base: Base, span: Span) -> tuple[tuple[int, int], ...]:
    """Return the runs of days that the base does not work, as days of the board."""
    worked = WorkedDays(base)
    runs: list[tuple[int, int]] = []
    for number in range(span.day_count):
        if span.first + timedelta(days=number) in worked:
            continue
        if runs and runs[-1][1] == number:
            runs[-1] = (runs[-1][0], number + 1)
        else:
            runs.append((number, number + 1))
    return tuple(runs)
