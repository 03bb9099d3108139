"""Bases planned together in lines for a terminal."""

from collections.abc import Iterator

from capacity.facts import Network
from capacity.network.values import NetworkImpossible, NetworkOutcome, NetworkPlanned
from capacity.plans.outcome import OutOfTime
from capacity.reports.kit.cell_text import printable
from capacity.reports.network.wording import (
    BREAK_EVEN,
    all_sentences,
    of_base,
    of_not_taken,
    of_taken,
)
from capacity.reports.plan.wording import CAUTION

MOST_LINES = 60


def network_in_words(outcome: NetworkOutcome, network: Network) -> str:
    """Return what came out, base by base, and what no base takes."""
    match outcome:
        case NetworkPlanned():
            lines = list(_planned(outcome, network))
        case NetworkImpossible():
            lines = [
                f"There is no plan: the fixed checks of {outcome.at} conflict with each other."
            ]
            lines += [f"  - {sentence}" for sentence in outcome.why]
        case OutOfTime():
            lines = ["There was no time for a plan of every base. Allow more seconds."]
    if len(lines) > MOST_LINES:
        more = len(lines) - MOST_LINES
        lines = [*lines[:MOST_LINES], f"and {more} more lines; --out has all of it"]
    return "\n".join(printable(line) for line in lines)


def _planned(answer: NetworkPlanned, network: Network) -> Iterator[str]:
    yield from all_sentences(answer, network)
    for one in answer.bases:
        yield f"  {of_base(one)}"
        for taken in one.taken:
            yield f"    {of_taken(taken, network)}"
    for missed in answer.not_taken:
        yield f"  {of_not_taken(missed, network)}"
    if answer.not_taken:
        yield BREAK_EVEN
    for note in answer.notes:
        yield str(note)
    yield CAUTION
