"""The stages of a slot plan that fall into the days to staff, with the float they have."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from capacity.crews.problem import HUNDREDTHS, Span, Task
from capacity.facts import Base, Package, WorkDone
from capacity.facts import Stage as StageFacts
from capacity.plans.hours_within import hours_within, stretched
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.plans.work_left import Work, work_left
from capacity.plans.worked_days import ONE_DAY, WorkedDays


@dataclass(frozen=True, slots=True)
class _Seat:
    """A stage in its bay: ``[earliest, latest)`` is where it may lie."""

    placement: Placement
    planned: StageDays
    work: Work
    facts: StageFacts
    earliest: date
    latest: date


def tasks_of(plan: Plan, base: Base, first_day: date, days: int) -> tuple[Task, ...]:
    """Return the tasks of ``[first_day, first_day + days)``.

    A stage moves as long as it keeps its worked days, stays between the stages before and
    behind it and in its bay. One that reaches out of these days, that sends items to a
    shop or waits for some, or that is in work with equipment, stays where it is; of
    its man-hours count those of its days here. So does one whose hours lie in its float, which
    runs as long as they do.
    """
    as_stated = {(p.check, s.stage): s for p in plan.placements for s in p.stages}
    plan = stretched(plan, base)
    worked_days = WorkedDays(base)
    until = first_day + timedelta(days=days)
    tasks: list[Task] = []
    for name, placements in plan.by_check().items():
        package = base.package_of(base.check(name))
        works = {w.stage: w for w in work_left(base, base.check(name))}
        tied = _tied_to_shops(base, package) | _keep_equipment(works.values())
        starts = max(base.first_day, base.goes_on_from(base.check(name)) or base.first_day)
        seats = list(_seats(placements, works, package, starts))
        here = [s for s in seats if s.planned.first < until and s.planned.until > first_day]
        number = {seat.planned.stage: len(tasks) + n for n, seat in enumerate(here)}
        for seat in here:
            moves = seat.planned.stage not in tied and _lies_within(seat, first_day, until)
            moves &= seat.planned == as_stated[name, seat.planned.stage]
            spans = _spans(seat, first_day, moves, worked_days)
            done = base.done_of(name, seat.planned.stage)
            asked = _asked(seat, spans[0], days, first_day, base.first_day, worked_days, done)
            tasks.append(_task(seat, spans, number, seats, asked))
    return within_float(tasks)


def within_float(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Return the tasks with only the spans that leave room for those before and behind.

    first >= the earliest end of each task it waits for, until <= the latest start of each
    task that waits for it.
    """
    spans = [task.spans for task in tasks]
    behind: list[list[int]] = [[] for _ in tasks]
    for number, task in enumerate(tasks):
        for before in task.after:
            behind[before].append(number)
    tighter = True
    while tighter:
        tighter = False
        for number, task in enumerate(tasks):
            earliest = max((min(s.until for s in spans[b]) for b in task.after), default=None)
            latest = min((max(s.first for s in spans[b]) for b in behind[number]), default=None)
            kept = tuple(
                span
                for span in spans[number]
                if (earliest is None or span.first >= earliest)
                and (latest is None or span.until <= latest)
            )
            if kept and len(kept) < len(spans[number]):
                spans[number], tighter = kept, True
    return tuple(replace(task, spans=kept) for task, kept in zip(tasks, spans, strict=True))


def _tied_to_shops(base: Base, package: Package) -> frozenset[str]:
    """Return the stages whose days decide when items leave or are wanted."""
    loops = [loop for loop in base.shop_loops if loop.package == package.name]
    return frozenset(name for loop in loops for name in (loop.leave_at, loop.back_for))


def _keep_equipment(works: Iterable[Work]) -> frozenset[str]:
    """Return the stages in work that hold equipment: it stays with them, so they stay too."""
    return frozenset(work.stage for work in works if work.in_work and work.equipment)


