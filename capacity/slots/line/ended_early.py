"""What it means for the plan that one side of the search broke down."""

import signal

from capacity.messages import Level, Message

SEARCH = "search"
REMEDY = "Plan again, from this plan, before you rely on it."
MEANING = {
    "find": (
        "the search for better plans ended early: {why}. The plan is the best found until then.",
        REMEDY,
    ),
    "prove": (
        "the proof ended early: {why}. The plan stands; how much a better one could save is "
        "known only as far as it was proven until then.",
        "Plan again, from this plan, to have it proven.",
    ),
}


def ended_early(side: str, why: str) -> Message:
    """Return the warning that a side ended before its time."""
    what, remedy = MEANING[side]
    return Message(Level.WARNING, SEARCH, what.format(why=why), remedy)


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
