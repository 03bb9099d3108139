"""Days before which a stage cannot start, whatever is ready otherwise."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class ReadyDate:
    """A stage of a check starts on ``not_before`` at the earliest.

    ``reason`` is what it waits for: a part, a tool, the customer's approval, a shop.
    """

    check: str
    stage: str
    not_before: date
    reason: str = ""
