"""Hours of a stage in each simulation of a plan that was made again: what is done, what is left.

What was worked before the re-plan lies where it lies in all simulations; what is drawn more or
less changes what is left. A stage that begins on another day then has all its hours before it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.questions.risk.simulated_plan import PlannedStage

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
TINY = 1e-9


@dataclass(frozen=True)
class SkillHours:
    """Man-hours of one skill of a stage by draw and week, shape (draws, weeks).

    ``settled`` lie where they lie; ``even`` are the others spread evenly, and ``most`` is what a
    week takes of those at the most.
    """

    settled: Floats
    even: Floats
    most: Floats


@dataclass(frozen=True)
class StageDays:
    """When a stage is worked in each draw, shape (draws,): ``until`` with its float."""

    growth: Floats
    taken: Ints
    starts: Ints
    ends: Ints
    until: Ints


def hours_of_skill(
    stage: PlannedStage, skill: str, drawn: StageDays, weeks: Sequence[str], calendar: Calendar
) -> SkillHours:
    """Return the hours of a skill of a stage in the ``weeks``, which follow each other."""
    edges = _edges(weeks, calendar)
    hours = stage.man_hours[skill] * drawn.growth
    a_day = (hours / drawn.taken)[:, None]
    even = _days(drawn.starts, drawn.ends, edges, calendar) * a_day
    most = _days(drawn.starts, drawn.until, edges, calendar) * (stage.peak * a_day)
    nothing = np.zeros_like(even)
    if stage.left_from is None:
        return SkillHours(nothing, even, most)
    first = np.maximum(drawn.starts, stage.left_from)
    own = _days(first, np.maximum(drawn.ends, stage.left_from), edges, calendar)
    may = _days(first, np.maximum(drawn.until, stage.left_from), edges, calendar)
    own = np.where(own.any(axis=1, keepdims=True), own, may)
    days_left = own.sum(axis=1)
    done = np.array([stage.hours_done.get((week, skill), 0.0) for week in weeks])
    total, in_all = even.sum(axis=1), float(done.sum())
    counts = total / max(in_all, TINY)
    counts = np.where(days_left > 0, np.minimum(counts, 1.0), counts)
    settled = counts[:, None] * done
    if in_all <= TINY:
        settled = np.where((days_left == 0)[:, None], even, settled)
    left = np.where(days_left > 0, np.maximum(total - settled.sum(axis=1), 0.0), 0.0)
    share = (left / np.maximum(days_left, 1))[:, None]
    keeps = (drawn.starts == stage.began)[:, None]
    return SkillHours(
        settled=np.where(keeps, settled, nothing),
        even=np.where(keeps, own * share, even),
        most=np.where(keeps, may * np.maximum(stage.peak * a_day, share), most),
    )


def _edges(weeks: Sequence[str], calendar: Calendar) -> Ints:
    first = calendar.week_names.index(weeks[0]) if weeks else 0
    return calendar.week_edges[first : first + len(weeks) + 1]


def _days(first: Ints, until: Ints, edges: Ints, calendar: Calendar) -> Floats:
    """Return the worked days that can be planned in each week, shape (draws, weeks)."""
    low = np.clip(edges[None, :-1], first[:, None], until[:, None])
    high = np.clip(edges[None, 1:], first[:, None], until[:, None])
    days = calendar.plannable_before[high] - calendar.plannable_before[low]
    return days.astype(np.float64)
