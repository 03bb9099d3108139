"""A caution, and how well its source is known."""

from dataclasses import dataclass
from enum import StrEnum


class SourceStatus(StrEnum):
    """How the text of a source was had."""

    SEEN = "seen"
    SECONDARY = "seen in a secondary source"
    MEMORY = "from memory, not checked against the text"
    DERIVED = "derived"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Caution:
    """``text`` is to be shown ``when`` something is so; the approved data have the last word."""

    id: str
    when: str
    text: str
    source: str
    status: SourceStatus


@dataclass(frozen=True, slots=True)
class AppliedCaution:
    """A caution with the reason ``why`` it is shown here.

    ``check`` and ``stage`` are None for one that concerns the base as a whole.
    ``is_guess`` tells one that only a name suggests from one that the workbook says.
    """

    caution: Caution
    why: str
    is_guess: bool
    check: str | None = None
    stage: str | None = None
