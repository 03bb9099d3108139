"""What is recorded of a check that has left: planned, and actual only as far as people said."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import fsum

from capacity.facts import Base, Check, DeliveredStage, WorkProgress, latest_by_stage, leaves_on
from capacity.plans.plan import Placement
from capacity.plans.progress_left import TOLERANCE, share_left
from capacity.plans.work_left import planned_stages
from capacity.plans.worked_days import WorkedDays
from capacity.questions.roll.values import Delivered

ONE_DAY = timedelta(days=1)


def delivered(
    base: Base,
    check: Check,
    placements: Sequence[Placement],
    worked: WorkedDays,
    *,
    actual_in: date | None,
    planned: tuple[date | None, date | None],
) -> Delivered:
    """Return the record of a check; ``planned`` are its in and out day as it came in.

    An actual value is one that somebody reported: the day of ``Actual in`` that is given; of a
    stage the man-hours booked once it was done; the days from when the stages before it were
    ``Finished`` until it was; the out day after the last of all ``Finished``.
    """
    package = base.package_of(check)
    hours = {stage.stage: stage.man_hours for stage in planned_stages(base, check)}
    told = base.progress_of(check.name)
    rows = latest_by_stage(told)
    finished = {name: row.finished for name, row in rows.items()}
    days_in = planned[0] or (placements[0].in_day if placements else None)
    days_out = planned[1] or (placements[-1].out_day if placements else None)
    agreed = check.agreed_out_from(days_in) if days_in else check.agreed_out

    def record(stage: str, **facts: object) -> DeliveredStage:
        return DeliveredStage(
            check=check.name,
            package=check.package,
            stage=stage,
            aircraft=check.aircraft,
            type=check.type,
            customer=check.customer,
            findings_factor=check.findings_factor,
            latest_in=check.latest_in,
            agreed_out=agreed,
            planned_in=days_in,
            actual_in=actual_in,
            planned_out=days_out,
            actual_out=leaves_on(told, [stage.name for stage in package.stages]),
            **facts,  # type: ignore[arg-type]
        )

    extra = {stage.name: _extra_hours(base, check, stage.name) for stage in package.stages}
    found = [
        record(
            stage.name,
            planned_days=stage.days,
            actual_days=_actual_days(stage.name, stage.after, finished, actual_in, worked),
            routine_hours=0.0 if stage.is_extra else fsum(stage.man_hours.values()),
            planned_hours=hours[stage.name],
            extra_hours=extra[stage.name],
            actual_hours=_booked(told, stage.name, hours[stage.name]),
        )
        for stage in package.stages
    ]
    whole = _booked(told, None, fsum(hours.values()))
    if whole is not None and any(row.actual_hours is None for row in found):
        found.append(
            record(
                "",
                routine_hours=fsum(row.routine_hours or 0.0 for row in found),
                planned_hours=fsum(hours.values()),
                extra_hours=fsum(extra.values()),
                actual_hours=whole,
            )
        )
    return Delivered(check.name, tuple(found))


def _booked(told: Sequence[WorkProgress], stage: str | None, planned: float) -> float | None:
    """Return the man-hours booked on what a row says is done; hours so far are not all."""
    rows = [row for row in told if row.stage == stage and row.hours_booked is not None]
    if not rows:
        return None
    last = max(rows, key=lambda row: row.as_of)
    return last.hours_booked if share_left(last, planned) <= TOLERANCE else None


def hours_so_far(told: Sequence[WorkProgress]) -> dict[str, float]:
    """Return the man-hours booked on stages that nobody said are done, the last of each."""
    found: dict[str, float] = {}
    for row in sorted(told, key=lambda row: row.as_of):
        name = row.stage or "the check as a whole"
        if row.hours_booked is not None:
            found[name] = row.hours_booked
            if row.finished is not None or row.done == 1 or row.hours_to_go == 0:
                del found[name]
    return found


def _actual_days(
    stage: str,
    after: Sequence[str],
    finished: dict[str | None, date | None],
    actual_in: date | None,
    worked: WorkedDays,
) -> int | None:
    """Return the worked days from when the stages before were finished until this one was."""
    last = finished.get(stage)
    before = [finished.get(name) for name in after]
    known = [day for day in before if day is not None]
    if last is None or len(known) < len(before) or (not before and actual_in is None):
        return None
    begins = max(known) + ONE_DAY if known else actual_in
    assert begins is not None
    return worked.count(begins, last + ONE_DAY) or None


def _extra_hours(base: Base, check: Check, stage: str) -> float:
    """Return the man-hours of a stage beyond the package; all of a stage that it does not have."""
    return fsum(
        row.man_hours for row in base.extra_work if (row.check, row.stage) == (check.name, stage)
    )
