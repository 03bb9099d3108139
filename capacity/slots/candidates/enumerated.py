"""Every way to place every check: bay group, in day, and so every day and man-hour of it.

All arithmetic of calendar, spreading and money happens here, once, so that the program over
candidates is a plain linear one.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Self

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Check, Status
from capacity.labour.calendar import Calendar
from capacity.labour.kinds import Kind, kinds_of
from capacity.plans.plan import Placement
from capacity.slots.candidates.bay_groups import BayGroup, group_bays
from capacity.slots.candidates.bay_uses import FixedStay, bay_uses
from capacity.slots.candidates.levelling import can_level, limits_by_week
from capacity.slots.candidates.scope import EVERY_BAY, Scope
from capacity.slots.candidates.stage_hours import man_hours_by_week
from capacity.slots.candidates.stated_stays import stated_stays
from capacity.slots.candidates.stays import Stays, joined, lay_out
from capacity.slots.candidates.ways import Ways, is_settled, ways_by_check, works_of
from capacity.slots.candidates.work import StageWork, kinds_by_leg
from capacity.slots.line.heed import Heed, nobody_stops

Stated = Mapping[str, Sequence[Placement]]
"""The placements of an earlier plan by check, in order of in day."""
NOTHING_STATED: Stated = {}


@dataclass(frozen=True)
class Courses:
    """A check's possible courses in time, whatever the bay: one an in day, pace and wait.

    ``past`` counts days past ``Latest in``; ``money`` is early and late cost less an
    option's price; ``man_hours`` has shape (courses, weeks, kinds), and ``limits`` of levelling
    (limits, courses, weeks, kinds), None where the hours can lie evenly only.
    """

    check: Check
    work: tuple[StageWork, ...]
    stays: Stays
    past: NDArray[np.int64]
    money: NDArray[np.float64]
    man_hours: NDArray[np.float64]
    limits: NDArray[np.float64] | None = None


@dataclass(frozen=True)
class Visits:
    """Stays in one bay over ``[in_day, out_day)``, shape (visits,) each."""

    candidate: NDArray[np.int64]
    group: NDArray[np.int64]
    in_day: NDArray[np.int64]
    out_day: NDArray[np.int64]

    def of_groups(self, groups: list[int]) -> Self:
        """Return the visits to any of some bay groups."""
        mine = np.isin(self.group, groups)
        return type(self)(
            self.candidate[mine], self.group[mine], self.in_day[mine], self.out_day[mine]
        )


@dataclass(frozen=True)
class Candidates:
    """The pairs of course and bay groups that can stand by themselves.

    ``course`` has shape (candidates,); ``groups`` (candidates, legs) numbers the bay group
    of each leg in the list of groups. Where it is that of the leg before, the aircraft
    stays where it is.
    """

    courses: Courses
    course: NDArray[np.int64]
    groups: NDArray[np.int64]

    def visits(self) -> Iterator[Visits]:
        """Return the visits that begin with each leg, from the last leg to the first."""
        edges = self.courses.stays.edges[self.course]
        until = edges[:, -1]
        for leg in reversed(range(self.groups.shape[1])):
            moves = np.ones(len(self.course), dtype=np.bool_)
            if leg:
                moves = self.groups[:, leg] != self.groups[:, leg - 1]
            candidate = np.flatnonzero(moves)
            yield Visits(
                candidate, self.groups[candidate, leg], edges[candidate, leg], until[candidate]
            )
            until = np.where(moves, edges[:, leg], until)


def any_levelled(courses: Iterable[Courses]) -> bool:
    """Return whether the hours of any check can lie otherwise than evenly."""
    return any(one.limits is not None for one in courses)


@dataclass(frozen=True)
class Slots:
    """Everything that could be planned: the calendar, the bays, the checks' candidates.

    ``settled`` holds the one course of each fixed check, in the order of the base.
    """

    calendar: Calendar
    kinds: tuple[Kind, ...]
    groups: tuple[BayGroup, ...]
    candidates: tuple[Candidates, ...]
    settled: tuple[Courses, ...]

    @property
    def are_levelled(self) -> bool:
        """Return whether the hours of any check can lie otherwise than evenly."""
        return any_levelled((*self.movable, *self.settled))

    @property
    def movable(self) -> tuple[Courses, ...]:
        """Return the courses of each check that can be chosen."""
        return tuple(candidates.courses for candidates in self.candidates)


@dataclass(frozen=True)
class LaidOut:
    """All checks laid out in time, and the bays in groups: candidates are pairs of the two."""

    calendar: Calendar
    kinds: tuple[Kind, ...]
    groups: tuple[BayGroup, ...]
    movable: tuple[Courses, ...]
    settled: tuple[Courses, ...]

    @property
    def are_levelled(self) -> bool:
        """Return whether the hours of any check can lie otherwise than evenly."""
        return any_levelled((*self.movable, *self.settled))


def find_slots(
    base: Base,
    calendar: Calendar,
    heed: Heed = nobody_stops,
    stated: Stated = NOTHING_STATED,
    *,
    every_day: bool = False,
    last_in_day: date | None = None,
) -> Slots:
    """Return the fixed checks as they stand and all candidates of the others.

    The arguments are those of ``lay_out_checks``.
    """
    laid = lay_out_checks(
        base, calendar, heed, stated, every_day=every_day, last_in_day=last_in_day
    )
    return slots_in(laid, EVERY_BAY, heed)


def lay_out_checks(
    base: Base,
    calendar: Calendar,
    heed: Heed = nobody_stops,
    stated: Stated = NOTHING_STATED,
    *,
    every_day: bool = False,
    last_in_day: date | None = None,
    days_apart: int = 1,
) -> LaidOut:
    """Return all courses of all checks, and the bays in groups.

    The places of an earlier plan, as it has ``stated`` them check by check, are among the
    candidates wherever a check can still be run so, also where not all its ways are tried.
    With ``every_day`` in days are candidates also where the next day is as good: not for one
    to whom the day itself is worth something. ``last_in_day`` is that of the base planned for
    fewer weeks, where its candidates are to be among them: then it is an in day also when it is
    a day off.

    A fixed check that has a choice left, of its pace, of a further bay or of its turn at a
    shop, is among the others. ``heed`` is called between them and may raise.

    With more than one of ``days_apart`` only some in days are taken, so many days from each
    other; the ends of the window, ``Latest in`` and ``Wanted in`` are always among them.
    """
    works = works_of(base)
    ways = ways_by_check(base, works)
    settles = {check.name: is_settled(check, works[check.name], base) for check in base.checks}
    made = {}
    for check in base.checks:
        heed()
        name = check.name
        window = _window(check, base, calendar)
        in_day = _days_to_come_in(np.arange(window.start, window.stop), check, base, calendar)
        may_come_in = set(in_day.tolist())
        if not (every_day or check.fixed_in is not None or not works[name]):
            in_day = _days_that_gain(in_day, check, base, calendar, last_in_day)
        in_day = _some_days(in_day, check, calendar, days_apart)
        own = stated.get(name, ())
        if own and calendar.number(own[0].in_day) not in may_come_in:
            own = ()
        made[name] = _courses(check, works[name], ways[name], in_day, base, calendar, own)
    settled = tuple(made[check.name] for check in base.checks if settles[check.name])
    movable = [made[check.name] for check in base.checks if not settles[check.name]]
    lengths = [np.diff(c.stays.edges, axis=1) for c in movable if len(c.stays.in_day)]
    shortest = min((int(days.min()) for days in lengths), default=1)
    with_work = [(courses.check, courses.work) for courses in movable]
    uses = bay_uses(base, calendar, with_work, [_stay(c) for c in settled])
    opens = min([calendar.first, *(int(c.stays.in_day.min()) for c in movable if len(c.past))])
    return LaidOut(
        calendar=calendar,
        kinds=kinds_of(base),
        groups=tuple(group_bays(uses, opens, max(1, shortest))),
        movable=tuple(movable),
        settled=settled,
    )


def slots_in(laid: LaidOut, scope: Scope, heed: Heed = nobody_stops) -> Slots:
    """Return the candidates in the bays of a scope; ``heed`` is called between checks."""
    candidates = []
    for courses in laid.movable:
        heed()
        candidates.append(_candidates(courses, laid.groups, scope))
    return Slots(
        calendar=laid.calendar,
        kinds=laid.kinds,
        groups=laid.groups,
        candidates=tuple(candidates),
        settled=laid.settled,
    )


def _some_days(
    days: NDArray[np.int64], check: Check, calendar: Calendar, apart: int
) -> NDArray[np.int64]:
    if apart == 1 or len(days) <= 1:
        return days
    named = [calendar.number(day) for day in (check.latest_in, check.wanted_in) if day is not None]
    taken = (np.arange(len(days)) % apart == 0) | np.isin(days, named)
    taken[-1] = True
    some: NDArray[np.int64] = days[taken]
    return some


def _days_that_gain(
    days: NDArray[np.int64],
    check: Check,
    base: Base,
    calendar: Calendar,
    last_in_day: date | None,
) -> NDArray[np.int64]:
    """Return the days of a window without the days off that the next day is as good as.

    Coming in on a day off that could be spent outside gains nothing before ``Latest in``: the
    next day leads to the same work with a shorter stay and fewer interval days lost. From
    ``Wanted in`` on each day later may cost more.
    """
    if not len(days) or any(bay.reached_through is not None for bay in base.bays):
        return days  # on the next day the way may not be clear
    before = days < min(calendar.number(check.latest_in), days[-1])
    gain: NDArray[np.bool_] = calendar.worked[days] | ~before
    if check.wanted_in is not None and check.wanted_cost_per_day:
        gain |= days >= calendar.number(check.wanted_in)  # the next day is further from it
    if last_in_day is not None:
        gain |= days == calendar.number(last_in_day)
    return days[gain]


def _days_to_come_in(
    days: NDArray[np.int64], check: Check, base: Base, calendar: Calendar
) -> NDArray[np.int64]:
    """Return the days of a window on which the check may come in; nobody asks of days gone by."""
    if base.comes_in_on_days_off or check.fixed_in is not None:
        return days
    worked: NDArray[np.bool_] = calendar.worked[days]
    return days[worked | (days < calendar.number(base.work_left_from))]


def _window(check: Check, base: Base, calendar: Calendar) -> range:
    """Return the days of the check's window; past its end for a booked check.

    Of one that is held to come in on a day that day alone, and none of an option that has lapsed.
    """
    if check.fixed_in is not None:
        return range(day := calendar.number(check.fixed_in), day + 1)
    delay = base.longest_delay_days if check.status is Status.BOOKED else 0
    first = max(calendar.number(check.earliest_in), calendar.first)
    last = min(calendar.number(check.latest_in) + delay, calendar.number(base.last_in_day))
    if base.has_lapsed(check):
        return range(first, first)
    if check.held_in is not None:
        day = calendar.number(check.held_in)
        return range(day, day + 1) if first <= day <= last else range(first, first)
    return range(first, max(first, last + 1))


def _courses(
    check: Check,
    work: tuple[StageWork, ...],
    ways: Ways,
    in_day: NDArray[np.int64],
    base: Base,
    calendar: Calendar,
    stated: Sequence[Placement],
) -> Courses:
    """Lay a check out for all in days, and as it is ``stated`` where that is not among them."""
    goes_on = base.goes_on_from(check)
    from_day = 0 if goes_on is None else calendar.number(goes_on)
    rates = {shop.name: shop.items_per_day for shop in base.shops}
    parts = [
        lay_out(work, pace, in_day, from_day, calendar, rates, waits) for pace, waits in ways.pairs
    ]
    if stated:
        longest = base.longest_wait_days
        parts += filter(None, [stated_stays(stated, work, longest, from_day, calendar, rates)])
    stays = joined(parts)
    in_day = stays.in_day
    latest = calendar.number(check.latest_in)
    money = check.early_cost_per_day * np.maximum(latest - in_day, 0.0)
    if check.wanted_in is not None:
        away = np.abs(in_day - float(calendar.number(check.wanted_in)))
        money = money + check.wanted_cost_per_day * away
    agreed = agreed_out_of(check, in_day, calendar)
    if agreed is not None:
        money = money + check.late_cost_per_day * np.maximum(stays.out_day - agreed, 0.0)
    if check.status is Status.OPTION:
        money = money - check.price
    return Courses(
        check=check,
        work=work,
        stays=stays,
        past=np.maximum(in_day - latest, 0),
        money=money,
        man_hours=_by_kind(man_hours_by_week(work, stays, calendar), check, base),
        limits=_limits(work, stays, calendar, check, base),
    )


def agreed_out_of(
    check: Check, in_day: NDArray[np.int64], calendar: Calendar
) -> NDArray[np.int64] | None:
    """Return the day on which each course is agreed to be out; a promise of days moves with it."""
    if check.agreed_days is not None:
        return in_day + check.agreed_days
    if check.agreed_out is None:
        return None
    return np.full_like(in_day, calendar.number(check.agreed_out))


def _limits(
    work: tuple[StageWork, ...], stays: Stays, calendar: Calendar, check: Check, base: Base
) -> NDArray[np.float64] | None:
    if not (can_level([work]) or base.counts_days):
        return None
    by_skill = limits_by_week(work, stays, calendar)
    return np.stack([_by_kind(limit, check, base) for limit in by_skill])


def _by_kind(asked: NDArray[np.float64], check: Check, base: Base) -> NDArray[np.float64]:
    """Turn man-hours by skill into man-hours by kind of work, along the last axis."""
    skills = [skill.name for skill in base.skills]
    kinds = kinds_of(base)
    by_kind = np.zeros((*asked.shape[:2], len(kinds)))
    for number, kind in enumerate(kinds):
        if check.type in kind.types and asked.shape[2]:
            by_kind[:, :, number] = asked[:, :, skills.index(kind.skill)]
    return by_kind


def _stay(courses: Courses) -> FixedStay:
    stays = courses.stays
    bay = courses.check.fixed_bay or ""
    return FixedStay(bay, int(stays.in_day[0]), int(stays.out_day[0]))


def _candidates(courses: Courses, groups: Sequence[BayGroup], scope: Scope) -> Candidates:
    stays = courses.stays
    legs = stays.edges.shape[1] - 1
    course = [np.empty(0, dtype=np.int64)]
    sequences = [np.empty((0, legs), dtype=np.int64)]
    for sequence in sequences_of(courses, groups, scope):
        moves = np.array([a != b for a, b in pairwise(sequence)], dtype=np.bool_)
        # An aircraft that stays where it is has nothing to wait for.
        stands = (stays.waited[:, ~moves] == 0).all(axis=1)
        starts = np.flatnonzero(np.concatenate(([True], moves)))
        for leg, until in zip(starts, [*starts[1:], legs], strict=True):
            stands &= _stands(groups[sequence[leg]], stays.edges[:, leg], stays.edges[:, until])
        course.append(np.flatnonzero(stands))
        sequences.append(np.tile(np.array(sequence, dtype=np.int64), (int(stands.sum()), 1)))
    return Candidates(courses, np.concatenate(course), np.concatenate(sequences))


def sequences_of(
    courses: Courses, groups: Sequence[BayGroup], scope: Scope
) -> list[tuple[int, ...]]:
    """Return the bay groups of a scope that a check could go through, one a leg.

    It moves only where the bay that it stands in does not do the work of the next leg.
    """
    check = courses.check
    ways: list[tuple[int, ...]] = [()]
    for kind in kinds_by_leg(courses.work):
        longer: list[tuple[int, ...]] = []
        for way in ways:
            if way and kind in groups[way[-1]].work:
                longer.append((*way, way[-1]))
                continue
            could = [
                number
                for number, group in enumerate(groups)
                if check.name in group.fits
                and (not kind or kind in group.work)
                and (way or (check.fixed_bay or check.held_bay) in (None, *group.bays))
            ]
            longer += [(*way, number) for number in scope.some_of(could, check.name, groups)]
        ways = longer
    return ways


def _stands(
    bays: BayGroup, in_day: NDArray[np.int64], out_day: NDArray[np.int64]
) -> NDArray[np.bool_]:
    """Return which stays keep clear of closures and of all that is settled, elementwise."""
    return ~(
        _touches(bays.shut, in_day, out_day)
        | _touches(bays.taken, in_day, out_day + bays.changeover_days)
        | _touches(bays.to_be_clear, in_day + 1, out_day)
        | bays.no_moves[in_day]
        | bays.no_moves[out_day]
    )


def _touches(
    mask: NDArray[np.bool_], start: NDArray[np.int64], end: NDArray[np.int64]
) -> NDArray[np.bool_]:
    """Return whether ``[start, end)`` holds a day of the mask, elementwise."""
    before = np.concatenate(([0], np.cumsum(mask)))
    return before[np.minimum(end, len(mask))] > before[start]
