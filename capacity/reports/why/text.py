"""Why, in lines: what the terminal and the dashboard both say."""

from capacity.cells import Where
from capacity.facts import Base
from capacity.questions.why.explain import Explanation
from capacity.questions.why.in_one_line import in_one_line
from capacity.questions.worth.values import Worths
from capacity.questions.worth.wording import worth_sentences

NO_READY_DATES = "There is no Ready date to try."
NO_READY_DATE = "The check has no Ready date to try."


def why_in_words(found: Explanation, base: Base) -> tuple[str, ...]:
    """Return what was found, the answer in one line first."""
    return in_one_line(found, base), *found.sentences


def ready_dates_in_words(
    worths: Worths, base: Base, where: Where, check: str | None = None
) -> tuple[str, ...]:
    """Return what each Ready date costs, of one check where it is named; or that there is none."""
    if not has_any(worths):
        return (NO_READY_DATES if check is None else NO_READY_DATE,)
    return tuple(worth_sentences(worths, base, where))


def has_any(worths: Worths) -> bool:
    """Return whether there was any change to try."""
    return bool(worths.worths or worths.not_tried)
