"""The checks that want to come in."""

from dataclasses import dataclass
from datetime import date
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
    to the out day. ``price`` is earned when an option is placed. ``findings_factor``
    multiplies the findings of its package. ``remaining`` is the share of the work left on a
    check that is already in; None when the package stands whole.
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
