"""A side's mailbox without a line, for tests of one side alone."""

import time
from types import SimpleNamespace

from capacity.search_settings import SearchSettings
from capacity.settings import Settings
from capacity.slots.line.mailbox import is_better
from capacity.slots.line.reports import Report
from capacity.slots.program.program import Program
from tests.slots.building import Choice, nothing


class Desk:
    """A mailbox without a line: keeps the best choice and the words told."""

    def __init__(
        self, program: Program, seconds: float, search: SearchSettings | None = None
    ) -> None:
        """Begin with nothing placed."""
        self.program, self.words = program, []
        self.best = nothing(program), program.cost(nothing(program))
        self.least_days = program.settled_past
        self.has_heard, self.begun = True, False
        settings = Settings(search=search or SearchSettings())
        self.task = SimpleNamespace(settings=settings, number=1)
        self.good, self.shared = [], []
        self.until = time.monotonic() + seconds

    @property
    def seconds_left(self) -> float:
        return self.until - time.monotonic()

    def tell(self, word: Report) -> None:
        self.words.append(word)

    def tell_choice(self, chosen: Choice, source: str) -> None:
        if self.program.holds(chosen) and is_better(self.program.cost(chosen), self.best[1]):
            self.best = chosen.copy(), self.program.cost(chosen)

    def share(self, chosen: Choice) -> None:
        self.shared.append(chosen)

    def take_good_plans(self) -> list[tuple[Choice, tuple[int, float]]]:
        found, self.good = self.good, []
        return found

    def tell_begun(self) -> None:
        self.begun = True

    def flush(self, *, at_once: bool = False) -> None:
        pass
