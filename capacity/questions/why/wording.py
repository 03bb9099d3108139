"""Why a check stands where it does, in a planner's sentences with the cells to look at."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby

from capacity.cells import Where, cells, sheet_only
from capacity.facts import Base, Check, Status
from capacity.questions.asking.differences import HoursMore
from capacity.questions.conflicts.wording import rule_text
from capacity.questions.why.values import Blocked, Blocker, Dearer, Why
from capacity.slots.candidates import bays_that_hold
from capacity.slots.rules.longest_wait import THE_LONGEST_WAIT
from capacity.slots.rules.rule import Met
from capacity.slots.rules.windows import window_text
from capacity.words import counted, day, days, hours, listed, money

MOST_LINES, MOST_WEEKS = 12, 3
HALF = 0.5


def why_sentences(why: Why, base: Base, where: Where | None = None) -> tuple[str, ...]:
    """Return the whole answer, a sentence or a line of a list each."""
    return tuple(_sentences(why, base, where or sheet_only))


def _sentences(why: Why, base: Base, where: Where) -> Iterator[str]:
    check = base.check(why.check)
    yield _stands(why, check, base, where)
    yield from _costs(why, check, base, where)
    if check.status is Status.FIXED:
        at = cells(where, "Checks", check.name, "Fixed bay", "Fixed in")
        yield f"It is fixed there {at}: nothing about its day and bay was chosen."
        return
    yield from _of_its_stay(why, base, where)
    if not why.better:
        yield _nothing_better(why, check, base, where)
        return
    yield "With all other checks where they are:" if why.placements else _out_of(check, base, where)
    if check.status is Status.OPTION:
        yield f"Its price, {money(check.price, base)}, is taken off what a slot would cost."
    lines = list(_lines(why, base, where))
    yield from (f"  - {line}" for line in lines[:MOST_LINES])
    if len(lines) > MOST_LINES:
        yield f"  and {counted(len(lines) - MOST_LINES, 'line')} more of this kind."
    if any(place.is_better for place in why.dearer):
        yield "A free slot that costs less shows that the plan is not the best: search longer."


def _stands(why: Why, check: Check, base: Base, where: Where) -> str:
    if not why.placements:
        return f"{why.check} has no slot in the plan {cells(where, 'Checks', why.check, 'Check')}."
    first, last = why.placements[0], why.placements[-1]
    through = listed([placement.bay for placement in why.placements])
    return (
        f"{why.check} comes into {through} on {day(first.in_day)} and is out on "
        f"{day(last.out_day)}."
    )


def _costs(why: Why, check: Check, base: Base, where: Where) -> Iterator[str]:
    if why.days_past:
        at = cells(where, "Checks", check.name, "Latest in")
        yield f"It comes in {days(why.days_past)} past its Latest in {at}."
    if why.late_days:
        agreed = "Agreed out" if check.agreed_days is None else "Agreed days"
        at = cells(where, "Checks", check.name, agreed)
        yield f"It is {days(why.late_days)} late out {at}: {money(why.late_money, base)}."
    if why.early_days:
        at = cells(where, "Checks", check.name, "Latest in")
        yield (
            f"It comes in {days(why.early_days)} before its Latest in {at}: "
            f"{money(why.early_money, base)}."
        )
    if why.wanted_money:
        at = cells(where, "Checks", check.name, "Wanted in")
        yield (
            f"It comes in {days(why.wanted_days)} away from its Wanted in {at}: "
            f"{money(why.wanted_money, base)}."
        )
    if why.placements and why.labour_money > HALF:
        yield (
            f"Without it the plan would spend {money(why.labour_money, base)} less on man-hours"
            f"{_most_hours(why.hours)}."
        )


def _of_its_stay(why: Why, base: Base, where: Where) -> Iterator[str]:
    """Tell what lengthens its stay or its wait, and days that nobody can account for."""
    for shorter in why.shorter:
        yield (
            f"Coming in on the same day it could be out {days(shorter.days)} earlier, on "
            f"{day(shorter.out_day)}, but for this: {rule_text(shorter.rule, base, where)}."
        )
    if why.longer_wait:
        longest = rule_text(THE_LONGEST_WAIT, base, where)
        yield f"If aircraft could wait longer it could be in on time, but {longest}."
    if why.left_out:
        yield (
            f"{_spell(why.left_out)} its window is open, but some rule that this explanation "
            "does not know leaves it no slot then."
        )


def _spell(left_out: Sequence[date]) -> str:
    if len(left_out) == 1:
        return f"On {day(left_out[0])}"
    return f"On {days(len(left_out))} from {day(left_out[0])} to {day(left_out[-1])}"


def _out_of(check: Check, base: Base, where: Where) -> str:
    """Return the heading of the places of a check without one, and how late it may come in."""
    past = ""
    if check.status is Status.BOOKED:
        at = cells(where, "Base", "Longest delay days", "Value")
        past = f" and for {days(base.longest_delay_days)} past it, the longest delay {at}"
    return f"What keeps it out of each slot in its window{past}, if all others stay where they are:"


def _nothing_better(why: Why, check: Check, base: Base, where: Where) -> str:
    if not why.placements:
        window = window_text(check, base, where)
        return f"There is no slot for it at all: {window}; {bays_that_hold(check, base)}."
    if why.left_out:
        return "No other day or bay known here would be better or make the plan cheaper."
    return "No other day or bay alone would be better or make the plan cheaper."


def _lines(why: Why, base: Base, where: Where) -> Iterator[str]:
    """Yield a line for each run of days on which the same things are in the way."""
    told = [
        (in_day, _of_day(list(places), base, where))
        for in_day, places in groupby(why.better, key=lambda place: place.day)
    ]
    runs: list[tuple[date, date, str]] = []
    for in_day, text in told:
        if runs and runs[-1][2] == text and in_day - runs[-1][1] == timedelta(days=1):
            runs[-1] = (runs[-1][0], in_day, text)
        else:
            runs.append((in_day, in_day, text))
    for first, last, text in runs:
        when = f"on {day(first)}" if first == last else f"from {day(first)} to {day(last)}"
        yield f"{when}: {text}."


def _of_day(places: list[Blocked | Dearer], base: Base, where: Where) -> str:
    """Tell what keeps the check from each bay on a day, bays with the same reason together."""
    reasons: dict[str, list[str]] = {}
    for place in places:
        through = ", then ".join(place.bays)
        reasons.setdefault(place_text(place, base, where), []).append(through)
    return "; ".join(f"{listed(bays)}: {text}" for text, bays in reasons.items())


def place_text(place: Blocked | Dearer, base: Base, where: Where = sheet_only) -> str:
    """Return what keeps a check from one place."""
    if isinstance(place, Dearer):
        return _of_free(place, base)
    own = frozenset(place.bays)
    return listed([_of_blocker(blocker, own, base, where) for blocker in place.by])


def _of_free(place: Dearer, base: Base) -> str:
    more = _most_hours(place.hours)
    past = (
        f"{counted(place.days_past_less, 'fewer day')} past Latest in, and "
        if place.days_past_less
        else ""
    )
    if place.money < -HALF:
        return f"free, {past}the plan would cost {money(-place.money, base)} less"
    if place.money <= HALF:
        return f"free, {past}the plan would cost the same"
    return f"free, but {past}the plan would cost {money(place.money, base)} more{more}"


def _most_hours(more: tuple[HoursMore, ...]) -> str:
    """Tell the weeks and skills in which most hours are bought more."""

    def bought(week: HoursMore) -> float:
        return week.overtime + week.contract + week.overload

    most = [week for week in sorted(more, key=bought, reverse=True) if bought(week) >= HALF]
    parts = [
        f"{hours(bought(week))} more of {week.skill} bought in {week.week}"
        + (f", {hours(week.overload)} of them overload" if week.overload >= HALF else "")
        for week in most[:MOST_WEEKS]
    ]
    rest = len(most) - len(parts)
    tail = f" and {counted(rest, 'other week')}" if rest else ""
    return f" ({'; '.join(parts)}{tail})" if parts else ""


def _of_blocker(blocker: Blocker, own: frozenset[str], base: Base, where: Where) -> str:
    kind = blocker.rule.kind
    assert kind.blocks is not None, f"no place is taken away by a {kind}"
    return kind.blocks(blocker.rule, Met(blocker.by, own), base, where)
