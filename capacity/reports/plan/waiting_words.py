"""What waits for what, in a planner's sentences."""

from collections.abc import Callable, Iterator

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.plan import Plan
from capacity.plans.waiting import Waiting, waiting_in
from capacity.words import day, days

Where = Callable[[str, str, str], str]

WHAT_IT_COSTS = "capacity explain --ready-dates says what that costs."


def waiting_messages(plan: Plan, base: Base, where: Where) -> Iterator[Message]:
    """Yield a note for each Ready date that holds a stage of the plan back."""
    for line in waiting_in(plan, base):
        if line.waits:
            place = where("Ready dates", f"#{line.row + 1}", "Not before")
            yield Message(
                Level.NOTE,
                place,
                waits_in_words(line),
                WHAT_IT_COSTS,
            )


def waits_in_words(line: Waiting) -> str:
    """Return what a stage waits for, how long, and by how much that makes its check later."""
    ready = line.ready
    what = f" for '{ready.reason}'" if ready.reason else ""
    later = (
        f"{ready.check} is out {days(line.longer)} later for it"
        if line.longer
        else f"{ready.check} is out no later for it"
    )
    return (
        f"'{ready.stage}' of {ready.check} waits {days(line.waits)}{what}, until "
        f"{day(ready.not_before)}; {later}."
    )
