"""The drafts of a desk as they are written to disk and read again: moves, and where they begin."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pydantic import TypeAdapter, ValidationError

from capacity.plans.outcome import Planned
from capacity.questions.by_hand.drafts import Draft
from capacity.questions.by_hand.values import HandMove
from ui.desk.desk import JOB_NUMBERS, Desk
from ui.desk.drafts import HandDraft, HandWork, is_shown, work_of
from ui.desk.opened_workbook import OpenedBook
from ui.desk.plan_job import Result, result_of
from ui.desk.saved_news import saved_news
from ui.desk.saved_work import FORMAT, SavedBook, SavedPlan, saved_plan


@dataclass(frozen=True, slots=True)
class SavedDraft:
    """A draft; ``start`` counts the plans that drafts begin with from 0."""

    draft: Draft
    start: int


@dataclass(frozen=True, slots=True)
class SavedDrafts:
    """All drafts of a desk; ``shown`` names the one on the page, blank where it shows the plan."""

    format: int
    starts: tuple[SavedPlan, ...]
    drafts: tuple[SavedDraft, ...]
    shown: str
    asked: HandMove | None
    held: tuple[HandMove, ...]


_DRAFTS = TypeAdapter(SavedDrafts)


def drafts_bytes(desk: Desk, book: Callable[[OpenedBook], SavedBook]) -> bytes | None:
    """Return the drafts of a desk as JSON, None without any; ``book`` writes a workbook once."""
    work = work_of(desk)
    if not work.drafts:
        return None
    starts = list({one.start.number: one.start for one in work.drafts}.values())
    numbers = [start.number for start in starts]
    saved = SavedDrafts(
        format=FORMAT,
        starts=tuple(_start(start, book) for start in starts),
        drafts=tuple(SavedDraft(d.draft, numbers.index(d.start.number)) for d in work.drafts),
        shown=work.shown if is_shown(desk) else "",
        asked=work.asked,
        held=work.held,
    )
    return _DRAFTS.dump_json(saved)


def _start(start: Result, book: Callable[[OpenedBook], SavedBook]) -> SavedPlan:
    assert isinstance(start.outcome, Planned)
    news = None if start.news is None else saved_news(start.news)
    return saved_plan(start.outcome, book(start.opened), news)


def drafts_from(content: bytes | None) -> SavedDrafts | None:
    """Return the drafts that JSON holds; None if it holds none of this format."""
    try:
        saved = _DRAFTS.validate_json(content or b"")
    except ValidationError:
        return None
    return saved if saved.format == FORMAT else None


def drafts_again(
    saved: SavedDrafts, desk: Desk, starts: Sequence[Result | None]
) -> tuple[HandWork, tuple[str, ...]]:
    """Return the drafts whose plan still stands, and the names of those whose plan does not.

    ``starts`` are the plans that they begin with, audited again, None for one that is gone. One
    that is the plan of the desk is its result itself.
    """
    now = result_of(desk)
    plans = [_the_same(start, now) for start in starts]
    drafts, gone = [], []
    for one in saved.drafts:
        start = plans[one.start] if one.start < len(plans) else None
        if start is None:
            gone.append(one.draft.name)
        else:
            drafts.append(HandDraft(one.draft, start, next(JOB_NUMBERS)))
    run = 0 if now is None else now.number
    return HandWork(tuple(drafts), saved.shown, run, saved.asked, saved.held), tuple(gone)


def _the_same(start: Result | None, now: Result | None) -> Result | None:
    if start is None or now is None:
        return start
    if not isinstance(start.outcome, Planned) or not isinstance(now.outcome, Planned):
        return start
    if start.opened.content == now.opened.content and start.outcome.plan == now.outcome.plan:
        return now
    return start
