"""The compiled rounds of ruin and recreate; see ``RuinRecreate`` for what they do.

Everything depends on how many rounds fit into a second, so this file is compiled to machine
code on first use and kept beside the sources. What is asked for every column or check is inlined:
handing all the arrays to a function takes longer than such a function's own work.
"""

from typing import NamedTuple

import numba
import numpy as np

from capacity.slots.round_arrays import Arrays, Floats, Ints, State

ROOM = 1e-9
# One candidate in so many is overlooked when a check is put back.
BLINK = 0.01
# Share of the rounds that begin with a place and push away whoever is in it, and of those that
# take out who stands near each other; the others take out checks that are akin wherever they are.
PUSHING, NEAR = 0.4, 0.25


@numba.njit(cache=True)
def seed_rounds(seed: int) -> None:
    """Seed the compiled rounds' own source of chance."""
    np.random.seed(seed)


@numba.njit(cache=True)
def _family_money(arrays: Arrays, state: State, family: int, week: int) -> float:
    """Return what a family's hours of a week cost; see ``Cuts`` for the formula."""
    asked, whole, through = state.sheet[0], state.sheet[1], state.sheet[2]
    groups = arrays.cut_tier.shape[3]
    for group in range(groups):
        whole[group] = 0.0
    total = 0.0
    count = 0
    for member in range(arrays.cut_kinds.shape[1]):
        kind = arrays.cut_kinds[family, member]
        if kind < 0:
            break
        cell = week * arrays.kinds + kind
        asked[member] = max(state.load[cell] - arrays.regular[cell], 0.0)
        whole[arrays.cut_group[family, member]] += asked[member]
        total += asked[member]
        count += 1
    if total <= ROOM:
        return 0.0
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
                through[group] = arrays.cut_tier[family, week, level, group]
            for member in range(count):
                hours = asked[member]
                if not arrays.cut_held[family, level, choice, member]:
                    hours = min(hours, arrays.cut_own[family, week, level, member])
                through[arrays.cut_group[family, member]] += hours
            for group in range(groups):
                carried += min(whole[group], through[group])
            flow = min(flow, carried)
        money += step * (total - flow)
        if flow >= total - ROOM:
            break
    return money


@numba.njit(cache=True)
def _shift(arrays: Arrays, state: State, column: int, sign: float) -> float:
    """Put a column in (sign 1) or take it out (-1), -1 being none.

    Returns how much the money rises, but for shared hours.
    """
    if column < 0:
        return 0.0
    for entry in range(arrays.columns[column].foot_start, arrays.columns[column + 1].foot_start):
        state.room[arrays.foot[entry].row] -= sign * arrays.foot[entry].size
    rise = sign * float(arrays.columns[column].money)
    course = arrays.columns[column].course
    for entry in range(arrays.courses[course].ask_start, arrays.courses[course + 1].ask_start):
        cell = arrays.asks[entry].cell
        before = state.load[cell]
        after = before + sign * arrays.asks[entry].hours
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            rise += arrays.slopes[cell, tier] * (max(after - edge, 0.0) - max(before - edge, 0.0))
        state.load[cell] = after
    return rise


@numba.njit(cache=True)
def _respend(arrays: Arrays, state: State, column: int) -> float:
    """Work out anew what shared hours cost where a column asks some; return the rise."""
    rise = 0.0
    if column < 0:
        return rise
    course = arrays.columns[column].course
    for entry in range(arrays.courses[course].touch_start, arrays.courses[course + 1].touch_start):
        family, week = arrays.touched[entry].family, arrays.touched[entry].week
        money = _family_money(arrays, state, family, week)
        rise += money - state.spent[family, week]
        state.spent[family, week] = money
    return rise


@numba.njit(cache=True)
def _days(arrays: Arrays, check: int, column: int) -> float:
    """Return the days past of a check in a column, -1 for none."""
    if column < 0:
        return float(arrays.checks[check].unplaced_past)
    return float(arrays.columns[column].past)


