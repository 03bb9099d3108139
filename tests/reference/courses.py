"""Every course that a check can take through the base, one by one, in plain dates.

A course is an in day, a pace, the bays, and how long the aircraft waits for each further bay
and for its turns at the shops. It shares nothing with the package but its facts.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from math import ceil

from capacity.facts import Base, Bay, Check, Status
from tests.reference.plain_dates import (
    ONE_DAY,
    ROUNDING,
    is_worked,
    may_come_in,
    next_move,
    price_of_promises,
)
from tests.reference.tasks import Task, goes_on, legs_of, only_stands, paces_of, tasks_of


@dataclass(frozen=True)
class Span:
    """Something over ``[first, until)``: a task, or a visit to a bay."""

    name: str
    first: date
    until: date

    def meets(self, other: "Span") -> bool:
        return self.first < other.until and other.first < self.until

    def days(self) -> list[date]:
        return [self.first + n * ONE_DAY for n in range((self.until - self.first).days)]


@dataclass(frozen=True)
class Sent:
    """Items that leave their aircraft on ``leave`` and are wanted on ``back``."""

    shop: str
    items: int
    leave: date
    back: date


@dataclass(frozen=True)
class Strand:
    """Hours of a skill that may lie in several weeks: all of ``hours``, at ``most`` in each."""

    skill: str
    hours: float
    most: Counter[tuple[int, int]]
    days: tuple[date, ...] = ()
    most_of_a_day: float = 0.0


@dataclass(frozen=True)
class Course:
    """``man_hours`` by ISO year, ISO week and skill; ``held`` pieces by equipment and day.

    Of the stages whose hours may lie otherwise than evenly, the hours are in ``strands`` instead.
    ``by_day`` are the same hours by day, but for those that are done.
    """

    check: Check
    visits: tuple[Span, ...]
    spans: tuple[Span, ...]
    sent: tuple[Sent, ...]
    past: int
    money: float
    man_hours: Counter[tuple[int, int, str]]
    held: Counter[tuple[str, date]]
    strands: tuple[Strand, ...] = ()
    by_day: Counter[tuple[date, str]] = field(default_factory=Counter)


Laid = dict[str, Span]


def courses_of(base: Base, check: Check) -> list[Course]:
    """Return all courses on which the check stands by itself, each of them once."""
    tasks = tasks_of(base, check)
    found: dict[object, Course] = {}
    for pace in paces_of(tasks):
        for in_day in _in_days(base, check):
            starts = goes_on(base, check, in_day)
            walk = _Walk(base, check, pace, starts)
            for bay in base.bays:
                only = check.fixed_bay or check.held_bay
                legs = legs_of(tasks)
                if only_stands(base, check, tasks):
                    legs = [[], *legs]
                if walk.can_hold(bay, legs[0], only):
                    for visits, laid in walk.on(legs, bay, in_day, starts, {}):
                        course = _course(base, check, tasks, pace, starts, visits, laid)
                        if not _is_shut(base, course):
                            found.setdefault((course.visits, course.spans), course)
    return list(found.values())


def _in_days(base: Base, check: Check) -> list[date]:
    if check.status is Status.FIXED:
        assert check.fixed_in is not None
        return [check.fixed_in]
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    first = max(check.earliest_in, base.first_day)
    last = min(
        check.latest_in + delay * ONE_DAY, base.first_day + timedelta(days=7 * base.weeks - 1)
    )
    days = Span("window", first, last + ONE_DAY).days()
    return [day for day in days if may_come_in(base, check, day)]


@dataclass(frozen=True)
class _Walk:
    """One check at one pace; the work that is left begins on ``begins``."""

    base: Base
    check: Check
    pace: dict[str, int]
    begins: date

    def can_hold(self, bay: Bay, leg: list[Task], only: str | None = None) -> bool:
        aircraft = next(type_ for type_ in self.base.types if type_.name == self.check.type)
        return (
            only in (None, bay.name)
            and aircraft.span_m <= bay.max_span_m
            and aircraft.length_m <= bay.max_length_m
            and aircraft.tail_m <= bay.max_tail_m
            and (not bay.docking or aircraft.docking is None or aircraft.docking in bay.docking)
            and {task.kind for task in leg} <= bay.work
        )

    def on(
        self, legs: list[list[Task]], bay: Bay, in_day: date, starts: date, laid: Laid
    ) -> Iterator[tuple[tuple[Span, ...], Laid]]:
        """Go through the legs: in ``bay`` since ``in_day``, the first leg from ``starts`` on.

        An aircraft stays in a bay that does the next kind of work too; otherwise it goes on
        to any bay that does, after a wait.
        """
        leg, *further = legs
        for more in self._through(leg, starts, laid):
            ends = max([starts, *(span.until for span in more.values())])
            if not leg and further:  # nothing is left to do here, and it came in to stay a day
                ends = max(ends, in_day + ONE_DAY)
            if not further:
                yield (Span(bay.name, in_day, next_move(self.base, ends)),), more
            elif further[0][0].kind in bay.work:
                yield from self.on(further, bay, in_day, ends, more)
            else:
                for wait in range(self.base.longest_wait_days + 1):
                    moves = next_move(self.base, ends + wait * ONE_DAY)
                    stood = Span(bay.name, in_day, moves)
                    for other in self.base.bays:
                        if self.can_hold(other, further[0]):
                            for visits, all_laid in self.on(further, other, moves, moves, more):
                                yield (stood, *visits), all_laid

    def _through(self, leg: list[Task], starts: date, laid: Laid) -> Iterator[Laid]:
        """Lay the tasks of a leg one by one, for every wait for a turn at a shop.

        A task starts on the first day, from when it is ready and has waited, on which it is
        clear of those laid before it beside which it must not run.
        """
        if not leg:
            yield laid
            return
        task, apart = leg[0], []
        ready = max([starts, *(laid[name].until for name in task.after)])
        for errand in task.errands:
            gone = min(self.begins, errand.left or self.begins)
            leave = gone if errand.leave_at is None else laid[errand.leave_at].until
            rate = next(s.items_per_day for s in self.base.shops if s.name == errand.shop)
            days = ceil(errand.items / rate - ROUNDING)
            ready = max(ready, _span(self.base, "", leave, days).until)
        if task.ready:
            ready = max(ready, task.ready)
        for name, span in laid.items():
            if task.alone or self._is_alone(name):
                apart.append(span)
        for wait in range(1 + self._longest_turn(task)):
            first = ready + wait * ONE_DAY
            span = _span(self.base, task.name, first, self.pace[task.name])
            while any(span.meets(other) for other in apart):
                first = span.first + ONE_DAY
                span = _span(self.base, task.name, first, self.pace[task.name])
            yield from self._through(leg[1:], starts, laid | {task.name: span})

    def _is_alone(self, stage: str) -> bool:
        package = next(p for p in self.base.packages if p.name == self.check.package)
        return any(one.alone for one in package.stages if one.name == stage)

    def _longest_turn(self, task: Task) -> int:
        """Whoever has items at a shop may wait for its turn, whether others want it or not."""
        return self.base.longest_wait_days if task.errands else 0


def _span(base: Base, name: str, first: date, days: int) -> Span:
    """Work ``days`` worked days from ``first`` on, which begin when somebody works."""
    while days and not is_worked(base, first):
        first += ONE_DAY
    until, worked = first, 0
    while worked < days:
        worked += is_worked(base, until)
        until += ONE_DAY
    return Span(name, first, until)


def _course(
    base: Base,
    check: Check,
    tasks: list[Task],
    pace: dict[str, int],
    begins: date,
    visits: tuple[Span, ...],
    laid: Laid,
) -> Course:
    man_hours: Counter[tuple[int, int, str]] = Counter()
    by_day: Counter[tuple[date, str]] = Counter()
    held: Counter[tuple[str, date]] = Counter()
    sent = []
    strands: list[Strand] = []
    for task in tasks:
        span = laid[task.name]
        levelled = strands_of(base, check, task, tasks, pace[task.name], laid)
        done = base.done_of(check.name, task.name)
        is_told = done is not None and done.first == span.first
        if is_told:
            lies, levelled = done_and_left(base, check.name, task, pace[task.name], span, levelled)
            man_hours.update(lies)
        strands += levelled
        holds = Span("", begins if task.in_work else span.first, span.until)
        held.update((pool, day) for day in holds.days() for pool in set(task.equipment))
        for day in span.days():
            if is_worked(base, day) and day >= base.first_day and not (levelled or is_told):
                year, week, _ = day.isocalendar()
                for skill, hours in task.man_hours.items():
                    man_hours[year, week, skill] += hours / pace[task.name]
                    by_day[day, skill] += hours / pace[task.name]
        for errand in task.errands:
            gone = min(begins, errand.left or begins)
            leave = gone if errand.leave_at is None else laid[errand.leave_at].until
            sent.append(Sent(errand.shop, errand.items, leave, span.first))
    in_day, out_day = visits[0].first, visits[-1].until
    money = check.early_cost_per_day * max(0, (check.latest_in - in_day).days)
    money += price_of_promises(check, in_day, out_day)
    return Course(
        check=check,
        visits=visits,
        spans=tuple(laid.values()),
        sent=tuple(sent),
        past=max(0, (in_day - check.latest_in).days),
        money=money - (check.price if check.status is Status.OPTION else 0.0),
        man_hours=man_hours,
        held=held,
        strands=tuple(strands),
        by_day=by_day,
    )


def strands_of(
    base: Base, check: Check, task: Task, tasks: list[Task], days: int, laid: Laid
) -> list[Strand]:
    """Return the hours of a stage skill by skill, if they may lie otherwise than evenly.

    A day takes at most Daily peak times the even share, or what Max heads leave room for if that
    is less and no less than the even share. Float days: behind the stage, before the first stage
    that waits for it or has to be alone, and before the last stage in this bay ends.
    """
    package = next(p for p in base.packages if p.name == check.package)
    stage = next((s for s in package.stages if s.name == task.name), None)
    if stage is None:  # a stage of this check alone lies evenly
        return []
    if stage.daily_peak == 1.0 and not stage.into_float:
        return []
    span, total = laid[task.name], sum(task.man_hours.values())
    share = 1.0 / days
    most_of_a_day = stage.daily_peak * share
    if stage.max_heads is not None and total:
        worked = {
            s for c in base.crews for p in base.patterns if p.name == c.pattern for s in p.cycle
        }
        hours = [
            s.hours for s in base.shifts if s.name in worked and (stage.by_night or not s.night)
        ]
        room = stage.max_heads * min(24.0, sum(hours)) * base.productivity
        most_of_a_day = max(share, min(most_of_a_day, room / total))
    until = span.until
    sends = any(
        loop.package == package.name and loop.leave_at == stage.name for loop in base.shop_loops
    )
    holds = stage.alone or stage.critical or stage.equipment or sends
    if stage.into_float and not holds:
        leg = next(leg for leg in legs_of(tasks) if task in leg)
        ends = [max(laid[other.name].until for other in leg)]
        for other in leg:
            starts = laid[other.name].first
            if task.name in other.after or (other.alone and starts >= span.until):
                ends.append(starts)
        until = max(until, min(ends))
    planned = [d for d in span.days() if is_worked(base, d) and d >= base.first_day]
    may = [
        d for d in Span("", span.first, until).days() if is_worked(base, d) and d >= base.first_day
    ]
    weeks = Counter(day.isocalendar()[:2] for day in may)
    return [
        Strand(
            skill,
            hours * len(planned) * share,
            Counter({week: hours * most_of_a_day * count for week, count in weeks.items()}),
            tuple(may),
            hours * most_of_a_day,
        )
        for skill, hours in task.man_hours.items()
        if hours
    ]


def done_and_left(
    base: Base, check: str, task: Task, days: int, span: Span, whole: list[Strand]
) -> tuple[Counter[tuple[int, int, str]], list[Strand]]:
    """Return the hours of a stage that lie in weeks already, and what may still be levelled.

    The rule in plain words: what is done stays; the rest goes over the days that are left, of which
    each takes its peak or, if that is more, the even share of the rest. Where less is asked than
    was done, or nothing can be done any more, what was done stands for all that is asked.
    """
    done = base.done_of(check, task.name)
    assert done is not None
    worked = [d for d in span.days() if is_worked(base, d) and d >= base.first_day]
    lies: Counter[tuple[int, int, str]] = Counter()
    left = []
    for skill, hours in task.man_hours.items():
        strand = next((one for one in whole if one.skill == skill), None)
        may = [d for d in (strand.days if strand else worked) if d >= done.before]
        asked = hours * len(worked) / days
        told = {h.monday: h.hours for h in done.hours if h.skill == skill}
        in_all = sum(told.values())
        if in_all > ROUNDING:
            times = min(1.0, asked / in_all) if may else asked / in_all
            for monday, amount in told.items():
                lies[*monday.isocalendar()[:2], skill] += amount * times
            rest = max(0.0, asked - in_all * times)
        elif may:
            rest = asked
        else:
            rest = 0.0
            for day in worked:
                lies[*day.isocalendar()[:2], skill] += hours / days
        if not may or not rest:
            continue
        own = [d for d in worked if d >= done.before] or may
        if strand is None:
            for day in own:
                lies[*day.isocalendar()[:2], skill] += rest / len(own)
        else:
            most = max(strand.most_of_a_day, rest / len(own))
            weeks = Counter(day.isocalendar()[:2] for day in may)
            left.append(Strand(skill, rest, Counter({w: most * n for w, n in weeks.items()})))
    return lies, left


def _is_shut(base: Base, course: Course) -> bool:
    return any(
        closure.bay == visit.name and visit.meets(Span("", closure.first, closure.last + ONE_DAY))
        for closure in base.closures
        for visit in course.visits
    )
