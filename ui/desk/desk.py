"""What one planner works on: the workbook that is open, the work going on, and the answers.

It lives in the server, so that a page that is drawn anew or loaded again finds it as it was.
"""

import itertools
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from threading import Lock

from capacity.facts import Base
from capacity.inputs import Book
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.edited_copy import SheetEdit
from ui.desk.job import Job, Keep, State, Work, keep_all
from ui.desk.opened_workbook import OpenedBook
from ui.planner.merging import merged

JOB_NUMBERS = itertools.count(1)
"""No two jobs of this server have the same number, whatever has been cleared away since."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a job came to; ``made_from`` is what it was asked of, ``number`` counts jobs.

    ``before`` is what the last job of its kind came to and ``before_made_from`` what it was asked
    of, ``first`` what the first one came to since the workbook was opened; None where there was
    none.
    """

    number: int
    made_from: object
    value: object
    before: object = None
    first: object = None
    before_made_from: object = None

    def followed_by(self, number: int, made_from: object, value: object) -> "Answer":
        """Return the answer that takes the place of this one."""
        first = self.value if self.first is None else self.first
        return Answer(number, made_from, value, self.value, first, self.made_from)


@dataclass(frozen=True, slots=True)
class Verified:
    """What is read of the workbook of a ``version`` of the desk with changes, as of a day."""

    version: int
    edits: Mapping[str, SheetEdit]
    as_of: AsOf | None
    book: Book


def _since(used: Mapping[str, SheetEdit], pending: Mapping[str, SheetEdit]) -> dict[str, SheetEdit]:
    """Return what is pending beyond the changes used."""
    found = {}
    for sheet, edit in pending.items():
        nothing = SheetEdit(sheet)
        left, _ = merged(used.get(sheet, nothing), edit, nothing)
        if not left.is_empty:
            found[sheet] = left
    return found


