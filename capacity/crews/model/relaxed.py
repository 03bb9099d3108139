"""The hours goals by linear programming: relax, open the shifts that it uses, solve the rest.

Given the shifts in which each stage is worked, what is left is nearly a network of whole
numbers, and its relaxation nearly whole. So the relaxation says which shifts to open, and
branch-and-cut over the people finds the rest: within a fraction of a per cent in seconds,
where general search takes minutes.
"""

import time
from dataclasses import dataclass, replace
from graphlib import TopologicalSorter
from threading import Event

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array

from capacity.crews.model.variables import Variables
from capacity.slots.engines.posting import LinearModel, values_of

Floats = NDArray[np.float64]
# Hours that a relaxation gives beyond rounding.
TINY = 1e-6
# Branch-and-cut over the people ends when it is this close to its bound.
CLOSE = 0.002
# To settle the hours once the people are known takes less than this.
SPARE_SECONDS = 2.0
HALF = 0.5 - 1e-6
UNBOUNDED = 2**60


def linear_model(v: Variables) -> LinearModel:
    """Return a model of linear rows and choices of exactly one as plain numbers."""
    proto = v.model.proto
    lower: list[float] = []
    upper: list[float] = []
    rows: list[int] = []
    columns: list[int] = []
    entries: list[int] = []
    for constraint in proto.constraints:
        if constraint.has_linear():
            domain = list(constraint.linear.domain)
            variables, numbers = list(constraint.linear.vars), list(constraint.linear.coeffs)
        else:
            variables = list(constraint.exactly_one.literals)
            domain, numbers = [1, 1], [1] * len(variables)
        rows += [len(lower)] * len(variables)
        columns += variables
        entries += numbers
        lower.append(domain[0] if domain[0] > -UNBOUNDED else -np.inf)
        upper.append(domain[-1] if domain[-1] < UNBOUNDED else np.inf)
    size = len(proto.variables)
    domains = [list(variable.domain) for variable in proto.variables]
    cost = np.zeros(size)
    for variable, price in zip(proto.objective.vars, proto.objective.coeffs, strict=True):
        cost[variable] = price
    is_whole = np.ones(size, dtype=np.bool_)
    for amounts in (v.hours, v.overtime, v.bought, v.short):
        is_whole[[amount.index for amount in amounts.values()]] = False
    return LinearModel(
        matrix=coo_array((entries, (rows, columns)), shape=(len(lower), size)).tocsr(),
        row_lower=np.array(lower, dtype=np.float64),
        row_upper=np.array(upper, dtype=np.float64),
        lower=np.array([domain[0] for domain in domains], dtype=np.float64),
        upper=np.array([domain[-1] for domain in domains], dtype=np.float64),
        cost=cost,
        is_whole=is_whole,
    )


def better_hours(
    v: Variables, spans: list[int], seconds: float, stop: Event | None = None
) -> NDArray[np.int64] | None:
    """Return whole values of all variables, good for the objective of the model.

    The stages stand as ``spans`` says. None when nothing was found in the time,
    which setting ``stop`` ends.
    """
    until = time.monotonic() + seconds
    model = linear_model(v)
    lower, upper = model.lower.copy(), model.upper.copy()
    for task, span in enumerate(spans):
        for way, number in v.runs(task):
            if not isinstance(way, int):
                lower[way.index] = upper[way.index] = float(number == span)
    relaxed = _solved(model, lower, upper, False, until, stop)
    if relaxed is None:
        return None
    for used in v.used.values():
        lower[used.index] = upper[used.index] = float(relaxed[used.index] > TINY)
    found = _solved(model, lower, upper, True, until, stop)
    if found is None:
        return None
    whole = np.round(found[model.is_whole])
    lower[model.is_whole] = upper[model.is_whole] = whole
    # With the people settled the hours are a network of whole numbers: a vertex is whole.
    settled = _solved(model, lower, upper, False, until + SPARE_SECONDS, stop)
    if settled is None:
        return None
    values = np.round(settled).astype(np.int64)
    return values if _holds(model, values) else None


def objective_of(model: LinearModel, seconds: float, stop: Event | None = None) -> float | None:
    """Return the least cost of the relaxation; None without an answer in the time."""
    until = time.monotonic() + seconds
    values = _solved(model, model.lower, model.upper, False, until, stop, interior=True)
    return None if values is None else float(model.cost @ values)


def with_whole_shifts(v: Variables) -> LinearModel:
    """Return the model with stages worked in a shift or not, and people there or not, by whole.

    How many there are may be a fraction.
    """
    model = linear_model(v)
    is_whole = np.zeros(len(model.cost), dtype=np.bool_)
    is_whole[[one.index for one in (*v.used.values(), *v.person.values())]] = True
    return replace(model, is_whole=is_whole)


@dataclass(frozen=True)
class Relaxed:
    """The objective's proven bound, and the span of each task that the relaxation favours."""

    bound: float
    spans: list[int]


def relax_hours(v: Variables, seconds: float, stop: Event | None = None) -> Relaxed | None:
    """Relax the model with its stages free to move; None without an answer in the time.

    Setting ``stop`` ends the time.
    A task takes the first span with which it has started by half, no earlier than those that
    it waits for let it.
    """
    model = linear_model(v)
    until = time.monotonic() + seconds
    values = _solved(model, model.lower, model.upper, False, until, stop, interior=True)
    if values is None:
        return None
    spans: dict[int, int] = {}
    for number in TopologicalSorter(
        {number: task.after for number, task in enumerate(v.problem.tasks)}
    ).static_order():
        spans[number] = _span_by_half(v, number, spans, values)
    return Relaxed(float(model.cost @ values), [spans[n] for n in range(len(spans))])


def _span_by_half(v: Variables, number: int, spans: dict[int, int], values: Floats) -> int:
    task = v.problem.tasks[number]
    ready = max((v.problem.tasks[b].spans[spans[b]].until for b in task.after), default=None)
    weights = {
        span: 1.0 if isinstance(way, int) else float(values[way.index])
        for way, span in v.runs(number)
    }
    order = sorted(weights, key=lambda span: task.spans[span].first)
    able = [s for s in order if ready is None or task.spans[s].first >= ready] or order[-1:]
    started = 0.0
    for span in order:
        started += weights[span]
        if started >= HALF and span in able:
            return span
    return able[0]


def _holds(model: LinearModel, values: NDArray[np.int64]) -> bool:
    rows = model.matrix @ values.astype(np.float64)
    within = (rows >= model.row_lower - TINY) & (rows <= model.row_upper + TINY)
    return bool(within.all())


def _solved(
    model: LinearModel,
    lower: Floats,
    upper: Floats,
    whole: bool,
    until: float,
    stop: Event | None = None,
    interior: bool = False,
) -> Floats | None:
    """Return values of the columns between other limits; None where the time has none."""
    left = until - time.monotonic()
    if left <= 0 or (stop is not None and stop.is_set()):
        return None
    settled = replace(model, lower=lower, upper=upper)
    return values_of(settled, left, CLOSE, stop, whole=whole, interior=interior)
