"""The compiled rounds where man-hours are levelled; see ``LevelledRuinRecreate``.

Every check that stands carries a spread of its own hours: so much put off across the end of each
week. A check that is put back is tried in each column with its hours bent as cheaply as they can
be beside all others; and when all are back, everybody's hours are bent anew, until nobody's alone
can be spread any cheaper. So what a round costs is what some true spread costs, seldom much more
than the cheapest one.
"""

import numpy as np

from capacity.slots.finding.round_arrays import Arrays, Ints, State
from capacity.slots.finding.rounds import (
    BLINK,
    TINY,
    Costs,
    compiled,
    days_of,
    felt_days,
    fits,
    flow_money,
    inlined,
    is_taken,
    open_round,
    respend,
    shift,
    taken_in,
    undo,
    urge,
)

# Hours are put off or brought forward by so many weeks at once.
REACH = 4
# Savings below this are roundings.
LEAST = 1e-6
# How often hours are moved out of one week, and a chain is gone through; more is seldom needed.
MOST_BENDS, MOST_SWEEPS = 8, 4
# Shared hours have no simple steps: all that can be moved is tried, then less and less of it.
HALVINGS = 4


@compiled
def _week_money(arrays: Arrays, state: State, family: int, week: int) -> float:
    """Return what a family's hours of a week cost as the load is now."""
    asked = state.sheet[0]
    members = 0
    for member in range(arrays.cut_kinds.shape[1]):
        if arrays.cut_kinds[family, member] < 0:
            break
        cell = week * arrays.kinds + arrays.cut_kinds[family, member]
        asked[member] = state.load[cell] - arrays.regular[cell]
        members += 1
    return flow_money(arrays, state, family, week, members)


@compiled
def _shared_saving(
    arrays: Arrays, state: State, family: int, source: int, target: int, hours: float
) -> float:
    """Return what moving shared hours from one cell to another saves; nothing is moved."""
    week, other = source // arrays.kinds, target // arrays.kinds
    state.load[source] -= hours
    state.load[target] += hours
    money = _week_money(arrays, state, family, week)
    money += _week_money(arrays, state, family, other)
    state.load[source] += hours
    state.load[target] -= hours
    return float(state.spent[family, week] + state.spent[family, other] - money)


@inlined
def _step(
    arrays: Arrays, state: State, source: int, target: int, most: float
) -> tuple[float, float]:
    """Return how many hours move from one cell to another at one price, and what an hour saves."""
    hours, saving = most, 0.0
    for tier in range(arrays.edges.shape[1]):
        beyond = state.load[source] - arrays.edges[source, tier]
        if beyond > TINY:
            saving += arrays.slopes[source, tier]
            hours = min(hours, beyond)
        room = arrays.edges[target, tier] - state.load[target]
        if room > TINY:
            hours = min(hours, room)
        else:
            saving -= arrays.slopes[target, tier]
    return hours, saving


@inlined
def _best_move(
    arrays: Arrays, state: State, chain: int, place: int, offset: int
) -> tuple[float, float, int]:
    """Return what is saved by moving hours out of a week of a chain, how many, and whereto."""
    start, until = arrays.chains[chain].start, arrays.chains[chain].until
    family = arrays.chains[chain].family
    entry = arrays.links[place]
    source = arrays.asks[entry].cell
    best, best_hours, best_to = LEAST, 0.0, -1
    give = arrays.bends[entry].less + state.bent[offset + entry]
    for way in (1, -1):
        room, other = give, place
        for _ in range(REACH):
            # The end of a week is numbered as the entry before it.
            between = other
            other += way
            if way < 0:
                between = other
            if other < start or other >= until:
                break
            edge = arrays.links[between]
            if way > 0:
                room = min(room, arrays.bends[edge].later - state.flow[offset + edge])
            else:
                room = min(room, arrays.bends[edge].earlier + state.flow[offset + edge])
            if room <= TINY:
                break
            to = arrays.links[other]
            target = arrays.asks[to].cell
            hours = min(room, arrays.bends[to].more - state.bent[offset + to])
            if hours <= TINY:
                continue
            saving = 0.0
            if family < 0:
                hours, an_hour = _step(arrays, state, source, target, hours)
                saving = hours * an_hour
            else:
                for _ in range(HALVINGS):
                    saving = _shared_saving(arrays, state, family, source, target, hours)
                    if saving > LEAST:
                        break
                    hours *= 0.5
            if saving > best:
                best, best_hours, best_to = saving, hours, other
    return best, best_hours, best_to


