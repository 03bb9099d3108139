"""Work for a process of its own, which has to find it by its name."""

import os
import signal
from dataclasses import dataclass
from threading import Event

from capacity.errors import InputError, TooLargeError
from capacity.messages import Level, Message
from ui.desk.apart_child import BestSoFar
from ui.desk.job import Tell


@dataclass(frozen=True)
class SomeWork:
    """Tells its process, and ends as it is told to."""

    ends: str

    def __call__(self, tell: Tell, stop: Event) -> object:
        """Come to an answer, or not."""
        tell(os.getpid())
        tell(BestSoFar("first"))
        tell(BestSoFar("second"))
        match self.ends:
            case "stopped":
                assert stop.wait(10)
            case "refused":
                raise InputError([Message(Level.ERROR, "Checks", "no bay", "Give one")])
            case "failed":
                raise TooLargeError("too much")
            case "broken":
                raise ZeroDivisionError("oh")
            case "killed":
                os.kill(os.getpid(), signal.SIGKILL)
        return self.ends