def _seats(
    placements: list[Placement],
    works: Mapping[str, Work],
    package: Package,
    plan_starts: date,
) -> Iterator[_Seat]:
    facts = {stage.name: stage for stage in package.stages}
    before: list[StageDays] = []
    for placement in placements:
        leg_starts = max([placement.in_day, plan_starts, *(stage.until for stage in before)])
        for stated in placement.stages:
            ready = works[stated.stage].not_before or leg_starts
            yield _Seat(
                placement=placement,
                planned=stated,
                work=works[stated.stage],
                facts=facts[stated.stage],
                earliest=min(max(leg_starts, ready), stated.first),
                latest=_leg_ends(placement, works, stated),
            )
        before += placement.stages


def _leg_ends(placement: Placement, works: Mapping[str, Work], stated: StageDays) -> date:
    """Return the end of the stages that need the same kind of work in this bay.

    The stages of a later leg wait for all of an earlier one, in the same bay too.
    """
    kind = works[stated.stage].kind
    return max(s.until for s in placement.stages if works[s.stage].kind == kind)


def _lies_within(seat: _Seat, first_day: date, until: date) -> bool:
    return first_day <= seat.earliest and seat.latest <= until


def _spans(seat: _Seat, origin: date, moves: bool, worked: WorkedDays) -> tuple[Span, ...]:
    planned = _span(seat.planned.first, seat.planned.until, origin, worked)
    if not moves:
        return (planned,)
    spans = [planned]
    day = seat.earliest
    while day < seat.latest:
        if day in worked and day != seat.planned.first:
            stretch = worked.stretch(day, len(planned.worked))
            end = stretch[-1] + ONE_DAY if stretch else day
            if stretch and end <= seat.latest:
                spans.append(_span(day, end, origin, worked))
        day += ONE_DAY
    return tuple(spans)


def _span(first: date, until: date, origin: date, worked: WorkedDays) -> Span:
    days = range((first - origin).days, (until - origin).days)
    return Span(
        days.start, days.stop, tuple(d for d in days if origin + timedelta(days=d) in worked)
    )


def _asked(
    seat: _Seat,
    planned: Span,
    days: int,
    first_day: date,
    plan_starts: date,
    worked: WorkedDays,
    done: WorkDone | None,
) -> Mapping[str, float]:
    """Return a stage's man-hours by skill that fall into the days staffed."""
    if seat.planned.hours:
        until = first_day + timedelta(days=days)
        return hours_within(seat.planned, first_day, until, plan_starts, worked, done)
    here = sum(0 <= day < days for day in planned.worked)
    share = here / len(planned.worked) if planned.worked else 0.0
    return {skill: hours * share for skill, hours in seat.work.man_hours.items()}


def _task(
    seat: _Seat,
    spans: tuple[Span, ...],
    number: Mapping[str, int],
    seats: list[_Seat],
    asked: Mapping[str, float],
) -> Task:
    hundredths = {skill: round(HUNDREDTHS * hours) for skill, hours in asked.items()}
    apart = [
        other.planned.stage
        for other in seats
        if other.planned.stage != seat.planned.stage and (seat.work.alone or other.work.alone)
    ]
    return Task(
        check=seat.placement.check,
        stage=seat.planned.stage,
        spans=spans,
        hundredths={skill: amount for skill, amount in hundredths.items() if amount},
        after=tuple(
            number[name]
            for name in _waits_for(seat, seats)
            if name in number and number[name] != number[seat.planned.stage]
        ),
        apart=tuple(number[name] for name in apart if name in number),
        equipment=seat.work.equipment,
        max_heads=seat.facts.max_heads,
        critical=seat.facts.critical,
        by_night=seat.facts.by_night,
    )


def _waits_for(seat: _Seat, seats: list[_Seat]) -> tuple[str, ...]:
    """Return the stages that must end before it: its ``After``, and all of earlier legs."""
    leg = seat.work.kind
    earlier: list[str] = []
    passed: list[_Seat] = []
    for other in seats:
        if other.planned.stage == seat.planned.stage:
            break
        if other.work.kind != leg:
            earlier += [p.planned.stage for p in (*passed, other)]
        passed.append(other)
    return tuple(dict.fromkeys((*seat.work.after, *earlier)))
