"""Where the hours of every stage of a choice lie, once all are levelled as cheaply as can be.

The program knows sums only; here each skill of each stage is levelled by itself. Of spreads that
cost the same, the one that moves the fewest hours away from the even one is taken.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.sparse import csr_array, hstack, vstack

from capacity.errors import EngineError
from capacity.labour.calendar import Calendar
from capacity.labour.supply import Floats, Supply
from capacity.plans.plan import WeekHours
from capacity.slots.candidates import (
    Courses,
    Slots,
    Stays,
    days_in_weeks,
    float_ends,
    most_of_a_day,
)
from capacity.slots.program.arcs import arcs_into
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

Ints = NDArray[np.int64]
TINY = 1e-12
# What moving an hour counts for, in money: far less than any two prices differ by.
MOVING = 1e-4

Stated = Mapping[tuple[str, str], tuple[WeekHours, ...]]
"""Hours by check and stage."""


@dataclass(frozen=True)
class Strand:
    """The hours of one skill of a stage: ``even`` and at ``most`` (n,) in the cells ``cell``."""

    check: str
    stage: str
    skill: str
    cell: Ints
    even: Floats
    most: Floats


def spread_hours(chosen: Choice, program: Program, slots: Slots) -> Stated:
    """Return where the hours of all stages lie that can be levelled, those settled among them."""
    skills = tuple(dict.fromkeys(kind.skill for kind in slots.kinds))  # in the base's order
    strands = [
        strand
        for courses, course in _chosen_courses(chosen, program, slots)
        for strand in _strands(courses, course, slots, skills)
    ]
    hours = _levelled(strands, program.load(chosen)[: program.hours.cells], program.hours.supply)
    stated: defaultdict[tuple[str, str], list[WeekHours]] = defaultdict(list)
    kinds = program.hours.supply.kinds
    for strand, found in zip(strands, hours, strict=True):
        for cell, amount in zip(strand.cell, found, strict=True):
            if amount > TINY:
                week = slots.calendar.week_names[cell // kinds]
                stated[strand.check, strand.stage].append(
                    WeekHours(strand.skill, week, float(amount))
                )
    return {key: tuple(weeks) for key, weeks in stated.items()}


def _chosen_courses(
    chosen: Choice, program: Program, slots: Slots
) -> Iterator[tuple[Courses, int]]:
    for number, candidates in enumerate(slots.candidates):
        if chosen[number] >= 0:
            place = int(chosen[number] - program.first_column[number])
            yield candidates.courses, int(candidates.course[place])
    for courses in slots.settled:
        yield courses, 0


def _strands(
    courses: Courses, course: int, slots: Slots, skills: tuple[str, ...]
) -> Iterator[Strand]:
    """Go through the skills of the stages of a course that can lie otherwise than evenly."""
    if courses.limits is None:
        return
    stays, calendar = courses.stays.only(np.array([course])), slots.calendar
    kind_of = {
        kind.skill: number
        for number, kind in enumerate(slots.kinds)
        if courses.check.type in kind.types
    }
    for number, stage in enumerate(courses.work):
        if stage.daily_peak <= 1.0 + TINY and not stage.into_float:
            continue
        weeks, even, most = _weeks(courses, number, stays, calendar)
        for place in np.flatnonzero(stage.man_hours > TINY):
            skill = skills[place]
            yield Strand(
                check=courses.check.name,
                stage=stage.name,
                skill=skill,
                cell=weeks * len(slots.kinds) + kind_of[skill],
                even=even * stage.man_hours[place],
                most=most * stage.man_hours[place],
            )


def _weeks(
    courses: Courses, number: int, stays: Stays, calendar: Calendar
) -> tuple[Ints, Floats, Floats]:
    """Return the weeks in which a stage may be worked, its even share there and the most."""
    stage, days = courses.work[number], stays.days[:, number]
    start, end = stays.starts[:, number], stays.ends[:, number]
    evenly = days_in_weeks(start, end, calendar)[0]
    may = days_in_weeks(start, float_ends(courses.work, stays, number), calendar)[0]
    weeks = np.flatnonzero(may)
    most = may[weeks] * most_of_a_day(stage, days)[0]
    even = evenly[weeks] / days[0]
    return weeks, even, np.minimum(most, even.sum())


def _levelled(strands: list[Strand], load: Floats, supply: Supply) -> list[Floats]:
    """Return the hours of each strand, in the order of its cells.

    Minimise the price of what is bought, and ``MOVING`` times what lies otherwise than evenly.
    """
    hours = [strand.even.copy() for strand in strands]
    could = load.copy()
    for strand in strands:
        np.add.at(could, strand.cell, strand.most - strand.even)
    over = could > supply.regular.ravel() + TINY
    moving = [n for n, s in enumerate(strands) if len(s.cell) > 1 and over[s.cell].any()]
    if not moving:
        return hours
    cell = np.concatenate([strands[n].cell for n in moving])
    even = np.concatenate([strands[n].even for n in moving])
    most = np.concatenate([strands[n].most for n in moving])
    of = np.repeat(np.arange(len(moving)), [len(strands[n].cell) for n in moving])
    cells = np.flatnonzero(over)
    arcs = arcs_into(cells, supply)
    # Variables: hours moved into a week, hours moved out of it, hours bought.
    parts, bought = len(cell), len(arcs.pool)
    row_of = np.full(len(load), -1)
    row_of[cells] = np.arange(len(cells))
    told = np.flatnonzero(row_of[cell] >= 0)
    into = csr_array((np.ones(len(told)), (row_of[cell[told]], told)), shape=(len(cells), parts))
    buys = csr_array(
        (np.ones(bought), (row_of[arcs.cell], np.arange(bought))), shape=(len(cells), bought)
    )
    shared = np.flatnonzero(arcs.common >= 0)
    draws = csr_array(
        (np.ones(len(shared)), (arcs.common[shared], 2 * parts + shared)),
        shape=(len(arcs.common_limit), 2 * parts + bought),
    )
    sums = csr_array((np.ones(parts), (of, np.arange(parts))), shape=(len(moving), parts))
    solved = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
        np.concatenate([np.full(2 * parts, MOVING), arcs.price]),
        A_ub=vstack([hstack([into, -into, -buys]), draws]),
        b_ub=np.concatenate([(supply.regular.ravel() - load)[cells], arcs.common_limit]),
        A_eq=hstack([sums, -sums, csr_array((len(moving), bought))]),
        b_eq=np.zeros(len(moving)),
        bounds=np.column_stack(
            [np.zeros(2 * parts + bought), np.concatenate([most - even, even, arcs.limit])]
        ),
        method="highs",
    )
    if solved.x is None:
        raise EngineError(f"man-hours could not be levelled: {solved.message}")
    moved = solved.x[:parts] - solved.x[parts : 2 * parts]
    for place, number in enumerate(moving):
        hours[number] = _tidied(strands[number], moved[of == place])
    return hours


def _tidied(strand: Strand, moved: Floats) -> Floats:
    """Return the hours with what a solver leaves open in its last digits put right."""
    hours = np.clip(strand.even + moved, 0.0, strand.most)
    lacking = strand.even.sum() - hours.sum()
    room = strand.most - hours if lacking > 0.0 else hours
    hours[np.argmax(room)] += lacking
    return hours
