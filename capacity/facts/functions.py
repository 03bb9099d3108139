"""Functions of the staff in a man-hour plan, and the people who serve them off the roster."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Function(StrEnum):
    """What staff do; a man-hour plan must show enough of each of them.

    Source: 145.A.30(d) of the rules for maintenance organisations (EU and UK).
    """

    PLAN = "plan"
    PERFORM = "perform"
    SUPERVISE = "supervise"
    INSPECT = "inspect"
    MONITOR_QUALITY = "monitor quality"


@dataclass(frozen=True, slots=True)
class FunctionStaff:
    """Who serves a function, and how much of it is needed.

    The crews whose own skill is ``skill`` serve it with their rostered hours. ``heads`` are
    people off the roster, who give ``hours_per_head_and_month`` man-hours each in a whole
    calendar month; productivity is not applied to these. ``needed_share`` is man-hours
    needed for each man-hour performed.
    """

    function: Function
    skill: str | None = None
    heads: float = 0.0
    hours_per_head_and_month: float = 0.0
    needed_share: float = 0.0


@dataclass(frozen=True, slots=True)
class FunctionAbsence:
    """``heads`` of a function's people off the roster away from ``first`` to ``last``."""

    function: Function
    first: date
    last: date
    heads: float
    reason: str = ""
