"""One door to the written reports: the ending of the file name says which one is wanted."""

from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from capacity.errors import OutputError
from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Outcome, Planned
from capacity.plans.plan import Plan
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.calendar_feed import bay_calendar
from capacity.reports.plan.messages import Where
from capacity.reports.plan.summary import write_summary
from capacity.reports.plan.workbook import write_plan_workbook


def report(
    base: Base,
    outcome: Outcome,
    path: str | Path,
    messages: Sequence[Message] = (),
    *,
    where: Where | None = None,
    workbook: Base | None = None,
    earlier: Plan | None = None,
) -> None:
    """Write the plan workbook (``.xlsx``), summary (``.json``) or calendar of bays (``.ics``).

    ``messages`` are those about the input; ``where`` gives the cells of the input for the
    messages about the plan, which are added to them; ``workbook`` is the base as it was read,
    where that is another than the one planned. ``earlier`` is the plan that this one replaces: the
    plan workbook says what changed since.

    Raises
    ------
    OutputError
        When the ending is another one, when there is no plan to draw, or when the file cannot
        be written.
    """
    path = Path(path)
    match path.suffix.lower():
        case ".json":
            write_summary(base, outcome, messages, path, where, workbook)
        case ".xlsx" if isinstance(outcome, Planned):
            write_plan_workbook(base, outcome, messages, path, where, earlier)
        case ".ics" if isinstance(outcome, Planned):
            stamp = datetime.now(UTC)
            write_whole(bay_calendar(outcome.plan, base, stamp=stamp), path)
        case ".xlsx" | ".ics":
            raise OutputError(
                f"There is no plan to write to {path}. The summary can still be had: "
                "name a file that ends in .json."
            )
        case _:
            raise OutputError(
                f"{path}: this ending says nothing about what to write. Name a file that ends "
                "in .xlsx for the plan workbook, in .json for the plan summary or in .ics for the "
                "calendar of the bays."
            )
