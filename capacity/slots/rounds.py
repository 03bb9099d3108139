"""The compiled rounds of ruin and recreate; see ``RuinRecreate`` for what they do.

Everything depends on how many rounds fit into a second, so this file is compiled to machine
code on first use and kept beside the sources. What is asked for every column or check is inlined:
handing all the arrays to a function takes longer than such a function's own work.
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
# Share of the rounds that begin with a place and push away whoever is in it, and of those that
# take out who stands near each other; the others take out checks that are akin wherever they are.
PUSHING, NEAR = 0.4, 0.25


class Arrays(NamedTuple):
    """The program as flat arrays.

    Footprints and man-hours are in compressed rows: ``foot_*`` by column, ``ask_*`` by
    course. Labour money rises by ``slopes`` (cells, tiers) for every hour beyond ``edges``,
    for kinds of work that share no crews. For the others ``cut_*`` hold what ``Cuts`` says,
    and ``touched`` (by course, in compressed rows) the family x week in which a course asks.
    ``kin`` (checks, checks) says how much two checks can be in each other's way. A check
    left out counts ``unplaced_past`` days past. ``place`` and ``in_day`` (columns,) say where
    and when: the first bay with those tied to it, and the day number.
    """

    first_column: Ints
    course: Ints
    money: Floats
    past: Floats
    unplaced_past: Floats
    foot_starts: Ints
    foot_rows: NDArray[np.int32]
    foot_sizes: NDArray[np.float32]
    ask_starts: Ints
    ask_cells: Ints
    ask_hours: Floats
    regular: Floats
    edges: Floats
    slopes: Floats
    touch_starts: Ints
    touched: Ints
    kinds: int
    cut_kinds: Ints
    cut_group: Ints
    cut_steps: Floats
    cut_own: Floats
    cut_tier: Floats
    cut_crews: Floats
    cut_held: NDArray[np.bool_]
    kin: Floats
    place: Ints
    in_day: Ints


class State(NamedTuple):
    """A choice and what it leaves: the column of each check, room by row, load by cell.

    ``spent`` (families, weeks) is the money for shared hours. ``lacked_row`` (columns,) is
    where a column found no room when it last did not fit, ``lacked_size`` what it takes there.
    """

    chosen: Ints
    room: Floats
    load: Floats
    spent: Floats
    lacked_row: NDArray[np.int32]
    lacked_size: NDArray[np.float32]


@numba.njit(cache=True)
def seed_rounds(seed: int) -> None:
    """Seed the compiled rounds' own source of chance."""
    np.random.seed(seed)


@numba.njit(cache=True)
def _family_money(arrays: Arrays, load: Floats, family: int, week: int) -> float:
    """Return what a family's hours of a week cost; see ``Cuts`` for the formula."""
    members, groups = arrays.cut_kinds.shape[1], arrays.cut_tier.shape[3]
    asked = np.empty(members)
    total = 0.0
    count = 0
    for member in range(members):
        kind = arrays.cut_kinds[family, member]
        if kind < 0:
            break
        cell = week * arrays.kinds + kind
        asked[member] = max(load[cell] - arrays.regular[cell], 0.0)
        total += asked[member]
        count += 1
    if total <= ROOM:
        return 0.0
    whole, through = np.empty(groups), np.empty(groups)
    money = 0.0
    for level in range(arrays.cut_steps.shape[1]):
        step = arrays.cut_steps[family, level]
        if step <= 0.0:
            continue
        flow = total
        for choice in range(arrays.cut_crews.shape[3]):
            carried = arrays.cut_crews[family, week, level, choice]
            if carried >= flow:
                continue
            for group in range(groups):
                whole[group] = 0.0
                through[group] = arrays.cut_tier[family, week, level, group]
            for member in range(count):
                hours, group = asked[member], arrays.cut_group[family, member]
                whole[group] += hours
                if not arrays.cut_held[family, level, choice, member]:
                    hours = min(hours, arrays.cut_own[family, week, level, member])
                through[group] += hours
            for group in range(groups):
                carried += min(whole[group], through[group])
            flow = min(flow, carried)
        money += step * (total - flow)
        if flow >= total - ROOM:
            break
    return money


@numba.njit(cache=True)
def spend_anew(arrays: Arrays, state: State) -> None:
    """Work out from the load what the shared hours of each family and week cost."""
    families, weeks = state.spent.shape
    for family in range(families):
        for week in range(weeks):
            state.spent[family, week] = _family_money(arrays, state.load, family, week)


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
    weeks = state.spent.shape[1]
    for entry in range(arrays.touch_starts[course], arrays.touch_starts[course + 1]):
        family, week = divmod(arrays.touched[entry], weeks)
        money = _family_money(arrays, state.load, family, week)
        rise += money - state.spent[family, week]
        state.spent[family, week] = money
    return rise


