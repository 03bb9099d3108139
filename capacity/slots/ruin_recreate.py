"""Ruin and recreate: take a few related checks out, put each back where it is cheapest.

Simulated annealing on exact man-hours: a round that makes the plan dearer is kept with a
probability that falls as the search cools.
"""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.slots.kinship import kinship
from capacity.slots.program import Program
from capacity.slots.rounds import Arrays, Costs, State, run_rounds, seed_rounds, spend_anew

# How many checks at the most are taken out in a round; measured on invented quarters.
MOST_OUT = 5
# Blur of the prices in a round, as a share of the temperature.
BLUR = 0.8


class RuinRecreate:
    """A choice under change, and the best one so far: fewest days past, then least money.

    ``costs`` holds days and money of both.
    """

    def __init__(self, program: Program, chosen: NDArray[np.int64], seed: int) -> None:
        """Begin with a choice that keeps all rows; ``seed`` is the only source of chance."""
        self.program = program
        self._arrays = _arrays(program)
        seed_rounds(seed)
        placed = chosen[chosen >= 0]
        room = program.capacity - program.footprint[placed].sum(axis=0)
        spent = np.zeros((len(program.hours.cuts.kinds), program.hours.supply.weeks))
        # A row of its own for columns that have lacked nothing yet, as there may be no other.
        room = np.append(room, 0.0)
        nowhere = np.full(program.size, len(program.capacity), dtype=np.int32)
        nothing = np.full(program.size, -np.inf, dtype=np.float32)
        load = program.load(chosen)
        self._state = State(chosen.copy(), room, load, spent, nowhere, nothing)
        spend_anew(self._arrays, self._state)
        days, money = program.cost(chosen)
        self.costs = Costs(float(days), money, float(days), money)
        self.best = chosen.copy()

    def rounds(self, count: int, temperature: float, day_price: float) -> bool:
        """Do ``count`` rounds; tell whether the best choice improved.

        A round that makes the plan dearer by ``temperature`` is kept one time in e; a day
        past ``Latest in`` counts as ``day_price``.
        """
        before = self.costs
        self.costs = run_rounds(
            self._arrays,
            self._state,
            self.best,
            before,
            count,
            temperature,
            day_price,
            MOST_OUT,
            BLUR,
        )
        now = self.costs
        return (now.best_days, now.best_money) < (before.best_days, before.best_money)


def day_money(program: Program) -> float:
    """Return more money than any two choices can differ by."""
    spread, hours = 0.0, 0.0
    for first, until in zip(program.first_column[:-1], program.first_column[1:], strict=True):
        if until > first:
            money = np.append(program.money[first:until], 0.0)
            spread += float(money.max() - money.min())
            hours += float(program.man_hours[program.course[first:until]].sum(axis=1).max())
    return 1.0 + spread + program.hours.dearest * (hours + float(program.asked.sum()))


def _arrays(program: Program) -> Arrays:
    hours, cuts = program.hours, program.hours.cuts
    widths, prices = (tiers.reshape(len(tiers), -1) for tiers in hours.supply.tiers)
    below_last = np.cumsum(widths[:-1], axis=0)
    edges = hours.regular + np.concatenate([np.zeros((1, len(hours.regular))), below_last])
    slopes = np.diff(prices, axis=0, prepend=0.0)
    touched = _families_touched(program)
    return Arrays(
        first_column=program.first_column.astype(np.int64),
        course=program.course.astype(np.int64),
        money=program.money,
        past=program.past.astype(np.float64),
        unplaced_past=program.unplaced_past.astype(np.float64),
        foot_starts=program.footprint.indptr.astype(np.int64),
        foot_rows=program.footprint.indices.astype(np.int32),
        foot_sizes=program.footprint.data.astype(np.float32),
        ask_starts=program.man_hours.indptr.astype(np.int64),
        ask_cells=program.man_hours.indices.astype(np.int64),
        ask_hours=program.man_hours.data.astype(np.float64),
        regular=hours.regular,
        edges=np.ascontiguousarray(edges.T[:, : len(widths)]),
        slopes=np.ascontiguousarray(slopes.T),
        touch_starts=touched.indptr.astype(np.int64),
        touched=touched.indices.astype(np.int64),
        kinds=hours.supply.kinds,
        cut_kinds=cuts.kinds,
        cut_group=cuts.group,
        cut_steps=cuts.steps,
        cut_own=cuts.own,
        cut_tier=cuts.tier,
        cut_crews=cuts.crews,
        cut_held=cuts.held,
        kin=kinship(program),
        place=program.place,
        in_day=program.in_day,
    )


def _families_touched(program: Program) -> csr_array:
    """Return the weeks of each family in which a course asks something.

    Shape (courses, families x weeks), family by family.
    """
    supply, cuts = program.hours.supply, program.hours.cuts
    asks = program.man_hours.tocoo()
    week, kind = np.divmod(asks.col, max(1, supply.kinds))
    family = cuts.family_of[kind]
    mine = family >= 0
    touched = csr_array(
        (np.ones(mine.sum()), (asks.row[mine], family[mine] * supply.weeks + week[mine])),
        shape=(program.man_hours.shape[0], max(1, len(cuts.kinds)) * supply.weeks),
    )
    touched.sum_duplicates()
    return touched
