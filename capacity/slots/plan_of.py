"""From chosen columns to a plan in dates, every aircraft with a bay of its own."""

import numpy as np
from numpy.typing import NDArray

from capacity.errors import EngineError
from capacity.facts import Status
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.slots.bay_groups import BayGroup
from capacity.slots.candidates import Courses, Slots
from capacity.slots.program import Program


def plan_of(chosen: NDArray[np.int64], program: Program, slots: Slots) -> Plan:
    """Return the plan that the choice stands for, the fixed checks included."""
    placed: dict[int, list[tuple[int, Courses, int]]] = {}
    missing = []
    for number, candidates in enumerate(slots.candidates):
        if chosen[number] < 0:
            missing.append(candidates.courses.check)
            continue
        place = chosen[number] - program.first_column[number]
        course = int(candidates.course[place])
        in_day = int(candidates.courses.stays.in_day[course])
        group = int(candidates.group[place])
        placed.setdefault(group, []).append((in_day, candidates.courses, course))
    placements = [
        _placement(courses, 0, courses.check.fixed_bay or "", slots) for courses in slots.settled
    ]
    for number, stays in placed.items():
        placements += _numbered(slots.groups[number], stays, slots)
    return Plan(
        placements=tuple(sorted(placements, key=lambda p: (p.in_day, p.out_day, p.bay))),
        not_placed=tuple(check.name for check in missing if check.status is not Status.OPTION),
        refused=tuple(check.name for check in missing if check.status is Status.OPTION),
    )


def _numbered(
    group: BayGroup, stays: list[tuple[int, Courses, int]], slots: Slots
) -> list[Placement]:
    """Give the stays of a group bays, in order of their in days: the first one that is free."""
    free_from = dict(zip(group.bays, group.opens, strict=True))
    placements = []
    for in_day, courses, course in sorted(stays, key=lambda stay: stay[0]):
        bay = next((name for name, day in free_from.items() if day <= in_day), None)
        if bay is None:
            raise EngineError(f"{courses.check.name} finds no bay among {group.title}")
        free_from[bay] = int(courses.stays.out_day[course]) + group.changeover_days
        placements.append(_placement(courses, course, bay, slots))
    return placements


def _placement(courses: Courses, course: int, bay: str, slots: Slots) -> Placement:
    day = slots.calendar.date
    stays = courses.stays
    stages = tuple(
        StageDays(stage.name, day(start), day(end))
        for stage, start, end in zip(
            courses.work, stays.starts[course], stays.ends[course], strict=True
        )
    )
    return Placement(
        check=courses.check.name,
        bay=bay,
        stage_from=stages[0].stage if stages else "",
        in_day=day(stays.in_day[course]),
        out_day=day(stays.out_day[course]),
        stages=stages,
    )
