"""How far each stage of a check in work is on the new first day."""

from collections.abc import Mapping, Sequence
from datetime import date

from capacity.facts import Base, Check, WorkProgress, latest_by_stage
from capacity.plans.plan import Placement, StageDays
from capacity.plans.progress_left import TOLERANCE, left_by_stage
from capacity.plans.work_left import goes_on_from, planned_stages, work_left
from capacity.plans.worked_days import WorkedDays
from capacity.questions.roll.values import StageState


def stage_states(
    base: Base, check: Check, placements: Sequence[Placement], first_day: date, worked: WorkedDays
) -> tuple[StageState, ...]:
    """Return the state of every stage at the start of ``first_day``, in network order.

    What is told as of that day stands. From an earlier day on, work is taken to have gone as
    the plan has it: of a stage planned on n worked days from then on, d of them before
    ``first_day``, the share left * (n - d) / n is left. So days rounded up and man-hours of what
    is left are those that the plan has from ``first_day`` on.
    """
    rows = latest_by_stage(base.progress_of(check.name))
    shares = _shares_left(base, check)
    told_from = goes_on_from(base, check)
    days = {stage.stage: stage for placement in placements for stage in placement.stages}
    whole_is_told = None in rows and rows[None].as_of >= first_day
    found = []
    for planned in planned_stages(base, check):
        row, left = rows.get(planned.stage), shares.get(planned.stage, 0.0)
        told_now = whole_is_told or (row is not None and row.as_of >= first_day)
        as_of = row.as_of if row is not None else min(told_from or first_day, first_day)
        by_plan = False
        if left > TOLERANCE and not told_now:
            now = _after(left, days.get(planned.stage), told_from, first_day, worked)
            as_of = first_day
            if now <= TOLERANCE:
                as_of = min(days[planned.stage].until, first_day)
            by_plan, left = now != left, now
        found.append(
            StageState(
                planned.stage,
                left if left > TOLERANCE else 0.0,
                as_of,
                by_plan,
                planned.man_hours,
            )
        )
    return tuple(found)


def hours_booked(row: WorkProgress | None) -> float | None:
    """Return the man-hours booked by a row, None where nobody said."""
    return None if row is None else row.hours_booked


def _after(
    left: float, days: StageDays | None, told_from: date | None, first_day: date, worked: WorkedDays
) -> float:
    """Return the share left on ``first_day`` of a stage planned on these days."""
    if days is None:
        return left
    begins = max(days.first, told_from or days.first)
    in_all = worked.count(begins, days.until)
    if not in_all:
        return left
    done = worked.count(begins, min(days.until, first_day))
    return left * (in_all - done) / in_all


def _shares_left(base: Base, check: Check) -> Mapping[str, float]:
    """Return the share of each stage's planned man-hours that is left as the workbook has it."""
    planned = planned_stages(base, check)
    rows = base.progress_of(check.name)
    if rows:
        return left_by_stage(planned, rows).shares
    hours = {stage.stage: stage.man_hours for stage in planned}
    return {
        work.stage: work.total / hours[work.stage] if hours[work.stage] > TOLERANCE else 1.0
        for work in work_left(base, check)
    }
