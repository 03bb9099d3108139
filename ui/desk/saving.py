"""Work kept beside the server, on disk, so that a restart of it loses none of it."""

import hashlib
import logging
from threading import Lock

from capacity.plans.outcome import Planned
from capacity.words import counted, listed
from ui.desk.desk import JOB_NUMBERS, Desk
from ui.desk.drafts import work_of
from ui.desk.opened_workbook import OpenedBook, opened_from_bytes
from ui.desk.plan_job import PLAN, PlanWithNews, Result, result_of
from ui.desk.private_files import KEPT_DAYS, PrivateFiles
from ui.desk.saved_answers import answers_again, answers_bytes
from ui.desk.saved_drafts import drafts_again, drafts_bytes, drafts_from
from ui.desk.saved_news import plan_with_news, saved_news
from ui.desk.saved_work import (
    FORMAT,
    SavedBook,
    SavedDesk,
    SavedPlan,
    audited_again,
    desk_bytes,
    desk_from,
    edits_from,
    plan_bytes,
    plan_from,
    rows_from,
    saved_edits,
    saved_rows,
)
from ui.planner.editing import edits_in_words

LOG = logging.getLogger(__name__)
DESK_FILE, PLAN_FILE, DRAFTS_FILE = "desk.json", "plan.json", "drafts.json"
ANSWERS_FILE = "answers.json"

NOTHING_SAVED = (
    "Nothing is kept under the address of this page any more: work is kept for "
    f"{KEPT_DAYS} days after its last use. Open the workbook again and make the plan again."
)
ANSWERS_GONE = "Answers on crews, measures and enquiries were not kept; ask for them again."
RUN_GONE = "The work that was going on then has ended; begin it again."


