"""Which bay holds which check when, as blocks of the board."""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from capacity.facts import Base, Check, Status
from capacity.plans.plan import Placement, StageDays
from capacity.reports.plan.view import View
from capacity.words import day, days
from capacity.words.palette import OPTION, OWN_FLEET, THIRD_PARTY, Paint
from ui.board.rows import Block, Strip
from ui.planner.span import NEAR_DAYS, Span

MOST_LANES = 2
"""What is told of two checks one after the other never shares a line."""


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
