"""Lay the stages of a check out again in plain dates, from its in day, paces and the facts."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from math import ceil

from capacity.facts import Base, Check
from capacity.plans.alone import clear_start
from capacity.plans.pace_rules import days_taken
from capacity.plans.plan import Placement, StageDays, WeekHours
from capacity.plans.work_done import hours_done
from capacity.plans.work_left import (
    TOLERANCE,
    Errand,
    Work,
    goes_on_from,
    legs_of,
    moves_first,
    work_left,
)
from capacity.plans.worked_days import WorkedDays, day_after


@dataclass(frozen=True, slots=True)
class LaidStage:
    """Work over ``[first, until)``; ``worked`` are the days in it that the base works.

    It holds its equipment until its end, from ``holds_from`` on where that is set, else from
    ``first`` on. ``float_days`` are worked days behind it on which its hours may lie too.
    ``stated`` is where a plan says that they lie; nothing where they lie evenly over ``worked``.
    In a re-plan of a stage whose hours are levelled, ``done`` is what was worked before
    ``left_from``, by the Monday of the week and the skill.
    """

    work: Work
    first: date
    until: date
    worked: tuple[date, ...]
    float_days: tuple[date, ...] = ()
    stated: tuple[WeekHours, ...] = ()
    holds_from: date | None = None
    done: Mapping[tuple[date, str], float] = field(default_factory=dict)
    left_from: date | None = None


@dataclass(frozen=True, slots=True)
class Visit:
    """A check in one bay over ``[in_day, out_day)`` with the stages done there."""

    check: Check
    bay: str
    in_day: date
    out_day: date
    stages: tuple[LaidStage, ...]


@dataclass(frozen=True, slots=True)
class Sent:
    """Items of a check at a shop from ``leave`` on, wanted back on ``back``."""

    check: str
    shop: str
    items: int
    leave: date
    back: date


@dataclass(frozen=True, slots=True)
class Stay:
    """Where a check truly stands when it comes into ``bay`` on ``in_day``.

    It stands in its bays over ``[in_day, out_day)``, one ``visit`` after the other.
    ``work_starts`` is the day on which the first stages left to do start: later than the in
    day only for work already under way.
    """

    check: Check
    bay: str
    in_day: date
    work_starts: date
    out_day: date
    stages: tuple[LaidStage, ...]
    visits: tuple[Visit, ...]
    sent: tuple[Sent, ...]


def with_hours(
    stage: LaidStage,
    leg: Sequence[LaidStage],
    stated: StageDays | None,
    worked_days: WorkedDays,
) -> LaidStage:
    """Return a stage with its float days in its leg, and with the hours that a plan states.

    Float days run from its end to the end of its leg, or to the start of the first stage that
    waits for it or that has to be alone.
    """
    float_days: tuple[date, ...] = ()
    if stage.work.into_float:
        waits = [other.first for other in leg if stage.work.stage in other.work.after]
        alone = [o.first for o in leg if o.work.alone and o.first >= stage.until]
        until = min([max(other.until for other in leg), *waits, *alone])
        days = (stage.until + timedelta(days=n) for n in range((until - stage.until).days))
        float_days = tuple(day for day in days if day in worked_days)
    return replace(stage, float_days=float_days, stated=() if stated is None else stated.hours)


class StayLayout:
    """Lays out any check of one base on any in day."""

    def __init__(self, base: Base, worked_days: WorkedDays) -> None:
        """Find once what every check still has to do."""
        self._base = base
        self._goes_on_from = {check.name: goes_on_from(base, check) for check in base.checks}
        self.longest_wait = base.longest_wait_days
        self._rates = {shop.name: shop.items_per_day for shop in base.shops}
        self._does = {bay.name: bay.work for bay in base.bays}
        self._worked_days = worked_days
        self._work = {check.name: work_left(base, check) for check in base.checks}
        self._moves_first = {
            check.name: moves_first(base, check, self._work[check.name]) for check in base.checks
        }

    def legs(self, check: Check) -> int:
        """Return how many bays the check goes through at the most."""
        return max(1, len(legs_of(self._work[check.name])) + self._moves_first[check.name])

    def lay_out(
        self,
        check: Check,
        bay: str,
        in_day: date,
        stated: Iterable[StageDays] = (),
        moves: Sequence[Placement] = (),
    ) -> Stay:
        """Start every stage as early as it may, and wait as long as the plan says.

        ``first`` is the first day from ``ready(stage)`` on, plus the wait for a shop, on
        which it overlaps no stage laid out before it of which it must be clear; ``until`` is
        the day after its last worked day. Of the ``stated`` stages only the number of their
        worked days and the wait of a stage with items at a shop are taken; a stage that is
        not among them takes its normal days and does not wait. Where the bay does not do
        the work of the next leg, the check goes on to the next of the ``moves``, on the day
        stated there, but at most ``longest_wait_days`` after its stages have ended, or, where
        nothing is left to do in its fixed bay, after the day on which it could leave. Where
        aircraft do not move on days off, moves and the out day are on the next worked day.
        """
        by_name = {stage.stage: stage for stage in stated}
        work_starts = max(in_day, self._goes_on_from[check.name] or in_day)
        laid: dict[str, LaidStage] = {}
        visits: list[Visit] = []
        begun = Visit(check, bay, in_day, in_day, ())
        leg_starts, waiting = work_starts, list(moves)
        for number, leg in enumerate(legs_of(self._work[check.name])):
            if number or self._moves_first[check.name]:
                before = [stage.until for stage in laid.values()]
                leg_starts = max(before, default=could_leave(in_day, work_starts))
                if waiting and leg[0].kind not in self._does.get(begun.bay, frozenset()):
                    move = waiting.pop(0)
                    soonest, latest = (
                        self._worked_days.next_move(leg_starts + timedelta(days=wait))
                        for wait in (0, self.longest_wait)
                    )
                    leg_starts = min(max(move.in_day, soonest), latest)
                    visits.append(replace(begun, out_day=leg_starts))
                    begun = Visit(check, move.bay, leg_starts, leg_starts, ())
            for work in leg:
                laid[work.stage] = self._lay(work, leg_starts, laid, by_name, work_starts)
            together = tuple(laid[work.stage] for work in leg)
            for work in leg:
                stage = with_hours(
                    laid[work.stage], together, by_name.get(work.stage), self._worked_days
                )
                laid[work.stage] = self._with_done(check.name, stage)
                begun = replace(begun, stages=(*begun.stages, laid[work.stage]))
        ends = max((stage.until for stage in laid.values()), default=work_starts)
        out_day = self._worked_days.next_move(ends)
        return Stay(
            check=check,
            bay=bay,
            in_day=in_day,
            work_starts=work_starts,
            out_day=out_day,
            stages=tuple(laid.values()),
            visits=(*visits, replace(begun, out_day=out_day)),
            sent=tuple(self._sent(check, laid, work_starts)),
        )

    def _with_done(self, check: str, stage: LaidStage) -> LaidStage:
        """Take in what is done of a stage that begins on the day on which it began."""
        done = self._base.done_of(check, stage.work.stage)
        if done is None or done.first != stage.first or not stage.worked:
            return stage
        hours = hours_done(stage.work, stage.worked, stage.float_days, done, self._base.first_day)
        return replace(stage, done=hours, left_from=done.before)

    def _lay(
        self,
        work: Work,
        leg_starts: date,
        laid: dict[str, LaidStage],
        stated: dict[str, StageDays],
        work_starts: date,
    ) -> LaidStage:
        until = {name: stage.until for name, stage in laid.items()}
        ready = self.ready(work, leg_starts, until, work_starts)
        if work.errands and work.stage in stated:
            waited = (stated[work.stage].first - ready).days
            ready += timedelta(days=min(max(0, waited), self.longest_wait))
        days = days_taken(work, stated.get(work.stage), self._worked_days)
        apart = [other for other in laid.values() if work.alone or other.work.alone]
        first = clear_start(ready, days, apart, self._worked_days)
        worked = self._worked_days.stretch(first, days)
        holds_from = work_starts if work.in_work else None
        return LaidStage(work, first, day_after(worked, first), worked, holds_from=holds_from)

    def ready(
        self, work: Work, leg_starts: date, until: dict[str, date], work_starts: date
    ) -> date:
        """Return the day on which its leg, its ``After`` stages, its items and it are ready.

        ``until`` are the days on which the stages before it end. By itself a shop has n
        items back on the first day with ``rate * worked days since they left >= n``.
        """
        ends = [until[name] for name in work.after]
        backs = [
            self._back(errand, until.get(errand.leave_at or "", _left(errand, work_starts)))
            for errand in work.errands
        ]
        ready = max([leg_starts, *ends, *backs])
        return ready if work.not_before is None else max(ready, work.not_before)

    def _back(self, errand: Errand, leave: date) -> date:
        days = ceil(errand.items / self._rates[errand.shop] - TOLERANCE)
        return day_after(self._worked_days.stretch(leave, days), leave)

    def _sent(self, check: Check, laid: dict[str, LaidStage], work_starts: date) -> Iterable[Sent]:
        for stage in laid.values():
            for errand in stage.work.errands:
                gone = errand.leave_at is None
                leave = _left(errand, work_starts) if gone else laid[errand.leave_at or ""].until
                yield Sent(check.name, errand.shop, errand.items, leave, stage.first)


def could_leave(in_day: date, work_starts: date) -> date:
    """Return the first day on which an aircraft can leave a bay in which nothing is left to do."""
    return max(work_starts, in_day + timedelta(days=1))


def _left(errand: Errand, work_starts: date) -> date:
    """Return when items left whose stage is done: when it was, else as the work left starts."""
    return work_starts if errand.left_on is None else min(errand.left_on, work_starts)
