"""Fixed checks that have a choice left: settled before anything else is."""

import numpy as np

from capacity.errors import StoppedError
from capacity.facts import Status
from capacity.search_settings import SearchSettings
from capacity.slots.candidates import Slots
from capacity.slots.engines.highs import Listener, branch_and_cut
from capacity.slots.line.heed import Heed, nobody_stops
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import days_form
from capacity.slots.program.program import Program


def fixed_first(
    program: Program, slots: Slots, settings: SearchSettings, heed: Heed = nobody_stops
) -> Choice:
    """Return a choice of the fixed checks only, as many of them placed as can be.

    They are few and each has few candidates, so that this takes no time to speak of.
    ``heed`` is called while that lasts and may raise.
    """
    chosen = np.full(len(program.checks), -1, dtype=np.int64)
    is_fixed = np.array(
        [c.courses.check.status is Status.FIXED for c in slots.candidates], dtype=np.bool_
    )
    if not is_fixed.any():
        return chosen
    restricted = program.restricted_to(is_fixed[program.check_of])
    listener = Listener(stop=lambda: _is_over(heed))
    seconds = settings.seconds_for_fixed_checks
    solved = branch_and_cut(days_form(restricted.program), None, seconds, listener=listener)
    heed()  # what was found until then may lack a check that could be placed
    return chosen if solved.chosen is None else restricted.to_whole(solved.chosen)


def _is_over(heed: Heed) -> bool:
    """Return whether the work is to end; nothing is raised through a solver's callback."""
    try:
        heed()
    except StoppedError:
        return True
    return False
