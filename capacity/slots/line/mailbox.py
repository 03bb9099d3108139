"""A side's end of the line: what it has to do, what the others found, what it tells."""

import pickle
import threading
import time
from collections import deque
from collections.abc import Callable
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

from capacity.slots.line.reports import Begun, DaysBound, FoundChoice, GoodPlan, Report, Task
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

# So many good plans of other sides wait at the most to be looked at.
MOST_WAITING = 24


class Mailbox:
    """Reads the coordinator's words on a thread of its own and keeps the best choice told.

    When the line breaks, the coordinator is gone and ``on_hang_up`` is called.
    """

    def __init__(
        self, incoming: BinaryIO, outgoing: BinaryIO, on_hang_up: Callable[[], None]
    ) -> None:
        """Wait for the task, then listen."""
        self._incoming, self._outgoing = incoming, outgoing
        self._on_hang_up = on_hang_up
        self.task: Task = pickle.load(incoming)
        self._best = self.task.chosen
        self._best_cost = self.task.program.cost(self.task.chosen)
        self._lock = threading.Lock()
        self._told_at = -np.inf
        self._held_back: FoundChoice | None = None
        # How many days past Latest in there must be, as far as it is proven.
        self.least_days = self.task.program.settled_past
        # Whether the other side is at work.
        self.has_heard = False
        self._has_begun = False
        self._good: deque[tuple[Choice, tuple[int, float]]] = deque(maxlen=MOST_WAITING)
        self._shared_at = -np.inf
        threading.Thread(target=self._listen, daemon=True).start()

    @property
    def program(self) -> Program:
        """Return the whole program."""
        return self.task.program

    @property
    def seconds_left(self) -> float:
        """Return the seconds that are left."""
        return self.task.until - time.monotonic()

    @property
    def best(self) -> tuple[NDArray[np.int64], tuple[int, float]]:
        """Return the best choice known on either side, and its cost."""
        with self._lock:
            return self._best, self._best_cost

    def tell_choice(self, chosen: Choice, source: str) -> None:
        """Tell a choice if it is better than any known; soon, not at once."""
        if self._keep(chosen):
            self._held_back = FoundChoice(chosen.copy(), source)
        self.flush()

    def share(self, chosen: Choice) -> None:
        """Hand a good plan to the other sides that find plans, if there are any; not too often."""
        now, between = time.monotonic(), self.task.settings.search.seconds_between_words
        if self.task.shares and now - self._shared_at > between:
            self._shared_at = now
            self.tell(GoodPlan(chosen.copy()))

    def take_good_plans(self) -> list[tuple[Choice, tuple[int, float]]]:
        """Return the good plans of other sides that came since the last call, with their cost."""
        with self._lock:
            found = list(self._good)
            self._good.clear()
            return found

    def tell_begun(self) -> None:
        """Tell once that this side is at work."""
        if not self._has_begun:
            self._has_begun = True
            self.tell(Begun())

    def flush(self, *, at_once: bool = False) -> None:
        """Send the choice held back when its time has come: the last of a burst is never lost."""
        now, between = time.monotonic(), self.task.settings.search.seconds_between_words
        if self._held_back is not None and (at_once or now - self._told_at > between):
            self.tell(self._held_back)
            self._held_back, self._told_at = None, now

    def tell(self, message: Report) -> None:
        """Send a message now."""
        pickle.dump(message, self._outgoing)
        self._outgoing.flush()

    def _keep(self, chosen: Choice) -> bool:
        if not self.program.holds(chosen):
            return False  # an engine's rounding, or a slip of its: nothing to tell anybody
        cost = self.program.cost(chosen)
        with self._lock:
            better = is_better(cost, self._best_cost)
            if better:
                self._best, self._best_cost = chosen.copy(), cost
            return better

    def _listen(self) -> None:
        try:
            while True:
                message: FoundChoice | GoodPlan | Begun | DaysBound = pickle.load(self._incoming)
                self.has_heard = True
                if isinstance(message, FoundChoice):
                    self._keep(message.chosen)
                elif isinstance(message, DaysBound):
                    self.least_days = max(self.least_days, message.days)
                elif isinstance(message, GoodPlan) and message.cost is not None:
                    with self._lock:
                        self._good.append((message.chosen, message.cost))
        except (EOFError, OSError, pickle.UnpicklingError):
            self._on_hang_up()


def is_better(cost: tuple[int, float], other: tuple[int, float]) -> bool:
    """Return whether a cost is less: fewer days past, then money by more than a rounding."""
    return cost[0] < other[0] or (cost[0] == other[0] and cost[1] < other[1] - 1e-6)