@numba.njit(cache=True)
def _take_out(arrays: Arrays, state: State, check: int) -> float:
    """Take a check out; return how much the money rises."""
    column = state.chosen[check]
    if column < 0:
        return 0.0
    return float(_shift(arrays, state, column, -1.0) - arrays.money[column])


@numba.njit(cache=True)
def _put_in(arrays: Arrays, state: State, check: int, column: int) -> float:
    """Place a check that is out, -1 to leave it out; return how much the money rises."""
    state.chosen[check] = column
    if column < 0:
        return 0.0
    return float(_shift(arrays, state, column, 1.0) + arrays.money[column])


@numba.njit(cache=True)
def _days(arrays: Arrays, check: int, column: int) -> float:
    """Return the days past of a check in a column, -1 for none."""
    return float(arrays.unplaced_past[check] if column < 0 else arrays.past[column])


@numba.njit(cache=True, inline="always")
def _fits(arrays: Arrays, state: State, column: int) -> bool:
    """Return whether a column takes no more than there is.

    What it lacked when last asked is looked at first: mostly it is lacking still.
    """
    if state.lacked_size[column] > state.room[state.lacked_row[column]] + ROOM:
        return False
    for entry in range(arrays.foot_starts[column], arrays.foot_starts[column + 1]):
        if arrays.foot_sizes[entry] > state.room[arrays.foot_rows[entry]] + ROOM:
            state.lacked_row[column] = arrays.foot_rows[entry]
            state.lacked_size[column] = arrays.foot_sizes[entry]
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
    if arrays.touch_starts[course] < arrays.touch_starts[course + 1]:
        rise += _shared_labour(arrays, state, course)
    return rise


@numba.njit(cache=True)
def _shared_labour(arrays: Arrays, state: State, course: int) -> float:
    """Return what the hours of a course would add to the money for shared hours."""
    first, until = arrays.ask_starts[course], arrays.ask_starts[course + 1]
    before = np.empty(until - first)
    for entry in range(first, until):
        before[entry - first] = state.load[arrays.ask_cells[entry]]
        state.load[arrays.ask_cells[entry]] += arrays.ask_hours[entry]
    rise = 0.0
    weeks = state.spent.shape[1]
    for entry in range(arrays.touch_starts[course], arrays.touch_starts[course + 1]):
        family, week = divmod(arrays.touched[entry], weeks)
        rise += _family_money(arrays, state.load, family, week) - state.spent[family, week]
    for entry in range(first, until):
        state.load[arrays.ask_cells[entry]] = before[entry - first]
    return rise


@numba.njit(cache=True)
def _cheapest(arrays: Arrays, state: State, check: int, day_price: float, blur: float) -> int:
    """Return the cheapest column for a check that is out, -1 for leaving it out.

    Prices are blurred by a Gumbel variable of scale ``blur``, so that a column is taken with
    the probability that annealing at that temperature would give it. Chance is drawn last: few
    columns fit, and a draw takes longer than to see that.
    """
    best, best_price = -1, day_price * arrays.unplaced_past[check]
    last_course, labour = -1, 0.0
    for column in range(arrays.first_column[check], arrays.first_column[check + 1]):
        if not _fits(arrays, state, column) or np.random.random() < BLINK:
            continue
        price = arrays.money[column] + day_price * arrays.past[column]
        if blur > 0.0:
            price += blur * np.log(-np.log(np.random.random()))
        if price >= best_price:
            continue  # more man-hours never cost less
        if arrays.course[column] != last_course:
            last_course = arrays.course[column]
            labour = _labour(arrays, state, last_course)
        price += labour
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
def _pick_near(arrays: Arrays, state: State, most: int, out: Ints) -> int:
    """Fill ``out`` with checks that stand in one place about a day; return how many.

    The anchor is a random check, where it stands or where it might; with it go those that came
    in nearest to that day, of all that stand in that bay or in one tied to it.
    """
    checks = len(arrays.kin)
    anchor = np.random.randint(0, checks)
    first, until = arrays.first_column[anchor], arrays.first_column[anchor + 1]
    if first == until:
        return 0
    column = state.chosen[anchor]
    if column < 0 or np.random.random() < 0.5:
        column = np.random.randint(first, until)
    place, day = arrays.place[column], arrays.in_day[column]
    nearness = np.full(checks, -1.0)
    standing = 0
    for check in range(checks):
        other = state.chosen[check]
        if other >= 0 and arrays.place[other] == place:
            nearness[check] = 1.0 / (1.0 + abs(arrays.in_day[other] - day))
            standing += 1
    if nearness[anchor] < 0.0:
        standing += 1
    nearness[anchor] = 2.0
    size = min(standing, np.random.randint(2, most + 1))
    for slot in range(size):
        out[slot] = np.argmax(nearness)
        nearness[out[slot]] = -1.0
    np.random.shuffle(out[:size])
    return size


