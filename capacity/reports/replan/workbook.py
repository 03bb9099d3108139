"""The workbook of a re-plan: the whole plan, every change, why, what it saved, whom to tell."""

from collections.abc import Sequence
from pathlib import Path

from capacity.messages import Message
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.compare.two_plans import compare
from capacity.questions.replan.values import Replanned
from capacity.reports.compare.sheet_two_plans import overload_pair_sheet
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.plan.further_sheet import FurtherSheet
from capacity.reports.plan.messages import Where
from capacity.reports.plan.workbook import plan_workbook
from capacity.reports.replan.sheet_changes import (
    CHANGES,
    NAMES,
    OVERLOAD_COMPARED,
    RE_PLAN,
    changes_sheet,
    replan_sheet,
)


def write_replan_workbook(
    answer: Replanned,
    path: Path,
    messages: Sequence[Message] = (),
    where: Where | None = None,
    earlier: Plan | None = None,
) -> None:
    """Write the workbook whole or not at all; ``earlier`` is the plan that was in force.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(replan_workbook(answer, messages, where, earlier), path)


def replan_workbook(
    answer: Replanned,
    messages: Sequence[Message] = (),
    where: Where | None = None,
    earlier: Plan | None = None,
) -> bytes:
    """Return the plan workbook with the sheets of the re-plan, as bytes of an ``.xlsx`` file.

    Its key figures stand beside those of the ``earlier`` plan, of the old arrangement without one.
    """
    told = compare(answer.base, answer.kept.plan, answer.plan, today=answer.today)
    further = (
        FurtherSheet(
            RE_PLAN,
            "what the re-plan holds, saves and costs beside the old arrangement",
            lambda book: replan_sheet(book, answer, told),
        ),
        FurtherSheet(
            CHANGES,
            "every check that changed, why, what it saves, and who must be told",
            lambda book: changes_sheet(book, answer.changes, answer.base, answer.found.audit),
        ),
        FurtherSheet(
            OVERLOAD_COMPARED,
            "the weeks with overload, in the old arrangement and in the new plan",
            lambda book: overload_pair_sheet(book, told, NAMES, OVERLOAD_COMPARED),
        ),
    )
    before = earlier or answer.kept.plan
    return plan_workbook(answer.base, outcome_of(answer), messages, where, further, before)


def outcome_of(answer: Replanned) -> Planned:
    """Return the new plan as an outcome; its proof, which counts moves, stands elsewhere."""
    return as_outcome(
        answer.plan,
        answer.base,
        answer.settings,
        answer.seconds,
        answer.stopped_by,
        answer.kept.audit,
    )