class Desk:
    """One planner's work; ``version`` goes up whenever another workbook is in use.

    ``opened_at`` is the version at which one was opened, of which later ones are changed copies.

    One job at a time: a second click begins no second one. ``forms`` is what was last sent off
    in forms, by name; ``enquiries`` are the rows of their table as they are typed; ``by_hand`` is
    what ``ui/desk/drafts.py`` keeps of plans that are changed by hand.
    """

    def __init__(self, id: str, on_change: Callable[["Desk"], None] | None = None) -> None:
        """Begin with nothing open; ``id`` is a secret that only its owner's address holds.

        ``on_change`` is told when there is something new to keep.
        """
        self.id = id
        self._on_change = on_change or (lambda desk: None)
        self._lock = Lock()
        self.version = self.opened_at = 0
        self.original: OpenedBook | None = None
        self.opened: OpenedBook | None = None
        self.job: Job | None = None
        self.job_kind = ""
        self.base_at_work: Base | None = None
        self._asked_of: object = None
        self._jobs = 0
        self._answers: dict[str, Answer] = {}
        self.pending: Mapping[str, SheetEdit] = {}
        self.forms: dict[str, object] = {}
        self.enquiries: tuple[Mapping[str, object], ...] = ()
        self.by_hand: object = None
        self.verified: Verified | None = None
        self.note = ""
        self.why_not_saved = ""
        self.is_touched = False
        self.sessions: set[str] = set()
        self.last_used = time.monotonic()

    def open(self, opened: OpenedBook, by_a_person: bool = True) -> None:
        """Put another workbook on the desk; what was made of the last one is cleared away.

        One that nobody chose on the page is nothing to keep, until something is made of it.
        """
        with self._lock:
            if self.job is not None:
                self.job.stop()
            self.job, self.job_kind, self._answers = None, "", {}
            self.original = self.opened = opened
            self.pending, self.note, self.by_hand = {}, "", None
            self.forms, self.enquiries = {}, ()
            self.version += 1
            self.opened_at = self.version
        if by_a_person:
            self.changed()

    def use(self, opened: OpenedBook, used: Mapping[str, SheetEdit] | None = None) -> None:
        """Go on with a changed copy of the workbook; answers about the last one are kept.

        What was changed since those ``used`` in it were looked at stays pending; without any
        nothing does.
        """
        with self._lock:
            self.opened = opened
            self.pending = {} if used is None else _since(used, self.pending)
            self.version += 1
        self.changed()

    def keep_pending(self, pending: Mapping[str, SheetEdit]) -> None:
        """Keep the changes of the grid that are not used yet, by sheet."""
        self.pending = dict(pending)
        self.changed()

    def keep_by_hand(self, by_hand: object) -> None:
        """Keep the plans that are changed by hand."""
        self.by_hand = by_hand
        self.changed()

    def keep_enquiries(self, rows: Sequence[Mapping[str, object]]) -> None:
        """Keep the rows of the table of enquiries as they are typed."""
        self.enquiries = tuple(rows)
        self.changed()

    def change_pending(self, sheet: str, change: Callable[[SheetEdit], SheetEdit]) -> None:
        """Change what is pending in a sheet: windows of one person take turns."""
        with self._lock:
            edit = change(self.pending.get(sheet, SheetEdit(sheet)))
            others = {name: other for name, other in self.pending.items() if name != sheet}
            self.pending = others if edit.is_empty else {**others, sheet: edit}
        self.changed()

    def forget_note(self) -> None:
        """Take the note away once it has been read."""
        self.note = ""

    def changed(self) -> None:
        """Tell that there is something new to keep."""
        self.is_touched = True
        self._on_change(self)

    def take_up(
        self,
        original: OpenedBook,
        opened: OpenedBook,
        pending: Mapping[str, SheetEdit],
        answers: Mapping[str, tuple[object, object]],
    ) -> None:
        """Go on with what was kept: ``answers`` by kind, each made from the first of the two."""
        with self._lock:
            self.original, self.opened, self.pending = original, opened, dict(pending)
            self.version += 1
            self.opened_at = self.version
            self.is_touched = True
        self.take_up_answers(answers)

    def take_up_answers(self, answers: Mapping[str, tuple[object, object]]) -> None:
        """Go on with answers that were kept, by kind, each made from the first of the two."""
        with self._lock:
            for kind, (made_from, value) in answers.items():
                self._jobs = next(JOB_NUMBERS)
                self._answers[kind] = Answer(self._jobs, made_from, value)

    def start(
        self, kind: str, made_from: object, work: Work, seconds: float, keep: Keep = keep_all
    ) -> Job | None:
        """Begin a job of a kind; None when one is going on."""
        with self._lock:
            if self.job is not None and self.job.is_live:
                return None
            self._keep_answer()
            self._jobs = next(JOB_NUMBERS)
            self._asked_of, self.job_kind = made_from, kind
            job = self.job = Job(work, seconds, keep, on_end=self.changed)
        self.changed()
        return job

    def put(self, kind: str, made_from: object, value: object, number: int | None = None) -> None:
        """Put what needed no job in the place of the last answer of a kind.

        Not while a job is going on. ``number`` is that of an answer that other desks have too.
        """
        with self._lock:
            assert not self.is_working, "a job is going on"
            self._keep_answer()
            self.job, self.job_kind = None, ""
            self._jobs = next(JOB_NUMBERS) if number is None else number
            self._answer(kind, made_from, value)
        self.changed()

    @property
    def asked_of(self) -> object:
        """What the last job was asked of."""
        return self._asked_of

    @property
    def is_working(self) -> bool:
        """Whether a job is going on."""
        return self.job is not None and self.job.is_live

    def answer(self, kind: str) -> Answer | None:
        """Return what the last job of a kind came to; None when none has."""
        with self._lock:
            self._keep_answer()
            return self._answers.get(kind)

    def _keep_answer(self) -> None:
        job = self.job
        if job is None or job.state is not State.DONE or job.answer is None:
            return
        last = self._answers.get(self.job_kind)
        if last is None or last.number != self._jobs:
            self._answer(self.job_kind, self._asked_of, job.answer)

    def _answer(self, kind: str, made_from: object, value: object) -> None:
        last = self._answers.get(kind)
        self._answers[kind] = (
            Answer(self._jobs, made_from, value)
            if last is None
            else last.followed_by(self._jobs, made_from, value)
        )

    def is_looked_at(self, is_active: Callable[[str], bool]) -> bool:
        """Return whether any browser still shows this desk."""
        return any(is_active(session) for session in tuple(self.sessions))
