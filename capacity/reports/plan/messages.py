"""What a planner must know of the plan before a slot is promised, as messages."""

from collections.abc import Callable, Iterator
from datetime import date

from capacity.cautions.incompatible import incompatible_work
from capacity.cautions.messages import conflict_messages, single_person_messages
from capacity.cautions.two_people import critical_shifts
from capacity.facts import Base, Check, Status, is_cut, last_day_of, weeks_until
from capacity.labour.licences_ending import licences_ending
from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.man_hour_plan.messages import man_hour_messages
from capacity.messages import Level, Message
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned
from capacity.questions.asking.ways_tried import ways_tried_note
from capacity.reports.plan.day_messages import day_messages
from capacity.reports.plan.extra_words import extra_messages
from capacity.reports.plan.no_slot_sentences import refusal_sentences
from capacity.reports.plan.progress_words import progress_messages
from capacity.reports.plan.waiting_words import waiting_messages
from capacity.reports.plan.wording import is_over
from capacity.words import day, days, hours, week_dates

FEWER_WAYS = (
    "Narrow Shortest days and Longest days to what is really used, or lower Longest wait days."
)

EARLIER = "Bring it in earlier, or do not promise it before the date is extended."
FEWER_HOURS = "Move a check out of that week, or bring people in."
DECIDE = "Decide on it until then, or agree on a later day."

SOON_DAYS = 14
"""Options that lapse within so many days have a message before they do."""

Where = Callable[[str, str, str], str]
"""Gives the cell of the input for a sheet, the name of a row and a column."""


def plan_messages(outcome: Outcome, base: Base, where: Where | None = None) -> tuple[Message, ...]:
    """Return the messages about an outcome, what matters most first.

    Without ``where``, or for a name that it does not know, a message stands at its sheet.
    """
    match outcome:
        case Planned():
            return tuple(_of_plan(outcome, base, where or at_sheet))
        case Impossible():
            remedy = "Correct the fixed checks, or make one of them booked."
            return tuple(Message(Level.ERROR, "Checks", why, remedy) for why in outcome.why)
        case OutOfTime():
            return ()


def _cut(check: Check, base: Base) -> str:
    """Say what the planning period cuts off the days on which a check could come in."""
    if is_cut(check, base):
        until, latest = day(base.last_in_day), day(check.latest_in)
        return f" The planning period cuts its window, which ends on {until} instead of {latest}."
    if last_day_of(check, base) > base.last_in_day:
        until = day(base.last_in_day)
        return (
            f" The planning period, which ends on {until}, leaves it less than the longest delay."
        )
    return ""


def slot_remedy(check: Check, base: Base, where: Where) -> str:
    """Return what would give a check a slot, with the cell of the weeks where these cut it off."""
    usual = "widen its window, raise Longest delay days, or take another check out."
    if not _cut(check, base):
        return f"{usual[0].upper()}{usual[1:]}"
    weeks = weeks_until(last_day_of(check, base), base)
    more = "1 week" if weeks == 1 else f"{weeks} weeks"
    return f"Plan {more} more (Weeks, {where('Base', 'Weeks', 'Value')}), {usual}"


def at_sheet(sheet: str, name: str, column: str) -> str:
    """Return the sheet, where nobody knows the cell."""
    return sheet


def _of_plan(outcome: Planned, base: Base, where: Where) -> Iterator[Message]:
    yield from outcome.notes
    for name in outcome.plan.not_placed:
        yield Message(
            Level.WARNING,
            where("Checks", name, "Check"),
            f"the check '{name}' has no slot; it counts as "
            f"{days(base.longest_delay_days + 1)} past Latest in.{_cut(base.check(name), base)}",
            slot_remedy(base.check(name), base, where),
        )
    for account in outcome.audit.accounts:
        if account.days_past_latest_in:
            yield Message(
                Level.WARNING,
                where("Checks", account.check, "Latest in"),
                f"the check '{account.check}' comes in on {day(account.in_day)}, "
                f"{days(account.days_past_latest_in)} past its Latest in.",
                EARLIER,
            )
    for load in filter(is_over, outcome.audit.weeks):
        yield Message(
            Level.WARNING,
            where("Skills", load.skill, "Skill"),
            f"in {load.week}, from {day(week_dates(load.week)[0])}, {hours(load.overload)} of "
            f"{load.skill} are not covered, even with overtime and contract labour.",
            FEWER_HOURS,
        )
    yield from progress_messages(base, where)
    yield from waiting_messages(outcome.plan, base, where)
    yield from extra_messages(outcome.plan, base, where)
    yield from day_messages(outcome.day_shortages, base, where)
    yield from conflict_messages(incompatible_work(outcome.plan, base))
    yield from single_person_messages(critical_shifts(outcome.plan, base))
    yield from man_hour_messages(man_hour_plan(base, outcome.plan))
    if (note := ways_tried_note(base)) is not None:
        yield Message(Level.NOTE, where("Packages", "", "Days"), note, FEWER_WAYS)
    explained = {refusal.check: refusal for refusal in outcome.refusals}
    yield from _to_be_decided(base, where)
    yield from _licences_that_end(base, where)
    for name in outcome.plan.refused:
        if base.has_lapsed(base.check(name)):
            continue  # reading the workbook has said so
        why = refusal_sentences(explained.get(name), base)
        yield Message(
            Level.NOTE, where("Checks", name, "Price"), f"the option '{name}' is not taken: {why}"
        )


def _to_be_decided(base: Base, where: Where) -> Iterator[Message]:
    """Note the options that lapse within the next days unless they are decided."""
    for check, left in lapse_soon(base):
        yield Message(
            Level.NOTE,
            where("Checks", check.name, "Decide by"),
            f"the option '{check.name}' lapses {lapses_in_words(check.decide_by, left)}.",
            DECIDE,
        )


def lapse_soon(base: Base) -> Iterator[tuple[Check, int]]:
    """Yield the options that lapse within ``SOON_DAYS``, each with the days until then."""
    for check in base.checks:
        if check.decide_by is not None and check.status is Status.OPTION:
            left = (check.decide_by - base.work_left_from).days
            if 0 <= left <= SOON_DAYS:
                yield check, left


def lapses_in_words(decide_by: date | None, left: int) -> str:
    """Return after which day an option lapses, and how many days are ``left`` until it."""
    if decide_by is None:
        return ""
    how_soon = f"in {days(left)}" if left else "the first day planned from here"
    return f"after {day(decide_by)}, {how_soon}"


def _licences_that_end(base: Base, where: Where) -> Iterator[Message]:
    """Note the licences that end while the plan runs, and what hours that takes."""
    types = {aircraft.name for aircraft in base.types}
    for ending in licences_ending(base):
        licence = ending.licence
        people = "1 person" if licence.people == 1 else f"{licence.people} people"
        what = "authorisation for the type" if licence.of in types else "licence for"
        yield Message(
            Level.NOTE,
            where("Licences", f"#{ending.row + 1}", "Until"),
            f"the {what} '{licence.of}' of {people} of '{licence.crew}' ends with "
            f"{day(licence.until)}: {hours(ending.hours)} less in it until "
            f"{day(base.last_in_day)}.",
            "Have it renewed in time, or plan others.",
        )
