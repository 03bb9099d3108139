"""``capacity compare``: two plans of one workbook side by side."""

from dataclasses import replace
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
from capacity.facts import Base, Status
from capacity.plans.worked_starts import on_worked_days
from capacity.questions.compare.cost_steps import CostSteps, cost_steps
from capacity.questions.compare.plan_of_checks import PlanOfChecks
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
@file_option(
    "--old-workbook",
    "old_workbook",
    "OLD.xlsx",
    "Workbook that the first plan was made for, so that costs of checks that are gone, of what "
    "the workbook changed, and of what the plan chose are told apart.",
)
@out_option("COMPARED.xlsx", "Workbook of the answer.")
def compare(
    workbook: Path, plans: tuple[Path, ...], old_workbook: Path | None, out: Path | None
) -> Exit:
    """Compare two plans of WORKBOOK: slots, costs, weeks with overload.

    Checks that came, went or grew between the two are named, the others compared, and the
    difference of cost is told step by step: what the workbook changed, and what the plan chose.
    """
    if len(plans) != 2:
        raise click.UsageError("Give --plan twice: once for each of the two plans.")
    first, second = plans
    refuse_wrong_outputs([workbook, old_workbook, *plans], ("--out", out, ".xlsx"))
    base, _ = opened(workbook, as_of_plans(*plans))
    files = [read_plan_file(path) for path in plans]
    for file in files:
        refuse_other_base(file, base)
        show(notes_about(file, base))
    found = compared(_of_checks(files[0], base), _of_checks(files[1], base))
    old_base = None if old_workbook is None else base_of(old_workbook, as_of_plans(first))
    found = replace(found, steps=_steps(files, base, old_base))
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


def _steps(files: list[PlanFile], base: Base, old_base: Base | None) -> CostSteps | None:
    """Return what the difference of cost is made of, each plan in the state that its file has."""
    first, second = files
    new = _as_made(second, base)
    stated = None if first.stated is None else first.stated.money
    if old_base is not None:
        return cost_steps(_as_made(first, old_base), new)
    old = _as_made(first, base)
    return cost_steps(PlanOfChecks(old.plan, new.base, old.checks), new, stated)


def _as_made(file: PlanFile, base: Base) -> PlanOfChecks:
    """Return the plan of a file with the base as the file has it."""
    whole = base_of_plan_file(file, base)
    plan = on_worked_days(with_refused(file.plan, whole), whole)
    return PlanOfChecks(plan, whole, _checks_of(file, base))


def _of_checks(file: PlanFile, base: Base) -> PlanOfChecks:
    """Return a plan with the checks that it was made for; work left counts as in ``base``.

    A file that does not say which was made for those that it names and all options.
    """
    whole = base_of_plan_file(file, base).replace(work_counts_from=base.work_counts_from)
    plan = on_worked_days(with_refused(file.plan, whole), whole)
    return PlanOfChecks(plan, whole, _checks_of(file, base))


def _checks_of(file: PlanFile, base: Base) -> frozenset[str]:
    named = {placement.check for placement in file.plan.placements} | set(file.plan.not_placed)
    if file.made is not None:
        named |= set(file.made.workbook.get("Checks", ()))
    else:
        named |= {check.name for check in base.checks if check.status is Status.OPTION}
    return frozenset(named)