class Saving:
    """Writes desks to private files and takes them up again by their secret."""

    def __init__(self, files: PrivateFiles) -> None:
        """Keep desks in these files."""
        self.files = files
        self._lock = Lock()

    def keep(self, desk: Desk) -> None:
        """Write what there is on a desk; where that cannot be, the desk says why."""
        with self._lock:  # so that nobody writes what was before over what is now
            self._keep(desk)

    def _keep(self, desk: Desk) -> None:
        original, opened = desk.original, desk.opened
        if original is None or opened is None:
            return
        if original.content is None or opened.content is None:
            desk.why_not_saved = "Tables in a folder of CSV files are not kept."
            return
        try:
            files = _files_of(desk, original, opened)
            self.files.write(desk.id, files)
            self.files.keep_only(desk.id, set(files))
            desk.why_not_saved = ""
        except (OSError, ValueError) as fault:
            LOG.warning("a desk is not kept: %s", fault)
            why = fault.strerror if isinstance(fault, OSError) and fault.strerror else fault
            desk.why_not_saved = f"It is not kept on this computer ({why})."

    def keeps(self, secret: str) -> bool:
        """Return whether a desk is kept under a secret."""
        return self.files.read(secret, DESK_FILE) is not None

    def take_up(self, secret: str) -> Desk | None:
        """Return the desk of a secret as it was kept; None where nothing is."""
        saved = desk_from(self.files.read(secret, DESK_FILE))
        if saved is None:
            return None
        read: dict[SavedBook, OpenedBook | None] = {}
        original = self._read(secret, saved.original, read)
        opened = self._read(secret, saved.opened, read)
        if original is None or opened is None:
            return None
        pending = edits_from(saved.edits)
        desk = Desk(secret, self.keep)
        answers, told = self._plan(secret, read)
        desk.take_up(original, opened, pending, answers)
        known = answers_again(self.files.read(secret, ANSWERS_FILE), desk)
        desk.take_up_answers(known)
        desk.enquiries = rows_from(saved.enquiries)
        told += self._drafts(secret, desk, read)
        here = [f"the workbook {opened.name}"]
        if waiting := edits_in_words(tuple(pending.values())):
            here.append(f"changes that are not used yet ({waiting})")
        if answers:
            here.append("the last plan, audited again")
        if known:
            here.append(f"what was asked of it ({' and '.join(known)})")
        if typed := sum(1 for row in desk.enquiries if row):
            here.append(counted(typed, "enquiry") + " in their table")
        if drafts := work_of(desk).drafts:
            here.append(counted(len(drafts), "draft") + " made by hand")
        desk.note = " ".join(
            [
                f"This work was taken up again from this computer. Here are {listed(here)}.",
                *told,
                *([RUN_GONE] if saved.work else []),
                ANSWERS_GONE,
            ]
        )
        return desk

    def _plan(
        self, secret: str, read: dict[SavedBook, OpenedBook | None]
    ) -> tuple[dict[str, tuple[object, object]], list[str]]:
        """Return the kept plan as an answer, and what is to be said if there is none."""
        content = self.files.read(secret, PLAN_FILE)
        if content is None:
            return {}, []
        saved = plan_from(content)
        made_from = None if saved is None else self._read(secret, saved.made_from, read)
        value = None if saved is None or made_from is None else _audited(saved, made_from)
        if value is None:
            return {}, [
                "The last plan is gone: it cannot be read any more, or this version finds a rule "
                "that it breaks. Make the plan again."
            ]
        return {PLAN: (made_from, value)}, []

    def _drafts(
        self, secret: str, desk: Desk, read: dict[SavedBook, OpenedBook | None]
    ) -> list[str]:
        """Put the kept drafts on a desk; return what is to be said of those that are gone."""
        saved = drafts_from(self.files.read(secret, DRAFTS_FILE))
        if saved is None:
            return []
        starts = [self._start(secret, start, read) for start in saved.starts]
        desk.by_hand, gone = drafts_again(saved, desk, starts)
        return [f"Gone, since the plan no longer stands: {listed(gone)}."] if gone else []

    def _start(
        self, secret: str, saved: SavedPlan, read: dict[SavedBook, OpenedBook | None]
    ) -> Result | None:
        """Return a plan that drafts begin with, audited again; None where it no longer stands."""
        made_from = self._read(secret, saved.made_from, read)
        value = None if made_from is None else _audited(saved, made_from)
        if value is None or made_from is None:
            return None
        if isinstance(value, PlanWithNews):
            return Result(next(JOB_NUMBERS), value.opened, value.outcome, value)
        return Result(next(JOB_NUMBERS), made_from, value)

    def _read(
        self, secret: str, book: SavedBook, read: dict[SavedBook, OpenedBook | None]
    ) -> OpenedBook | None:
        """Return a kept workbook, each but once, so that the same one is the same object."""
        if book not in read:
            content = self.files.read(secret, f"{book.content}.xlsx")
            is_whole = content is not None and _hash(content) == book.content
            read[book] = (
                opened_from_bytes(book.name, content, book.is_edited)
                if content is not None and is_whole
                else None
            )
        return read[book]


def _audited(saved: SavedPlan, made_from: OpenedBook) -> Planned | PlanWithNews | None:
    """Return a kept plan with a new audit, on the base that it is a plan of."""
    if saved.news is not None:
        return plan_with_news(saved, saved.news, made_from)
    base = made_from.book.base
    return None if base is None else audited_again(saved, base)


def _files_of(desk: Desk, original: OpenedBook, opened: OpenedBook) -> dict[str, bytes]:
    """Return the files of a desk by name; raises ``ValueError`` for what cannot be written."""
    files: dict[str, bytes] = {}
    saved = SavedDesk(
        FORMAT,
        _book(original, files),
        _book(opened, files),
        saved_edits(desk.pending),
        desk.job_kind if desk.is_working else "",
        saved_rows(desk.enquiries),
    )
    files[DESK_FILE] = desk_bytes(saved)
    result = result_of(desk)
    if result is not None and isinstance(result.outcome, Planned):
        made_from = _book(result.opened, files)
        news = None if result.news is None else saved_news(result.news)
        files[PLAN_FILE] = plan_bytes(result.outcome, made_from, news)
    answers = answers_bytes(desk)
    if answers is not None:
        files[ANSWERS_FILE] = answers
    drafts = drafts_bytes(desk, lambda opened: _book(opened, files))
    if drafts is not None:
        files[DRAFTS_FILE] = drafts
    return files


def _book(opened: OpenedBook, files: dict[str, bytes]) -> SavedBook:
    content = opened.content or b""
    name = _hash(content)
    files[f"{name}.xlsx"] = content
    return SavedBook(opened.name, name, opened.is_edited)


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
