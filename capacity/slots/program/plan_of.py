"""From chosen columns to a plan in dates, every aircraft with a bay of its own."""

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from capacity.errors import EngineError
from capacity.facts import Status
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.slots.candidates import BayGroup, Courses, Slots, legs_of
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program
from capacity.slots.program.spread_hours import Stated, spread_hours


@dataclass(frozen=True)
class Visit:
    """A stay of a check's course over ``[in_day, out_day)`` in some bay, with its legs."""

    courses: Courses
    course: int
    in_day: int
    out_day: int
    first_leg: int
    until_leg: int


def plan_of(chosen: Choice, program: Program, slots: Slots) -> Plan:
    """Return the plan that the choice stands for, the fixed checks included."""
    visits: defaultdict[int, list[Visit]] = defaultdict(list)
    missing = []
    stated: Stated = spread_hours(chosen, program, slots) if slots.are_levelled else {}
    for number, candidates in enumerate(slots.candidates):
        if chosen[number] < 0:
            missing.append(candidates.courses.check)
            continue
        place = program.place_of(number, chosen[number])
        groups = candidates.groups[place]
        for visit in _visits(candidates.courses, int(candidates.course[place]), groups):
            visits[int(groups[visit.first_leg])].append(visit)
    placements = [
        _placement(visit, courses.check.fixed_bay or "", slots, stated)
        for courses in slots.settled
        for visit in _visits(courses, 0, np.zeros(courses.stays.edges.shape[1] - 1))
    ]
    for number, stays in visits.items():
        placements += _numbered(slots.groups[number], stays, slots, stated)
    return Plan(
        placements=tuple(sorted(placements, key=lambda p: (p.in_day, p.out_day, p.bay))),
        not_placed=tuple(check.name for check in missing if check.status is not Status.OPTION),
        refused=tuple(check.name for check in missing if check.status is Status.OPTION),
    )


def _visits(courses: Courses, course: int, groups: NDArray[Any]) -> list[Visit]:
    """Return the visits of a course that goes through these bay groups, one a leg."""
    edges = courses.stays.edges[course]
    starts = np.flatnonzero(np.concatenate(([True], groups[1:] != groups[:-1])))
    return [
        Visit(courses, course, int(edges[leg]), int(edges[until]), int(leg), int(until))
        for leg, until in zip(starts, [*starts[1:], len(groups)], strict=True)
    ]


def _numbered(
    group: BayGroup, visits: list[Visit], slots: Slots, stated: Stated
) -> list[Placement]:
    """Give the visits of a group bays, in order of their in days: the first one that is free.

    Somebody who comes back before the changeover behind him is over takes his own bay.
    """
    free_from = dict(zip(group.bays, group.opens, strict=True))
    last: dict[str, str] = {}
    placements = []
    for visit in sorted(visits, key=lambda visit: visit.in_day):
        name = visit.courses.check.name
        own = (bay for bay, who in last.items() if who == name and free_from[bay] > visit.in_day)
        free = (bay for bay, day in free_from.items() if day <= visit.in_day)
        bay = next(own, None) or next(free, None)
        if bay is None:
            raise EngineError(f"{name} finds no bay among {group.title}")
        free_from[bay] = visit.out_day + group.changeover_days
        last[bay] = name
        placements.append(_placement(visit, bay, slots, stated))
    return placements


def _placement(visit: Visit, bay: str, slots: Slots, stated: Stated) -> Placement:
    day = slots.calendar.date
    stays, work = visit.courses.stays, visit.courses.work
    mine = [
        number
        for number, leg in enumerate(legs_of(work))
        if visit.first_leg <= leg < visit.until_leg
    ]
    starts, ends = stays.starts[visit.course], stays.ends[visit.course]
    first = min(mine, key=lambda number: starts[number], default=None)
    return Placement(
        check=visit.courses.check.name,
        bay=bay,
        stage_from="" if first is None else work[first].name,
        in_day=day(visit.in_day),
        out_day=day(visit.out_day),
        stages=tuple(
            StageDays(
                work[n].name,
                day(starts[n]),
                day(ends[n]),
                stated.get((visit.courses.check.name, work[n].name), ()),
            )
            for n in mine
        ),
    )
