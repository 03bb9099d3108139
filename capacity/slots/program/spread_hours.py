"""Where the hours of every stage of a choice lie, once all are levelled as cheaply as can be."""

from collections import defaultdict
from collections.abc import Mapping

from capacity.plans.plan import WeekHours
from capacity.slots.candidates import Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

TINY = 1e-12
Stated = Mapping[tuple[str, str], tuple[WeekHours, ...]]
"""Hours by check and stage."""


def spread_hours(chosen: Choice, program: Program, slots: Slots) -> Stated:
    """Return where the hours of all stages lie that can be levelled, those settled among them."""
    spread = program.hours.spread(program.load(chosen))
    stated: defaultdict[tuple[str, str], list[WeekHours]] = defaultdict(list)
    kinds = program.hours.supply.kinds
    for strand, found in zip(spread.strands, spread.hours(), strict=True):
        by_cell: defaultdict[int, float] = defaultdict(float)
        cells = (*strand.done_in.tolist(), *strand.cell.tolist())
        for cell, amount in zip(cells, (*strand.done, *found), strict=True):
            by_cell[cell] += float(amount)
        for cell, amount in by_cell.items():
            if amount > TINY:
                week = slots.calendar.week_names[cell // kinds]
                stated[strand.check, strand.stage].append(WeekHours(strand.skill, week, amount))
    return {key: tuple(weeks) for key, weeks in stated.items()}
