"""Cross checks of the dates and figures of each check by itself."""

from collections.abc import Iterator
from datetime import timedelta

from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow
from capacity.messages import Level, Message
from capacity.words import day, days

ONLY_FIXED = "is used on fixed checks, and on those that are Held in it"


def windows_are_given(sheets: Sheets) -> Iterator[Message]:
    """Require the days between which a check that is to get a slot may start."""
    for check in sheets[CheckRow].rows:
        for field in ("earliest_in", "latest_in"):
            if not check.is_fixed and getattr(check, field) is None:
                yield Message(
                    Level.ERROR,
                    sheets.at(check, field),
                    f"{check.heading(field)} of the {check.status} check '{check.check}' is blank.",
                    "Fill it in; only a fixed check may leave it blank.",
                )


def windows_run_forward(sheets: Sheets) -> Iterator[Message]:
    """Require that ``Earliest in`` is not after ``Latest in``."""
    for check in sheets[CheckRow].rows:
        if check.earliest_in and check.latest_in and check.earliest_in > check.latest_in:
            yield Message(
                Level.ERROR,
                sheets.at(check, "latest_in"),
                f"Latest in {day(check.latest_in)} is before Earliest in {day(check.earliest_in)}.",
                "Correct one of the two.",
            )


def windows_meet_the_plan(sheets: Sheets) -> Iterator[Message]:
    """Require a day of the plan's weeks in the window, or past it within the longest delay."""
    plan = sheets.settings
    if plan is None:
        return
    for check in sheets[CheckRow].rows:
        if is_in(check, sheets) or not (check.earliest_in and check.latest_in):
            continue
        delay = 0 if check.status == "option" else plan.longest_delay_days
        if check.earliest_in > plan.last_in_day:
            yield Message(
                Level.ERROR,
                sheets.at(check, "earliest_in"),
                f"Earliest in {day(check.earliest_in)} is after {day(plan.last_in_day)}, the last "
                "day "
                "on which a check can come in under this plan.",
                "Leave the check out of this plan, or raise Weeks.",
            )
        elif check.latest_in + timedelta(days=delay) < plan.first_day:
            late = f", even with {days(delay)} of delay," if delay else ""
            yield Message(
                Level.ERROR,
                sheets.at(check, "latest_in"),
                f"Latest in {day(check.latest_in)}{late} is before the First day "
                f"{day(plan.first_day)}.",
                "Correct it, make the check fixed if it is in already, or leave it out.",
            )
        elif check.latest_in < plan.first_day:
            yield Message(
                Level.WARNING,
                sheets.at(check, "latest_in"),
                f"the check '{check.check}' is overdue: Latest in {day(check.latest_in)} is before "
                f"the First day {day(plan.first_day)}.",
                "It can only come in past its Latest in; correct the date if it is wrong.",
            )


def windows_lie_within_the_plan(sheets: Sheets) -> Iterator[Message]:
    """Note each window of which the planning period leaves a part only."""
    plan = sheets.settings
    if plan is None:
        return
    for check in sheets[CheckRow].rows:
        earliest, latest = check.earliest_in, check.latest_in
        if check.is_fixed or not (earliest and latest) or earliest > latest:
            continue
        first, last = max(earliest, plan.first_day), min(latest, plan.last_in_day)
        if first > last:
            continue
        left = f"{days((last - first).days + 1)} of {(latest - earliest).days + 1}"
        whole = (
            f"the window of '{check.check}', {day(earliest)} to {day(latest)}, is cut by the "
            "planning period"
        )
        if latest > plan.last_in_day:
            yield Message(
                Level.NOTE,
                sheets.at(check, "latest_in"),
                f"{whole}, which ends on {day(plan.last_in_day)}: {left} are left.",
                f"Raise Weeks ({sheets.at_setting('weeks')}) to plan with the whole window.",
            )
        if earliest < plan.first_day:
            yield Message(
                Level.NOTE,
                sheets.at(check, "earliest_in"),
                f"{whole}, which begins on {day(plan.first_day)}: {left} are left.",
                f"If it can come in before, put First day ({sheets.at_setting('first_day')}) "
                "earlier.",
            )


def agreed_out_is_after_the_window_opens(sheets: Sheets) -> Iterator[Message]:
    """Warn of a check that should be out before it may come in."""
    for check in sheets[CheckRow].rows:
        earliest = check.fixed_in if check.is_fixed else check.earliest_in
        if check.agreed_out and earliest and check.agreed_out <= earliest:
            yield Message(
                Level.WARNING,
                sheets.at(check, "agreed_out"),
                f"Agreed out {day(check.agreed_out)} is not after the first day {day(earliest)} "
                "on which "
                "the aircraft can come in.",
                "Correct it, or leave it blank.",
            )


def out_is_agreed_once(sheets: Sheets) -> Iterator[Message]:
    """Require that either a day or a number of days is agreed."""
    for check in sheets[CheckRow].rows:
        if check.agreed_out and check.agreed_days:
            yield Message(
                Level.ERROR,
                sheets.at(check, "agreed_days"),
                f"Agreed days {check.agreed_days} and Agreed out {day(check.agreed_out)} of "
                f"'{check.check}' are both given.",
                "Keep the one that was promised, and clear the other.",
            )


def figures_have_an_effect(sheets: Sheets) -> Iterator[Message]:
    """Warn of figures on a check that change nothing in the plan."""
    for check in sheets[CheckRow].rows:
        for field, idle, why in (
            ("fixed_bay", _is_idle(check, "fixed_bay"), ONLY_FIXED),
            ("fixed_in", _is_idle(check, "fixed_in"), ONLY_FIXED),
            (
                "remaining",
                check.remaining is not None and not is_in(check, sheets),
                "is meant for a check that is already in, and so fixed; this one is planned with "
                "the work that is left",
            ),
            ("price", check.status != "option" and check.price, "counts for options only"),
            (
                "late_cost_per_day",
                check.late_cost_per_day and not check.agreed_out and not check.agreed_days,
                "has no effect without an Agreed out or Agreed days",
            ),
            (
                "wanted_cost_per_day",
                check.wanted_cost_per_day and not check.wanted_in,
                "has no effect without a Wanted in",
            ),
        ):
            if idle:
                yield Message(
                    Level.WARNING,
                    sheets.at(check, field),
                    f"{check.heading(field)} {why}, and '{check.check}' is {check.status}.",
                    f"Clear it, or correct the row of '{check.check}'.",
                )


def _is_idle(check: CheckRow, field: str) -> bool:
    """Whether the bay or the day of a check that is not fixed is not held either."""
    given = getattr(check, field) is not None and not check.is_fixed
    held = check.held_bay if field == "fixed_bay" else check.held_in
    return given and held is None


def is_in(check: CheckRow, sheets: Sheets) -> bool:
    """Say whether a check is in, or fixed: it has a bay then, and work that is left.

    One whose window now opens after the day of the plan before did not come.
    """
    if check.is_fixed or sheets.as_of is None:
        return check.is_fixed
    in_day = sheets.as_of.came_in.get(check.check)
    return in_day is not None and not (check.earliest_in and in_day < check.earliest_in)
