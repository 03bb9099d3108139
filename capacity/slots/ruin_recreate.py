"""Ruin and recreate: take a few related checks out, put each back where it is cheapest.

Simulated annealing on exact man-hours. The rounds are compiled, since everything depends on
how many of them fit into a second; the arrays they work on are those of the program.
"""

from dataclasses import dataclass

import numba
import numpy as np
from numpy.typing import NDArray

from capacity.slots.program import Program

ROOM = 1e-9
# One candidate in so many is overlooked when a check is put back, or the same few would be
# tried for ever.
BLINK = 0.01
BLUR = 1.0


@dataclass(frozen=True)
class Arrays:
    """The program as flat arrays for the compiled rounds.

    Footprints and man-hours are in compressed rows: ``foot_*`` by column, ``ask_*`` by
    course. Labour money rises by ``slopes`` (cells, tiers) for every hour beyond ``edges``.
    ``kin`` (checks, checks) says how much two checks can be in each other's way.
    """

    first_column: NDArray[np.int64]
    course: NDArray[np.int64]
    money: NDArray[np.float64]
    unplaced_money: NDArray[np.float64]
    foot_starts: NDArray[np.int64]
    foot_rows: NDArray[np.int64]
    foot_sizes: NDArray[np.float64]
    ask_starts: NDArray[np.int64]
    ask_cells: NDArray[np.int64]
    ask_hours: NDArray[np.float64]
    edges: NDArray[np.float64]
    slopes: NDArray[np.float64]
    kin: NDArray[np.float64]


class RuinRecreate:
    """A choice under change and the best one so far."""

    def __init__(self, program: Program, chosen: NDArray[np.int64], seed: int) -> None:
        """Begin with a choice that keeps all rows; ``seed`` is the only source of chance."""
        self.program = program
        self.day_money = day_money(program)
        self.arrays = _arrays(program, self.day_money)
        _seed(seed)
        self.move_to(chosen)
        self.best, self.best_value = self.chosen.copy(), self.value

    def move_to(self, chosen: NDArray[np.int64]) -> None:
        """Go on from another choice."""
        program = self.program
        placed = chosen[chosen >= 0]
        self.chosen = chosen.copy()
        self.free = program.capacity - program.footprint[placed].sum(axis=0)
        self.load = program.load(chosen)
        days, money = program.cost(chosen)
        self.value = days * self.day_money + money

    def rounds(self, count: int, temperature: float, most: int) -> bool:
        """Do ``count`` rounds with up to ``most`` checks out; tell whether the best improved.

        A round that makes the plan dearer by ``temperature`` is kept one time in e.
        """
        before = self.best_value
        self.value, self.best_value = _rounds(
            *_fields(self.arrays),
            self.chosen,
            self.free,
            self.load,
            self.best,
            self.value,
            self.best_value,
            count,
            temperature,
            most,
        )
        return bool(self.best_value < before)


def day_money(program: Program) -> float:
    """Return more money than any two choices can differ by: what a day past counts."""
    spread, hours = 0.0, 0.0
    for first, until in zip(program.first_column[:-1], program.first_column[1:], strict=True):
        if until > first:
            money = np.append(program.money[first:until], 0.0)
            spread += float(money.max() - money.min())
            hours += float(program.man_hours[program.course[first:until]].sum(axis=1).max())
    dearest = float(program.tier_costs.max(initial=0.0))
    return 1.0 + spread + dearest * (hours + float(program.asked.sum()))


def _arrays(program: Program, money_a_day: float) -> Arrays:
    below_last = np.cumsum(program.tier_widths[:-1], axis=0)
    edges = program.regular + np.concatenate([np.zeros((1, len(program.regular))), below_last])
    slopes = np.diff(program.tier_costs, axis=0, prepend=0.0)
    return Arrays(
        first_column=program.first_column.astype(np.int64),
        course=program.course.astype(np.int64),
        money=program.money + money_a_day * program.past,
        unplaced_money=program.unplaced_past * money_a_day,
        foot_starts=program.footprint.indptr.astype(np.int64),
        foot_rows=program.footprint.indices.astype(np.int64),
        foot_sizes=program.footprint.data.astype(np.float64),
        ask_starts=program.man_hours.indptr.astype(np.int64),
        ask_cells=program.man_hours.indices.astype(np.int64),
        ask_hours=program.man_hours.data.astype(np.float64),
        edges=np.ascontiguousarray(edges.T),
        slopes=np.ascontiguousarray(slopes.T),
        kin=kinship(program),
    )


def kinship(program: Program) -> NDArray[np.float64]:
    """Return how much each pair of checks can be in each other's way, (checks, checks).

    The sum of two cosines: of the rows that any of their candidates touch, and of the most
    that any asks in each cell; a little for every pair.
    """
    checks = len(program.checks)
    rows = np.zeros((checks, len(program.capacity)))
    cells = np.zeros((checks, len(program.regular)))
    for number in range(checks):
        first, until = program.first_column[number : number + 2]
        if until > first:
            rows[number] = program.footprint[np.arange(first, until)].sum(axis=0) > 0
            asks = program.man_hours[program.course[first:until]]
            cells[number] = asks.max(axis=0).toarray().ravel()
    rows /= np.maximum(np.linalg.norm(rows, axis=1, keepdims=True), ROOM)
    cells /= np.maximum(np.linalg.norm(cells, axis=1, keepdims=True), ROOM)
    return rows @ rows.T + cells @ cells.T + 0.05


