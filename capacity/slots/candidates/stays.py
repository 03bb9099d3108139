"""Lay a check's stages out in days, for many in days at once."""

import dataclasses
import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.slots.candidates.paces_and_waits import Waits
from capacity.slots.candidates.work import Loop, StageWork, legs_of

TINY_ITEMS = 1e-9


@dataclass(frozen=True)
class Stays:
    """What the check would do for each in day, pace and way to wait.

    ``in_day`` and ``out_day`` have shape (stays,), ``starts`` and ``ends`` (stays, stages),
    all in day numbers, intervals half-open. ``days`` (stays, stages) are worked days.
    ``edges`` (stays, legs + 1) are the in day, the days of the moves, and the out day;
    ``waited`` (stays, legs - 1) the days waited for each move. ``begins`` (stays,) is the
    day from which work is done.
    """

    in_day: NDArray[np.int64]
    out_day: NDArray[np.int64]
    starts: NDArray[np.int64]
    ends: NDArray[np.int64]
    days: NDArray[np.int64]
    edges: NDArray[np.int64]
    waited: NDArray[np.int64]
    begins: NDArray[np.int64]

    def only(self, which: NDArray[np.bool_] | NDArray[np.int64]) -> "Stays":
        """Return some of the stays: by a mask (stays,) or by their numbers."""
        names = [field.name for field in dataclasses.fields(self)]
        return Stays(**{name: getattr(self, name)[which] for name in names})


def lay_out(
    work: tuple[StageWork, ...],
    pace: tuple[int, ...],
    in_day: NDArray[np.int64],
    from_day: int,
    calendar: Calendar,
    rates: Mapping[str, float] | None = None,
    waits: Waits | None = None,
) -> Stays:
    """Start every stage as early as those it waits for allow, at one pace.

    start = the first worked day from max(in day, ``from_day``, ends of its ``after``, the move
    to its leg's bay, its items back from shops of ``rates`` items a worked day, the day on which
    it is ready) + the turn waited for on; end = one past the stage's last worked day. A leg
    begins once all stages before it have ended and the wait for its bay is over; where nothing is
    left to do in the first bay it is left on ``from_day``, but not on the in day. Moves and the
    out day go on to the next worked day where aircraft do not move on days off. A stage that has
    to be alone waits until no stage laid out before it is open, and a stage laid out later waits
    until one that is alone has ended; stages are laid out in the order of their earliest starts.
    ``from_day`` holds back work that is left on a check already in.
    """
    waits = waits or Waits((0,) * len(work), (0,) * len(work))
    starts = np.empty((len(in_day), len(work)), dtype=np.int64)
    ends = np.empty_like(starts)
    begins = np.maximum(in_day, from_day)
    edges = [in_day]
    leg_begins, so_far = begins, begins
    legs = legs_of(work)
    if legs and legs[0]:
        so_far = np.maximum(begins, in_day + 1)
    for number, stage in enumerate(work):
        if legs[number] != (legs[number - 1] if number else 0):
            leg_begins = calendar.next_move(so_far + waits.moves[legs[number] - 1])
            edges.append(leg_begins)
        start = leg_begins
        for before in stage.after:
            start = np.maximum(start, ends[:, before])
        for loop in stage.loops:
            leave = leave_of(loop, begins, ends, calendar)
            back = back_from_shop(leave, loop.items, (rates or {})[loop.shop], calendar)
            start = np.maximum(start, back)
        if stage.not_before is not None:
            start = np.maximum(start, calendar.number(stage.not_before))
        start = calendar.next_worked(start + waits.turns[number])
        end = calendar.end_of_work(start, pace[number])
        apart = [n for n in range(number) if stage.alone or work[n].alone]
        for _ in apart:
            # As many sweeps as stages to keep apart from: each moves past at least one.
            for other in apart:
                meets = (start < ends[:, other]) & (starts[:, other] < end)
                start = calendar.next_worked(np.where(meets, ends[:, other], start))
                end = calendar.end_of_work(start, pace[number])
        starts[:, number], ends[:, number] = start, end
        so_far = np.maximum(so_far, end)
    so_far = calendar.next_move(so_far)
    edges.append(so_far)
    waited = np.tile(np.array(waits.moves[: len(edges) - 2], dtype=np.int64), (len(in_day), 1))
    return Stays(
        in_day=in_day,
        out_day=so_far,
        starts=starts,
        ends=ends,
        days=np.tile(pace, (len(in_day), 1)),
        edges=np.stack(edges, axis=1),
        waited=waited,
        begins=begins,
    )


def leave_of(
    loop: Loop, begins: NDArray[np.int64], ends: NDArray[np.int64], calendar: Calendar
) -> NDArray[np.int64]:
    """Return the day on which the items of a loop leave, elementwise.

    Of a stage that is done when it was done, if that is told, else as the work left begins.
    """
    if loop.leave is not None:
        leaves: NDArray[np.int64] = ends[:, loop.leave]
        return leaves
    if loop.left_on is None:
        return begins
    return np.minimum(begins, max(0, calendar.number(loop.left_on)))


def back_from_shop(
    leave: NDArray[np.int64], items: int, rate: float, calendar: Calendar
) -> NDArray[np.int64]:
    """Return the first day with rate x worked days since ``leave`` >= items, elementwise."""
    return calendar.end_of_work(leave, math.ceil(items / rate - TINY_ITEMS))


def joined(parts: list[Stays]) -> Stays:
    """Return the stays of several paces and waits as one list, those that are alike once.

    Waits that do not change a day are alike: a stage that has to be alone, or a day off, may
    hold it back as long anyhow. The first of them is kept.
    """
    names = [field.name for field in dataclasses.fields(Stays)]
    whole = Stays(
        **{name: np.concatenate([getattr(part, name) for part in parts]) for name in names}
    )
    days = np.column_stack([whole.in_day, whole.starts, whole.ends, whole.edges])
    _, first = np.unique(days, axis=0, return_index=True)
    return whole.only(np.sort(first))
