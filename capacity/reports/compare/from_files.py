"""Two plan files of one base side by side, each with the checks that it was made for."""

from dataclasses import replace

from capacity.facts import Base, Status
from capacity.messages import Message
from capacity.plans.worked_starts import on_worked_days
from capacity.questions.compare.cost_steps import CostSteps, cost_steps
from capacity.questions.compare.plan_of_checks import PlanOfChecks
from capacity.questions.compare.two_plans import Comparison
from capacity.questions.compare.two_plans import compare_what_both_have as compared
from capacity.reports.plan_files.base_of import base_of_plan_file, notes_about, refuse_other_base
from capacity.reports.plan_files.plan_from_file import with_refused
from capacity.reports.plan_files.written import PlanFile


def compare_plan_files(
    first: PlanFile, second: PlanFile, base: Base, old_base: Base | None = None
) -> tuple[Comparison, tuple[Message, ...]]:
    """Return two plans compared on ``base``, and what is to be said of their files.

    ``old_base`` is that of the workbook that the first was made for, where it is another one: then
    what the workbook changed is kept apart from what the plan chose.

    Raises
    ------
    InputError
        When a plan is of another base, or names what the base does not have.
    """
    notes: list[Message] = []
    for file in (first, second):
        refuse_other_base(file, base)
        notes += notes_about(file, base)
    found = compared(_of_checks(first, base), _of_checks(second, base))
    return replace(found, steps=_steps(first, second, base, old_base)), tuple(notes)


def _steps(
    first: PlanFile, second: PlanFile, base: Base, old_base: Base | None
) -> CostSteps | None:
    """Return what the difference of cost is made of, each plan in the state that its file has."""
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
