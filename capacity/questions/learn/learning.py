"""Learn from delivered checks: findings, days and man-hours against what was planned."""

from collections.abc import Iterable, Sequence
from datetime import date
from math import fsum

from capacity.facts import Base, DeliveredStage, Stage
from capacity.questions.learn.estimate import Estimate, estimate_of
from capacity.questions.learn.values import Learnt, LearntPackage, LearntStage

Visit = Sequence[DeliveredStage]
"""All stages of one delivered check."""


def learn(base: Base) -> Learnt:
    """Return what the sheet Delivered says of findings, days and man-hours.

    Nothing is changed: whether the proposals are taken into the workbook is a person's decision.
    """
    visits: dict[object, list[DeliveredStage]] = {}
    for row in base.delivered:  # a name may come again in a later year
        visits.setdefault((row.check, row.package, row.planned_in, row.planned_out), []).append(row)
    packages: dict[str, list[Visit]] = {}
    for rows in visits.values():
        packages.setdefault(rows[0].package, []).append(rows)
    return Learnt(
        visits=len(visits),
        packages=tuple(_package(name, of_it, base) for name, of_it in packages.items()),
        silent=tuple(rows[0].check for rows in visits.values() if _is_silent(rows)),
    )


def findings_share(row: DeliveredStage) -> float | None:
    """Return a stage's findings as a share of its routine man-hours; None where not known.

    share = (actual - extra - routine) / routine / findings factor: what an aircraft of factor 1
    would have had. Below 0 where less than the routine man-hours were booked.
    """
    if row.actual_hours is None or not row.routine_hours or not row.findings_factor:
        return None
    found = row.actual_hours - row.extra_hours - row.routine_hours
    return found / row.routine_hours / row.findings_factor


def _package(name: str, visits: Sequence[Visit], base: Base) -> LearntPackage:
    stages: dict[str, list[DeliveredStage]] = {}
    for row in (row for rows in visits for row in rows if row.stage and not _is_extra(row)):
        stages.setdefault(row.stage, []).append(row)
    now = {package.name: package for package in base.packages}.get(name)
    known = {stage.name: stage for stage in now.stages} if now else {}
    first = [visit[0] for visit in visits]
    both = [row for row in first if row.actual_in and row.actual_out]
    return LearntPackage(
        package=name,
        visits=len(visits),
        findings=_estimate(_findings_of_visit(visit) for visit in visits),
        stay=_estimate(_days_between(row.actual_in, row.actual_out) for row in both),
        planned_stay=_estimate(_days_between(row.planned_in, row.planned_out) for row in both),
        days_late=_estimate(_days_late(row) for row in first),
        stages=tuple(_stage(name, stage, rows, known.get(stage)) for stage, rows in stages.items()),
    )


def _is_extra(row: DeliveredStage) -> bool:
    """Return whether a stage was one of that visit alone: nothing of the package is learnt."""
    return row.extra_hours > 0 and not row.routine_hours


def _stage(
    package: str, name: str, rows: Sequence[DeliveredStage], now: Stage | None
) -> LearntStage:
    return LearntStage(
        package=package,
        stage=name,
        visits=len(rows),
        findings=_estimate(findings_share(row) for row in rows),
        days=_estimate(None if row.actual_days is None else float(row.actual_days) for row in rows),
        hours=_estimate(_share_of_plan(row) for row in rows),
        planned_findings=now.findings if now else None,
        planned_spread=now.findings_spread if now else None,
        planned_days=now.days if now else None,
    )


def _estimate(values: Iterable[float | None]) -> Estimate | None:
    return estimate_of([value for value in values if value is not None])


def _findings_of_visit(visit: Visit) -> float | None:
    """Return the findings of all stages as a share of all routine man-hours, if all are known.

    A row of the check as a whole goes before its stages.
    """
    visit = [row for row in visit if not row.stage] or visit
    if any(row.actual_hours is None or row.routine_hours is None for row in visit):
        return None
    routine = fsum(row.routine_hours or 0.0 for row in visit)
    actual = fsum((row.actual_hours or 0.0) - row.extra_hours for row in visit)
    factor = visit[0].findings_factor
    return (actual - routine) / routine / factor if routine and factor else None


def _share_of_plan(row: DeliveredStage) -> float | None:
    if row.actual_hours is None or not row.planned_hours:
        return None
    return row.actual_hours / row.planned_hours


def _days_late(row: DeliveredStage) -> float | None:
    if row.actual_out is None or row.agreed_out is None:
        return None
    return float(max(0, (row.actual_out - row.agreed_out).days))


def _days_between(first: date | None, last: date | None) -> float | None:
    return float((last - first).days) if first and last else None


def _is_silent(rows: Visit) -> bool:
    told = ("actual_in", "actual_out", "actual_days", "actual_hours")
    return all(getattr(row, name) is None for row in rows for name in told)