def _fields(arrays: Arrays) -> tuple[NDArray[np.int64] | NDArray[np.float64], ...]:
    return tuple(getattr(arrays, name) for name in Arrays.__dataclass_fields__)


@numba.njit(cache=True)
def _seed(seed):
    """Seed the compiled rounds' own source of chance, one a thread."""
    np.random.seed(seed)


@numba.njit(cache=True)
def _shift(check, column, sign, course, foot_starts, foot_rows, foot_sizes, ask_starts,
           ask_cells, ask_hours, edges, slopes, free, load):
    """Put a column in (sign 1) or take it out (-1); return how much labour money rises."""
    for entry in range(foot_starts[column], foot_starts[column + 1]):
        free[foot_rows[entry]] -= sign * foot_sizes[entry]
    rise = 0.0
    for entry in range(ask_starts[course[column]], ask_starts[course[column] + 1]):
        cell = ask_cells[entry]
        before, after = load[cell], load[cell] + sign * ask_hours[entry]
        for tier in range(edges.shape[1]):
            edge = edges[cell, tier]
            rise += slopes[cell, tier] * (max(after - edge, 0.0) - max(before - edge, 0.0))
        load[cell] = after
    return rise


@numba.njit(cache=True)
def _cheapest(check, first_column, course, money, unplaced_money, foot_starts, foot_rows,
              foot_sizes, ask_starts, ask_cells, ask_hours, edges, slopes, free, load, blur):
    """Return the cheapest column for a check that is out, -1 for leaving it out."""
    best, best_price = -1, unplaced_money[check]
    last_course, labour = -1, 0.0
    for column in range(first_column[check], first_column[check + 1]):
        if np.random.random() < BLINK:
            continue
        stands = True
        for entry in range(foot_starts[column], foot_starts[column + 1]):
            if foot_sizes[entry] > free[foot_rows[entry]] + ROOM:
                stands = False
                break
        if not stands:
            continue
        if course[column] != last_course:
            last_course, labour = course[column], 0.0
            for entry in range(ask_starts[last_course], ask_starts[last_course + 1]):
                cell = ask_cells[entry]
                before, after = load[cell], load[cell] + ask_hours[entry]
                for tier in range(edges.shape[1]):
                    edge = edges[cell, tier]
                    if after <= edge:
                        break
                    labour += slopes[cell, tier] * (after - max(before, edge))
        price = money[column] + labour + blur * np.log(-np.log(np.random.random()))
        if price < best_price:
            best, best_price = column, price
    return best


@numba.njit(cache=True)
def _related(kin, count, out):
    """Fill ``out`` with a random check and the ``count - 1`` most akin to it, blurred."""
    checks = len(kin)
    anchor = np.random.randint(0, checks)
    nearness = np.empty(checks)
    for check in range(checks):
        nearness[check] = kin[anchor, check] * np.random.random() ** 2
    nearness[anchor] = np.inf
    for place in range(count):
        out[place] = np.argmax(nearness)
        nearness[out[place]] = -1.0


@numba.njit(cache=True)
def _rounds(first_column, course, money, unplaced_money, foot_starts, foot_rows, foot_sizes,
            ask_starts, ask_cells, ask_hours, edges, slopes, kin, chosen, free, load, best,
            value, best_value, count, temperature, most):
    """Do the rounds on ``chosen``, ``free`` and ``load`` in place; see ``RuinRecreate``."""
    checks = len(kin)
    out = np.empty(most, dtype=np.int64)
    before = np.empty(most, dtype=np.int64)
    for _ in range(count):
        size = min(checks, np.random.randint(2, most + 1))
        _related(kin, size, out)
        np.random.shuffle(out[:size])
        new = value
        for place in range(size):
            check = out[place]
            before[place] = chosen[check]
            if chosen[check] >= 0:
                new -= money[chosen[check]]
                new += _shift(check, chosen[check], -1.0, course, foot_starts, foot_rows,
                              foot_sizes, ask_starts, ask_cells, ask_hours, edges, slopes,
                              free, load)
            else:
                new -= unplaced_money[check]
        for place in range(size):
            check = out[place]
            column = _cheapest(check, first_column, course, money, unplaced_money, foot_starts,
                               foot_rows, foot_sizes, ask_starts, ask_cells, ask_hours, edges,
                               slopes, free, load, BLUR * temperature)
            chosen[check] = column
            if column >= 0:
                new += money[column]
                new += _shift(check, column, 1.0, course, foot_starts, foot_rows, foot_sizes,
                              ask_starts, ask_cells, ask_hours, edges, slopes, free, load)
            else:
                new += unplaced_money[check]
        if new <= value or np.random.random() < np.exp((value - new) / temperature):
            value = new
            if value < best_value - 1e-6:
                best_value = value
                best[:] = chosen
            continue
        for place in range(size):
            check = out[place]
            if chosen[check] >= 0:
                _shift(check, chosen[check], -1.0, course, foot_starts, foot_rows, foot_sizes,
                       ask_starts, ask_cells, ask_hours, edges, slopes, free, load)
        for place in range(size):
            check = out[place]
            chosen[check] = before[place]
            if before[place] >= 0:
                _shift(check, before[place], 1.0, course, foot_starts, foot_rows, foot_sizes,
                       ask_starts, ask_cells, ask_hours, edges, slopes, free, load)
    return value, best_value
