"""One door to what is written of a plan, whichever question it answers."""

from collections.abc import Sequence
from pathlib import Path

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Outcome
from capacity.plans.plan import Plan
from capacity.questions.enquiries.booking import Booked
from capacity.questions.replan.values import Replanned
from capacity.reports.enquiries.booked_workbook import outcome_of_booking, write_booked_workbook
from capacity.reports.plan.by_suffix import report as report_outcome
from capacity.reports.plan.messages import Where
from capacity.reports.replan.workbook import outcome_of, write_replan_workbook


def report(
    base: Base,
    outcome: Outcome | Replanned | Booked,
    path: str | Path,
    messages: Sequence[Message] = (),
    *,
    where: Where | None = None,
    workbook: Base | None = None,
    earlier: Plan | None = None,
) -> None:
    """Write the plan workbook (``.xlsx``), plan file (``.json``) or calendar of bays (``.ics``).

    The plan workbook of a re-plan, and of booked enquiries, has the sheet ``Changes`` too.
    ``base`` is the one that was planned; of a re-plan and a booking it is the one that was read,
    in the state for which the plan file says that it was made.
    ``messages`` are those about the input; ``where`` gives the cells of the input for the
    messages about the plan, which are added to them; ``workbook`` is the base as it was read,
    where that is another than the one planned. ``earlier`` is the plan that this one replaces:
    the plan workbook's key figures say what changed since.

    Raises
    ------
    OutputError
        When the ending is another one, when there is no plan to draw, or when the file cannot
        be written.
    """
    is_workbook = Path(path).suffix.lower() == ".xlsx"
    match outcome:
        case Replanned() if is_workbook:
            write_replan_workbook(outcome, Path(path), messages, where, earlier)
        case Booked() if is_workbook:
            write_booked_workbook(outcome, Path(path), messages, where)
        case Replanned() | Booked():
            whole = (
                outcome_of(outcome)
                if isinstance(outcome, Replanned)
                else outcome_of_booking(outcome)
            )
            read = workbook or base
            report_outcome(outcome.base, whole, path, messages, where=where, workbook=read)
        case _:
            report_outcome(
                base, outcome, path, messages, where=where, workbook=workbook, earlier=earlier
            )
