"""The day as of which a workbook is read, when that is not the first day of the plan."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from capacity.plans.plan import Plan


@dataclass(frozen=True, slots=True)
class AsOf:
    """``today``, and when each check that is in already came in, as far as it is known.

    The work left on checks (``Remaining %``) counts from ``today``.
    """

    today: date
    came_in: Mapping[str, date] = field(default_factory=dict)


def as_of_plan(plan: Plan, today: date) -> AsOf:
    """Return ``today`` with the day on which each check came in that the plan has in by then."""
    return AsOf(
        today,
        {
            name: placements[0].in_day
            for name, placements in plan.by_check().items()
            if placements[0].in_day < today
        },
    )
