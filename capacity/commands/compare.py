"""``capacity compare``: two plans of one workbook side by side."""

from pathlib import Path

import click

from capacity.commands.common import (
    WORKBOOK,
    as_of_plans,
    base_of,
    file_option,
    opened,
    out_option,
    refuse_wrong_outputs,
    show,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.commands.outputs import Outputs
from capacity.reports.compare.from_files import compare_plan_files
from capacity.reports.compare.text import comparison_in_words
from capacity.reports.compare.workbook import write_comparison_workbook
from capacity.reports.plan_files.written import read_plan_file


@click.command()
@WORKBOOK
@click.option(
    "--plan",
    "plans",
    metavar="PLAN.json",
    type=FILE,
    multiple=True,
    required=True,
    help="Plan file; give the option twice, once for each plan.",
)
@file_option(
    "--old-workbook",
    "old_workbook",
    "OLD.xlsx",
    "Workbook that the first plan was made for, so that costs of checks that are gone, of what "
    "the workbook changed, and of what the plan chose are kept apart.",
)
@out_option("COMPARED.xlsx", "Workbook of the answer.")
def compare(
    workbook: Path, plans: tuple[Path, ...], old_workbook: Path | None, out: Path | None
) -> Exit:
    """Compare two plans of WORKBOOK: slots, costs, weeks with overload.

    Checks that came, went or grew between the two are named, the others compared, and the
    difference of cost is split step by step: what the workbook changed, and what the plan chose.
    """
    if len(plans) != 2:
        raise click.UsageError("Give --plan twice: once for each of the two plans.")
    first, second = plans
    refuse_wrong_outputs([workbook, old_workbook, *plans], ("--out", out, ".xlsx"))
    base, _ = opened(workbook, as_of_plans(*plans))
    files = [read_plan_file(path) for path in plans]
    old_base = None if old_workbook is None else base_of(old_workbook, as_of_plans(first))
    found, notes = compare_plan_files(files[0], files[1], base, old_base)
    show(notes)
    names = (first.stem, second.stem)
    outputs = Outputs()
    outputs.write(
        out,
        lambda path: write_comparison_workbook(
            found, base, path, names, [file.plan for file in files]
        ),
    )
    click.echo(comparison_in_words(found, base, names))
    return outputs.end(Exit.PLANNED)
