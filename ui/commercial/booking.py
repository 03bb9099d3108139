"""Enquiries taken into plan and workbook, as ``capacity enquiry --book`` does."""

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from threading import Event

from capacity.errors import InputError
from capacity.facts import Base
from capacity.inputs.reading.as_of import as_of_plan
from capacity.plans.plan import Plan
from capacity.questions.enquiries.booking import Booked, anyway_combination, booked
from capacity.reports.enquiries.booked_workbook import outcome_of_booking
from ui.commercial.enquiry_job import Told
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.opened_workbook import read_as_of, with_booked
from ui.desk.plan_job import PLAN, PlanWithNews, is_outdated, result_of
from ui.desk.plan_question import answer_of_plan, ask_of_plan
from ui.desk.search_settings import search_settings

BOOKING = "booking"
SEARCHES = 2
"""What is booked anyway is searched for twice, each time as long as an enquiry."""

WORKING = "Something is being worked out. Book when it has ended."
CHANGED = (
    "The workbook has been changed since this plan was made. Make the plan again and ask again "
    "before you book."
)
ANOTHER_PLAN = "The plan has been made again since this answer. Ask again before you book."
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
    result = result_of(desk)
    if result is None or result.number != told.result.number:
        return ANOTHER_PLAN
    if is_outdated(desk):
        return CHANGED
    if desk.pending:
        return NOT_USED
    return TABLES if told.result.opened.content is None else ""


@dataclass(frozen=True, slots=True)
class Forced:
    """What booking the enquiries ``names`` comes to, whatever it costs; ``number`` counts jobs.

    ``made`` is None where none of them has a slot.
    """

    number: int
    names: tuple[str, ...]
    made: Booked | None
    was_stopped: bool


@dataclass(frozen=True, slots=True)
class _Asked:
    told: int
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Found:
    made: Booked | None
    was_stopped: bool


def start_forced(desk: Desk, told: Told, names: Sequence[str]) -> Job | None:
    """Begin to work out what booking these enquiries comes to; None while a job is going on."""
    question = told.question
    enquiries = [one for one in question.enquiries if one.name in names]
    settings = search_settings(question.seconds)

    def work(base: Base, plan: Plan, tell: Tell, stop: Event) -> object:
        began = time.monotonic()
        best = anyway_combination(
            base,
            plan,
            enquiries,
            settings,
            may_move=question.may_move,
            on_time_only=question.on_time_only,
            stop=stop,
        )
        if not best.names:
            return _Found(None, stop.is_set())
        seconds = time.monotonic() - began
        return _Found(booked(base, plan, enquiries, best, settings, seconds), stop.is_set())

    asked = _Asked(told.number, tuple(one.name for one in enquiries))
    return ask_of_plan(desk, BOOKING, work, SEARCHES * question.seconds, asked)


def forced_of(desk: Desk, told: Told) -> Forced | None:
    """Return what the last such job about this answer came to; None where there was none."""
    answer = answer_of_plan(desk, BOOKING)
    if answer is None:
        return None
    asked, found = answer.question, answer.value
    assert isinstance(asked, _Asked)
    assert isinstance(found, _Found)
    if asked.told != told.number:
        return None
    return Forced(answer.number, asked.names, found.made, found.was_stopped)


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
    settings = search_settings(told.question.seconds)
    put_booked(
        desk, told, booked(base, plan, told.question.enquiries, best, settings, told.seconds)
    )


def put_booked(desk: Desk, told: Told, made: Booked) -> None:
    """Make a plan with enquiries booked the plan of the desk, and the copy with them in use.

    Raises
    ------
    InputError
        When the workbook would have errors with them; nothing is changed then.
    """
    base, plan = told.base, told.planned.plan
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
    desk.use(copy, {})
    desk.put(PLAN, copy, news)
