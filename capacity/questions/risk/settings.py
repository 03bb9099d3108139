"""Every knob of the risk question, with its unit, default and reason."""

from dataclasses import dataclass
from enum import StrEnum

from capacity.checked_settings import choice_of, number_within, whole_within

MOST_DRAWS = 20_000
"""More would fill the memory and change no decision."""
MOST_SPREAD = 10.0
"""Times the findings; more is a slip of the pen."""


class Shape(StrEnum):
    """How findings are distributed; mean and standard deviation are those of the workbook."""

    LOG_NORMAL = "log-normal"
    TRIANGULAR = "triangular"


class Keep(StrEnum):
    """What gives way when a stage has more man-hours than planned.

    With ``DAILY_HOURS`` the stage keeps the man-hours a day that it was planned at and takes
    more days; with ``DAYS`` it keeps its days and asks more man-hours on each of them.
    """

    DAILY_HOURS = "daily-hours"
    DAYS = "days"


@dataclass(frozen=True, slots=True)
class RiskSettings:
    """How to draw findings.

    ``draws``: how often the whole plan is played through; 2,000 leave a standard error of
    about one percentage point. ``seed``: of the draws; equal seeds draw equal findings for a
    check and stage, whatever else is in the base. ``shape``: of the distribution.
    ``default_spread``: the planner's judgement for stages with findings for which the
    workbook gives no ``Findings spread %``, as a share of the findings; None takes the
    findings of such stages as certain. ``together``: correlation of the normal scores of the
    stages of one check, 0 (each stage by itself) to 1 (all up or all down). ``keep``: what a
    stage keeps when findings are more than planned.
    """

    draws: int = 2000
    seed: int = 1
    shape: Shape = Shape.LOG_NORMAL
    default_spread: float | None = None
    together: float = 0.0
    keep: Keep = Keep.DAILY_HOURS

    def __post_init__(self) -> None:
        """Take choices by their names too, and check every value."""
        object.__setattr__(self, "shape", choice_of(Shape, "shape", self.shape))
        object.__setattr__(self, "keep", choice_of(Keep, "keep", self.keep))
        whole_within("draws", self.draws, 1, MOST_DRAWS)
        whole_within("seed", self.seed, 0)
        if self.default_spread is not None:
            number_within("default_spread", self.default_spread, 0.0, MOST_SPREAD)
        number_within("together", self.together, 0.0, 1.0)
