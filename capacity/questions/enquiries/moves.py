"""What an enquiry costs when others may move for it."""

from dataclasses import dataclass, replace
from threading import Event

import numpy as np

from capacity.questions.asking.differences import (
    costs_between,
    hours_more,
    labour_more,
    moves_between,
)
from capacity.questions.asking.searching import best_choice
from capacity.questions.asking.standing_plan import StandingPlan
from capacity.questions.enquiries.slots import columns_beside, is_on_time, money_beside
from capacity.questions.enquiries.values import WithMoves
from capacity.settings import Settings
from capacity.slots.program.choice import Choice
from capacity.slots.program.neighbourhood import around
from capacity.slots.program.program import Program, Restricted

# Bound and money of a proven plan are apart by less than this share of the money.
ROUNDING = 1e-6


@dataclass(frozen=True)
class Rest:
    """What is left to choose when all but the ``free`` checks stay where they are."""

    restricted: Restricted
    free: Choice

    @property
    def program(self) -> Program:
        """Return the program over the free checks; its costs are those of the whole."""
        return self.restricted.program

    def to_whole(self, chosen: Choice, others: Choice) -> Choice:
        """Return a choice of the free checks in the whole program, beside the ``others``."""
        whole = others.copy()
        whole[self.free] = self.restricted.to_whole(chosen)
        return whole


def rest_of(standing: StandingPlan, enquiries: list[int], *, on_time_only: bool) -> Rest:
    """Return what is left to choose for some enquiries and those who may move for them.

    No more days past ``Latest in`` are allowed than the plan has.
    """
    program, chosen = standing.program, standing.chosen
    if on_time_only:
        late = np.zeros(program.size, dtype=np.bool_)
        for check in enquiries:
            columns = program.columns_of(check)
            late[columns] = ~is_on_time(standing, check, columns)
        first = program.restricted_to(~late)
        mine = first.from_whole(chosen)
        if mine is None:
            raise ValueError("an enquiry stands in the plan already")
    else:
        first, mine = Restricted(program, np.arange(program.size)), chosen
    free = np.union1d(enquiries, np.flatnonzero(standing.may_move)).astype(np.int64)
    near = around(replace(first.program, days_allowed=standing.cost[0]), mine, free)
    return Rest(first.then(near), free)


def with_moves(
    standing: StandingPlan,
    check: int,
    settings: Settings,
    stop: Event | None = None,
    *,
    on_time_only: bool = False,
) -> tuple[WithMoves | None, bool]:
    """Search for the cheapest plan that takes an enquiry when others may move.

    Days past ``Latest in`` are at most those of the given plan. None when no such plan is
    found; the second says whether it is proven that there is none.
    """
    rest = rest_of(standing, [check], on_time_only=on_time_only)
    beside = columns_beside(standing, check, on_time_only=on_time_only)
    start = standing.chosen
    if len(beside):
        cheapest = beside[np.argmin(money_beside(standing, beside))]
        start = standing.with_place(check, int(cheapest))
    own = int(np.searchsorted(rest.free, check))
    forced = _forced(rest.program, own)
    begin = rest.restricted.from_whole(start[rest.free])
    if begin is None:
        raise ValueError("the plan's own places are not among those left to choose")
    found = best_choice(forced, begin, settings, stop)
    if found.stopped_by == "stop" and stop is not None:
        stop.set()  # Ctrl-C ends the searches for the enquiries behind this one too
    if found.chosen[own] < 0 or forced.cost(found.chosen)[0] > standing.cost[0]:
        return None, found.days_bound > standing.cost[0]
    whole = rest.to_whole(found.chosen, standing.chosen)
    whole = standing.moved_least(whole)
    return _told(standing, check, whole, found.bound), False


def _forced(program: Program, check: int) -> Program:
    """Return the program in which leaving the enquiry out is worse than anything else."""
    unplaced = program.unplaced_past.copy()
    unplaced[check] = 1 + int(program.unplaced_past.sum()) + int(program.past.sum())
    return replace(program, unplaced_past=unplaced, days_allowed=None)


def _told(standing: StandingPlan, check: int, whole: Choice, bound: float | None) -> WithMoves:
    name = standing.program.checks[check]
    plan, audit = standing.plan_with(whole)
    money = standing.audit.goals.money
    spared = spared_without(standing, whole, [check])
    costs = costs_between(standing.audit, audit, {name})
    least = None
    if bound is not None:
        least = bound + _price(standing, check) - money + spared
    rounding = ROUNDING * max(1.0, abs(audit.goals.money))
    break_even = costs.money + spared
    return WithMoves(
        check=name,
        plan=plan,
        costs=costs,
        break_even=break_even,
        least_break_even=None if least is None else min(least, break_even),
        proven=least is not None and break_even - least <= rounding,
        better_without=spared,
        hours_more=hours_more(standing.audit, audit),
        moves=moves_between(standing.plan, plan, {name}),
        labour=labour_more(standing.audit, audit, {name}),
    )


def spared_without(standing: StandingPlan, chosen: Choice, enquiries: list[int]) -> float:
    """Return by how much the moves of a choice alone, without its enquiries, save money."""
    without = chosen.copy()
    without[enquiries] = -1
    days, money = standing.program.cost(without)
    return max(0.0, standing.cost[1] - money) if days <= standing.cost[0] else 0.0


def _price(standing: StandingPlan, check: int) -> float:
    return standing.slots.candidates[check].courses.check.price
