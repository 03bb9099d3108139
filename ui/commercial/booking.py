"""Enquiries worth it, taken into plan and workbook, as ``capacity enquiry --book`` does."""

from dataclasses import replace

from capacity.errors import InputError
from capacity.inputs.reading.as_of import as_of_plan
from capacity.questions.enquiries.booking import booked
from capacity.reports.enquiries.booked_workbook import outcome_of_booking
from capacity.settings import Settings
from ui.commercial.enquiry_job import Told
from ui.desk.desk import Desk
from ui.desk.opened_workbook import read_as_of, with_booked
from ui.desk.plan_job import PLAN, PlanWithNews, is_outdated

WORKING = "Something is being worked out. Book when it has ended."
CHANGED = (
    "The workbook has been changed since this plan was made. Make the plan again and ask again "
    "before you book."
)
NOT_USED = (
    "Changes of the workbook are not used yet. Use them or throw them away on the page Planner "
    "before you book."
)
TABLES = (
    "Tables in a folder of CSV files are not written to here: add the check there yourself, or "
    "save the tables as one workbook."
)


def why_not_to_book(desk: Desk, told: Told) -> str:
    """Return why nothing can be booked now; empty where it can."""
    if desk.is_working:
        return WORKING
    if is_outdated(desk):
        return CHANGED
    if desk.pending:
        return NOT_USED
    return TABLES if told.result.opened.content is None else ""


def book_best(desk: Desk, told: Told) -> None:
    """Make the plan with the best combination booked the plan of the desk, and its copy in use.

    Raises
    ------
    InputError
        When the workbook would have errors with it; nothing is changed then.
    AuditError
        When the plan does not stand up to the audit; nothing is changed then.
    """
    best, base, plan = told.combinations.best, told.base, told.planned.plan
    settings = Settings(seconds=told.question.seconds)
    made = booked(base, plan, told.question.enquiries, best, settings, told.seconds)
    copy = with_booked(told.result.opened, [made.base.check(name) for name in made.names])
    read = copy
    if base.work_counts_from is not None:
        read = read_as_of(copy, as_of_plan(plan, base.work_counts_from))
    if read.book.base is None:
        raise InputError(read.book.messages)
    news = PlanWithNews(
        opened=replace(read, book=replace(read.book, base=made.base)),
        read=read.book.base,
        outcome=outcome_of_booking(made),
        earlier=plan,
        answer=made,
    )
    desk.use(copy)
    desk.put(PLAN, copy, news)
