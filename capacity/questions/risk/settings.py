"""Every knob of the risk question, with its unit, default and reason."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeVar

from capacity.errors import CapacityError

MOST_DRAWS = 20_000
"""More would fill the memory and change no decision."""


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
        """Take choices by their names too, and refuse settings that mean nothing."""
        object.__setattr__(self, "shape", _choice(Shape, self.shape, "shape"))
        object.__setattr__(self, "keep", _choice(Keep, self.keep, "choice of what to keep"))
        if not 1 <= self.draws <= MOST_DRAWS:
            raise CapacityError(f"Draws are {self.draws}. Give 1 to {MOST_DRAWS:,}.")
        if self.seed < 0:
            raise CapacityError(f"The seed is {self.seed}. Give 0 or more.")
        if self.default_spread is not None and not 0 <= self.default_spread <= 10:
            raise CapacityError(
                f"The default spread is {self.default_spread:g} times the findings. Give 0 to 10."
            )
        if not 0 <= self.together <= 1:
            raise CapacityError(f"Together is {self.together:g}. Give 0 to 1.")


AnyChoice = TypeVar("AnyChoice", bound=StrEnum)


def _choice(kind: type[AnyChoice], name: str, what: str) -> AnyChoice:
    try:
        return kind(name)
    except ValueError:
        known = " or ".join(kind)
        raise CapacityError(f"The {what} is {name!r}. Choose {known}.") from None
