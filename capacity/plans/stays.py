"""Lay the stages of a check out again in plain dates, from its in day, paces and the facts."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from capacity.facts import Base, Check
from capacity.plans.alone import clear_start
from capacity.plans.pace_rules import days_taken
from capacity.plans.plan import StageDays
from capacity.plans.work_left import Work, work_left
from capacity.plans.worked_days import WorkedDays, day_after


@dataclass(frozen=True, slots=True)
class LaidStage:
    """Work over ``[first, until)``; ``worked`` are the days in it that the base works."""

    work: Work
    first: date
    until: date
    worked: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class Stay:
    """Where a check truly stands when it comes into ``bay`` on ``in_day``.

    The bay is occupied over ``[in_day, out_day)``. ``work_starts`` is the day on which the
    first stages left to do start: later than the in day only for work already under way.
    """

    check: Check
    bay: str
    in_day: date
    work_starts: date
    out_day: date
    stages: tuple[LaidStage, ...]


class StayLayout:
    """Lays out any check of one base on any in day."""

    def __init__(self, base: Base, worked_days: WorkedDays) -> None:
        """Find once what every check still has to do."""
        packages = {package.name: package for package in base.packages}
        self._first_day = base.first_day
        self._worked_days = worked_days
        self._work = {
            check.name: work_left(packages[check.package], check) for check in base.checks
        }

    def lay_out(
        self, check: Check, bay: str, in_day: date, stated: Iterable[StageDays] = ()
    ) -> Stay:
        """Start every stage as early as its ``After`` stages and stages done alone allow.

        ``first`` is the first day from ``max(until of the After stages)`` on, or from the
        day the work starts on without any, on which it overlaps no stage laid out before it
        of which it must be clear; ``until`` is the day after its last worked day. Of the
        ``stated`` stages only the number of their worked days is taken; a stage that is not
        among them takes its normal days.
        """
        by_name = {stage.stage: stage for stage in stated}
        under_way = check.remaining is not None
        work_starts = max(in_day, self._first_day) if under_way else in_day
        laid: dict[str, LaidStage] = {}
        for work in self._work[check.name]:
            ready = max((laid[name].until for name in work.after), default=work_starts)
            days = days_taken(work, by_name.get(work.stage), self._worked_days)
            apart = [other for other in laid.values() if work.alone or other.work.alone]
            first = clear_start(ready, days, apart, self._worked_days)
            worked = self._worked_days.stretch(first, days)
            laid[work.stage] = LaidStage(work, first, day_after(worked, first), worked)
        out_day = max((stage.until for stage in laid.values()), default=work_starts)
        return Stay(check, bay, in_day, work_starts, out_day, tuple(laid.values()))