@numba.njit(cache=True, inline="always")
def _fits(arrays: Arrays, state: State, column: int) -> bool:
    """Return whether a column takes no more than there is.

    What it lacked when last asked is looked at first: mostly it is lacking still.
    """
    if state.lacked[column].size > state.room[state.lacked[column].row] + ROOM:
        return False
    for entry in range(arrays.columns[column].foot_start, arrays.columns[column + 1].foot_start):
        if arrays.foot[entry].size > state.room[arrays.foot[entry].row] + ROOM:
            state.lacked[column].row = arrays.foot[entry].row
            state.lacked[column].size = arrays.foot[entry].size
            return False
    return True


@numba.njit(cache=True)
def _labour(arrays: Arrays, state: State, course: int, enough: float) -> float:
    """Return what the hours of a course would add to the labour money.

    It is not added up to the end when it is ``enough`` before.
    """
    rise = 0.0
    first, until = arrays.courses[course].ask_start, arrays.courses[course + 1].ask_start
    for entry in range(first, until):
        cell = arrays.asks[entry].cell
        before = state.load[cell]
        after = before + arrays.asks[entry].hours
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            if after <= edge:
                break
            rise += arrays.slopes[cell, tier] * (after - max(before, edge))
    touch, end = arrays.courses[course].touch_start, arrays.courses[course + 1].touch_start
    if touch == end or rise >= enough:
        return rise
    loads = state.sheet[3]
    for entry in range(first, until):
        loads[entry - first] = state.load[arrays.asks[entry].cell]
        state.load[arrays.asks[entry].cell] += arrays.asks[entry].hours
    for entry in range(touch, end):
        family, week = arrays.touched[entry].family, arrays.touched[entry].week
        rise += _family_money(arrays, state, family, week) - state.spent[family, week]
        if rise >= enough:
            break
    for entry in range(first, until):
        state.load[arrays.asks[entry].cell] = loads[entry - first]
    return rise


@numba.njit(cache=True)
def _cheapest(arrays: Arrays, state: State, check: int, day_price: float, blur: float) -> int:
    """Return the cheapest column for a check that is out, -1 for leaving it out.

    Prices are blurred by a Gumbel variable of scale ``blur``, so that a column is taken with
    the probability that annealing at that temperature would give it. Chance is drawn last: few
    columns fit, and a draw takes longer than to see that.
    """
    best, best_price = -1, day_price * arrays.checks[check].unplaced_past
    last_course, labour, is_whole = -1, 0.0, False
    for column in range(arrays.checks[check].first_column, arrays.checks[check + 1].first_column):
        if not _fits(arrays, state, column) or np.random.random() < BLINK:
            continue
        price = arrays.columns[column].money + day_price * arrays.columns[column].past
        if blur > 0.0:
            price += blur * np.log(-np.log(np.random.random()))
        course = arrays.columns[column].course
        if course != last_course:
            last_course, labour, is_whole = course, 0.0, False
        if price + labour >= best_price:
            continue  # more man-hours never cost less
        if not is_whole:
            labour = _labour(arrays, state, course, best_price - price)
            is_whole = price + labour < best_price
        if is_whole:
            best, best_price = column, price + labour
    return best


@numba.njit(cache=True)
def _take_nearest(nearness: Floats, count: int, out: Ints) -> None:
    """Fill ``out`` with the ``count`` nearest in random order; ``nearness`` is used up."""
    for place in range(count):
        out[place] = np.argmax(nearness)
        nearness[out[place]] = -1.0
    np.random.shuffle(out[:count])


@numba.njit(cache=True)
def _pick_related(arrays: Arrays, count: int, out: Ints) -> None:
    """Fill ``out`` with a random check and the ``count - 1`` most akin to it, blurred."""
    checks = len(arrays.kin)
    anchor = np.random.randint(0, checks)
    nearness = np.empty(checks)
    for check in range(checks):
        nearness[check] = arrays.kin[anchor, check] * np.random.random() ** 2
    nearness[anchor] = np.inf
    _take_nearest(nearness, count, out)


