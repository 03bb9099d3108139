"""Days of the base's own calendar as people read them."""

from capacity.facts import CalendarDays
from capacity.words.figures import day, percent


def own_days(own: CalendarDays) -> str:
    """Return ``Fri 24 Dec 2027: closed (shutdown)``; several days as ``... to ...``."""
    span = day(own.first)
    if own.last > own.first:
        span += f" to {day(own.last)}"
    said = {True: ["worked"], False: ["closed"], None: []}[own.worked]
    if own.hours_share < 1:
        said.append(f"{percent(own.hours_share)} of the hours of each shift")
    reason = f" ({own.reason})" if own.reason else ""
    return f"{span}: {', '.join(said)}{reason}"
