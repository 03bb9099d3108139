"""What a re-plan says in words, for the workbook and the terminal."""

from math import fsum

from capacity.facts import Base
from capacity.plans.work_left import work_left
from capacity.questions.asking.ways_tried import proof_speaks_of
from capacity.questions.replan.values import Cause, Change, Reason, Replanned, What
from capacity.reports.enquiries.wording import named
from capacity.reports.plan.wording import ENDED_BY
from capacity.words import (
    LEAST_HOURS,
    LEAST_MONEY,
    counted,
    day,
    days,
    hours,
    listed,
    money,
    percent,
)

MOVE_PRICES = (
    "What moves count is a weight in the search; nobody pays it. The old arrangement is the plan "
    "in force wherever it is still possible, with every other check in its cheapest slot beside "
    "it."
)

WHAT = {
    What.NEW: "new",
    What.CANCELLED: "cancelled",
    What.PLACED: "now has a slot",
    What.UNPLACED: "no slot any more",
    What.DAY: "another in day",
    What.BAY: "another bay",
    What.STAGES: "other days of stages",
}
"""What is different about a check, in words."""


def what_in_words(change: Change) -> str:
    """Return everything that is different about a check."""
    if change.what == (What.NEW, What.UNPLACED):
        return "new, no slot"
    return ", ".join(WHAT[what] for what in change.what)


def work_done_in_words(base: Base) -> str:
    """Return what a re-plan leaves as it was worked; empty where no hours are levelled."""
    if not base.work_done:
        return ""
    checks = len({done.check for done in base.work_done})
    return (
        f"Levelled man-hours worked before {day(base.work_left_from)} stay in their weeks "
        f"({counted(checks, 'check')} in work or done); only what is left is levelled anew."
    )


def why_in_words(change: Change, base: Base) -> str:
    """Return all reasons of a change."""
    said = [reason_in_words(reason, base) for reason in change.why]
    check = base.check(change.check) if base.has_check(change.check) else None
    of_work = any(reason.cause in (Cause.GREW, Cause.SHRANK, Cause.WORK) for reason in change.why)
    if of_work and check is not None and base.progress_of(check.name):
        works = work_left(base, check)
        left = fsum(work.total for work in works)
        goes_on = base.goes_on_from(check) or base.first_day
        still = f"{hours(left)} of it are left from {day(goes_on)}"
        said.append(still if works else "all work on it is finished")
    elif of_work and check is not None and check.remaining is not None:
        said.append(f"{percent(check.remaining)} of it is left from {day(base.work_left_from)}")
    if of_work and check is not None:
        said += _what_it_waits_for(change.check, base)
    return "; ".join(said)


def _what_it_waits_for(check: str, base: Base) -> list[str]:
    """Return the Ready dates of a check that lie ahead: they may be what moved its stages."""
    today = base.work_counts_from or base.first_day
    return [
        f"{ready.stage} is not ready before {day(ready.not_before)}"
        + (f" ({ready.reason})" if ready.reason else "")
        for ready in base.ready_dates
        if ready.check == check and ready.not_before > today
    ]


def reason_in_words(reason: Reason, base: Base) -> str:
    """Return one reason, such as ``N-07 and N-08 stand in its place``."""
    match reason.cause:
        case Cause.NEW:
            return "it was not in the plan before"
        case Cause.CANCELLED:
            return "it is no longer in the workbook"
        case Cause.FIXED:
            return "the workbook fixes it there"
        case Cause.SLIPPED:
            way = "later" if reason.days > 0 else "earlier"
            return f"its window slipped {days(abs(reason.days))} {way} than its old in day allows"
        case Cause.GREW | Cause.SHRANK:
            return f"its work {reason.cause}{_by_how_much(reason)}"
        case Cause.WORK:
            return "its stages now have other days"
        case Cause.LAPSED:
            return "the option has lapsed: its Decide by has passed"
        case Cause.HELD:
            return "the workbook holds it there"
        case Cause.DAY_OFF:
            return "aircraft no longer come in, move or leave on days off"
        case Cause.PLACE_GONE:
            return "its old slot is gone: closed, taken, or no longer right for the work"
        case Cause.DISPLACED:
            who = named(reason.by) if reason.by else "checks that are fixed"
            return f"displaced by {who}"
        case Cause.CHEAPER:
            return f"cheaper: otherwise the plan would cost {money(reason.money, base)} more"
        case Cause.FEWER_DAYS_PAST:
            return f"otherwise {days(reason.days)} more past Latest in"
        case Cause.MADE_ROOM:
            return (
                f"it moves for {named(reason.by)}: otherwise the plan would cost more, or have no "
                "slot for all of them"
            )
        case Cause.IN_THE_WAY:
            return f"{named(reason.by)} in the way of its slots" if reason.by else "no slot fits it"
        case Cause.PAST_LATEST_IN:
            return f"its old in day would be {days(reason.days)} past its Latest in"


