"""What a crew plan comes to, in sentences."""

from datetime import timedelta

from capacity.crews.assign import Staffed
from capacity.facts import Base
from capacity.reports.crews.wording import bought_in_words
from capacity.words import counted, day, hours

STOPPED = "It was stopped. This is the best crew plan found until then."
NOTHING_BETTERED = (
    "The time was enough for a first crew plan only: it keeps every rule, but nothing is proven of "
    "it. Allow more seconds for a better one."
)


def crew_sentences(staffed: Staffed, base: Base) -> list[str]:
    """Return which days are staffed, what is asked and assigned, and what is bought."""
    made, audit = staffed.plan, staffed.audit
    last = made.until - timedelta(days=1)
    return [
        f"Crews of {base.name} from {day(made.first_day)} to {day(last)}: demand "
        f"{hours(audit.asked)}; assigned {hours(audit.given)}, of that overtime "
        f"{hours(audit.overtime)}; contract labour to be hired {hours(audit.bought)}; overload "
        f"{hours(audit.short)}. "
        f"{counted(audit.crews_per_aircraft, 'crew-aircraft pair')}.",
        bought_in_words(staffed.bought),
    ]
