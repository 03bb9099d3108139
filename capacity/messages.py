"""A message: one thing to tell the person about the input or the plan."""

from dataclasses import dataclass
from enum import StrEnum

from capacity.escaped import escaped


class Level(StrEnum):
    """How much a message matters: an error stops planning, a warning and a note do not."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Message:
    """What is wrong or worth knowing, where a person sees it, and what to do about it.

    ``where`` reads as in the spreadsheet program, such as ``Checks!F17``.
    """

    level: Level
    where: str
    what: str
    remedy: str = ""

    def __str__(self) -> str:
        """Return one line, such as ``error Checks!F17: what is wrong. What to do.``."""
        tail = f" {self.remedy}" if self.remedy else ""
        return escaped(f"{self.level} {self.where}: {self.what}{tail}")


def error(where: str, what: str, remedy: str) -> Message:
    """Return what stops planning, with its remedy."""
    return Message(Level.ERROR, where, what, remedy)
