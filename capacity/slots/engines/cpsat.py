"""CP-SAT: neighbourhoods of the program, man-hours in whole units of a few hours."""

import numpy as np
from ortools.sat.python import cp_model

from capacity.slots.program.arcs import arcs_into
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import telling_cells
from capacity.slots.program.program import Program

# Man-hours a unit: fine enough to tell plans apart, coarse enough to propagate well.
UNIT_HOURS = 10.0


def solve(program: Program, start: Choice, seconds: float, seed: int) -> Choice | None:
    """Return the best choice found on one thread within ``seconds``, or None.

    Hours are rounded to units, so the caller judges the choice by its exact cost.
    """
    model = cp_model.CpModel()
    takes = [model.new_bool_var("") for _ in range(program.size)]
    leaves = [model.new_bool_var("") for _ in program.checks]
    for check, leave in enumerate(leaves):
        model.add_exactly_one([*(takes[column] for column in program.columns_of(check)), leave])
    _add_rows(model, program, takes)
    _add_days(model, program, takes, leaves)
    bought, costs = _add_man_hours(model, program, takes)
    money = [round(float(value)) for value in program.money]
    model.minimize(cp_model.LinearExpr.weighted_sum([*takes, *bought], [*money, *costs]))
    for check, leave in enumerate(leaves):
        for column in program.columns_of(check):
            model.add_hint(takes[column], int(column == start[check]))
        model.add_hint(leave, int(start[check] < 0))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.random_seed = seed
    # It would leave Ctrl-C without Python's handler after the first solve.
    solver.parameters.catch_sigint_signal = False
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    chosen = np.full(len(program.checks), -1, dtype=np.int64)
    for column, take in enumerate(takes):
        if solver.boolean_value(take):
            chosen[program.check_of[column]] = column
    return chosen


def _add_rows(model: cp_model.CpModel, program: Program, takes: list[cp_model.IntVar]) -> None:
    rows = program.footprint.T.tocsr()
    for row, limit in enumerate(program.capacity):
        columns = rows.indices[rows.indptr[row] : rows.indptr[row + 1]]
        sizes = rows.data[rows.indptr[row] : rows.indptr[row + 1]].astype(np.int64)
        if sizes.sum() <= limit:
            continue
        members = [takes[column] for column in columns]
        if limit == 1 and (sizes == 1).all():
            model.add_at_most_one(members)
        else:
            model.add(cp_model.LinearExpr.weighted_sum(members, sizes.tolist()) <= int(limit))


def _add_days(
    model: cp_model.CpModel,
    program: Program,
    takes: list[cp_model.IntVar],
    leaves: list[cp_model.IntVar],
) -> None:
    if program.days_allowed is None:
        return
    days = [*program.past.tolist(), *program.unplaced_past.tolist()]
    past = cp_model.LinearExpr.weighted_sum([*takes, *leaves], days)
    model.add(past <= program.days_allowed - program.settled_past)


def _add_man_hours(
    model: cp_model.CpModel, program: Program, takes: list[cp_model.IntVar]
) -> tuple[list[cp_model.IntVar], list[int]]:
    """Add asked - bought <= regular in each telling cell; return the purchases and costs."""
    asks = program.man_hours[program.course].T.tocsr()
    arcs = arcs_into(telling_cells(program), program.hours.supply)
    members, units, spare, most = [], [], [], []
    for cell in arcs.cells:
        entries = slice(asks.indptr[cell], asks.indptr[cell + 1])
        members.append([takes[column] for column in asks.indices[entries]])
        units.append(np.rint(asks.data[entries] / UNIT_HOURS).astype(np.int64))
        over = float(program.hours.regular[cell] - program.asked[cell])
        spare.append(round(over / UNIT_HOURS))
        most.append(max(0, int(units[-1].sum()) - spare[-1]))
    place = np.searchsorted(arcs.cells, arcs.cell)
    bought = [
        model.new_int_var(0, most[at] if np.isinf(limit) else min(most[at], _units(limit)), "")
        for at, limit in zip(place, arcs.limit, strict=True)
    ]
    for number in range(len(arcs.cells)):
        asked = cp_model.LinearExpr.weighted_sum(members[number], units[number].tolist())
        into = [bought[arc] for arc in np.flatnonzero(place == number)]
        model.add(asked - sum(into) <= spare[number])
    for number, limit in enumerate(arcs.common_limit):
        model.add(
            sum(bought[arc] for arc in np.flatnonzero(arcs.common == number)) <= _units(limit)
        )
    return bought, [round(float(price) * UNIT_HOURS) for price in arcs.price]


def _units(hours: float) -> int:
    return round(float(hours) / UNIT_HOURS)
