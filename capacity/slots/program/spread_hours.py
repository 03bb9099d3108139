"""Where the hours of every stage of a choice lie, once all are levelled as cheaply as can be."""

from collections import defaultdict
from collections.abc import Mapping
from math import fsum

from capacity.plans.plan import WeekHours
from capacity.slots.candidates import Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_spread import DaySpread
from capacity.slots.program.program import Program

TINY = 1e-12
Stated = Mapping[tuple[str, str], tuple[WeekHours, ...]]
"""Hours by check and stage."""


def spread_hours(chosen: Choice, program: Program, slots: Slots) -> Stated:
    """Return where the hours of all stages lie that can be levelled, those settled among them."""
    if program.hours.days is not None:
        return _by_day(program.hours.on_days(program.load(chosen)), slots)
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


def _by_day(spread: DaySpread, slots: Slots) -> Stated:
    """Return the same where days are priced: each week with its days."""
    stated: defaultdict[tuple[str, str], list[WeekHours]] = defaultdict(list)
    for strand, found in zip(spread.strands, spread.hours, strict=True):
        by_week: defaultdict[int, defaultdict[int, float]] = defaultdict(lambda: defaultdict(float))
        days = (*strand.done_on.tolist(), *strand.days.tolist())
        for day, amount in zip(days, (*strand.done, *found), strict=True):
            if amount > TINY:
                by_week[int(slots.calendar.week[day])][day] += float(amount)
        for week, of_week in sorted(by_week.items()):
            stated[strand.check, strand.stage].append(
                WeekHours(
                    strand.skill,
                    slots.calendar.week_names[week],
                    fsum(of_week.values()),
                    tuple((slots.calendar.date(day), of_week[day]) for day in sorted(of_week)),
                )
            )
    return {key: tuple(weeks) for key, weeks in stated.items()}
