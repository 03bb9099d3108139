"""Working-time limits and breaches in words, always as caution."""

from capacity.words import day
from capacity.working_time.averages import HoursAddedUp
from capacity.working_time.breaches import Broken
from capacity.working_time.duty import ONE_DAY
from capacity.working_time.limits import Breach, Limit

CAUTION = (
    "Shown as caution only: local law, collective agreements and the organisation's fatigue "
    "procedures go before these limits, and keeping them does not make a roster safe."
)


def limit_in_words(limit: Limit) -> str:
    """Return one line: ``rest between two shifts: at least 11 h (source; seen)``."""
    return (
        f"{limit.what}: {_bound(limit, limit.number)} {limit.unit} "
        f"({limit.source}; number {limit.known})"
    )


def breach_in_words(breach: Breach) -> str:
    """Return one line: ``rest between two shifts: 10.5 h on Tue 5 Jan 2027, at least 11 h``."""
    limit = breach.limit
    return (
        f"{limit.what}: {_number(breach.value)} {limit.unit} on {day(breach.day)}, "
        f"{_bound(limit, breach.bound)} {limit.unit}"
    )


def broken_in_words(broken: Broken) -> str:
    """Return one line with the crew, its worst breach and how often the limit is exceeded."""
    often = "" if broken.times == 1 else f", {broken.times} times in all"
    return f"crew {broken.crew}, {breach_in_words(broken.worst)}{often}"


def added_up_in_words(added: HoursAddedUp) -> str:
    """Return one line with the average over the reference period, and the worst case as one.

    ``average weekly hours with overtime: 43.6 h a person on average over the crew, from ...``.
    """
    limit = added.limit
    words = [
        f"{limit.what}: {_number(added.value)} {limit.unit} a person on average over the crew, "
        f"from {day(added.first)} to {day(added.until - ONE_DAY)}, "
        f"{_bound(limit, limit.number)} {limit.unit}"
    ]
    if added.is_filled:
        words.append(
            "outside this plan as the roster has it, without overtime; in the weeks of this plan "
            f"alone {_number(added.alone)} {limit.unit}"
        )
    if round(added.worst, 2) > round(added.alone, 2):
        words.append(
            f"worst case {_number(added.worst)} {limit.unit}, if one person is always on the "
            "aircraft with most overtime"
        )
    return "; ".join(words)


def _bound(limit: Limit, number: float) -> str:
    return f"{'at least' if limit.at_least else 'at most'} {_number(number)}"


def _number(value: float) -> str:
    return f"{round(value, 2):g}"
