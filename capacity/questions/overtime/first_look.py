"""What a measure gives at once: with all slots kept, or with one check moved for it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import fsum
from threading import Event

import numpy as np

from capacity.errors import InputError, TooLargeError
from capacity.facts import Closure
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from capacity.questions.overtime.trials import Trial, not_in_yet
from capacity.questions.overtime.values import Figures, How, Measure, figures_of
from capacity.slots.program.choice import Choice

MOST_PLACES = 60
"""Places of one check, the cheapest first, that are looked at for being in the opened bay."""


def first_look(
    trial: Trial, plan: Plan, now: Audit, stop: Event, may_build: Callable[[], bool]
) -> Measure | None:
    """Return what a measure gives where others keep their slots; None where it breaks a rule.

    A bay that is open again gives nothing to those who are elsewhere. So the checks that would
    most want it are moved there, one at a time, while ``may_build`` says that there is time to lay
    their places out; a place that they could have had with the bay closed does not count.
    """
    kept = in_its_slots(trial, plan, now)
    if kept is None:
        return None
    if trial.search:
        kept = replace(kept, how=How.FIRST_LOOK)
    if trial.opened is None or not may_build():
        return kept
    moved = _one_moved_there(trial, trial.opened, plan, now, stop)
    return kept if moved is None else moved


def in_its_slots(trial: Trial, plan: Plan, now: Audit) -> Measure | None:
    """Return what a measure gives with the slots of its plan; None where it breaks a rule.

    A closure taken away changes nothing for those who are elsewhere or there at other times.
    """
    if trial.opened is not None:
        figures = figures_of(now)
        return measure_of(trial, plan, plan, figures, figures, How.SLOTS_KEPT)
    audits = _audits_in_its_slots(trial, now, level_anew=trial.plan is plan)
    if not audits:
        return None
    after = min((_with_pay(figures_of(a), a, trial) for a in audits), key=lambda f: f.money)
    return measure_of(trial, plan, trial.plan, figures_of(now), after, How.SLOTS_KEPT)


def measure_of(
    trial: Trial,
    plan: Plan,
    made: Plan,
    before: Figures,
    after: Figures,
    how: How,
    proven: float | None = None,
) -> Measure | None:
    """Return a measure with the plan ``made`` for it; None where it has more days past."""
    if after.days_past > before.days_past:
        return None
    saves = before.money - after.money
    return Measure(
        kind=trial.kind,
        what=trial.what,
        how=how,
        after=after,
        overtime_less=before.overtime_hours - after.overtime_hours,
        saves=saves,
        proven=proven,
        worth=saves / trial.head_weeks if trial.head_weeks else None,
        moved=tuple(_moved(plan, made)),
    )


def _audits_in_its_slots(trial: Trial, now: Audit, *, level_anew: bool) -> list[Audit]:
    """Return what the plan of a trial comes to; none where it breaks a rule.

    With its hours where they are, and, where there are more people and the base lets hours give,
    levelled anew: who is paid on top may be worth less work than who is there anyhow.
    """
    found = Auditor(trial.base).audit(trial.plan, now)
    if found.broken:
        return []
    stages = (stage for placement in trial.plan.placements for stage in placement.stages)
    if not (level_anew and any(stage.hours for stage in stages)):
        return [found]
    return [found, standing_plan(trial.base, trial.plan).audit]


def _with_pay(after: Figures, found: Audit, trial: Trial) -> Figures:
    """Add what a team of the trial is paid for the hours that it gives."""
    hours = fsum(given.hours for given in found.crew_hours if given.crew == trial.paid_crew)
    pay = hours * trial.paid_cost
    return replace(
        after,
        contract_hours=after.contract_hours + hours,
        labour_money=after.labour_money + pay,
        money=after.money + pay,
    )


def _one_moved_there(
    trial: Trial, opened: Closure, plan: Plan, now: Audit, stop: Event
) -> Measure | None:
    """Return the best move of one check into the opened bay; None where none is better."""
    try:
        may_move = not_in_yet(trial.for_whom, plan, trial.base)
        standing = standing_plan(trial.base, plan, may_move=may_move, stop=stop)
    except (InputError, TooLargeError):
        return None
    best: tuple[tuple[int, float], Choice] | None = None
    for name in trial.for_whom:
        if stop.is_set():
            break
        chosen = _cheapest_there(standing, name, opened)
        if chosen is not None:
            cost = standing.program.cost(chosen)
            if cost < (best[0] if best else standing.cost):
                best = cost, chosen
    if best is None:
        return None
    made, audit = standing.plan_with(best[1])
    return measure_of(trial, plan, made, figures_of(now), figures_of(audit), How.FIRST_LOOK)


def _cheapest_there(standing: StandingPlan, name: str, opened: Closure) -> Choice | None:
    """Return the plan with a check at its cheapest free place in a bay that was closed then."""
    if name not in standing.program.checks:
        return None
    program, check = standing.program, standing.number_of(name)
    others = standing.chosen.copy()
    others[check] = -1
    columns = program.columns_of(check)
    columns = columns[program.fits(columns, program.slack(others))]
    if not len(columns):
        return None
    money = program.cost_beside(others, columns)
    for number in np.lexsort((money, program.past[columns]))[:MOST_PLACES]:
        column = int(columns[number])
        if any(_is_there(standing, check, column, opened)):
            return standing.with_place(check, column)
    return None


def _is_there(standing: StandingPlan, check: int, column: int, opened: Closure) -> Iterator[bool]:
    for stay in standing.placements_of(check, column):
        in_time = stay.in_day <= opened.last and opened.first < stay.out_day
        yield stay.bay == opened.bay and in_time


def _moved(before: Plan, after: Plan) -> Iterator[str]:
    """Return the checks that stand elsewhere, in order of their name."""
    first, second = before.slots_by_check(), after.slots_by_check()
    for name in sorted({*first, *second}):
        if first.get(name) != second.get(name):
            yield name
