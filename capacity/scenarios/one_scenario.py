"""Plan one scenario: it begins with the standing plan, and every plan of it is audited."""

import tempfile
import time
from datetime import date
from math import fsum
from pathlib import Path

from capacity.cores import FEWEST_WORKERS
from capacity.errors import CapacityError, InputError
from capacity.facts import Base, Status
from capacity.inputs.book import Book
from capacity.inputs.limited import read_edited, read_held
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.messages import Level
from capacity.planning import plan as make_plan
from capacity.plans.audit import Audit, audit
from capacity.plans.outcome import Impossible, OutOfTime, Planned
from capacity.plans.plan import Plan
from capacity.reports.plan_files.base_of import base_of_plan_file
from capacity.reports.plan_files.plan_from_file import with_refused
from capacity.reports.plan_files.written import PlanFile, read_plan_file
from capacity.scenarios.values import Ended, Figures, ScenarioAnswer, Standing, Task
from capacity.settings import Settings

MOST_SAID = 5
"""Messages that are kept of a scenario that cannot be planned."""

WORKERS = FEWEST_WORKERS
"""Processes a scenario: as many scenarios as there are cores for go on at the same time."""


def answer_of(task: Task, standing: Standing) -> ScenarioAnswer:
    """Return what a scenario comes to; what keeps it from being planned is an answer too."""
    began = time.monotonic()
    try:
        ended, said, figures, moved = _planned(task, standing)
    except InputError as faults:
        errors = [str(m) for m in faults.messages if m.level is Level.ERROR]
        ended, said, figures, moved = Ended.WRONG, errors, None, ()
    except CapacityError as fault:
        ended, said, figures, moved = Ended.FAILED, [str(fault)], None, ()
    return ScenarioAnswer(
        name=task.name,
        words=task.words,
        ended=ended,
        figures=figures,
        moved=moved,
        said=tuple(said[:MOST_SAID]),
        seconds=time.monotonic() - began,
    )


def standing_answer(standing: Standing) -> ScenarioAnswer:
    """Return what the standing plan itself comes to, on the workbook as it is."""
    file = read_plan_file(standing.plan_file)
    base = _base_of(read_held(Path(standing.name), standing.workbook, _state_of(file)), file)
    plan = with_refused(file.plan, base)
    figures = figures_of(plan, audit(base, plan), base, None)
    return ScenarioAnswer("as it is", (), Ended.PLANNED, figures)


def figures_of(plan: Plan, found: Audit, base: Base, bound: float | None) -> Figures:
    """Return what of a plan is compared."""
    placed = {placement.check for placement in plan.placements}
    options = [check.name for check in base.checks if check.status is Status.OPTION]
    return Figures(
        days_past=int(found.goals.days_past_latest_in),
        cost=found.goals.money,
        bound=bound,
        overload_hours=found.goals.overload_hours,
        bought_hours=fsum(load.overtime + load.contract for load in found.weeks),
        late_days=sum(account.late_days for account in found.accounts),
        without_slot=plan.not_placed,
        options_taken=tuple(name for name in options if name in placed),
    )


def _planned(
    task: Task, standing: Standing
) -> tuple[Ended, list[str], Figures | None, tuple[str, ...]]:
    file = read_plan_file(standing.plan_file)
    base = _base_of(_changed(task, standing, _state_of(file)), file)
    before = file.plan
    settings = Settings(seconds=task.seconds, seed=task.seed, workers=WORKERS)
    outcome = make_plan(base, settings, begin=before)
    match outcome:
        case Planned():
            figures = figures_of(outcome.plan, outcome.audit, base, outcome.bound)
            old, new = before.slots_by_check(), outcome.plan.slots_by_check()
            moved = (name for name in dict.fromkeys((*old, *new)) if old.get(name) != new.get(name))
            return Ended.PLANNED, [], figures, tuple(moved)
        case Impossible():
            return Ended.IMPOSSIBLE, ["fixed checks conflict with each other"], None, ()
        case OutOfTime():
            return Ended.OUT_OF_TIME, [], None, ()


def _changed(task: Task, standing: Standing, as_of: AsOf | None) -> Book:
    """Return what is read of the workbook with the edits of a scenario."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / standing.name
        if isinstance(standing.workbook, bytes):
            path.write_bytes(standing.workbook)
        else:
            path.mkdir()
            for name, content in standing.workbook.items():
                (path / name).write_bytes(content)
        return read_edited(path, task.edits, as_of)


def _state_of(file: PlanFile) -> AsOf | None:
    """Return the state of work in which the plan of a file was made; None where it says none."""
    day: date | None = None if file.made is None else file.made.work_counts_from
    return None if day is None else as_of_plan(file.plan, day)


def _base_of(book: Book, file: PlanFile) -> Base:
    if book.base is None:
        raise InputError(book.messages)
    return base_of_plan_file(file, book.base)
