"""How a side that finds plans shares out its time, by its number.

The first does a bit of everything. Where there are several, each further one does one thing for
most of its time, in turn: cross plans of the pool, anneal apart from the others, solve
neighbourhoods of the best plan. Whoever anneals goes its own way at first: where an annealing
begins decides in which valley it ends, and sides that all went on from the best plan known would
all be in that one's.
"""

from dataclasses import dataclass

from capacity.search_settings import SearchSettings
from capacity.slots.finding.wide_neighbourhoods import pays_for
from capacity.slots.program.program import Program


@dataclass(frozen=True)
class Ways:
    """Shares of each annealing's time for crossing plans over, and for exact neighbourhoods.

    ``breeding`` is of what the others leave, and none of the first annealing's. What is left
    anneals from the best plan; or where a side goes ``apart``, from its own best one for that share
    of the whole time, and then from any good one. ``by_window`` says that a long plan is annealed
    by windows; ``widens`` that wide neighbourhoods are solved, of a program with many columns.
    """

    breeding: float
    polish: float
    by_window: bool
    apart: float = 0.0
    widens: bool = False


def ways_of(number: int, program: Program, timing: SearchSettings) -> Ways:
    """Return the ways of the side with that ``number``, from 1 on."""
    counts_days = program.hours.days is not None
    by_window = len(program.checks) > timing.most_checks_without_windows
    polish = timing.polish_by_day_share if counts_days else timing.polish_share
    # Where days are priced, and the rounds know weeks only, crossing over has not been tried.
    breeds = not (by_window or counts_days)
    widens = pays_for(program, timing)
    usual = Ways(timing.breeding_share if breeds else 0.0, polish, by_window, widens=widens)
    if number == 1:
        return usual
    match (number - 2) % 3:
        case 0 if breeds:
            return Ways(timing.further_breeding_share, 0.0, by_window, timing.apart_share)
        case 2:
            return Ways(0.0, timing.further_polish_share, by_window, widens=widens)
        case _:
            apart = 0.0 if by_window else timing.apart_share
            return Ways(0.0, 0.0 if breeds else polish, by_window, apart)
