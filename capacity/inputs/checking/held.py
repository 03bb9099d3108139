"""Cross checks of checks that are held without being fixed, and of days to decide by."""

from collections.abc import Iterator
from datetime import timedelta

from capacity.inputs.checking.checks import is_in
from capacity.inputs.checking.references import is_unknown, unknown
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow, CheckRow
from capacity.messages import Level, Message
from capacity.words import day

HOLDS = {"in day": ("fixed_in",), "bay": ("fixed_bay",), "both": ("fixed_in", "fixed_bay")}
"""The cells that say where a check is held, by what it is held in."""


def held_checks_say_where(sheets: Sheets) -> Iterator[Message]:
    """Require the day and the bay in which a check is held; a fixed one cannot be held."""
    for check in sheets[CheckRow].rows:
        if check.held and check.is_fixed:
            yield Message(
                Level.ERROR,
                sheets.at(check, "held"),
                f"'{check.check}' is fixed, and so held in both its day and its bay already.",
                "Clear Held, or make the check booked.",
            )
        for field in HOLDS.get(check.held, ()) if check.is_held else ():
            if getattr(check, field) is None:
                yield Message(
                    Level.ERROR,
                    sheets.at(check, field),
                    f"'{check.check}' is held in its {_named(field)}, but "
                    f"{check.heading(field)} is blank.",
                    "Fill it in, or clear Held.",
                )
        if check.held_bay and is_unknown(sheets, check.held_bay, BayRow):
            yield unknown(sheets, check, "fixed_bay", check.held_bay, BayRow)


def held_days_lie_in_their_window(sheets: Sheets) -> Iterator[Message]:
    """Require that a check is held on a day on which it may come in."""
    plan = sheets.settings
    for check in sheets[CheckRow].rows:
        held_in = check.held_in
        if plan is None or held_in is None or not (check.earliest_in and check.latest_in):
            continue
        first = max(check.earliest_in, plan.first_day)
        delay = 0 if check.status == "option" else plan.longest_delay_days
        last = min(check.latest_in + timedelta(days=delay), plan.last_in_day)
        where = sheets.at(check, "fixed_in")
        held = f"'{check.check}' is held to come in on {day(held_in)}"
        if not first <= held_in <= last:
            yield Message(
                Level.ERROR,
                where,
                f"{held}, but it may come in from {day(first)} to {day(last)} only.",
                "Correct Fixed in, the window or Weeks, or clear Held.",
            )
        elif held_in > check.latest_in:
            yield Message(
                Level.WARNING,
                where,
                f"{held}, past its Latest in {day(check.latest_in)}.",
                "Correct one of the two, if one is wrong.",
            )


def decisions_are_of_options(sheets: Sheets) -> Iterator[Message]:
    """Require that only options have a day to decide by, one that is not past their window."""
    today = sheets.work_left_from
    for check in sheets[CheckRow].rows:
        if check.decide_by is None:
            continue
        where = sheets.at(check, "decide_by")
        if check.status != "option":
            yield Message(
                Level.ERROR,
                where,
                f"Decide by is for options, and '{check.check}' is {check.status}.",
                "Clear it, or make the check an option.",
            )
        elif today is not None and check.decide_by < today and not is_in(check, sheets):
            yield Message(
                Level.WARNING,
                where,
                f"the option '{check.check}' has lapsed and is not taken: Decide by "
                f"{day(check.decide_by)} is before {day(today)}.",
                "Put Decide by later, make the check booked, or leave it out.",
            )
        elif check.latest_in is not None and check.decide_by > check.latest_in:
            yield Message(
                Level.WARNING,
                where,
                f"Decide by {day(check.decide_by)} is after Latest in {day(check.latest_in)}: it "
                f"would have to come in before '{check.check}' is decided.",
                "Correct one of the two, if one is wrong.",
            )


def _named(field: str) -> str:
    return "in day" if field == "fixed_in" else "bay"
