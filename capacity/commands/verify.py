"""``capacity verify``: everything that is wrong with a workbook."""

from datetime import datetime
from pathlib import Path

import click

from capacity.commands.common import as_of, file_option
from capacity.commands.exits import Exit
from capacity.commands.option_types import DAY, FILE
from capacity.inputs.limited import read_book
from capacity.inputs.reading.as_of import AsOf
from capacity.messages import Level
from capacity.reports.plan_files.written import read_plan_file
from capacity.words import counted


@click.command()
@click.argument("workbook", metavar="WORKBOOK", type=FILE)
@click.option(
    "--today",
    type=DAY,
    help="Verify for a re-plan on this day: progress may be told as of it, and work left counts.",
)
@file_option(
    "--plan",
    "plan_path",
    "PLAN.json",
    "Plan file of the plan in force: with --today, who is in by it is in work.",
)
def verify(workbook: Path, today: datetime | None, plan_path: Path | None) -> Exit:
    """Read WORKBOOK and say everything that is wrong with it, each with its cell and remedy.

    WORKBOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    if plan_path is not None and today is None:
        raise click.UsageError("--plan is for a re-plan: give --today too.")
    read = read_book(workbook, as_of=_as_of(today, plan_path))
    for message in read.messages:
        click.echo(str(message), err=message.level is Level.ERROR)
    errors = sum(message.level is Level.ERROR for message in read.messages)
    warnings = sum(message.level is Level.WARNING for message in read.messages)
    click.echo(f"{counted(errors, 'error')}, {counted(warnings, 'warning')} in {workbook}")
    return Exit.INPUT_ERRORS if errors else Exit.PLANNED


def _as_of(today: datetime | None, plan_path: Path | None) -> AsOf | None:
    if today is None:
        return None
    if plan_path is None:
        return AsOf(today.date())
    return as_of(read_plan_file(plan_path).plan, today.date())
