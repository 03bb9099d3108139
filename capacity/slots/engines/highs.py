"""HiGHS: the linear relaxation, and branch-and-cut with plans handed in while it runs."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import highspy
import numpy as np
from numpy.typing import NDArray

from capacity.errors import EngineError
from capacity.slots.engines.posting import LinearModel, engine_of_one_thread, posted
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import LinearForm

# What a choice found here is said to come from.
SOURCE = "proof"
# How HiGHS is told to leave the finding of plans to others.
NO_HEURISTICS: dict[str, float | bool] = {
    "mip_heuristic_effort": 0.0,
    "mip_heuristic_run_rins": False,
    "mip_heuristic_run_rens": False,
    "mip_heuristic_run_root_reduced_cost": False,
    "mip_heuristic_run_feasibility_jump": False,
}
# HiGHS presolves once more where its root has fixed many columns. That is worth it in a long
# search; a short one is often done before it pays. And in one of a hundred programs of hangars, one
# of a thousand small neighbourhoods, it never came back: tightening rows
# (``HPresolve::strengthenInequalities``, 1.16.0) it looks at no time limit.
NO_RESTARTS: dict[str, float | bool] = {"mip_allow_restart": False}
# What sums of floats may be off by, relative to their size.
ROUNDING = 1e-6


def _no_choice() -> Choice | None:
    return None


@dataclass(frozen=True)
class Listener:
    """What branch-and-cut tells and asks while it runs; cheap calls, made often.

    ``on_bound`` hears the proven lower bound, ``on_choice`` every better choice found and, before
    it, ``on_value`` what the form says that it costs, which is too little where it lacks rows;
    ``better`` gives a choice found elsewhere since the last call, or None; ``stop`` ends it.
    """

    on_bound: Callable[[float], None] = field(default=lambda bound: None)
    on_choice: Callable[[Choice], None] = field(default=lambda chosen: None)
    on_value: Callable[[float], None] = field(default=lambda value: None)
    better: Callable[[], Choice | None] = _no_choice
    stop: Callable[[], bool] = field(default=lambda: False)


@dataclass(frozen=True)
class Solved:
    """What branch-and-cut came to: its best choice, if any, and its proven bound.

    ``bound`` is inf when no choice keeps all rows. ``finished`` says that the search ended
    by itself.
    """

    chosen: Choice | None
    bound: float
    finished: bool


def relax(form: LinearForm, seconds: float = np.inf) -> float | None:
    """Return the optimum of the linear relaxation.

    None when it has no solution, or none within so many ``seconds``.
    """
    found = relaxed(form, seconds)
    return None if found is None else found.value


@dataclass(frozen=True)
class Relaxation:
    """The optimum of a form's linear relaxation, and the ``entries`` that attain it.

    A choice that has an entry costs at least ``value`` and its reduced cost, both in money.
    """

    value: float
    entries: NDArray[np.float64]
    reduced_costs: NDArray[np.float64]


def relaxed(form: LinearForm, seconds: float = np.inf) -> Relaxation | None:
    """Return the linear relaxation, solved.

    None when it has no solution, or none within so many ``seconds``.
    """
    engine = engine_of_one_thread()
    engine.setOptionValue("time_limit", max(0.0, seconds))
    engine.passModel(posted(_model(form), whole=False))
    engine.run()
    if engine.getModelStatus() == highspy.HighsModelStatus.kTimeLimit:
        return None
    if engine.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return None
    if engine.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise EngineError(f"the relaxation ended with {engine.getModelStatus()}")
    value = float(engine.getInfo().objective_function_value)
    solution = engine.getSolution()
    return Relaxation(value, np.array(solution.col_value), np.array(solution.col_dual))


def branch_and_cut(
    form: LinearForm,
    start: Choice | None,
    seconds: float,
    gap: float = 1e-6,
    listener: Listener | None = None,
    *,
    heuristics: bool = True,
    restarts: bool = True,
) -> Solved:
    """Search the form on one thread, beginning with ``start``.

    Ends when the relative gap is at most ``gap``, after ``seconds`` or when the listener
    says so; the choice and the bound stand in any case. Without ``heuristics`` it looks for
    choices only where its tree leads: all time is for the bound. A short search does better
    without ``restarts``.
    """
    began = time.monotonic()
    listener = listener or Listener()
    options = ({} if heuristics else NO_HEURISTICS) | ({} if restarts else NO_RESTARTS)
    solved = _branch_and_cut(form, start, seconds, gap, listener, options)
    if solved.finished and not _is_closed(form, solved, gap):
        # HiGHS can misjudge a plan handed in once presolve has taken columns away, and then
        # stops at a value that nothing attains. The bound stands; the search begins afresh.
        left = seconds - (time.monotonic() - began)
        listener = replace(listener, better=_no_choice)
        again = _branch_and_cut(form, None, left, gap, listener, options)
        chosen = solved.chosen if again.chosen is None else again.chosen
        return Solved(chosen, max(solved.bound, again.bound), again.finished)
    return solved


def _branch_and_cut(
    form: LinearForm,
    start: Choice | None,
    seconds: float,
    gap: float,
    listener: Listener,
    options: dict[str, float | bool],
) -> Solved:
    engine = engine_of_one_thread()
    for name, value in options.items():
        engine.setOptionValue(name, value)
    engine.setOptionValue("time_limit", max(0.0, seconds))
    engine.setOptionValue("mip_rel_gap", gap)
    engine.passModel(posted(_model(form), whole=True))
    _listen(engine, form, start, listener)
    engine.run()
    return _answer(engine, form)


def _is_closed(form: LinearForm, solved: Solved, gap: float) -> bool:
    """Return whether the choice is as good as the bound says one must be.

    Or lacks rows of days that the form has not: then another form is what is wanted.
    """
    if solved.chosen is None or form.days_lacking(solved.chosen):
        return True
    value = float(form.cost @ form.entries_of(solved.chosen)) + form.offset
    return value - solved.bound <= max(gap, ROUNDING) * max(1.0, abs(value))


def _model(form: LinearForm) -> LinearModel:
    size = len(form.cost)
    return LinearModel(
        matrix=form.matrix,
        row_lower=form.row_lower,
        row_upper=form.row_upper,
        lower=np.zeros(size),
        upper=form.upper,
        cost=form.cost,
        is_whole=np.arange(size) < form.integers,
        offset=form.offset,
    )


def _listen(
    engine: highspy.Highs, form: LinearForm, start: Choice | None, listener: Listener
) -> None:
    waiting = start

    def improving(event: highspy.highs.HighsCallbackEvent) -> None:
        listener.on_value(float(event.data_out.objective_function_value))
        listener.on_choice(form.chosen_of(np.array(event.data_out.mip_solution)))

    def interrupt(event: highspy.highs.HighsCallbackEvent) -> None:
        listener.on_bound(float(event.data_out.mip_dual_bound))
        if listener.stop():
            event.interrupt()

    def user_solution(event: highspy.highs.HighsCallbackEvent) -> None:
        nonlocal waiting
        chosen = listener.better() if waiting is None else waiting
        waiting = None
        if chosen is not None:
            event.data_in.setSolution(form.entries_of(chosen))

    engine.cbMipImprovingSolution.subscribe(improving)
    engine.cbMipInterrupt.subscribe(interrupt)
    engine.cbMipUserSolution.subscribe(user_solution)


def _answer(engine: highspy.Highs, form: LinearForm) -> Solved:
    status, info = engine.getModelStatus(), engine.getInfo()
    if status == highspy.HighsModelStatus.kInfeasible:
        return Solved(None, float("inf"), finished=True)
    ended = {
        highspy.HighsModelStatus.kOptimal,
        highspy.HighsModelStatus.kTimeLimit,
        highspy.HighsModelStatus.kInterrupt,
    }
    if status not in ended:
        raise EngineError(f"branch-and-cut ended with {status}")
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    chosen = form.chosen_of(np.array(engine.getSolution().col_value)) if found else None
    finished = status == highspy.HighsModelStatus.kOptimal
    return Solved(chosen, float(info.mip_dual_bound), finished)
