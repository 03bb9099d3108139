"""Lay a check's stages out in days, for many in days at once."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.slots.work import StageWork


@dataclass(frozen=True)
class Stays:
    """What the check would do for each in day and pace.

    ``in_day`` and ``out_day`` have shape (stays,), ``starts`` and ``ends`` (stays, stages),
    all in day numbers, intervals half-open. ``days`` (stays, stages) are worked days.
    """

    in_day: NDArray[np.int64]
    out_day: NDArray[np.int64]
    starts: NDArray[np.int64]
    ends: NDArray[np.int64]
    days: NDArray[np.int64]


def lay_out(
    work: tuple[StageWork, ...],
    pace: tuple[int, ...],
    in_day: NDArray[np.int64],
    from_day: int,
    calendar: Calendar,
) -> Stays:
    """Start every stage as early as those it waits for allow, at one pace.

    start = max(in day, ``from_day``, ends of its ``after``); end = one past the stage's
    last worked day. A stage that has to be alone waits until no stage laid out before it is
    open, and a stage laid out later waits until one that is alone has ended; stages are
    laid out in the order of their earliest starts. ``from_day`` holds back work that is
    left on a check already in.
    """
    starts = np.empty((len(in_day), len(work)), dtype=np.int64)
    ends = np.empty_like(starts)
    for number, stage in enumerate(work):
        start = np.maximum(in_day, from_day)
        for before in stage.after:
            start = np.maximum(start, ends[:, before])
        end = calendar.end_of_work(start, pace[number])
        apart = [n for n in range(number) if stage.alone or work[n].alone]
        for _ in apart:
            # As many sweeps as stages to keep apart from: each moves past at least one.
            for other in apart:
                meets = (start < ends[:, other]) & (starts[:, other] < end)
                start = np.where(meets, ends[:, other], start)
                end = calendar.end_of_work(start, pace[number])
        starts[:, number], ends[:, number] = start, end
    out_day = ends.max(axis=1) if len(work) else np.maximum(in_day, from_day)
    return Stays(in_day, out_day, starts, ends, np.tile(pace, (len(in_day), 1)))


def joined(parts: list[Stays]) -> Stays:
    """Return the stays of several paces as one list."""
    return Stays(
        in_day=np.concatenate([part.in_day for part in parts]),
        out_day=np.concatenate([part.out_day for part in parts]),
        starts=np.concatenate([part.starts for part in parts]),
        ends=np.concatenate([part.ends for part in parts]),
        days=np.concatenate([part.days for part in parts]),
    )


def man_hours_by_week(
    work: tuple[StageWork, ...], stays: Stays, calendar: Calendar
) -> NDArray[np.float64]:
    """Return what the check asks, shape (stays, weeks, skills), in man-hours.

    A stage's hours are spread evenly over its worked days; days before the first plannable
    one ask nothing.
    """
    weeks = len(calendar.week_names)
    skills = len(work[0].man_hours) if work else 0
    asked = np.zeros((len(stays.in_day), weeks, skills))
    edges = calendar.week_edges
    for number, stage in enumerate(work):
        start, end = stays.starts[:, number, None], stays.ends[:, number, None]
        low = np.clip(edges[None, :-1], start, end)
        high = np.clip(edges[None, 1:], start, end)
        days = calendar.plannable_before[high] - calendar.plannable_before[low]
        asked += (days / stays.days[:, number, None])[:, :, None] * stage.man_hours
    return asked
