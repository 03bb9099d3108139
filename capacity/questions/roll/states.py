"""How far each stage of a check in work is on the new first day."""

from collections.abc import Mapping, Sequence
from datetime import date

from capacity.facts import Base, Check, latest_by_stage
from capacity.plans.plan import Placement, StageDays
from capacity.plans.progress_left import TOLERANCE, left_by_stage
from capacity.plans.work_left import planned_stages, work_left
from capacity.plans.worked_days import WorkedDays
from capacity.questions.roll.values import StageState


def stage_states(
    base: Base, check: Check, placements: Sequence[Placement], first_day: date, worked: WorkedDays
) -> tuple[StageState, ...]:
    """Return the state of every stage at the start of ``first_day``, in network order.

    What is stated as of that day stands. From an earlier day on, work is taken to have gone as
    the plan has it: of a stage planned on n worked days from then on, d of them before
    ``first_day``, the share left * (n - d) / n is left. So days rounded up and man-hours of what
    is left are those that the plan has from ``first_day`` on. Nothing is taken to have been done
    while a stage that it waits for was not: what is reported of that one goes first.
    """
    rows = latest_by_stage(base.progress_of(check.name))
    shares = _shares_left(base, check)
    days = {stage.stage: stage for placement in placements for stage in placement.stages}
    whole = rows.get(None)
    share_from = None if check.remaining is None else base.work_left_from
    found: list[StageState] = []
    open_stages: set[str] = set()
    for planned in planned_stages(base, check):
        row, left = rows.get(planned.stage) or whole, shares.get(planned.stage, 0.0)
        told_from = row.as_of if row is not None else share_from
        as_of = min(told_from or first_day, first_day)
        by_plan = False
        if left > TOLERANCE and not (told_from and told_from >= first_day):
            as_of, span = first_day, days.get(planned.stage)
            if span is not None and open_stages.isdisjoint(planned.after):
                over = [rows[name].over_on for name in planned.after if name in rows]
                ready = max((day for day in over if day is not None), default=span.first)
                now = _after(left, span, told_from, ready, first_day, worked)
                if now <= TOLERANCE and ready <= span.first:
                    as_of = min(span.until, first_day)
                by_plan, left = now != left, now
        if left > TOLERANCE:
            open_stages.add(planned.stage)
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


def _after(
    left: float,
    span: StageDays,
    told_from: date | None,
    ready: date,
    first_day: date,
    worked: WorkedDays,
) -> float:
    """Return the share left on ``first_day`` of a stage planned on the days of ``span``.

    It has as many days of work as the plan gives it from ``told_from`` on, and begins on the day
    on which it is ``ready`` where that is later than planned.
    """
    begins = max(span.first, told_from or span.first)
    in_all = worked.count(begins, span.until)
    if not in_all:
        return left
    done = min(in_all, worked.count(max(begins, ready), first_day))
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