@numba.njit(cache=True)
def _pick_near(arrays: Arrays, state: State, most: int, out: Ints) -> int:
    """Fill ``out`` with checks that stand in one place about a day; return how many.

    The anchor is a random check, where it stands or where it might; with it go those that came
    in nearest to that day, of all that stand in that bay or in one tied to it.
    """
    checks = len(arrays.kin)
    anchor = np.random.randint(0, checks)
    first, until = arrays.checks[anchor].first_column, arrays.checks[anchor + 1].first_column
    if first == until:
        return 0
    column = state.chosen[anchor]
    if column < 0 or np.random.random() < 0.5:
        column = np.random.randint(first, until)
    place, day = arrays.columns[column].place, arrays.columns[column].in_day
    nearness = np.empty(checks)
    standing = 0
    for check in range(checks):
        nearness[check] = -1.0
        other = state.chosen[check]
        if other >= 0 and arrays.columns[other].place == place:
            nearness[check] = 1.0 / (1.0 + abs(arrays.columns[other].in_day - day))
            standing += 1
    if nearness[anchor] < 0.0:
        standing += 1
    nearness[anchor] = 2.0
    size = min(standing, np.random.randint(2, most + 1))
    _take_nearest(nearness, size, out)
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
    first, until = arrays.checks[check].first_column, arrays.checks[check + 1].first_column
    return check, -1 if first == until else np.random.randint(first, until)


@numba.njit(cache=True, inline="always")
def _is_in_the_way(arrays: Arrays, state: State, standing: int, column: int) -> bool:
    """Return whether a column that stands takes some of what another column lacks."""
    mine, until = arrays.columns[column].foot_start, arrays.columns[column + 1].foot_start
    theirs, end = arrays.columns[standing].foot_start, arrays.columns[standing + 1].foot_start
    while mine < until and theirs < end:
        row, other = arrays.foot[mine].row, arrays.foot[theirs].row
        if row == other and arrays.foot[mine].size > state.room[row] + ROOM:
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
    families, weeks = state.spent.shape
    days, money, best_days, best_money = costs
    for _ in range(count):
        rise, more_days = 0.0, 0.0
        wanted, size = -1, 0
        kind = np.random.random()
        if kind < PUSHING:
            out[0], wanted = _pick_place(arrays, state)
            before[0] = state.chosen[out[0]]
            rise += _shift(arrays, state, before[0], -1.0)
            size = 1
            offset = np.random.randint(0, checks)
            for step in range(checks):
                check = (offset + step) % checks
                column = state.chosen[check]
                if size == most or wanted < 0 or check == out[0] or column < 0:
                    continue
                if _is_in_the_way(arrays, state, column, wanted):
                    out[size], before[size] = check, column
                    rise += _shift(arrays, state, column, -1.0)
                    size += 1
        else:
            if kind < PUSHING + NEAR:
                size = _pick_near(arrays, state, most, out)
            else:
                size = min(checks, np.random.randint(1, most + 1))
                _pick_related(arrays, size, out)
            for place in range(size):
                before[place] = state.chosen[out[place]]
                rise += _shift(arrays, state, before[place], -1.0)
        for family in range(families):
            for week in range(weeks):
                state.spent_before[family, week] = state.spent[family, week]
        for place in range(size):
            rise += _respend(arrays, state, before[place])
        for place in range(size):
            check = out[place]
            if place == 0 and wanted >= 0 and _fits(arrays, state, wanted):
                column = wanted
            else:
                column = _cheapest(arrays, state, check, day_price, blur * temperature)
            more_days += _days(arrays, check, column) - _days(arrays, check, before[place])
            state.chosen[check] = column
            rise += _shift(arrays, state, column, 1.0) + _respend(arrays, state, column)
        worse = rise + day_price * more_days
        if worse <= 0.0 or np.random.random() < np.exp(-worse / temperature):
            days += more_days
            money += rise
            if days < best_days or (days == best_days and money < best_money - 1e-6):
                best_days, best_money = days, money
                for check in range(checks):
                    best[check] = state.chosen[check]
            continue
        for place in range(size):
            _shift(arrays, state, state.chosen[out[place]], -1.0)
        for place in range(size):
            state.chosen[out[place]] = before[place]
            _shift(arrays, state, before[place], 1.0)
        for family in range(families):
            for week in range(weeks):
                state.spent[family, week] = state.spent_before[family, week]
    return Costs(days, money, best_days, best_money)
