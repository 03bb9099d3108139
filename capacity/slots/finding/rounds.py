"""The compiled rounds of ruin and recreate; see ``RuinRecreate`` for what they do.

Everything depends on how many rounds fit into a second, so this file is compiled to machine
code on first use and kept beside the sources. What is asked for every column or check is inlined:
handing all the arrays to a function takes longer than such a function's own work. So is what is
called in one place or two: a function of its own is compiled anew with each that calls it. Nothing
here makes arrays, so that the counting of references to them, up to a third of the time, is off.
"""

from collections.abc import Callable
from typing import Any, NamedTuple, ParamSpec, TypeVar

import numpy as np

from capacity.slots.finding.compiled_code import compiled as kept_if_possible
from capacity.slots.finding.round_arrays import Arrays, Ints, State

TINY = 1e-9
# One candidate in a hundred is overlooked when a check is put back: a blink, as Christiaens and
# Vanden Berghe (2020) call it.
BLINK = 0.01
# Share of the rounds that begin with a place and push away whoever is in it, and of those that
# take out who stands near each other; the others take out related checks wherever they are.
PUSHING, NEAR = 0.4, 0.25
# By so many days past the price of leaving a check out rises whenever it finds no place. Those
# that are hard to place then come in, and easier ones wait (penalty counters of ejected stops:
# Nagata and Braysy, A powerful route minimization heuristic, 2009 - from memory). In hangars a
# last booked check used to be left out for good.
URGE = 0.5

# Without ``_nrt`` references to arrays are not counted.
OPTIONS: dict[str, Any] = {"_nrt": False}
Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")