@inlined
def _move(
    arrays: Arrays, state: State, chain: int, place: int, other: int, hours: float, offset: int
) -> None:
    """Move hours from one week of a chain to another."""
    family = arrays.chains[chain].family
    entry, to = arrays.links[place], arrays.links[other]
    state.load[arrays.asks[entry].cell] -= hours
    state.load[arrays.asks[to].cell] += hours
    state.bent[offset + entry] -= hours
    state.bent[offset + to] += hours
    for between in range(place, other):
        state.flow[offset + arrays.links[between]] += hours
    for between in range(other, place):
        state.flow[offset + arrays.links[between]] -= hours
    if family >= 0:
        for both in (entry, to):
            week = arrays.asks[both].cell // arrays.kinds
            state.spent[family, week] = _week_money(arrays, state, family, week)


@compiled
def _bend(arrays: Arrays, state: State, check: int, course: int) -> float:
    """Spread a check's hours as cheaply as can be beside all others; return the rise of money.

    Hours are moved from a week to another of the same chain while that saves anything, within
    what can be put off or brought forward across the ends of the weeks between.
    """
    rise = 0.0
    offset = arrays.bent_start[check] - arrays.courses[course].ask_start
    for chain in range(arrays.courses[course].chain_start, arrays.courses[course + 1].chain_start):
        family = arrays.chains[chain].family
        moved = True
        for _ in range(MOST_SWEEPS):
            if not moved:
                break
            moved = False
            for place in range(arrays.chains[chain].start, arrays.chains[chain].until):
                source = arrays.asks[arrays.links[place]].cell
                for _ in range(MOST_BENDS):
                    if state.load[source] <= arrays.regular[source] + TINY:
                        break
                    if family >= 0 and state.spent[family, source // arrays.kinds] <= LEAST:
                        break
                    saving, hours, other = _best_move(arrays, state, chain, place, offset)
                    if other < 0:
                        break
                    _move(arrays, state, chain, place, other, hours, offset)
                    rise -= saving
                    moved = True
    return rise


@inlined
def _straighten(arrays: Arrays, state: State, check: int) -> None:
    """Let a check that is out ask its hours evenly when it comes back."""
    for place in range(arrays.bent_start[check], arrays.bent_start[check + 1]):
        state.bent[place] = 0.0
        state.flow[place] = 0.0


@inlined
def _put_back(arrays: Arrays, state: State, check: int, column: int) -> float:
    """Put a check that is out into a column, its hours bent; return the rise of the money."""
    _straighten(arrays, state, check)
    rise = shift(arrays, state, check, column, 1.0)
    if column >= 0:
        rise += respend(arrays, state, column, True)
        rise += _bend(arrays, state, check, arrays.columns[column].course)
    return rise


@inlined
def _tried(arrays: Arrays, state: State, check: int, column: int) -> float:
    """Return what a column's hours would add, bent as cheaply as can be; all is as before then."""
    _straighten(arrays, state, check)
    course = arrays.columns[column].course
    start, until = arrays.courses[course].ask_start, arrays.courses[course + 1].ask_start
    touch, end = arrays.courses[course].touch_start, arrays.courses[course + 1].touch_start
    offset = arrays.bent_start[check] - start
    rise = 0.0
    is_over = False
    for entry in range(start, until):
        cell = arrays.asks[entry].cell
        before = state.load[cell]
        after = before + arrays.asks[entry].hours
        state.load[cell] = after
        if after <= arrays.regular[cell] + TINY:
            continue
        is_over = True
        for tier in range(arrays.edges.shape[1]):
            edge = arrays.edges[cell, tier]
            if after <= edge:
                break
            rise += arrays.slopes[cell, tier] * (after - max(before, edge))
    if is_over:
        for shared in range(touch, end):
            family, week = arrays.touched[shared].family, arrays.touched[shared].week
            state.spent_tried[shared - touch] = state.spent[family, week]
            money = _week_money(arrays, state, family, week)
            rise += money - state.spent[family, week]
            state.spent[family, week] = money
        if rise > LEAST:
            rise += _bend(arrays, state, check, course)
        for shared in range(touch, end):
            family, week = arrays.touched[shared].family, arrays.touched[shared].week
            state.spent[family, week] = state.spent_tried[shared - touch]
    for entry in range(start, until):
        cell = arrays.asks[entry].cell
        state.load[cell] -= arrays.asks[entry].hours + state.bent[offset + entry]
    return rise


@compiled
def _cheapest(arrays: Arrays, state: State, check: int, day_price: float, blur: float) -> int:
    """Return the cheapest column for a check that is out, -1 for leaving it out.

    As in the rounds without levelling, but with the hours of each course bent. Those are told
    last, the cheapest column without them first: man-hours never cost less than nothing, so most
    columns are out of the question before they are.
    """
    first, until = arrays.checks[check].first_column, arrays.checks[check + 1].first_column
    best, best_price = -1, day_price * state.urgency[check]
    for column in range(first, until):
        state.prices[column - first] = np.inf
        if not fits(arrays, state, column) or np.random.random() < BLINK:
            continue
        price = arrays.columns[column].money + day_price * arrays.columns[column].past
        if blur > 0.0:
            price += blur * np.log(-np.log(np.random.random()))
        state.prices[column - first] = price
    while True:
        column, least = -1, best_price
        for other in range(first, until):
            if state.prices[other - first] < least:
                column, least = other, state.prices[other - first]
        if column < 0:
            return best
        course = arrays.columns[column].course
        labour = _tried(arrays, state, check, column)
        for other in range(column, until):
            if arrays.columns[other].course != course:
                break
            if state.prices[other - first] + labour < best_price:
                best, best_price = other, state.prices[other - first] + labour
            state.prices[other - first] = np.inf
        for other in range(column - 1, first - 1, -1):
            if arrays.columns[other].course != course:
                break
            if state.prices[other - first] + labour < best_price:
                best, best_price = other, state.prices[other - first] + labour
            state.prices[other - first] = np.inf


@compiled
def bend_all(arrays: Arrays, state: State) -> float:
    """Let everybody's hours be bent anew beside all others; return the rise of the money."""
    rise = 0.0
    checks = len(arrays.relatedness)
    for check in range(checks):
        column = state.chosen[check]
        if column >= 0:
            rise += _bend(arrays, state, check, arrays.columns[column].course)
    return rise + _bend(arrays, state, checks, len(arrays.courses) - 2)


@compiled
def run_levelled_rounds(
    arrays: Arrays,
    state: State,
    best: Ints,
    costs: Costs,
    count: int,
    temperature: float,
    day_price: float,
    blur: float,
) -> Costs:
    """Do ``count`` rounds as ``run_rounds`` does, with everybody's hours levelled in each."""
    for _ in range(count):
        for place in range(len(state.bent)):
            state.bent_before[place] = state.bent[place]
            state.flow_before[place] = state.flow[place]
        for cell in range(len(state.load)):
            state.load_before[cell] = state.load[cell]
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
            rise += _put_back(arrays, state, check, column)
        rise += bend_all(arrays, state)
        urge(arrays, state, wanted)
        if is_taken(rise + day_price * more_felt, temperature):
            costs = taken_in(state, best, costs, more_days, rise)
            continue
        undo(arrays, state, size)
        for place in range(len(state.bent)):
            state.bent[place] = state.bent_before[place]
            state.flow[place] = state.flow_before[place]
        for cell in range(len(state.load)):
            state.load[cell] = state.load_before[cell]
    return costs
