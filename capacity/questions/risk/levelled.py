"""Man-hours of simulated plans levelled anew: people react to what they find.

Stages keep the limits that the workbook gives them; in each draw hours move from weeks with more
demand than can be had to weeks with room, as far as their stages let them. What is left is the
overload of the draw. Whether an hour is regular or overtime makes no difference here.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.questions.risk.days import DrawnCheck, LaidCheck
from capacity.questions.risk.hours_done import StageDays, hours_of_skill
from capacity.questions.risk.simulated_plan import PlannedCheck
from capacity.slots.candidates import EARLIER, LATER, LESS, LIMITS, MORE, shares_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

# Hours move by so many weeks at the most, in so many passes: more changes hardly anything.
REACH, PASSES = 3, 3
TINY = 1e-9


def levelled_demand(
    demand: Floats,
    most: Floats,
    checks: Sequence[PlannedCheck],
    drawn: Sequence[DrawnCheck],
    laid: Sequence[LaidCheck],
    weeks: Sequence[str],
    skills: Sequence[str],
    calendar: Calendar,
) -> Floats:
    """Return the demand (weeks x skills, draws) as it is levelled in each draw.

    ``most`` (weeks x skills,) is what can be had. Rows run week by week through ``skills``.
    """
    if not any(stage.peak > 1.0 + TINY or stage.into_float for c in checks for stage in c.stages):
        return demand
    draws = demand.shape[1]
    limits = _limits(checks, drawn, laid, weeks, skills, calendar, draws)
    load = demand.reshape(len(weeks), len(skills), draws).copy()
    there = most.reshape(len(weeks), len(skills), 1)
    later, earlier, more, less = (limits[n].copy() for n in (LATER, EARLIER, MORE, LESS))
    for _ in range(PASSES):
        for reach in range(1, REACH + 1):
            for week in range(len(weeks) - reach):
                _move(load, there, later, earlier, more, less, week, week + reach)
                _move(load, there, later, earlier, more, less, week + reach, week)
    return load.reshape(demand.shape)


def _move(
    load: Floats,
    there: Floats,
    later: Floats,
    earlier: Floats,
    more: Floats,
    less: Floats,
    source: int,
    target: int,
) -> None:
    """Move what is too much in a week to another with room, in all draws at once.

    The limits are what is left of them: what crosses the end of a week in one direction can cross
    it back again.
    """
    hours = np.minimum(load[source] - there[source], there[target] - load[target])
    hours = np.minimum(hours, np.minimum(less[source], more[target]))
    ends = range(min(source, target), max(source, target))
    across, back = (later, earlier) if target > source else (earlier, later)
    for week in ends:
        hours = np.minimum(hours, across[week])
    hours = np.maximum(hours, 0.0)
    if not hours.any():
        return
    load[source] -= hours
    load[target] += hours
    less[source] -= hours
    more[source] += hours
    more[target] -= hours
    less[target] += hours
    for week in ends:
        across[week] -= hours
        back[week] += hours


def _limits(
    checks: Sequence[PlannedCheck],
    drawn: Sequence[DrawnCheck],
    laid: Sequence[LaidCheck],
    weeks: Sequence[str],
    skills: Sequence[str],
    calendar: Calendar,
    draws: int,
) -> Floats:
    """Return the limits of levelling of all stages together, (limits, weeks, skills, draws)."""
    limits = np.zeros((LIMITS, len(weeks), len(skills), draws))
    for check, of_check, days in zip(checks, drawn, laid, strict=True):
        for number, stage in enumerate(check.stages):
            if stage.done or (stage.peak <= 1.0 + TINY and not stage.into_float):
                continue
            when = StageDays(
                growth=of_check.growth[number],
                taken=of_check.days[number],
                starts=days.starts[number],
                ends=days.ends[number],
                until=_float_ends(check, number, days),
            )
            for skill in stage.man_hours:
                hours = hours_of_skill(stage, skill, when, weeks, calendar)
                shares = shares_of(hours.even, hours.most)
                limits[:, :, skills.index(skill)] += np.moveaxis(shares, 1, 2)
    return limits


def _float_ends(check: PlannedCheck, number: int, laid: LaidCheck) -> Ints:
    """Return one past the last day on which a stage may be worked in each draw, (draws,)."""
    own: Ints = laid.ends[number]
    stage = check.stages[number]
    if not stage.into_float:
        return own
    leg = next(leg for visit in check.visits for leg in visit.legs if number in leg)
    until: Ints = laid.ends[list(leg)].max(axis=0)
    for place in leg:
        starts = laid.starts[place]
        if number in check.stages[place].after:
            until = np.minimum(until, starts)
        elif place in stage.apart or number in check.stages[place].apart:
            until = np.where(starts >= own, np.minimum(until, starts), until)
    later: Ints = np.maximum(own, until)
    return later
