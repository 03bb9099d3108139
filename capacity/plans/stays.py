"""Lay the stages of a check out again in plain dates, from its in day and the facts."""

from dataclasses import dataclass
from datetime import date

from capacity.facts import Base, Check
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

    def lay_out(self, check: Check, bay: str, in_day: date) -> Stay:
        """Start every stage as early as its ``After`` stages allow.

        ``first = max(until of the After stages)``, or the day the work starts without any;
        ``until`` is the day after the stage's last worked day.
        """
        under_way = check.remaining is not None
        work_starts = max(in_day, self._first_day) if under_way else in_day
        until: dict[str, date] = {}
        stages = []
        for work in self._work[check.name]:
            first = max((until[name] for name in work.after), default=work_starts)
            worked = self._worked_days.stretch(first, work.days)
            until[work.stage] = day_after(worked, first)
            stages.append(LaidStage(work, first, until[work.stage], worked))
        out_day = max(until.values(), default=work_starts)
        return Stay(check, bay, in_day, work_starts, out_day, tuple(stages))
