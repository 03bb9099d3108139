"""The hours goals by linear programming: relax, open the shifts that it uses, solve the rest.

Given the shifts in which each stage is worked, what is left is nearly a network of whole
numbers, and its relaxation nearly whole. So the relaxation says which shifts to open, and
branch-and-cut over the people finds the rest: within a fraction of a per cent in seconds,
where general search takes minutes.
"""

import time
from dataclasses import dataclass
from graphlib import TopologicalSorter
from threading import Event

import highspy
import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array

from capacity.crews.model.variables import Variables
from capacity.errors import EngineError

Floats = NDArray[np.float64]
# Hours that a relaxation gives beyond rounding.
TINY = 1e-6
# Branch-and-cut over the people ends when it is this close to its bound.
CLOSE = 0.002
# To settle the hours once the people are known takes less than this.
SPARE_SECONDS = 2.0
HALF = 0.5 - 1e-6
UNBOUNDED = 2**60


@dataclass(frozen=True)
class LinearModel:
    """The rows and columns of a crew model: ``row_lower <= matrix x <= row_upper``."""

    matrix: csr_array
    row_lower: Floats
    row_upper: Floats
    lower: Floats
    upper: Floats
    cost: Floats
    is_whole: NDArray[np.bool_]


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
    """Return values of the columns at the optimum, or near it; None where there are none.

    The interior method is the quicker one where nothing is settled beforehand.
    """
    left = until - time.monotonic()
    if left <= 0 or (stop is not None and stop.is_set()):
        return None
    engine = _Quiet()
    engine.setOptionValue("threads", 1)
    engine.setOptionValue("time_limit", left)
    engine.setOptionValue("mip_rel_gap", CLOSE)
    if interior:
        engine.setOptionValue("solver", "ipm")
    engine.passModel(_posted(model, lower, upper, whole))
    if stop is not None:
        _listen(engine, stop)
    engine.run()
    status = engine.getModelStatus()
    is_cut_short = status in (
        highspy.HighsModelStatus.kTimeLimit,
        highspy.HighsModelStatus.kInterrupt,
    )
    if is_cut_short and whole:
        solution = engine.getSolution()
        return np.array(solution.col_value) if solution.value_valid else None
    if is_cut_short or status == highspy.HighsModelStatus.kInfeasible:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        raise EngineError(f"the hours of the crews ended with {status}")
    return np.array(engine.getSolution().col_value)


def _listen(engine: highspy.Highs, stop: Event) -> None:
    """End the engine's work soon after ``stop`` is set."""

    def look(event: highspy.highs.HighsCallbackEvent) -> None:
        if stop.is_set():
            event.interrupt()

    for hears in (engine.cbMipInterrupt, engine.cbSimplexInterrupt, engine.cbIpmInterrupt):
        hears.subscribe(look)


def _posted(model: LinearModel, lower: Floats, upper: Floats, whole: bool) -> highspy.HighsLp:
    program = highspy.HighsLp()
    program.num_row_, program.num_col_ = model.matrix.shape
    program.col_cost_, program.col_lower_, program.col_upper_ = model.cost, lower, upper
    program.row_lower_, program.row_upper_ = model.row_lower, model.row_upper
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = model.matrix.indptr
    program.a_matrix_.index_ = model.matrix.indices
    program.a_matrix_.value_ = model.matrix.data.astype(np.float64)
    if whole:
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        program.integrality_ = [kinds[int(is_whole)] for is_whole in model.is_whole]
    return program


class _Quiet(highspy.Highs):  # type: ignore[misc]
    """HiGHS without its banner, which its constructor prints when callbacks are set up."""

    def enableCallbacks(self) -> None:
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()
