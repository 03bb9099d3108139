"""Read the plan of a plan file back, so that a person can ask about it later."""

from collections.abc import Collection, Iterator
from os import PathLike

from capacity.errors import InputError
from capacity.facts import Base, Status
from capacity.inputs.wording import suggest
from capacity.messages import Message
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.plans.worked_starts import on_worked_days
from capacity.reports.plan_files.base_of import base_of_plan_file
from capacity.reports.plan_files.json_reader import error
from capacity.reports.plan_files.written import PlanFile, read_plan_file


def plan_from_file(base: Base, source: str | PathLike[str]) -> Plan:
    """Return the plan of a summary; it keeps every rule of the base.

    ``source`` is the path of a summary, or its text, which begins with a brace. Options of
    the base that are not placed are refused. The figures of the summary are not compared:
    they follow from plan and base. Of a re-planned plan work left counts from the day that the
    summary names; ``read_plan`` returns that base too, and compares the figures.

    Raises
    ------
    InputError
        When the file cannot be read as a summary of a plan, names what the base does not
        have, or the plan breaks rules of the base; its ``messages`` hold everything.
    """
    file = read_plan_file(source)
    return plan_of(file, base_of_plan_file(file, base))


def plan_of(file: PlanFile, base: Base) -> Plan:
    """Return the plan of a file that was read; it keeps every rule of ``base``."""
    if messages := list(_unknown_names(file.plan, base)):
        raise InputError(messages)
    plan = on_worked_days(with_refused(file.plan, base), base)
    if broken := audit(base, plan).broken:
        remedy = "Plan again, or give the workbook that the plan was made for."
        raise InputError([error("placements", sentence, remedy) for sentence in broken])
    return plan


def with_refused(plan: Plan, base: Base) -> Plan:
    """Return the plan with the options of the base refused that it does not place."""
    placed = {placement.check for placement in plan.placements}
    options = [check.name for check in base.checks if check.status is Status.OPTION]
    refused = tuple(name for name in options if name not in placed)
    return Plan(plan.placements, plan.not_placed, refused)


def plan_as_written(source: str | PathLike[str]) -> Plan:
    """Return the plan that a summary states, whatever base it was made for.

    A summary does not name refused options; ``refused`` is empty.

    Raises
    ------
    InputError
        When the file cannot be read as a summary of a plan.
    """
    return read_plan_file(source).plan


def _unknown_names(plan: Plan, base: Base) -> Iterator[Message]:
    checks = {check.name for check in base.checks}
    bays = {bay.name for bay in base.bays}
    stages = {stage.name for package in base.packages for stage in package.stages}
    stages |= {row.stage for row in base.extra_work}
    asked: list[tuple[str, Collection[str], str, str]] = []
    for place, placement in enumerate(plan.placements):
        where = f"placements, {placement.check or f'number {place + 1}'}"
        asked.append((placement.check, checks, "Checks", where))
        asked.append((placement.bay, bays, "Bays", where))
        asked += [(stage.stage, stages, "Packages", where) for stage in placement.stages]
    asked += [(name, checks, "Checks", "not_placed") for name in plan.not_placed]
    for name, known, sheet, where in dict.fromkeys(
        (name, frozenset(known), sheet, where) for name, known, sheet, where in asked
    ):
        if name not in known:
            what = f"'{name}' is not in the sheet {sheet} of the base."
            yield error(where, what, suggest(name, known, f"the sheet {sheet}"))
