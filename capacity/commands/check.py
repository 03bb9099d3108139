"""``capacity check``: everything that is wrong with a book."""

from pathlib import Path

import click

from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.inputs.limited import read_book
from capacity.messages import Level


@click.command()
@click.argument("book", metavar="BOOK", type=FILE)
def check(book: Path) -> Exit:
    """Read BOOK and say everything that is wrong with it, each with its cell and remedy.

    BOOK is a workbook, or a folder of CSV files named after the sheets.
    """
    read = read_book(book)
    for finding in read.findings:
        click.echo(str(finding), err=finding.level is Level.ERROR)
    errors = sum(finding.level is Level.ERROR for finding in read.findings)
    warnings = sum(finding.level is Level.WARNING for finding in read.findings)
    click.echo(f"{_counted(errors, 'error')}, {_counted(warnings, 'warning')} in {book}")
    return Exit.INPUT_ERRORS if errors else Exit.PLANNED


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