@numba.njit(cache=True)
def _pick_place(arrays: Arrays, state: State) -> tuple[int, int]:
    """Return a random check, half of the time one that is out, and a random column of its."""
    checks = len(arrays.kin)
    check = np.random.randint(0, checks)
    if np.random.random() < 0.5:
        for step in range(checks):
            other = (check + step) % checks
            if state.chosen[other] < 0:
                check = other
                break
    first, until = arrays.first_column[check], arrays.first_column[check + 1]
    return check, -1 if first == until else np.random.randint(first, until)


@numba.njit(cache=True, inline="always")
def _is_in_the_way(arrays: Arrays, state: State, standing: int, column: int) -> bool:
    """Return whether a column that stands takes some of what another column lacks."""
    mine, until = arrays.foot_starts[column], arrays.foot_starts[column + 1]
    theirs, end = arrays.foot_starts[standing], arrays.foot_starts[standing + 1]
    while mine < until and theirs < end:
        row, other = arrays.foot_rows[mine], arrays.foot_rows[theirs]
        if row == other and arrays.foot_sizes[mine] > state.room[row] + ROOM:
            return True
        if row <= other:
            mine += 1
        if other <= row:
            theirs += 1
    return False


class Costs(NamedTuple):
    """Days past ``Latest in`` and money of the state and of the best choice so far."""

    days: float
    money: float
    best_days: float
    best_money: float


@numba.njit(cache=True)
def run_rounds(
    arrays: Arrays,
    state: State,
    best: Ints,
    costs: Costs,
    count: int,
    temperature: float,
    day_price: float,
    most: int,
    blur: float,
) -> Costs:
    """Do ``count`` rounds on the state in place and keep the best choice in ``best``.

    A round takes out checks that are akin; or it takes a check and a place for it, and takes
    out whoever is in the way there. Then each is put back where it is cheapest. The best
    choice has the fewest days past, then the least money; on the way a day is worth
    ``day_price``.
    """
    checks = len(arrays.kin)
    out = np.empty(most, dtype=np.int64)
    before = np.empty(most, dtype=np.int64)
    days, money, best_days, best_money = costs
    for _ in range(count):
        rise, more_days = 0.0, 0.0
        wanted, size = -1, 0
        kind = np.random.random()
        if kind < PUSHING:
            out[0], wanted = _pick_place(arrays, state)
            before[0] = state.chosen[out[0]]
            rise += _take_out(arrays, state, out[0])
            size = 1
            offset = np.random.randint(0, checks)
            for step in range(checks):
                check = (offset + step) % checks
                column = state.chosen[check]
                if size == most or wanted < 0 or check == out[0] or column < 0:
                    continue
                if _is_in_the_way(arrays, state, column, wanted):
                    out[size], before[size] = check, column
                    rise += _take_out(arrays, state, check)
                    size += 1
        else:
            if kind < PUSHING + NEAR:
                size = _pick_near(arrays, state, most, out)
            else:
                size = min(checks, np.random.randint(1, most + 1))
                _pick_related(arrays, size, out)
            for place in range(size):
                before[place] = state.chosen[out[place]]
                rise += _take_out(arrays, state, out[place])
        for place in range(size):
            check = out[place]
            if place == 0 and wanted >= 0 and _fits(arrays, state, wanted):
                column = wanted
            else:
                column = _cheapest(arrays, state, check, day_price, blur * temperature)
            more_days += _days(arrays, check, column) - _days(arrays, check, before[place])
            rise += _put_in(arrays, state, check, column)
        worse = rise + day_price * more_days
        if worse <= 0.0 or np.random.random() < np.exp(-worse / temperature):
            days += more_days
            money += rise
            if days < best_days or (days == best_days and money < best_money - 1e-6):
                best_days, best_money = days, money
                best[:] = state.chosen
            continue
        for place in range(size):
            _take_out(arrays, state, out[place])
        for place in range(size):
            _put_in(arrays, state, out[place], before[place])
    return Costs(days, money, best_days, best_money)
