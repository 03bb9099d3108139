"""``capacity compare``: two plans of one book side by side."""

from pathlib import Path

import click

from capacity.commands.common import BOOK, opened, out_option, refuse_wrong_outputs
from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.questions.comparing import compare as compared
from capacity.reports.comparison_text import comparison_in_words
from capacity.reports.comparison_workbook import write_comparison_workbook
from capacity.reports.plan_from_summary import plan_from_summary


@click.command()
@BOOK
@click.argument("first", metavar="FIRST.json", type=FILE)
@click.argument("second", metavar="SECOND.json", type=FILE)
@out_option("COMPARED.xlsx", "Workbook of both.")
def compare(book: Path, first: Path, second: Path, out: Path | None) -> Exit:
    """Compare two plans of BOOK: placements, money, overload weeks."""
    refuse_wrong_outputs([book, first, second], ("--out", out, ".xlsx"))
    base, _ = opened(book)
    found = compared(plan_from_summary(first, base), plan_from_summary(second, base), base)
    names = (first.stem, second.stem)
    click.echo(comparison_in_words(found, base, names))
    if out is not None:
        write_comparison_workbook(found, base, out, names)
        click.echo(f"written: {out}")
    return Exit.PLANNED
