"""``capacity compare``: two plans of one workbook side by side."""

from pathlib import Path

import click

from capacity.commands.common import (
    WORKBOOK,
    as_of_plans,
    opened,
    out_option,
    refuse_wrong_outputs,
    show,
)
from capacity.commands.exits import Exit
from capacity.commands.option_types import FILE
from capacity.commands.outputs import Outputs
from capacity.facts import Base, Status
from capacity.plans.worked_starts import on_worked_days
from capacity.questions.compare.two_plans import PlanOfChecks
from capacity.questions.compare.two_plans import compare_what_both_have as compared
from capacity.reports.compare.text import comparison_in_words
from capacity.reports.compare.workbook import write_comparison_workbook
from capacity.reports.plan_files.base_of import base_of_plan_file, notes_about, refuse_other_base
from capacity.reports.plan_files.plan_from_file import with_refused
from capacity.reports.plan_files.written import PlanFile, read_plan_file


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
@out_option("COMPARED.xlsx", "Workbook of the answer.")
def compare(workbook: Path, plans: tuple[Path, ...], out: Path | None) -> Exit:
    """Compare two plans of WORKBOOK: slots, costs, weeks with overload.

    Checks that were added or cancelled between the two are named, the others compared.
    """
    if len(plans) != 2:
        raise click.UsageError("Give --plan twice: once for each of the two plans.")
    first, second = plans
    refuse_wrong_outputs([workbook, *plans], ("--out", out, ".xlsx"))
    base, _ = opened(workbook, as_of_plans(*plans))
    files = [read_plan_file(path) for path in plans]
    for file in files:
        refuse_other_base(file, base)
        show(notes_about(file, base))
    found = compared(*(_of_checks(file, base) for file in files))
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


def _of_checks(file: PlanFile, base: Base) -> PlanOfChecks:
    """Return a plan with the checks that it was made for; work left counts as in ``base``.

    A file that does not say which was made for those that it names and all options.
    """
    named = {placement.check for placement in file.plan.placements} | set(file.plan.not_placed)
    if file.made is not None:
        named |= set(file.made.workbook.get("Checks", ()))
    else:
        named |= {check.name for check in base.checks if check.status is Status.OPTION}
    whole = base_of_plan_file(file, base).replace(work_counts_from=base.work_counts_from)
    plan = on_worked_days(with_refused(file.plan, whole), whole)
    return PlanOfChecks(plan, whole, frozenset(named))
