"""What it means for the plan that one side of the search broke down."""

import signal

from capacity.messages import Level, Message
from capacity.slots.line.naming import FINDING, PROVING, kind_of

SEARCH = "search"
REMEDY = "Plan again, from this plan, before you rely on it."
MEANING = {
    FINDING: (
        "the search for better plans ended early: {why}. The plan is the best found until then.",
        REMEDY,
    ),
    PROVING: (
        "the proof ended early: {why}. The plan stands; how much a better one could save is "
        "known only as far as it was proven until then.",
        "Plan again, from this plan, to have it proven.",
    ),
}


def ended_early(side: str, why: str) -> Message:
    """Return the warning that a side ended before its time, without which its work stops."""
    what, remedy = MEANING[kind_of(side)]
    return Message(Level.WARNING, SEARCH, what.format(why=why), remedy)


def one_of_several_ended_early(number: int, why: str) -> Message:
    """Return the warning that one of several sides that find plans ended; the others go on."""
    return Message(
        Level.WARNING,
        SEARCH,
        f"process {number} of those that look for better plans ended early: {why}. The others "
        "went on.",
        "If it happens again, let fewer processes search: each needs memory.",
    )


def how_it_died(code: int) -> str:
    """Return how a process ended, by the code that the system gives: below 0 it was a signal."""
    if code >= 0:
        return f"its process ended with code {code}"
    try:
        name = signal.Signals(-code).name
    except ValueError:
        name = f"signal {-code}"
    if name == "SIGKILL":
        return "its process was killed, by a person or by a system that runs out of memory"
    return f"its process was ended by {name}"
