"""``capacity verify``: everything that is wrong with a workbook."""

from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.inputs.limited import read_book
from capacity.messages import Level
from capacity.words import counted


@click.command()
@click.argument("workbook", metavar="WORKBOOK", type=FILE)
def verify(workbook: Path) -> Exit:
    """Read WORKBOOK and say everything that is wrong with it, each with its cell and remedy.

    WORKBOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    read = read_book(workbook)
    for message in read.messages:
        click.echo(str(message), err=message.level is Level.ERROR)
    errors = sum(message.level is Level.ERROR for message in read.messages)
    warnings = sum(message.level is Level.WARNING for message in read.messages)
    click.echo(f"{counted(errors, 'error')}, {counted(warnings, 'warning')} in {workbook}")
    return Exit.INPUT_ERRORS if errors else Exit.PLANNED