def compiled(function: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
    """Compile a function to machine code when it is first called, and keep that."""
    return kept_if_possible(function, **OPTIONS)


def inlined(function: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
    """Compile a function into those that call it."""
    return kept_if_possible(function, inline="always", **OPTIONS)


@compiled
def seed_rounds(seed: int) -> None:
    """Seed the compiled rounds' own source of chance."""
    np.random.seed(seed)


@compiled
def _family_money(arrays: Arrays, state: State, touch: int, share: float) -> float:
    """Return what a family's hours of a week cost; see ``Cuts`` for the formula.

    With a ``share`` (0 or 1) of what a course asks there on top of what is asked already.
    """
    asked = state.sheet[0]
    family, week = arrays.touched[touch].family, arrays.touched[touch].week
    members = arrays.touched[touch].members
    for member in range(members):
        cell = week * arrays.kinds + arrays.cut_kinds[family, member]
        asked[member] = state.load[cell] - arrays.regular[cell]
    for entry in range(arrays.touched[touch].ask_start, arrays.touched[touch].ask_until):
        asked[arrays.asks[entry].member] += share * arrays.asks[entry].hours
    return flow_money(arrays, state, family, week, members)


@inlined
def flow_money(arrays: Arrays, state: State, family: int, week: int, members: int) -> float:
    """Return what the excess of a family's members costs that stands on the sheet."""
    asked, whole, through = state.sheet[0], state.sheet[1], state.sheet[2]
    groups = arrays.cut_tier.shape[3]
    for group in range(groups):
        whole[group] = 0.0
    total = 0.0
    for member in range(members):
        asked[member] = max(asked[member], 0.0)
        whole[arrays.cut_group[family, member]] += asked[member]
        total += asked[member]
    money = 0.0
    for level in range(arrays.cut_steps.shape[1]):
        step = arrays.cut_steps[family, level]
        if total <= TINY or step <= 0.0:
            continue
        left, slack = 0.0, np.inf
        for member in range(members):
            spare = asked[member] - arrays.cut_own[family, week, level, member]
            if spare > 0.0:
                left += spare
                slack = min(slack, arrays.cut_most[family, week, level, member])
        if left <= slack:
            break  # one crew could do all that is left
        flow = total
        for choice in range(arrays.cut_crews.shape[3]):
            carried = arrays.cut_crews[family, week, level, choice]
            if carried >= flow:
                continue
            for group in range(groups):
                through[group] = arrays.cut_tier[family, week, level, group]
            for member in range(members):
                hours = asked[member]
                if not arrays.cut_held[family, level, choice, member]:
                    hours = min(hours, arrays.cut_own[family, week, level, member])
                through[arrays.cut_group[family, member]] += hours
            for group in range(groups):
                carried += min(whole[group], through[group])
            flow = min(flow, carried)
        money += step * (total - flow)
        if flow >= total - TINY:
            break
    return money


@inlined
def _is_beyond(arrays: Arrays, state: State, touch: int, share: float) -> bool:
    """Return whether more than the regular hours is asked where a course asks shared ones."""
    for entry in range(arrays.touched[touch].ask_start, arrays.touched[touch].ask_until):
        cell = arrays.asks[entry].cell
        if state.load[cell] + share * arrays.asks[entry].hours > arrays.regular[cell]:
            return True
    return False


@compiled
def shift(arrays: Arrays, state: State, check: int, column: int, sign: float) -> float:
    """Put a check into a column (sign 1) or take it out of it (-1), -1 being none.

    Its hours lie evenly, or as they are ``bent``. Returns how much the money rises, but for
    shared hours.
    """
    if column < 0:
        return 0.0
    for entry in range(arrays.columns[column].foot_start, arrays.columns[column + 1].foot_start):
        state.slack[arrays.foot[entry].row] -= sign * arrays.foot[entry].size
    rise = sign * float(arrays.columns[column].money)
    course = arrays.columns[column].course
    start = arrays.courses[course].ask_start
    for entry in range(start, arrays.courses[course + 1].ask_start):
        cell = arrays.asks[entry].cell
        hours = arrays.asks[entry].hours
        if arrays.are_levelled:
            hours += state.bent[arrays.bent_start[check] + entry - start]
        before = state.load[cell]
        after = before + sign * hours
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            rise += arrays.slopes[cell, tier] * (max(after - edge, 0.0) - max(before - edge, 0.0))
        state.load[cell] = after
    return rise


@compiled
def respend(arrays: Arrays, state: State, column: int, is_put_in: bool) -> float:
    """Work out anew what shared hours cost where a column asks some; return the rise.

    Of several that are taken out together the first does it for the others.
    """
    rise = 0.0
    if column < 0:
        return rise
    course = arrays.columns[column].course
    for touch in range(arrays.courses[course].touch_start, arrays.courses[course + 1].touch_start):
        family, week = arrays.touched[touch].family, arrays.touched[touch].week
        if is_put_in:
            is_as_before = not _is_beyond(arrays, state, touch, 0.0)
        else:
            is_as_before = state.is_fresh[family, week] or state.spent[family, week] == 0.0
            state.is_fresh[family, week] = True
        if is_as_before:
            continue
        money = _family_money(arrays, state, touch, 0.0)
        rise += money - state.spent[family, week]
        state.spent[family, week] = money
    return rise


@inlined
def days_of(arrays: Arrays, check: int, column: int) -> float:
    """Return the days past of a check in a column, -1 for none."""
    if column < 0:
        return float(arrays.checks[check].unplaced_past)
    return float(arrays.columns[column].past)


@inlined
def felt_days(arrays: Arrays, state: State, check: int, column: int) -> float:
    """Return the same as it counts on the way, where leaving out counts by ``urgency``."""
    if column < 0:
        return float(state.urgency[check])
    return float(arrays.columns[column].past)


@inlined
def fits(arrays: Arrays, state: State, column: int) -> bool:
    """Return whether a column takes no more than there is.

    What it lacked when last asked is looked at first: mostly it is lacking still.
    """
    if state.lacked[column].size > state.slack[state.lacked[column].row] + TINY:
        return False
    for entry in range(arrays.columns[column].foot_start, arrays.columns[column + 1].foot_start):
        if arrays.foot[entry].size > state.slack[arrays.foot[entry].row] + TINY:
            state.lacked[column].row = arrays.foot[entry].row
            state.lacked[column].size = arrays.foot[entry].size
            return False
    return True


@compiled
def _labour(arrays: Arrays, state: State, course: int, enough: float) -> float:
    """Return what the hours of a course would add to the labour money.

    It is not added up to the end when it is ``enough`` before.
    """
    rise = 0.0
    touch, end = arrays.courses[course].touch_start, arrays.courses[course + 1].touch_start
    until = arrays.courses[course + 1].ask_start
    if touch < end:
        until = arrays.touched[touch].ask_start
    for entry in range(arrays.courses[course].ask_start, until):
        cell = arrays.asks[entry].cell
        before = state.load[cell]
        after = before + arrays.asks[entry].hours
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            if after <= edge:
                break
            rise += arrays.slopes[cell, tier] * (after - max(before, edge))
    for shared in range(touch, end):
        if rise >= enough:
            break
        if _is_beyond(arrays, state, shared, 1.0):
            family, week = arrays.touched[shared].family, arrays.touched[shared].week
            rise += _family_money(arrays, state, shared, 1.0) - state.spent[family, week]
    return rise


@compiled
def _cheapest(arrays: Arrays, state: State, check: int, day_price: float, blur: float) -> int:
    """Return the cheapest column for a check that is out, -1 for leaving it out.

    Prices are blurred by a Gumbel variable of scale ``blur``, so that a column is taken with
    the probability that annealing at that temperature would give it. Chance is drawn last: few
    columns fit, and a draw takes longer than to see that.
    """
    best, best_price = -1, day_price * state.urgency[check]
    last_course, labour, is_whole = -1, 0.0, False
    for column in range(arrays.checks[check].first_column, arrays.checks[check + 1].first_column):
        if not fits(arrays, state, column) or np.random.random() < BLINK:
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


@compiled
def _take_nearest(state: State, count: int) -> int:
    """Fill ``out`` with the ``count`` of most ``nearness`` in random order; it is used up.

    Returns ``count``.
    """
    for place in range(count):
        state.out[place] = np.argmax(state.nearness)
        state.nearness[state.out[place]] = -1.0
    np.random.shuffle(state.out[:count])
    return count


@compiled
def _pick_related(arrays: Arrays, state: State) -> int:
    """Fill ``out`` with a random check and those most related to it, blurred; return how many."""
    checks = len(arrays.relatedness)
    count = min(checks, np.random.randint(1, len(state.out) + 1))
    anchor = np.random.randint(0, checks)
    for check in range(checks):
        state.nearness[check] = arrays.relatedness[anchor, check] * np.random.random() ** 2
    state.nearness[anchor] = np.inf
    return _take_nearest(state, count)


@compiled
def _pick_near(arrays: Arrays, state: State) -> int:
    """Fill ``out`` with checks that stand in one place about a day; return how many.

    The anchor is a random check, where it stands or where it might; with it go those that came
    in nearest to that day, of all that stand in that bay or in one tied to it.
    """
    checks = len(arrays.relatedness)
    anchor = np.random.randint(0, checks)
    first, until = arrays.checks[anchor].first_column, arrays.checks[anchor + 1].first_column
    if first == until:
        return 0
    column = state.chosen[anchor]
    if column < 0 or np.random.random() < 0.5:
        column = np.random.randint(first, until)
    place, day = arrays.columns[column].place, arrays.columns[column].in_day
    standing = 0
    for check in range(checks):
        state.nearness[check] = -1.0
        other = state.chosen[check]
        if other >= 0 and arrays.columns[other].place == place:
            state.nearness[check] = 1.0 / (1.0 + abs(arrays.columns[other].in_day - day))
            standing += 1
    if state.nearness[anchor] < 0.0:
        standing += 1
    state.nearness[anchor] = 2.0
    return _take_nearest(state, min(standing, np.random.randint(2, len(state.out) + 1)))


@inlined
def _pick_place(arrays: Arrays, state: State) -> tuple[int, int]:
    """Return a random check, half of the time one that is out, and a random column of its."""
    checks = len(arrays.relatedness)
    check = np.random.randint(0, checks)
    if np.random.random() < 0.5:
        for step in range(checks):
            other = (check + step) % checks
            if state.chosen[other] < 0:
                check = other
                break
    first, until = arrays.checks[check].first_column, arrays.checks[check + 1].first_column
    return check, -1 if first == until else np.random.randint(first, until)


@compiled
def _mark_lacking(arrays: Arrays, state: State, column: int) -> int:
    """Mark the rows in which a column finds no room, unmark its others; return how many."""
    lacking = 0
    for entry in range(arrays.columns[column].foot_start, arrays.columns[column + 1].foot_start):
        row = arrays.foot[entry].row
        state.is_lacking[row] = arrays.foot[entry].size > state.slack[row] + TINY
        lacking += state.is_lacking[row]
    return lacking


@inlined
def _is_in_the_way(arrays: Arrays, state: State, standing: int) -> bool:
    """Return whether a column that stands takes some of what is lacking."""
    first, until = arrays.columns[standing].foot_start, arrays.columns[standing + 1].foot_start
    for entry in range(first, until):  # noqa: SIM110 - what is compiled knows no generators
        if state.is_lacking[arrays.foot[entry].row]:
            return True
    return False


@compiled
def _push_away(arrays: Arrays, state: State, wanted: int) -> tuple[int, float]:
    """Take out those in the way of a column, the check that wants it being out already.

    Returns how many are out then, and how much the money rises but for shared hours.
    """
    size, rise = 1, 0.0
    if wanted < 0:
        return size, rise
    lacking = _mark_lacking(arrays, state, wanted)
    checks = len(state.chosen)
    offset = np.random.randint(0, checks)
    for step in range(checks):
        if lacking == 0 or size == len(state.out):
            break
        check = (offset + step) % checks
        column = state.chosen[check]
        if column >= 0 and _is_in_the_way(arrays, state, column):
            state.out[size] = check
            rise += _take_out(arrays, state, size)
            size += 1
            lacking = _mark_lacking(arrays, state, wanted)
    for entry in range(arrays.columns[wanted].foot_start, arrays.columns[wanted + 1].foot_start):
        state.is_lacking[arrays.foot[entry].row] = False
    return size, rise


@inlined
def _take_out(arrays: Arrays, state: State, place: int) -> float:
    """Take out the check in that place of ``out``; return the rise but for shared hours."""
    check = state.out[place]
    state.before[place] = state.chosen[check]
    state.chosen[check] = -1
    return float(shift(arrays, state, check, state.before[place], -1.0))


@inlined
def empty(arrays: Arrays, state: State) -> tuple[int, int, float]:
    """Take checks out; return how many, a column for the first (-1 for any), and the rise.

    The rise is that of the money but for shared hours.
    """
    kind = np.random.random()
    if kind < PUSHING:
        state.out[0], wanted = _pick_place(arrays, state)
        rise = _take_out(arrays, state, 0)
        size, more = _push_away(arrays, state, wanted)
        return size, wanted, rise + more
    size = _pick_near(arrays, state) if kind < PUSHING + NEAR else _pick_related(arrays, state)
    rise = 0.0
    for place in range(size):
        rise += _take_out(arrays, state, place)
    return size, -1, rise


@inlined
def open_round(arrays: Arrays, state: State) -> tuple[int, int, float]:
    """Take checks out as ``empty`` does; the rise is that of shared hours, too."""
    size, wanted, rise = empty(arrays, state)
    families, weeks = state.spent.shape
    for family in range(families):
        for week in range(weeks):
            state.spent_before[family, week] = state.spent[family, week]
            state.is_fresh[family, week] = False
    for place in range(size):
        rise += respend(arrays, state, state.before[place], False)
    return size, wanted, rise


@inlined
def urge(arrays: Arrays, state: State, wanted: int) -> None:
    """Raise what leaving the first check out counts for, where it was to come in and did not."""
    check = state.out[0]
    is_still_out = wanted >= 0 and state.before[0] < 0 and state.chosen[check] < 0
    if is_still_out and arrays.checks[check].unplaced_past > 0.0:
        state.urgency[check] += URGE


@inlined
def is_taken(worse: float, temperature: float) -> bool:
    """Return whether a round is kept that makes the choice so much worse."""
    return worse <= 0.0 or np.random.random() < np.exp(-worse / temperature)


@inlined
def undo(arrays: Arrays, state: State, size: int) -> None:
    """Put the checks of a round back where they were, and the money of shared hours with them."""
    for place in range(size):
        shift(arrays, state, state.out[place], state.chosen[state.out[place]], -1.0)
    for place in range(size):
        state.chosen[state.out[place]] = state.before[place]
        shift(arrays, state, state.out[place], state.before[place], 1.0)
    families, weeks = state.spent.shape
    for family in range(families):
        for week in range(weeks):
            state.spent[family, week] = state.spent_before[family, week]


class Costs(NamedTuple):
    """Days past ``Latest in`` and money of the state and of the best choice so far."""

    days: float
    money: float
    best_days: float
    best_money: float


@inlined
def taken_in(state: State, best: Ints, costs: Costs, more_days: float, rise: float) -> Costs:
    """Return the costs with those of a round that is kept; ``best`` follows the state."""
    days, money = costs.days + more_days, costs.money + rise
    best_days, best_money = costs.best_days, costs.best_money
    if days < best_days or (days == best_days and money < best_money - 1e-6):
        best_days, best_money = days, money
        for check in range(len(best)):
            best[check] = state.chosen[check]
    return Costs(days, money, best_days, best_money)


@compiled
def run_rounds(
    arrays: Arrays,
    state: State,
    best: Ints,
    costs: Costs,
    count: int,
    temperature: float,
    day_price: float,
    blur: float,
) -> Costs:
    """Do ``count`` rounds on the state in place and keep the best choice in ``best``.

    A round takes out checks that are related or near each other; or it takes a check and a place
    for it, and takes out whoever is in the way there. Then each is put back where it is
    cheapest. The best choice has the fewest days past, then the least money; on the way a day
    is worth ``day_price``.
    """
    for _ in range(count):
        size, wanted, rise = open_round(arrays, state)
        more_days, more_felt = 0.0, 0.0
        for place in range(size):
            check, before = state.out[place], state.before[place]
            if place == 0 and wanted >= 0 and fits(arrays, state, wanted):
                column = wanted
            else:
                column = _cheapest(arrays, state, check, day_price, blur * temperature)
            more_days += days_of(arrays, check, column) - days_of(arrays, check, before)
            more_felt += felt_days(arrays, state, check, column)
            more_felt -= felt_days(arrays, state, check, before)
            state.chosen[check] = column
            more = shift(arrays, state, check, column, 1.0)
            rise += more + respend(arrays, state, column, True)
        urge(arrays, state, wanted)
        if is_taken(rise + day_price * more_felt, temperature):
            costs = taken_in(state, best, costs, more_days, rise)
            continue
        undo(arrays, state, size)
    return costs
