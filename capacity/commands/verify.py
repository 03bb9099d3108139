"""``capacity verify``: everything that is wrong with a workbook."""

from datetime import datetime
from pathlib import Path

import click

from capacity.commands.common import IN_FORCE, READ_ON, as_of_day
from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.inputs.limited import read_book
from capacity.messages import Level
from capacity.words import counted


@click.command()
@click.argument("workbook", metavar="WORKBOOK", type=FILE)
@READ_ON
@IN_FORCE
def verify(workbook: Path, today: datetime | None, plan_path: Path | None) -> Exit:
    """Read WORKBOOK and say everything that is wrong with it, each with its cell and remedy.

    WORKBOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    read = read_book(workbook, as_of=as_of_day(today, plan_path))
    for message in read.messages:
        click.echo(str(message), err=message.level is Level.ERROR)
    errors = sum(message.level is Level.ERROR for message in read.messages)
    warnings = sum(message.level is Level.WARNING for message in read.messages)
    click.echo(f"{counted(errors, 'error')}, {counted(warnings, 'warning')} in {workbook}")
    return Exit.INPUT_ERRORS if errors else Exit.PLANNED
