"""From drawn man-hours to days, for all draws at once.

The model: a stage keeps the man-hours a worked day, all skills together, that it was planned
at. With drawn man-hours it so lasts ``ceil(drawn / planned a day)`` worked days, but never
less than its ``Shortest days``, or its normal ``Days`` where the package gives none. Later
stages follow by the network. The other choice (``Keep.DAYS``) is that it keeps its days.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.questions.risk.draws import scores_of
from capacity.questions.risk.findings import factor_at
from capacity.questions.risk.settings import Keep, RiskSettings
from capacity.questions.risk.simulated_plan import PlannedCheck, PlannedStage

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ROUNDING = 1e-9
"""Worked days that are no more than the rounding of a quotient."""

LONGEST_STAGE_DAYS = 5000
"""Worked days, some twenty years: a longer stage counts as one of these."""


@dataclass(frozen=True)
class DrawnCheck:
    """Of each stage: drawn man-hours over planned ones, and worked days; (stages, draws)."""

    growth: Floats
    days: Ints


@dataclass(frozen=True)
class LaidCheck:
    """Day numbers by draw: ``ins`` (visits, draws), ``starts`` and ``ends`` (stages, draws).

    ``out`` (draws,) is the day on which the aircraft is out.
    """

    ins: Ints
    starts: Ints
    ends: Ints
    out: Ints

    def visit_outs(self) -> Ints:
        """Return the day on which each bay is left, shape (visits, draws)."""
        return np.vstack([self.ins[1:], self.out[None]])


def draw(planned: PlannedCheck, settings: RiskSettings) -> DrawnCheck:
    """Draw the man-hours of all stages of a check and the days that they take."""
    shape = (len(planned.stages), settings.draws)
    growth, days = np.empty(shape), np.empty(shape, dtype=np.int64)
    for number, stage in enumerate(planned.stages):
        growth[number] = _growth(planned.check.name, stage, settings)
        days[number] = _worked_days(stage, growth[number], settings.keep)
    return DrawnCheck(growth, days)


def _growth(check: str, stage: PlannedStage, settings: RiskSettings) -> Floats | float:
    """Return ``(1 + drawn findings) / (1 + planned findings)``, shape (draws,) or a number."""
    if stage.findings == 0:
        return 1 / (1 + stage.planned_findings)
    factor = factor_at(scores_of(check, stage.name, settings), stage.spread, settings.shape)
    return (1 + stage.findings * factor) / (1 + stage.planned_findings)


def _worked_days(stage: PlannedStage, growth: Floats, keep: Keep) -> Ints:
    """Return ``max(shortest, ceil(growth * planned days))``; the planned days where they stay."""
    if stage.done or keep is Keep.DAYS:
        return np.full(growth.shape, stage.days)
    days = np.ceil(growth * stage.days - ROUNDING)
    return np.clip(days, stage.shortest, LONGEST_STAGE_DAYS).astype(np.int64)


def lay_out(planned: PlannedCheck, drawn: DrawnCheck, free: Ints, calendar: Calendar) -> LaidCheck:
    """Start every stage as early as it may; ``free`` (visits, draws) is when bays are free.

    No visit begins before its planned day. Waits for a shop and for a further bay are kept as
    they are planned.
    """
    draws = drawn.days.shape[1]
    ins = np.empty((len(planned.visits), draws), dtype=np.int64)
    starts, ends = np.empty((2, *drawn.days.shape), dtype=np.int64)
    ended = np.full(draws, np.iinfo(np.int64).min)
    work_starts = ended
    for number, visit in enumerate(planned.visits):
        ins[number] = np.maximum(free[number], visit.in_day)
        if number:
            np.maximum(ins[number], ended + visit.wait, out=ins[number])
        # Its planned day stands; a later one is a day on which aircraft move.
        later = ins[number] > visit.in_day
        ins[number] = np.where(later, calendar.next_move(ins[number]), ins[number])
        if number:
            leg_starts = ins[number]
        else:
            left_from = planned.work_left_from
            earliest = visit.in_day if left_from is None else left_from
            work_starts = ended = leg_starts = np.maximum(ins[0], earliest)
            if not visit.legs and len(planned.visits) > 1:  # it only stands there, a day at least
                ended = np.maximum(ended, ins[0] + 1)
        for leg in visit.legs:
            leg_starts = np.maximum(leg_starts, ended)
            for place in leg:
                ready = _ready(planned.stages[place], leg_starts, ends, work_starts, calendar)
                starts[place], ends[place] = _clear_of(
                    planned.stages[place].apart, ready, drawn.days[place], starts, ends, calendar
                )
            ended = np.maximum(ended, ends[list(leg)].max(axis=0))
    return LaidCheck(ins, starts, ends, calendar.next_move(ended))


def _ready(
    stage: PlannedStage, leg_starts: Ints, ends: Ints, work_starts: Ints, calendar: Calendar
) -> Ints:
    """Return when its leg and the stages before it let it start and its items are back."""
    ready = leg_starts
    for before in stage.after:
        ready = np.maximum(ready, ends[before])
    for leave_at, days in stage.errands:
        left = work_starts if leave_at is None else ends[leave_at]
        ready = np.maximum(ready, after_work(left, days, calendar))
    for day in (stage.not_before, stage.items_back):
        if day is not None:
            ready = np.maximum(ready, day)
    return ready + stage.wait


def _clear_of(
    apart: tuple[int, ...], ready: Ints, days: Ints, starts: Ints, ends: Ints, calendar: Calendar
) -> tuple[Ints, Ints]:
    """Return start and end of a stage that overlaps none of the stages ``apart``.

    Each turn takes a start past the end of a stage in the way, so there are no more turns
    than stages.
    """
    first, until = ready, after_work(ready, days, calendar)
    for _ in apart:
        past = first
        for other in apart:
            in_the_way = (first < ends[other]) & (starts[other] < until)
            past = np.where(in_the_way, np.maximum(past, ends[other]), past)
        if np.array_equal(past, first):
            break
        first, until = past, after_work(past, days, calendar)
    return first, until


def after_work(start: Ints, days: Ints | int, calendar: Calendar) -> Ints:
    """Return the day after the ``days``-th worked day from ``start`` on; ``start`` for none.

    What would lie past the end of the calendar ends with it.
    """
    begin = np.minimum(start, len(calendar.worked))
    last = calendar.worked_before[begin] + days - 1
    worked = calendar.worked_days
    end = worked[np.clip(last, 0, len(worked) - 1)] + 1
    return np.where(np.asarray(days) > 0, np.maximum(end, start), start)
