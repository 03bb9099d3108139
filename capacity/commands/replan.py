"""``capacity replan``: the workbook has changed; what moves, and what that is worth."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import click

from capacity.commands.booking import (
    WithAdded,
    note_without_copy,
    refuse_workbook_out,
    with_added,
)
from capacity.commands.common import (
    WORKBOOK,
    base_of,
    file_option,
    opened,
    out_option,
    plan_file,
    plan_out_option,
    refuse_wrong_outputs,
    seconds_option,
    seed_option,
    show,
    stop_heeded,
    workers_option,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import AMOUNT, DAY
from capacity.commands.outputs import Outputs
from capacity.facts import Base
from capacity.inputs import Book
from capacity.inputs.aircraft_on_ground import aircraft_on_ground, notes_on
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.plans.outcome import Impossible
from capacity.progress_line import ProgressLine
from capacity.questions.replan.move_costs import MoveCosts
from capacity.questions.replan.replanning import MOST_FREEZE_DAYS
from capacity.questions.replan.replanning import replan as plan_anew
from capacity.reports import describe
from capacity.reports.answers import report
from capacity.reports.plan_files.base_of import notes_about, refuse_other_base
from capacity.reports.plan_files.written import read_plan_file, with_left_out
from capacity.reports.replan.text import replan_in_words
from capacity.settings import Settings

DEFAULTS = MoveCosts()


@click.command()
@WORKBOOK
@file_option("--plan", "old_plan", "PLAN.json", "Plan file of the plan in force.", required=True)
@click.option(
    "--today",
    type=DAY,
    required=True,
    help="The day from which work left counts; what is in work then stays.",
)
@file_option(
    "--old-workbook",
    "old_workbook",
    "OLD.xlsx",
    "Workbook that the plan was made for, so that growth is stated in man-hours.",
)
@click.option(
    "--day-price",
    type=AMOUNT,
    default=DEFAULTS.day_booked,
    show_default=True,
    help="What a move by a day counts in the search, far ahead; nearer moves count more.",
)
@click.option(
    "--bay-price",
    type=AMOUNT,
    default=DEFAULTS.bay,
    show_default=True,
    help="What another bay counts in the search.",
)
@click.option(
    "--freeze-days",
    type=click.IntRange(0, MOST_FREEZE_DAYS),
    default=0,
    show_default=True,
    metavar="N",
    help="Whatever is due up to N days after today keeps bay and in day unless it cannot; "
    "what is due today always does.",
)
@click.option(
    "--aircraft-on-ground",
    "on_ground",
    metavar="LINE",
    multiple=True,
    help="An aircraft to take in, in one line: 'TYPE; 12 days; Airframe 300, Avionics 80'. "
    "May go on with '; name R-77', '; latest in 2027-02-03', '; agreed out 2027-03-01', "
    "'; late cost 500', '; work paint', '; max heads 12', '; aircraft ...', '; customer ...'. "
    "Give the option again for more.",
)
@seconds_option(60.0, "Time for the search.")
@seed_option()
@workers_option()
@out_option("PLAN.xlsx", "Plan workbook of the new plan, with the sheet Changes.")
@plan_out_option("Plan file of the new plan.")
@out_option("BAYS.ics", "Calendar feed of all bays.", "--calendar")
@out_option(
    "NEXT.xlsx",
    "Copy of WORKBOOK with the aircraft on ground as further rows, to go on with.",
    "--workbook-out",
)
def replan(
    workbook: Path,
    old_plan: Path,
    today: datetime,
    old_workbook: Path | None,
    day_price: float,
    bay_price: float,
    freeze_days: int,
    on_ground: tuple[str, ...],
    seconds: float,
    seed: int,
    workers: int | None,
    out: Path | None,
    plan_out: Path | None,
    calendar: Path | None,
    workbook_out: Path | None,
) -> Exit:
    """Plan anew from the plan in force, and move no more than is worth it.

    What is in work, fixed or due today stays. The plan workbook lists every change on the sheet
    Changes, with its reason, what it saves and who must be told.
    """
    refuse_wrong_outputs(
        [workbook, old_plan, old_workbook],
        ("--out", out, ".xlsx"),
        ("--plan-out", plan_out, ".json"),
        ("--calendar", calendar, ".ics"),
        ("--workbook-out", workbook_out, ".xlsx"),
    )
    refuse_workbook_out(workbook, workbook_out, bool(on_ground), "--aircraft-on-ground")
    file = read_plan_file(old_plan)
    old = with_left_out(file)
    when = as_of_plan(old, today.date())
    base, read = opened(workbook, when)
    refuse_other_base(file, base)
    show(notes_about(file, base))
    as_read = base
    added = _taken_in(on_ground, workbook, base, read, when)
    base, read = added.base, added.book
    if file.made is not None:
        base = base.replace(work_done=file.made.work_done)
    before = None if old_workbook is None else base_of(old_workbook, when)
    settings = Settings(seconds=seconds, seed=seed, workers=workers)
    costs = replace(DEFAULTS, day_booked=day_price, day_option=day_price, bay=bay_price)
    with Outputs(beside=plan_out or out or calendar) as outputs:
        with ProgressLine(base.currency, seconds) as line:
            found = plan_anew(
                base,
                old,
                today.date(),
                settings,
                move_costs=costs,
                freeze_days=freeze_days,
                old_base=before,
                stop=stop_heeded(),
                on_progress=line.show,
                on_plan=lambda plan, of: outputs.hold(plan_file(plan, of, read, settings)),
            )
        if isinstance(found, Impossible):
            click.echo(describe(base, found, read.messages))
            return Exit.IMPOSSIBLE

        def write(path: Path) -> None:
            report(base, found, path, read.messages, where=read.where, earlier=old)

        outputs.hold(write)
        outputs.write_plan(plan_out)
        outputs.write(out, write)
        outputs.write(calendar, write)
        if added.write is not None:
            outputs.write(workbook_out, added.write)
    if plan_out is not None and workbook_out is None and on_ground:
        show([note_without_copy(_names_added(base, as_read), workbook)])
    click.echo(replan_in_words(found))
    return outputs.end(Exit.PLANNED)


def _taken_in(
    lines: tuple[str, ...], workbook: Path, base: Base, read: Book, when: AsOf
) -> WithAdded:
    """Return the workbook with the aircraft on ground, each a booked check of its own package."""
    if not lines:
        return WithAdded(base, read)
    found = aircraft_on_ground(lines, base, when.today)
    show(list(notes_on(found, when.today)))
    checks, packages = [one.check for one in found], [one.package for one in found]
    return with_added(workbook, base, read, checks, packages, when)


def _names_added(base: Base, before: Base) -> list[str]:
    return [check.name for check in base.checks if not before.has_check(check.name)]
