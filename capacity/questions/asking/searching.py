"""Search for a cheaper choice when some checks may move, and leave nobody moved in vain."""

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from threading import Event

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.messages import Message
from capacity.plans.outcome import Progress
from capacity.settings import Settings
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.finding.last_descent import descended
from capacity.slots.line.mailbox import is_better
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program
from capacity.slots.search.searching import Incumbent, search

SECONDS_FOR_BAYS, SECONDS_FOR_MOVES = 3.0, 1.0


@dataclass(frozen=True)
class Found:
    """The best choice found, its proven bounds, and what ended the search.

    ``bound`` is one of money, for choices with no more days past ``Latest in`` than the
    choice has; ``days_bound`` one of those days. ``notes`` say what a person should know of
    how the search went.
    """

    chosen: Choice
    bound: float | None
    days_bound: int
    stopped_by: str
    notes: tuple[Message, ...] = ()


def best_choice(
    program: Program,
    start: Choice,
    settings: Settings,
    stop: Event | None = None,
    on_progress: Callable[[Progress], None] | None = None,
    accept: Callable[[Choice], None] | None = None,
) -> Found:
    """Search from ``start``, a choice that keeps all rows, for ``settings.seconds`` at the most."""
    incumbent = Incumbent(program, start, source="earlier plan")
    search(
        incumbent,
        settings,
        accept or (lambda chosen: None),
        on_progress or (lambda progress: None),
        stop or Event(),
        time.monotonic(),
    )
    return Found(
        incumbent.chosen,
        incumbent.bound,
        incumbent.days_bound,
        incumbent.stopped_by,
        tuple(incumbent.notes),
    )


def with_no_move_in_vain(program: Program, before: Choice, after: Choice) -> Choice:
    """Return ``after`` with each check back at its old column that gains nothing by moving.

    One is taken back at a time, while it keeps all rows and costs no more.
    """
    chosen = after.copy()
    cost = program.cost(chosen)
    slack = program.slack(chosen)
    while True:
        for check in np.flatnonzero((chosen != before) & (before >= 0)):
            back = chosen.copy()
            back[check] = before[check]
            own = chosen[[check]]
            freed = slack + program.footprint[own[own >= 0]].sum(axis=0)
            if not program.fits(back[[check]], freed)[0]:
                continue
            if is_better(cost, program.cost(back)):
                continue
            chosen, cost = back, program.cost(back)
            slack = freed - program.footprint[back[[check]]].sum(axis=0)
            break
        else:
            return chosen


def with_fewest_moves(
    program: Program, before: Choice, after: Choice, prices: NDArray[np.float64]
) -> Choice:
    """Return ``after`` with nobody moved in vain, and in the bays that cost least by ``prices``.

    What is moved back can make room for a move that saves something; then again.
    """
    while True:
        chosen = with_no_move_in_vain(program, before, after)
        chosen = with_fewest_bay_changes(program, chosen, prices)
        chosen = with_no_move_in_vain(program, before, chosen)
        after, _ = descended(program, chosen, SECONDS_FOR_MOVES)
        if not is_better(program.cost(after), program.cost(chosen)):
            return chosen


def with_fewest_bay_changes(
    program: Program, chosen: Choice, prices: NDArray[np.float64]
) -> Choice:
    """Return the choice with the same days, in the bays that cost least by ``prices``.

    ``prices`` (columns,) are at least 0. Every check keeps its course in time, so neither
    man-hours nor days past change; who stands in which bay does, where bays are alike.
    """
    placed = chosen[chosen >= 0]
    if not prices[placed].any():
        return chosen
    restricted = program.restricted_to(np.isin(program.course, program.course[placed]))
    price = prices[restricted.number]
    # Leaving somebody out must cost more than all the bays together.
    reward = 1.0 + float(price.sum())
    bays_only = replace(
        restricted.program,
        money=price - reward,
        man_hours=csr_array(restricted.program.man_hours.shape),
        asked=np.zeros_like(restricted.program.asked),
        days_allowed=None,
    )
    solved = branch_and_cut(money_form(bays_only), restricted.from_whole(chosen), SECONDS_FOR_BAYS)
    if solved.chosen is None:
        return chosen
    better = restricted.to_whole(solved.chosen)
    same_checks = np.array_equal(better >= 0, chosen >= 0)
    if not same_checks or prices[better[better >= 0]].sum() >= prices[placed].sum():
        return chosen
    return better
