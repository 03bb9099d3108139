"""The compiled rounds of ruin and recreate; see ``RuinRecreate`` for what they do.

Everything depends on how many rounds fit into a second, so this file is compiled to machine
code on first use and kept beside the sources.
"""

from typing import NamedTuple

import numba
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

ROOM = 1e-9
# One candidate in so many is overlooked when a check is put back.
BLINK = 0.01


class Arrays(NamedTuple):
    """The program as flat arrays.

    Footprints and man-hours are in compressed rows: ``foot_*`` by column, ``ask_*`` by
    course. Labour money rises by ``slopes`` (cells, tiers) for every hour beyond ``edges``.
    ``kin`` (checks, checks) says how much two checks can be in each other's way. Money
    holds days past ``Latest in`` at their money a day.
    """

    first_column: Ints
    course: Ints
    money: Floats
    unplaced_money: Floats
    foot_starts: Ints
    foot_rows: Ints
    foot_sizes: Floats
    ask_starts: Ints
    ask_cells: Ints
    ask_hours: Floats
    edges: Floats
    slopes: Floats
    kin: Floats


class State(NamedTuple):
    """A choice and what it leaves: the column of each check, room by row, load by cell."""

    chosen: Ints
    room: Floats
    load: Floats


@numba.njit(cache=True)
def seed_rounds(seed: int) -> None:
    """Seed the compiled rounds' own source of chance."""
    np.random.seed(seed)


@numba.njit(cache=True)
def _shift(arrays: Arrays, state: State, column: int, sign: float) -> float:
    """Put a column in (sign 1) or take it out (-1); return how much labour money rises."""
    for entry in range(arrays.foot_starts[column], arrays.foot_starts[column + 1]):
        state.room[arrays.foot_rows[entry]] -= sign * arrays.foot_sizes[entry]
    rise = 0.0
    course = arrays.course[column]
    for entry in range(arrays.ask_starts[course], arrays.ask_starts[course + 1]):
        cell = arrays.ask_cells[entry]
        before = state.load[cell]
        after = before + sign * arrays.ask_hours[entry]
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            rise += arrays.slopes[cell, tier] * (max(after - edge, 0.0) - max(before - edge, 0.0))
        state.load[cell] = after
    return rise


@numba.njit(cache=True)
def _take_out(arrays: Arrays, state: State, check: int) -> float:
    """Take a check out; return how much the cost rises."""
    column = state.chosen[check]
    rise = -arrays.unplaced_money[check]
    if column >= 0:
        rise = _shift(arrays, state, column, -1.0) - arrays.money[column]
    return float(rise)


@numba.njit(cache=True)
def _put_in(arrays: Arrays, state: State, check: int, column: int) -> float:
    """Place a check that is out, -1 to leave it out; return how much the cost rises."""
    state.chosen[check] = column
    rise = arrays.unplaced_money[check]
    if column >= 0:
        rise = _shift(arrays, state, column, 1.0) + arrays.money[column]
    return float(rise)


@numba.njit(cache=True)
def _fits(arrays: Arrays, state: State, column: int) -> bool:
    for entry in range(arrays.foot_starts[column], arrays.foot_starts[column + 1]):
        if arrays.foot_sizes[entry] > state.room[arrays.foot_rows[entry]] + ROOM:
            return False
    return True


@numba.njit(cache=True)
def _labour(arrays: Arrays, state: State, course: int) -> float:
    """Return what the hours of a course would add to the labour money."""
    rise = 0.0
    for entry in range(arrays.ask_starts[course], arrays.ask_starts[course + 1]):
        cell = arrays.ask_cells[entry]
        before = state.load[cell]
        after = before + arrays.ask_hours[entry]
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            if after <= edge:
                break
            rise += arrays.slopes[cell, tier] * (after - max(before, edge))
    return rise


@numba.njit(cache=True)
def _cheapest(arrays: Arrays, state: State, check: int, blur: float) -> int:
    """Return the cheapest column for a check that is out, -1 for leaving it out.

    Prices are blurred by a Gumbel variable of scale ``blur``, so that a column is taken with
    the probability that annealing at that temperature would give it.
    """
    best, best_price = -1, arrays.unplaced_money[check]
    last_course, labour = -1, 0.0
    for column in range(arrays.first_column[check], arrays.first_column[check + 1]):
        if np.random.random() < BLINK or not _fits(arrays, state, column):
            continue
        if arrays.course[column] != last_course:
            last_course = arrays.course[column]
            labour = _labour(arrays, state, last_course)
        price = arrays.money[column] + labour
        if blur > 0.0:
            price += blur * np.log(-np.log(np.random.random()))
        if price < best_price:
            best, best_price = column, price
    return best


@numba.njit(cache=True)
def _pick_related(arrays: Arrays, count: int, out: Ints) -> None:
    """Fill ``out`` with a random check and the ``count - 1`` most akin to it, blurred."""
    checks = len(arrays.kin)
    anchor = np.random.randint(0, checks)
    nearness = np.empty(checks)
    for check in range(checks):
        nearness[check] = arrays.kin[anchor, check] * np.random.random() ** 2
    nearness[anchor] = np.inf
    for place in range(count):
        out[place] = np.argmax(nearness)
        nearness[out[place]] = -1.0
    np.random.shuffle(out[:count])


@numba.njit(cache=True)
def run_rounds(
    arrays: Arrays,
    state: State,
    best: Ints,
    value: float,
    best_value: float,
    count: int,
    temperature: float,
    most: int,
    blur: float,
) -> tuple[float, float]:
    """Do ``count`` rounds on the state in place and keep the best choice in ``best``.

    Return the value of the state and that of the best choice.
    """
    checks = len(arrays.kin)
    out = np.empty(most, dtype=np.int64)
    before = np.empty(most, dtype=np.int64)
    for _ in range(count):
        size = min(checks, np.random.randint(1, most + 1))
        _pick_related(arrays, size, out)
        new = value
        for place in range(size):
            before[place] = state.chosen[out[place]]
            new += _take_out(arrays, state, out[place])
        for place in range(size):
            column = _cheapest(arrays, state, out[place], blur * temperature)
            new += _put_in(arrays, state, out[place], column)
        if new <= value or np.random.random() < np.exp((value - new) / temperature):
            value = new
            if value < best_value - 1e-6:
                best_value = value
                best[:] = state.chosen
            continue
        for place in range(size):
            _take_out(arrays, state, out[place])
        for place in range(size):
            _put_in(arrays, state, out[place], before[place])
    return value, best_value
