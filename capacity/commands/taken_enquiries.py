"""The plan with the enquiries that are taken: written beside the answer, or booked."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from capacity.commands.booking import WithAdded, note_without_copy, with_added
from capacity.commands.common import show
from capacity.commands.outputs import Outputs
from capacity.commands.saved_meanwhile import Writer
from capacity.errors import AuditError
from capacity.facts import Base, Check, Package
from capacity.inputs import Book
from capacity.inputs.reading.as_of import AsOf
from capacity.plans.audit import audit
from capacity.plans.listing import listed_anew
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.enquiries.booking import Booked, booked
from capacity.questions.enquiries.values import Combination
from capacity.reports import report
from capacity.reports.answers import report as report_answer
from capacity.settings import Settings

TO_ADD = " (add the enquiries taken to the sheet Checks before you use it)"


@dataclass(frozen=True)
class Answered:
    """What enquiries were put to a plan, and the seconds that the answer took.

    ``base`` is the plan's, with the ``packages`` that the enquiries bring along; ``as_read`` the
    workbook's, without them.
    """

    workbook: Path
    read: Book
    as_read: Base
    base: Base
    plan: Plan
    enquiries: Sequence[Check]
    packages: Sequence[Package]
    settings: Settings
    seconds: float


@dataclass(frozen=True)
class BookedFiles:
    """Where a booking goes; None for what is not asked for."""

    plan_out: Path | None
    booked_out: Path | None
    calendar: Path | None
    workbook_out: Path | None


def write_taken(
    answered: Answered, best: Combination, outputs: Outputs, plan_out: Path | None
) -> None:
    """Write the plan file with a combination taken, whose enquiries stay options."""
    with_packages = answered.as_read.replace(packages=answered.base.packages)
    whole, workbook = (
        _with(one, answered.enquiries, best.names) for one in (answered.base, with_packages)
    )
    # Enquiries that are not taken are no checks of this base.
    plan, read = answered.plan, answered.read
    taken = listed_anew(best.plan, whole)
    outcome = as_outcome(
        taken, whole, answered.settings, answered.seconds, "question", audit(answered.base, plan)
    )
    if outcome.audit.broken:
        raise AuditError(outcome.audit.broken)

    def write(path: Path) -> None:
        report(
            whole, outcome, path, read.messages, where=read.where, workbook=workbook, earlier=plan
        )

    outputs.write(plan_out, write, TO_ADD if best.names else "")


def write_booked(
    answered: Answered,
    best: Combination,
    outputs: Outputs,
    files: BookedFiles,
    as_of: AsOf | None,
) -> Booked:
    """Write the plan with a combination booked, as one of the workbook that has it."""
    made = booked(
        answered.base,
        answered.plan,
        answered.enquiries,
        best,
        answered.settings,
        answered.seconds,
    )
    checks = [made.base.check(one) for one in made.names]
    added = with_added(
        answered.workbook, answered.as_read, answered.read, checks, answered.packages, as_of
    )
    write = _writer(made, added)
    outputs.hold(write)
    outputs.write_plan(files.plan_out)
    outputs.write(files.booked_out, write)
    outputs.write(files.calendar, write)
    if added.write is not None:
        outputs.write(files.workbook_out, added.write)
    if files.plan_out is not None and files.workbook_out is None:
        show([note_without_copy(made.names, answered.workbook)])
    return made


def _writer(made: Booked, added: WithAdded) -> Writer:
    def write(path: Path) -> None:
        report_answer(added.base, made, path, added.book.messages, where=added.book.where)

    return write


def _with(base: Base, enquiries: Sequence[Check], names: Sequence[str]) -> Base:
    """Return the base with the enquiries that are taken among its checks."""
    taken = [check for check in enquiries if check.name in names]
    return base.replace(checks=(*base.checks, *taken))
