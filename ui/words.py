"""Sentences that more than one page says."""

from capacity.messages import Level
from capacity.reports.plan.wording import CAUTION, levels
from capacity.words import counted
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook
from ui.planner.editing import edits_in_words

NO_PLAN = "There is no plan yet. Open a workbook and make a plan on the page Planner."
OUTDATED = (
    "The workbook has been changed since this plan was made. Make the plan again to see what "
    "the change does."
)
AS_TABLE = "The same as a table"
"""Stands at the fold below every chart."""

PLANS_ONLY = f"{CAUTION} It releases no aircraft."


def pending_in_words(desk: Desk) -> str:
    """Return how many changes of the grid are not used yet and what becomes of them."""
    waiting = edits_in_words(tuple(desk.pending.values()))
    if not waiting:
        return ""
    return (
        f"Not used yet: {waiting}. They stay when you change the page or load it again, and "
        "Make the plan uses them."
    )


def state_of(opened: OpenedBook) -> str:
    """Return in a sentence whether a workbook can be planned."""
    base = opened.book.base
    if base is None:
        errors = counted(opened.errors, "error")
        return f"It cannot be planned: {errors}. Correct them below or in the workbook."
    found = levels(f for f in opened.book.messages if f.level is not Level.ERROR)
    checks, bays = counted(len(base.checks), "check"), counted(len(base.bays), "bay")
    weeks = counted(base.weeks, "week")
    return f"It can be planned: {checks}, {bays}, {weeks}{f'; {found}' if found else ''}."