def moved_in_words(change: Change) -> str | None:
    """Return ``3 days later``; None where the in day is the same or there are not two."""
    if not change.days_moved:
        return None
    return f"{days(abs(change.days_moved))} {'later' if change.days_moved > 0 else 'earlier'}"


def saved_in_words(answer: Replanned) -> str:
    """Return one sentence on what the new plan is better by than the old arrangement."""
    if not answer.changes:
        return "Nothing changes: every slot is as before."
    base = answer.base
    gained = []
    if answer.days_past_saved > 0:
        gained.append(f"has {counted(answer.days_past_saved, 'fewer day')} past Latest in")
    if abs(answer.saved) >= LEAST_MONEY:
        word = "less" if answer.saved > 0 else "more"
        gained.append(f"costs {money(abs(answer.saved), base)} {word}")
    said = " and ".join(gained) or "costs as much and has as many days past Latest in"
    return (
        f"{counted(len(answer.changes), 'check')} changed. Compared with the old arrangement the "
        "new "
        f"plan {said}; its moves count as {money(answer.found.move_price, base)} in the search "
        "(nobody pays this)."
    )


def proof_in_words(answer: Replanned) -> str:
    """Return one sentence on how much better a plan could be, move prices counted."""
    base, total = answer.base, answer.found.money + answer.found.move_price
    conditions = [
        *(["with no more days past Latest in"] if answer.found.days_past else []),
        *(["with what is due now where it is"] if answer.freeze.held else []),
    ]
    given = listed(conditions)
    condition = f"{given}, no" if given else "no"
    condition_of_saving = f"{given[0].upper()}{given[1:]}, a " if given else "A "
    if answer.bound is None or answer.gap is None:
        return "How much a better plan could save is not known: no lower bound was proven."
    left = max(0.0, total - answer.bound)
    if left < LEAST_MONEY:
        return (
            f"With its moves the plan comes to {money(total, base)}. Proven: {condition} plan "
            "comes "
            f"to less.{proof_speaks_of(base)}"
        )
    return (
        f"With its moves the plan comes to {money(total, base)}. {condition_of_saving}better one "
        f"could still save at most {money(left, base)} ({percent(answer.gap)}); this is proven."
        f"{proof_speaks_of(base)}"
    )


def search_in_words(answer: Replanned) -> str:
    """Return how long the search took, what ended it, and what to know of how it went."""
    ended_by = ENDED_BY.get(answer.stopped_by, answer.stopped_by)
    search = f"Search: {answer.seconds:.0f} s; ended by {ended_by}."
    return " ".join([search, *map(str, answer.notes)])


def begun_in_words(answer: Replanned) -> str:
    """Return who is in already and so keeps bay and in day."""
    if not answer.begun:
        return "No check is in already."
    return f"In already, so bay and in day stay ({len(answer.begun)}): {', '.join(answer.begun)}."


def freeze_in_words(answer: Replanned) -> tuple[str, ...]:
    """Return what the freeze window holds, and each check that could not stay, with its reason."""
    freeze, base = answer.freeze, answer.base
    is_today = freeze.last == answer.today
    until = "today" if is_today else f"from today to {day(freeze.last)}"
    said = []
    if freeze.held:
        number = f"{len(freeze.held)}"
        said.append(
            f"Due {until}, so bay and in day stay ({number}): {', '.join(freeze.held)}. This "
            "comes before days past Latest in and cost."
        )
    elif not is_today and not freeze.broken:
        said.append(f"No check is due {until}.")
    for hold in freeze.broken:
        why = "; ".join(reason_in_words(reason, base) for reason in hold.why)
        said.append(f"{hold.check} was due {until} and cannot stay: {why}.")
    return tuple(said)


def _by_how_much(reason: Reason) -> str:
    said = []
    if reason.days:
        way = "longer" if reason.days > 0 else "shorter"
        said.append(f"{days(abs(reason.days))} {way}")
    if abs(reason.man_hours) >= LEAST_HOURS:
        way = "more" if reason.man_hours > 0 else "fewer"
        said.append(f"{hours(abs(reason.man_hours))} of work {way}")
    return f": {', '.join(said)}" if said else ""
