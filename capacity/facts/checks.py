"""The checks that want to come in."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum


class Status(StrEnum):
    """How firmly a check stands in the plan."""

    FIXED = "fixed"
    BOOKED = "booked"
    OPTION = "option"


@dataclass(frozen=True, slots=True)
class Check:
    """One aircraft's visit.

    ``latest_in`` is the last day on which it may lawfully start. Costs are money per day:
    early days count from ``latest_in`` back to the in day, late days from ``agreed_out`` on
    to the out day; ``wanted_cost_per_day`` is for each day that the in day lies away from
    ``wanted_in``, before or after. ``agreed_days`` in place of ``agreed_out`` are a promise that
    moves with the in day. ``decide_by`` is the last day of an option. A check may be held to come
    in on ``held_in``, into ``held_bay``, or both, without being fixed. ``price`` is earned when an
    option is placed. ``findings_factor`` multiplies the findings of its package. ``remaining`` is
    the share of the work left on a check that is already in; None when the package stands whole.
    """

    name: str
    aircraft: str
    type: str
    package: str
    status: Status
    earliest_in: date
    latest_in: date
    customer: str = ""
    third_party: bool = False
    wanted_in: date | None = None
    agreed_out: date | None = None
    early_cost_per_day: float = 0.0
    late_cost_per_day: float = 0.0
    price: float = 0.0
    findings_factor: float = 1.0
    fixed_bay: str | None = None
    fixed_in: date | None = None
    remaining: float | None = None
    agreed_days: int | None = None
    wanted_cost_per_day: float = 0.0
    decide_by: date | None = None
    held_in: date | None = None
    held_bay: str | None = None

    @property
    def is_agreed(self) -> bool:
        """Whether a day on which it is out, or a number of days, is agreed."""
        return self.agreed_out is not None or self.agreed_days is not None

    def agreed_out_from(self, in_day: date) -> date | None:
        """Return the day on which it is agreed to be out if it comes in on ``in_day``."""
        if self.agreed_days is not None:
            return in_day + timedelta(days=self.agreed_days)
        return self.agreed_out
