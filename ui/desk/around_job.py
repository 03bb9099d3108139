"""What becomes of a draft: a plan around what it holds, or the draft itself as the plan."""

from dataclasses import replace

from capacity.errors import InputError
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.messages import Level, Message
from capacity.plans.outcome import Planned
from capacity.questions.asking.as_outcome import as_outcome
from capacity.reports.plan_files.base_of import base_of_plan_file
from capacity.reports.plan_files.made import made_now
from capacity.reports.plan_files.written import PlanFile, read_plan_file
from capacity.settings import Settings
from ui.desk.desk import Desk
from ui.desk.draft_plans import BY_HAND, outcome_of_draft, plan_of_draft
from ui.desk.drafts import HandDraft, to_hold, work_of
from ui.desk.job import Job
from ui.desk.opened_workbook import OpenedBook, with_held
from ui.desk.plan_file import plan_file_text
from ui.desk.plan_job import PLAN, PlanWithNews, Result, start_plan
from ui.desk.plan_question import base_of
from ui.desk.replan_job import News, start_replan
from ui.desk.search_settings import search_settings

WORKING = "Something is being worked out. Wait until it has ended."
NO_MOVES = "Keep a move first: nothing is held yet."
TABLES = (
    "Tables in a folder of CSV files are not written to here: fill in Held, Fixed bay and Fixed in "
    "there yourself, or save the tables as one workbook."
)
THE_DRAFT = "the draft"


def why_not(desk: Desk, one: HandDraft) -> str:
    """Return why neither can be done now; empty where both can."""
    if desk.is_working:
        return WORKING
    if not one.draft.moves:
        return NO_MOVES
    return TABLES if desk.opened is None or desk.opened.content is None else ""


def plan_around(desk: Desk, one: HandDraft, seconds: float) -> Job | None:
    """Hold the moved checks in a copy of the workbook, use it, and begin to plan around them.

    The search begins with the draft. A draft of a re-plan is planned anew as of the same day,
    with the draft as the plan in force.

    Raises
    ------
    InputError
        When the workbook would have errors; nothing is changed then.
    """
    copy, _ = _holding(desk, one)
    plan, _ = plan_of_draft(one)
    today = base_of(one.start).work_counts_from
    file = None if today is None else _plan_file(one)
    _use(desk, one, copy)
    if today is None or file is None:
        return start_plan(desk, search_settings(seconds), begin=plan)
    return start_replan(desk, file, News(today, seconds=seconds))


def take_as_plan(desk: Desk, one: HandDraft) -> None:
    """Make the draft the plan of the desk as it is, with a copy of the workbook that holds it.

    Raises
    ------
    InputError
        When the workbook would have errors, or the draft is no plan of it any more; nothing is
        changed then.
    """
    copy, read = _holding(desk, one)
    base, start = read.book.base, one.start
    assert base is not None
    plan, audit = plan_of_draft(one)
    made_of = base
    if start.news is not None:
        made = made_now(base_of(start), start.news.read)
        made_of = base_of_plan_file(PlanFile(one.name, plan, made, None), base)
    outcome = as_outcome(plan, made_of, Settings(), 0.0, BY_HAND, audit)
    if outcome.audit.broken:
        raise InputError([_broken(text, one) for text in outcome.audit.broken])
    _use(desk, one, copy)
    if start.news is None:
        desk.put(PLAN, copy, outcome)
        return
    assert isinstance(start.outcome, Planned)
    opened = replace(read, book=replace(read.book, base=made_of))
    desk.put(PLAN, copy, PlanWithNews(opened, base, outcome, earlier=start.outcome.plan))


def _holding(desk: Desk, one: HandDraft) -> tuple[OpenedBook, OpenedBook]:
    """Return the copy that holds the moved checks, and how it reads as of the draft's day."""
    opened = desk.opened
    assert opened is not None
    copy, read = with_held(opened, to_hold(desk, one), _as_of(one))
    if read.book.base is None:
        raise InputError(read.book.messages)
    return copy, read


def _use(desk: Desk, one: HandDraft, copy: OpenedBook) -> None:
    """Go on with the copy, and remember what it holds because of the draft."""
    desk.by_hand = replace(work_of(desk), held=one.draft.held)
    desk.use(copy, {})


def _broken(text: str, one: HandDraft) -> Message:
    remedy = "Undo the move, correct the workbook, or plan around what is held."
    return Message(Level.ERROR, one.name, text, remedy)


def _as_of(one: HandDraft) -> AsOf | None:
    today = base_of(one.start).work_counts_from
    return None if today is None else as_of_plan(plan_of_draft(one)[0], today)


def _plan_file(one: HandDraft) -> PlanFile:
    """Return the draft of a re-plan as its plan file says it."""
    start = one.start
    news = start.news
    assert news is not None
    outcome = outcome_of_draft(one)
    drafted = Result(one.number, start.opened, outcome, replace(news, outcome=outcome, answer=None))
    return replace(read_plan_file(plan_file_text(drafted)), name=THE_DRAFT)
