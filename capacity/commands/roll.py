"""``capacity roll``: next week's workbook from this week's and the plan in force."""

from datetime import date, datetime
from pathlib import Path

import click

from capacity.commands.common import (
    WORKBOOK,
    base_read,
    file_option,
    out_option,
    plan_out_option,
    refuse_wrong_outputs,
    show,
    stop_heeded,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import DAY
from capacity.commands.outputs import Outputs
from capacity.facts import Base
from capacity.inputs import Book
from capacity.inputs.limited import read_book
from capacity.inputs.reading.as_of import as_of_plan
from capacity.messages import Level
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.roll.files import roll_forward
from capacity.questions.roll.rolled_plan import rolled_plan
from capacity.reports import report
from capacity.reports.plan_files.base_of import base_of_plan_file, notes_about, refuse_other_base
from capacity.reports.plan_files.written import read_plan_file
from capacity.reports.roll.files import write_rolled
from capacity.reports.roll.text import rolled_in_words
from capacity.settings import Settings


@click.command()
@WORKBOOK
@file_option("--plan", "plan_path", "PLAN.json", "Plan file of the plan in force.", required=True)
@click.option("--first-day", type=DAY, required=True, help="First day of next week's workbook.")
@click.option(
    "--weeks",
    type=click.IntRange(1, 110),
    help="Weeks of next week's workbook; as many as now unless named.",
)
@click.option(
    "--book",
    metavar="CHECK",
    multiple=True,
    help="Book an option: its customer has said yes. Give the option once for each.",
)
@click.option(
    "--drop",
    metavar="CHECK",
    multiple=True,
    help="Take an option out: its customer has said no. Give the option once for each.",
)
@click.option(
    "--not-in",
    metavar="CHECK",
    multiple=True,
    help="A check that did not come, though the plan has it in. Give the option once for each.",
)
@out_option("NEXT.xlsx", "Next week's workbook; for a folder of CSV files, a new folder.")
@plan_out_option("Plan file of the same plan for next week's workbook.")
def roll(
    workbook: Path,
    plan_path: Path,
    first_day: datetime,
    weeks: int | None,
    book: tuple[str, ...],
    drop: tuple[str, ...],
    not_in: tuple[str, ...],
    out: Path | None,
    plan_out: Path | None,
) -> Exit:
    """Write next week's workbook: WORKBOOK moved on to a later first day.

    What is in work is fixed with what is left of it, what has left goes to the sheet Delivered,
    options past their Decide by are booked if the plan takes them and go if it does not. Rows
    of days gone by are taken out; everything else stays as it is. WORKBOOK is never written to.
    """
    day = first_day.date()
    is_folder = workbook.is_dir()
    if out is None:
        raise click.UsageError("Name next week's workbook with --out.")
    if is_folder and (out.suffix or out.exists()):
        raise click.BadParameter(
            "a folder of CSV files becomes a new folder: name one", param_hint="--out"
        )
    refuse_wrong_outputs(
        [workbook, plan_path],
        ("--out", None if is_folder else out, ".xlsx"),
        ("--plan-out", plan_out, ".json"),
    )
    file = read_plan_file(plan_path)
    base, read = _opened(workbook, file.plan, day)
    refuse_other_base(file, base)
    show(notes_about(file, base))
    whole = base_of_plan_file(file, base.replace(work_counts_from=None))
    told = roll_forward(
        workbook,
        file.plan,
        day,
        base=whole,
        book=read,
        weeks=weeks,
        accept=book,
        drop=drop,
        not_in=not_in,
    )
    stop_heeded()  # from here on both files are written, or neither
    outputs = Outputs()
    broken: tuple[str, ...] = ()
    has_errors = any(message.level is Level.ERROR for message in told.messages)
    if (next_base := told.base) is not None:
        next_plan = rolled_plan(file.plan, next_base)
        broken = audit(next_base, next_plan).broken
        if plan_out is not None and not broken:
            outcome = as_outcome(next_plan, next_base, Settings(), 0.0, "rolled")
            outputs.write(plan_out, lambda path: report(next_base, outcome, path))
    outputs.write(out, lambda path: write_rolled(told, path))
    click.echo(rolled_in_words(told, base, broken))
    if has_errors:
        click.echo("Next week's workbook has errors: correct them before you plan.", err=True)
        return outputs.end(Exit.INPUT_ERRORS)
    return outputs.end(Exit.IMPOSSIBLE if broken and plan_out is not None else Exit.PLANNED)


def _opened(workbook: Path, plan: Plan, first_day: date) -> tuple[Base, Book]:
    """Return the base as of the new first day; messages are shown, and errors end the command.

    Not those on ``Remaining %``: here it counts from the first day that the workbook has.
    """
    read = read_book(workbook, as_of=as_of_plan(plan, first_day))
    checks = () if read.base is None else read.base.checks
    elsewhere = {read.where("Checks", check.name, "Remaining %") for check in checks}
    show([message for message in read.messages if message.where not in elsewhere])
    return base_read(read, "The workbook"), read
