"""Linear programs as HiGHS takes them: the one place that posts them, and its quiet engine."""

from dataclasses import dataclass
from threading import Event

import highspy
import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array

from capacity.errors import EngineError

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class LinearModel:
    """Minimise ``cost @ x + offset`` with ``row_lower <= matrix @ x <= row_upper``.

    ``lower <= x <= upper``; the columns that ``is_whole`` marks take whole numbers where the
    model is solved so. ``matrix`` has shape (rows, columns).
    """

    matrix: csr_array | csc_array
    row_lower: Floats
    row_upper: Floats
    lower: Floats
    upper: Floats
    cost: Floats
    is_whole: NDArray[np.bool_]
    offset: float = 0.0


class _QuietHighs(highspy.Highs):  # type: ignore[misc]
    """HiGHS prints its banner when callbacks are set up, which its constructor does."""

    def enableCallbacks(self) -> None:
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()


def engine_of_one_thread() -> highspy.Highs:
    """Return an engine that prints nothing and takes one core."""
    engine = _QuietHighs()
    engine.setOptionValue("threads", 1)
    return engine


def posted(model: LinearModel, *, whole: bool) -> highspy.HighsLp:
    """Return a model as HiGHS takes it; with ``whole`` numbers where the model wants such."""
    program = highspy.HighsLp()
    program.num_row_, program.num_col_ = model.matrix.shape
    program.col_cost_, program.offset_ = model.cost, model.offset
    program.col_lower_, program.col_upper_ = model.lower, model.upper
    program.row_lower_, program.row_upper_ = model.row_lower, model.row_upper
    by_rows = model.matrix.format == "csr"
    formats = highspy.MatrixFormat
    program.a_matrix_.format_ = formats.kRowwise if by_rows else formats.kColwise
    program.a_matrix_.start_ = model.matrix.indptr
    program.a_matrix_.index_ = model.matrix.indices
    program.a_matrix_.value_ = model.matrix.data.astype(np.float64)
    if whole:
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        program.integrality_ = [kinds[int(is_whole)] for is_whole in model.is_whole]
    return program


def values_of(
    model: LinearModel,
    seconds: float,
    gap: float,
    stop: Event | None = None,
    *,
    whole: bool = False,
    interior: bool = False,
) -> Floats | None:
    """Return values of the columns at the optimum, or near it; None where there are none.

    Ends after ``seconds`` or when ``stop`` is set; then only a search for ``whole`` numbers has
    values, the best so far. The ``interior`` method is the quicker one where nothing is settled
    beforehand.
    """
    if not model.matrix.shape[1]:  # HiGHS does not look at the rows then
        holds = (model.row_lower <= 0.0).all() and (model.row_upper >= 0.0).all()
        return np.empty(0) if holds else None
    engine = engine_of_one_thread()
    engine.setOptionValue("time_limit", seconds)
    engine.setOptionValue("mip_rel_gap", gap)
    if interior:
        engine.setOptionValue("solver", "ipm")
    engine.passModel(posted(model, whole=whole))
    if stop is not None:
        _end_on(stop, engine)
    engine.run()
    status, statuses = engine.getModelStatus(), highspy.HighsModelStatus
    is_cut_short = status in (statuses.kTimeLimit, statuses.kInterrupt)
    if is_cut_short and whole:
        solution = engine.getSolution()
        return np.array(solution.col_value) if solution.value_valid else None
    if is_cut_short or status == statuses.kInfeasible:
        return None
    if status != statuses.kOptimal:
        raise EngineError(f"a linear program ended with {status}")
    return np.array(engine.getSolution().col_value)


def bound_of(model: LinearModel, seconds: float, stop: Event | None = None) -> float | None:
    """Return what branch-and-cut proves of the least cost; None where it proves nothing.

    Ends after ``seconds`` or when ``stop`` is set, with what is proven by then.
    """
    if seconds <= 0 or (stop is not None and stop.is_set()):
        return None
    engine = engine_of_one_thread()
    engine.setOptionValue("time_limit", seconds)
    engine.passModel(posted(model, whole=True))
    if stop is not None:
        _end_on(stop, engine)
    engine.run()
    bound = float(engine.getInfo().mip_dual_bound)
    return bound if np.isfinite(bound) else None


@dataclass(frozen=True)
class Priced:
    """The optimum of a linear program: its ``value``, its columns, and what its rows are worth.

    ``prices`` (rows,): by how much the value rises for each unit that the bound of a row rises.
    """

    value: float
    columns: Floats
    prices: Floats


def priced(model: LinearModel, seconds: float, stop: Event | None = None) -> Priced | None:
    """Return the optimum of a model with no whole numbers, with the prices of its rows.

    None where there is no solution, or none within ``seconds`` or before ``stop`` is set.
    """
    engine = engine_of_one_thread()
    engine.setOptionValue("time_limit", max(0.0, seconds))
    engine.passModel(posted(model, whole=False))
    if stop is not None:
        _end_on(stop, engine)
    engine.run()
    if engine.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    solution = engine.getSolution()
    return Priced(
        float(engine.getInfo().objective_function_value),
        np.array(solution.col_value),
        np.array(solution.row_dual),
    )


def best_and_bound(
    model: LinearModel, seconds: float, gap: float, stop: Event | None = None
) -> tuple[Floats | None, float | None]:
    """Return the best columns in whole numbers and the proven bound; None for what there is not.

    Ends at a relative ``gap``, after ``seconds`` or when ``stop`` is set.
    """
    engine = engine_of_one_thread()
    engine.setOptionValue("time_limit", max(0.0, seconds))
    engine.setOptionValue("mip_rel_gap", gap)
    engine.passModel(posted(model, whole=True))
    if stop is not None:
        _end_on(stop, engine)
    engine.run()
    info, solution = engine.getInfo(), engine.getSolution()
    bound = float(info.mip_dual_bound)
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return (np.array(solution.col_value) if found else None), bound if np.isfinite(bound) else None


def _end_on(stop: Event, engine: highspy.Highs) -> None:
    """End the engine's work soon after ``stop`` is set."""

    def look(event: highspy.highs.HighsCallbackEvent) -> None:
        if stop.is_set():
            event.interrupt()

    for hears in (engine.cbMipInterrupt, engine.cbSimplexInterrupt, engine.cbIpmInterrupt):
        hears.subscribe(look)
