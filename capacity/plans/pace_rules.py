"""The worked days that a stage takes: what a plan states, within what the package allows."""

from collections.abc import Iterator

from capacity.plans.plan import StageDays
from capacity.plans.work_left import Work
from capacity.plans.worked_days import WorkedDays


def days_taken(work: Work, stated: StageDays | None, worked_days: WorkedDays) -> int:
    """Return the worked days that the plan gives the stage, or its normal days.

    The normal days count when the plan does not name the stage, or gives it a number of
    days that it cannot take.
    """
    if stated is None or not work.has_paces:
        return work.days
    days = worked_days.count(stated.first, stated.until)
    return days if work.shortest <= days <= work.longest else work.days


def broken(check: str, work: Work, stated: StageDays, worked_days: WorkedDays) -> Iterator[str]:
    """``shortest <= worked days in [first, until) <= longest`` for a stage that has paces."""
    if not work.has_paces:
        return
    days = worked_days.count(stated.first, stated.until)
    takes = f"{check} does {work.stage} in {days} worked days, but it takes"
    if days < work.shortest:
        yield f"{takes} at least {work.shortest}."
    elif days > work.longest:
        yield f"{takes} at most {work.longest}."
