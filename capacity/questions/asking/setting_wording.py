"""The rules that stand on the sheet Base, and what the planning period leaves of a window."""

from datetime import date, timedelta

from capacity.cells import Where, cells
from capacity.facts import Base, Check
from capacity.facts.planning_period import is_cut
from capacity.questions.conflicts.rules import Kind, Rule
from capacity.words import counted, day, days

OF_SETTINGS = frozenset({Kind.PERIOD, Kind.DAYS_OFF, Kind.WAIT})


def setting_text(rule: Rule, base: Base, where: Where) -> str:
    """Return a rule of the sheet Base as a planner would say it, with its cells."""
    match rule.kind:
        case Kind.PERIOD:
            return (
                f"nobody comes in after {day(base.last_in_day)}, the end of the "
                f"{counted(base.weeks, 'week')} planned {at_setting(where, 'Weeks')}"
            )
        case Kind.DAYS_OFF:
            holidays = " and Holidays" if base.holidays is not None else ""
            at = at_setting(where, "Working days")
            return f"the base does not work every day: Working days{holidays} {at}"
        case _:
            at = at_setting(where, "Longest wait days")
            return (
                f"an aircraft waits up to {days(base.longest_wait_days)} for its next bay or "
                f"its turn at a shop {at}"
            )


def at_setting(where: Where, setting: str) -> str:
    """Return the cell of a setting in brackets."""
    return cells(where, "Base", setting, "Value")


def window_text(check: Check, base: Base, where: Where) -> str:
    """Return the days on which a check may come in, as the planning period leaves them."""
    at = cells(where, "Checks", check.name, "Earliest in", "Latest in")
    first, last = max(check.earliest_in, base.first_day), min(check.latest_in, base.last_in_day)
    text = f"in from {day(first)} to {day(last)} {at}"
    if check.latest_in < base.first_day:
        return f"{_whole(check)} {at}, which is over before the plan begins"
    if check.earliest_in > base.last_in_day:
        return f"{_whole(check)} {at}, all after the planning period"
    parts = []
    if check.earliest_in < base.first_day:
        parts.append(
            f"First day {at_setting(where, 'First day')}: Earliest in is {day(check.earliest_in)}"
        )
    if is_cut(check, base):
        parts.append(f"Weeks {at_setting(where, 'Weeks')}: Latest in is {day(check.latest_in)}")
    return f"{text}, cut short by {', and by '.join(parts)}" if parts else text


def _whole(check: Check) -> str:
    return f"in from {day(check.earliest_in)} to {day(check.latest_in)}"


def last_of_delay(check: Check, base: Base) -> date:
    """Return the last day on which a booked check may come in late, within the period."""
    return min(check.latest_in + timedelta(days=base.longest_delay_days), base.last_in_day)
