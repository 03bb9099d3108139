"""A plan as it is played through: its stages with what is drawn, waited for and kept."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import groupby
from math import ceil, fsum

from capacity.facts import Base, Check, Stage
from capacity.labour.calendar import Calendar
from capacity.plans.peaks import peak_of
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.stays import LaidStage, Stay, StayLayout, could_leave
from capacity.plans.weeks import week_name
from capacity.plans.work_left import TOLERANCE, Work, work_left
from capacity.plans.worked_days import WorkedDays, day_after
from capacity.questions.risk.findings import spread_of
from capacity.questions.risk.settings import RiskSettings


@dataclass(frozen=True, slots=True)
class PlannedStage:
    """A stage of a check; stages of a check are known by their place in its tuple.

    ``man_hours`` are the planned ones, ``(1 + planned_findings)`` times the routine ones, and
    ``days`` the worked days planned for them; drawn findings have the mean ``findings`` and the
    ``spread``. It lasts ``shortest`` worked days at least. It starts after the stages
    ``after``, overlaps none of the stages ``apart``, and waits for its ``errands``: pairs of
    the stage at whose end items leave (None: as the work starts) and the worked days that the
    shop takes; then ``wait`` days more. Items of a stage that is done are back on the day
    ``items_back`` where it is known when they left. A stage ``done`` before the first day keeps
    its days; its man-hours count nowhere. On a day it takes at most ``peak`` times the even share
    of each skill's hours, with ``into_float`` also behind its last day; see
    ``capacity.questions.risk.levelled``.
    Where a re-plan found something worked of it before the day number ``left_from``, it ``began``
    on a day and has ``hours_done`` by the name of the week and the skill.
    It does not start before the day number ``not_before``, if there is one.
    """

    name: str
    man_hours: dict[str, float]
    days: int
    shortest: int
    planned_findings: float
    findings: float
    spread: float
    after: tuple[int, ...]
    apart: tuple[int, ...]
    errands: tuple[tuple[int | None, int], ...]
    wait: int
    done: bool
    peak: float = 1.0
    into_float: bool = False
    began: int | None = None
    left_from: int | None = None
    hours_done: Mapping[tuple[str, str], float] = field(default_factory=dict)
    not_before: int | None = None
    items_back: int | None = None


@dataclass(frozen=True, slots=True)
class PlannedVisit:
    """A stay in one bay over ``[in_day, out_day)``, in day numbers of the calendar.

    ``legs`` are the stages done there, run by run of the same kind of work. The aircraft
    comes in ``wait`` days after its stages in the bay before have ended.
    """

    bay: str
    in_day: int
    out_day: int
    wait: int
    legs: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class PlannedCheck:
    """A placed check, with the dates that it is judged by.

    Work that is left on one already in does not start before the day number ``work_left_from``.
    """

    check: Check
    work_left_from: int | None
    stages: tuple[PlannedStage, ...]
    visits: tuple[PlannedVisit, ...]


class PlanReader:
    """Reads plans made on ``made_on``, to be played through with the findings of ``base``."""

    def __init__(self, base: Base, made_on: Base, settings: RiskSettings) -> None:
        """Prepare the layout of the stages, their findings and their shortest days."""
        self._base, self._made_on = base, made_on
        self._first_day = made_on.first_day
        self._worked_days = WorkedDays(made_on)
        self._layout = StayLayout(made_on, self._worked_days)
        self._rates = {shop.name: shop.items_per_day for shop in made_on.shops}
        self._drawn = {check.name: _stage_findings(check, base, settings) for check in base.checks}
        self._planned = {check.name: _planned_findings(check, made_on) for check in made_on.checks}

    def read(self, plan: Plan, calendar: Calendar) -> tuple[PlannedCheck, ...]:
        """Return the placed checks in order of their planned in day."""
        in_turn = sorted(plan.by_check().items(), key=lambda item: (item[1][0].in_day, item[0]))
        return tuple(self._read(placements, calendar) for _, placements in in_turn)

    def _read(self, placements: list[Placement], calendar: Calendar) -> PlannedCheck:
        first = placements[0]
        check = self._made_on.check(first.check)
        stated = {stage.stage: stage for placement in placements for stage in placement.stages}
        stay = self._layout.lay_out(check, first.bay, first.in_day, stated.values(), placements[1:])
        place = {stage.work.stage: number for number, stage in enumerate(stay.stages)}
        waits = self._waits(stay, stated)
        left_from = self._made_on.goes_on_from(check)
        return PlannedCheck(
            check=self._base.check(check.name),
            work_left_from=None if left_from is None else calendar.number(left_from),
            stages=tuple(
                self._stage(check.name, stage, stay.stages[:number], place, waits, calendar)
                for number, stage in enumerate(stay.stages)
            ),
            visits=tuple(self._visits(stay, place, calendar)),
        )

    def _items_back(self, work: Work, calendar: Calendar) -> int | None:
        """Return the day on which items are back that left before the work goes on; or None."""
        backs = []
        for errand in work.errands:
            if errand.leave_at is None and errand.left_on is not None:
                days = ceil(errand.items / self._rates[errand.shop] - TOLERANCE)
                worked = self._worked_days.stretch(errand.left_on, days)
                backs.append(calendar.number(day_after(worked, errand.left_on)))
        return max(backs, default=None)

    def _stage(
        self,
        check: str,
        stage: LaidStage,
        before: Sequence[LaidStage],
        place: dict[str, int],
        waits: dict[str, int],
        calendar: Calendar,
    ) -> PlannedStage:
        work = stage.work
        drawn = self._drawn[check][work.stage]
        return PlannedStage(
            name=work.stage,
            man_hours=dict(work.man_hours),
            days=len(stage.worked),
            shortest=min(work.shortest, drawn.shortest),
            planned_findings=self._planned[check][work.stage],
            findings=drawn.findings,
            spread=drawn.spread,
            after=tuple(place[name] for name in work.after),
            apart=tuple(
                place[other.work.stage] for other in before if work.alone or other.work.alone
            ),
            errands=tuple(
                (
                    None if errand.leave_at is None else place[errand.leave_at],
                    ceil(errand.items / self._rates[errand.shop] - TOLERANCE),
                )
                for errand in work.errands
                if errand.leave_at is not None or errand.left_on is None
            ),
            items_back=self._items_back(work, calendar),
            wait=waits.get(work.stage, 0),
            done=stage.until <= self._first_day,
            peak=peak_of(stage, self._made_on),
            into_float=work.into_float,
            began=calendar.number(stage.first),
            left_from=None if stage.left_from is None else calendar.number(stage.left_from),
            hours_done={
                (week_name(monday), skill): hours for (monday, skill), hours in stage.done.items()
            },
            not_before=None if work.not_before is None else calendar.number(work.not_before),
        )

    def _visits(
        self, stay: Stay, place: dict[str, int], calendar: Calendar
    ) -> Iterator[PlannedVisit]:
        ended = stay.in_day
        for number, visit in enumerate(stay.visits):
            if number == 1 and not stay.visits[0].stages:
                ended = could_leave(stay.in_day, stay.work_starts)
            yield PlannedVisit(
                bay=visit.bay,
                in_day=calendar.number(visit.in_day),
                out_day=calendar.number(visit.out_day),
                wait=self._wait_for_a_bay(ended, visit.in_day),
                legs=tuple(
                    tuple(place[stage.work.stage] for stage in leg)
                    for _, leg in groupby(visit.stages, _kind)
                ),
            )
            ended = max([ended, *(stage.until for stage in visit.stages)])

    def _wait_for_a_bay(self, ended: date, in_day: date) -> int:
        """Return the days waited for a bay, without days off on which aircraft do not move."""
        if self._made_on.leaves_on_days_off:
            return max(timedelta(0), in_day - ended).days
        return self._worked_days.fewest_waited(ended, in_day)

    def _waits(self, stay: Stay, stated: dict[str, StageDays]) -> dict[str, int]:
        """Return the days that stages wait for a shop beyond what it takes by itself."""
        waits: dict[str, int] = {}
        until: dict[str, date] = {}
        for visit in stay.visits:
            for number, (_, leg) in enumerate(groupby(visit.stages, _kind)):
                leg_starts = max(
                    [stay.work_starts, visit.in_day, *(until.values() if number else ())]
                )
                for stage in leg:
                    name = stage.work.stage
                    if stage.work.errands and name in stated:
                        ready = self._layout.ready(stage.work, leg_starts, until, stay.work_starts)
                        waited = self._worked_days.fewest_waited(ready, stated[name].first)
                        waits[name] = min(waited, self._layout.longest_wait)
                    until[name] = stage.until
        return waits


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What a stage is drawn with: mean findings, their spread, and its shortest days."""

    findings: float
    spread: float
    shortest: int


def _stage_findings(check: Check, base: Base, settings: RiskSettings) -> dict[str, _Drawn]:
    package = base.package_of(check)
    left = {work.stage: work for work in work_left(base, check)}
    return {
        stage.name: _Drawn(
            findings=_findings(stage, check),
            spread=spread_of(stage, settings)[0],
            shortest=_shortest(left.get(stage.name), stage.shortest_days or stage.days),
        )
        for stage in package.stages
    }


def _shortest(work: Work | None, otherwise: int) -> int:
    return otherwise if work is None else work.shortest


def _planned_findings(check: Check, made_on: Base) -> dict[str, float]:
    package = made_on.package_of(check)
    return {stage.name: _findings(stage, check) for stage in package.stages}


def _findings(stage: Stage, check: Check) -> float:
    """Return mean findings as a share of all hours that are none, routine and extra ones.

    No findings come on top of extra work. What is found is shared over all skills of the stage
    as its hours are.
    """
    routine, extra = fsum(stage.man_hours.values()), fsum(stage.extra_hours.values())
    share = routine / (routine + extra) if extra > 0 else 1.0
    return stage.findings * check.findings_factor * share


def _kind(stage: LaidStage) -> str:
    return stage.work.kind
