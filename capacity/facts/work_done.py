"""Man-hours that were worked before a plan was made again."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class DoneHours:
    """Man-hours of one skill that were worked in the ISO week that begins on ``monday``."""

    skill: str
    monday: date
    hours: float


@dataclass(frozen=True, slots=True)
class WorkDone:
    """What a stage that began on the day ``first`` had done ``before`` a day, week by week.

    It is history for as long as the stage keeps its first day: only what is left of its hours
    can still lie in one week or another, on days from ``before`` on.
    """

    check: str
    stage: str
    first: date
    before: date
    hours: tuple[DoneHours, ...]
