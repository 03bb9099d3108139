"""What is known of checks that have left the base: planned and actual, stage by stage."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class DeliveredStage:
    """One stage of a check that has left; actual values are None where nobody reported them.

    A blank ``stage`` stands for the check as a whole, where its man-hours were booked so.

    ``planned_days`` and ``actual_days`` are days that the base works. Man-hours are of all skills
    together: ``routine_hours`` those of the package, ``planned_hours`` with planned findings and
    extra work, ``extra_hours`` the extra work among them, ``actual_hours`` those booked.
    ``findings_factor`` is that of the check. Out days are the first day on which the aircraft was
    no longer there.
    """

    check: str
    package: str
    stage: str = ""
    aircraft: str = ""
    type: str = ""
    customer: str = ""
    findings_factor: float = 1.0
    latest_in: date | None = None
    agreed_out: date | None = None
    planned_in: date | None = None
    actual_in: date | None = None
    planned_out: date | None = None
    actual_out: date | None = None
    planned_days: int | None = None
    actual_days: int | None = None
    routine_hours: float | None = None
    planned_hours: float | None = None
    extra_hours: float = 0.0
    actual_hours: float | None = None
