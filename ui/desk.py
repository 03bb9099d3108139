"""What one planner works on: the workbook that is open, the work going on, and the answers.

It lives in the server, so that a page that is drawn anew or loaded again finds it as it was.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock

from ui.job import Job, Keep, State, Work, keep_all
from ui.opened_book import OpenedBook


@dataclass(frozen=True, slots=True)
class Answer:
    """What a job came to; ``made_from`` is what it was asked of, ``number`` counts jobs."""

    number: int
    made_from: object
    value: object


class Desk:
    """One planner's work; ``version`` goes up whenever another workbook is in use.

    One job at a time: a second click begins no second one.
    """

    def __init__(self, id: str) -> None:
        """Begin with nothing open; ``id`` is a secret that only its owner's address holds."""
        self.id = id
        self._lock = Lock()
        self.version = 0
        self.original: OpenedBook | None = None
        self.opened: OpenedBook | None = None
        self.job: Job | None = None
        self.job_kind = ""
        self._asked_of: object = None
        self._jobs = 0
        self._answers: dict[str, Answer] = {}
        self.sessions: set[str] = set()
        self.last_used = time.monotonic()

    def open(self, opened: OpenedBook) -> None:
        """Put another workbook on the desk; what was made of the last one is cleared away."""
        with self._lock:
            if self.job is not None:
                self.job.stop()
            self.job, self.job_kind, self._answers = None, "", {}
            self.original = self.opened = opened
            self.version += 1

    def use(self, opened: OpenedBook) -> None:
        """Go on with a changed copy of the workbook; answers about the last one are kept."""
        with self._lock:
            self.opened = opened
            self.version += 1

    def start(
        self, kind: str, made_from: object, work: Work, seconds: float, keep: Keep = keep_all
    ) -> Job | None:
        """Begin a job of a kind; None when one is going on."""
        with self._lock:
            if self.job is not None and self.job.is_live:
                return None
            self._keep_answer()
            self._jobs += 1
            self._asked_of, self.job_kind = made_from, kind
            self.job = Job(work, seconds, keep)
            return self.job

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
            self._answers[self.job_kind] = Answer(self._jobs, self._asked_of, job.answer)

    def is_looked_at(self, is_active: Callable[[str], bool]) -> bool:
        """Return whether any browser still shows this desk."""
        return any(is_active(session) for session in tuple(self.sessions))
