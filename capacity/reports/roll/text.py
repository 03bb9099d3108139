"""What rolling forward did in lines for a terminal, and what needs a person."""

from collections.abc import Iterator, Sequence

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.questions.roll.values import (
    Decided,
    Delivered,
    InWork,
    Rolled,
    RolledWorkbook,
    StageState,
)
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.left_out import left_out
from capacity.words import counted, day, hours, percent, quoted

NOBODY_SAID = (
    "What nobody reported is taken to have gone as planned; it is never written down as actual."
)

MOST_RULES = 5
TAKEN, NOT_TAKEN = "the plan takes it", "the plan does not take it"


def rolled_in_words(told: RolledWorkbook, base: Base, broken: Sequence[str] = ()) -> str:
    """Return all that was done in plain text, and what needs a person.

    ``broken`` are the rules that the plan in force breaks with next week's workbook.
    """
    return "\n".join(printable(line).rstrip() for line in _lines(told, base, broken))


def _lines(told: RolledWorkbook, base: Base, broken: Sequence[str]) -> Iterator[str]:
    rolled = told.rolled
    yield (
        f"{base.name}: First day {day(rolled.old_first_day)} -> {day(rolled.first_day)}, "
        f"{counted(rolled.weeks, 'week')} from there."
    )
    yield from _delivered(rolled)
    if rolled.in_work:
        yield f"In work, fixed in bay and day ({len(rolled.in_work)}):"
        for one in rolled.in_work:
            yield f"  {one.check}  {in_work_in_words(one)}"
    if rolled.not_in:
        yield f"Did not come, still to be planned: {quoted(rolled.not_in)}."
    yield from _decided("Options booked", rolled.booked, TAKEN)
    yield from _decided("Options taken out", rolled.dropped, NOT_TAKEN)
    if rolled.gone:
        yield f"Rows behind the new first day, taken out ({len(rolled.gone)}):"
        for gone in rolled.gone:
            yield f"  {gone.sheet}, row {gone.row}: {gone.of}, until {day(gone.last)}".rstrip(":")
    errors = [message for message in told.messages if message.level is Level.ERROR]
    yield from _for_a_person([*rolled.for_a_person, *errors])
    yield NOBODY_SAID
    yield from how_it_stands(told, broken)


def how_it_stands(told: RolledWorkbook, broken: Sequence[str]) -> Iterator[str]:
    """Say whether the plan in force goes on with next week's workbook, and the rules it breaks."""
    if told.base is None:
        yield "Next week's workbook has errors: correct them in it before you plan."
    elif broken:
        rules = counted(len(broken), "rule")
        yield f"The plan in force cannot go on as it is, it breaks {rules}: plan anew."
        yield from (f"  {sentence}" for sentence in broken[:MOST_RULES])
        yield from left_out(broken, MOST_RULES)
    else:
        yield "The plan in force stands with it: every slot is what it was."


def _delivered(rolled: Rolled) -> Iterator[str]:
    if not rolled.delivered:
        return
    yield f"Moved to the sheet Delivered ({len(rolled.delivered)}):"
    for one in rolled.delivered:
        yield f"  {one.check}  {delivered_in_words(one)}"


def delivered_in_words(one: Delivered) -> str:
    """Return when a check was to be out, and when it was as far as somebody reported it."""
    first = one.stages[0]
    planned = "" if first.planned_out is None else f"planned out {day(first.planned_out)}"
    actual = "" if first.actual_out is None else f", actual out {day(first.actual_out)}"
    return f"{planned}{actual}"


def in_work_in_words(one: InWork) -> str:
    """Return where a check is, until when, and what is left of it."""
    new = ", fixed now" if one.is_new else ""
    was = ", was an option" if one.was_option else ""
    out = "" if one.out_day is None else f", out {day(one.out_day)} by the plan"
    stages = [_state_in_words(s) for s in one.states if s.left > 0 and abs(s.left - 1) > 1e-9]
    done = sum(state.left == 0 for state in one.states)
    rest = f"{hours(one.hours_left)} left, {done} of {len(one.states)} stages done"
    more = f" ({'; '.join(stages)})" if stages else ""
    return f"{one.bay} since {day(one.in_day)}{new}{was}{out}: {rest}{more}"


def _state_in_words(state: StageState) -> str:
    how = "as planned" if state.by_plan else "as reported"
    if state.left > 1:
        return f"{state.stage} grown to {percent(state.left)} of its man-hours"
    return f"{state.stage} {percent(1 - state.left)} done, {how}"


def _decided(title: str, decided: tuple[Decided, ...], why: str) -> Iterator[str]:
    if not decided:
        return
    yield f"{title} ({len(decided)}):"
    for one in decided:
        yield f"  {one.check}  {decided_in_words(one, why) or 'named on the command line'}"


def decided_in_words(one: Decided, why: str) -> str:
    """Return which day has passed that decides it, ``why`` being the plan's; blank for none."""
    if one.decide_by is not None:
        return f"Decide by {day(one.decide_by)} has passed, and {why}"
    return f"Latest in {day(one.latest_in)} has passed" if one.latest_in is not None else ""


def _for_a_person(messages: list[Message]) -> Iterator[str]:
    if not messages:
        yield "Nothing needs a person."
        return
    yield f"What needs a person ({len(messages)}):"
    for message in messages:
        yield f"  {message}"
