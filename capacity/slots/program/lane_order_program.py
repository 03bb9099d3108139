"""Courses without bays: a small program whose proven bounds hold for every plan of the base.

Where the candidates are too many to look at all together, the courses are not: a check has one
for each in day, pace and wait, whatever the bay. A plan gives each check at most one course; on
any day no more aircraft stand in some bays than there are; and man-hours are the same in every
bay. So whatever a program of courses with rows for *some* sets of bays on *some* days cannot do
cheaper, no plan can: it is a relaxation of the whole program, and of each part of it.
"""

from collections import Counter
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from capacity.facts import Base
from capacity.labour.guarantees import guaranteed_money
from capacity.labour.supply import Supply
from capacity.slots.candidates import LaidOut, kinds_by_leg, movable_hours, settled_hours
from capacity.slots.program.hours import hours_of
from capacity.slots.program.program import Program, unplaced_past_of
from capacity.slots.program.strands import strands_of

# The rows are of so many days that they have about so many entries: a bound within seconds.
MOST_ENTRIES = 1_500_000
# Sets of bays, the commonest first: a base has one for each size of aircraft and kind of work.
MOST_SETS = 12

Groups = frozenset[int]


def course_program(laid: LaidOut, base: Base, supply: Supply) -> Program:
    """Return the program of all courses, with rows for the bays that checks need.

    For every set B of bays that some check needs for some of its work, and days t::

        sum of x[j] with a leg on day t whose bays are all in B  <=  bays of B open on day t
    """
    counts = [len(courses.past) for courses in laid.movable]
    columns = np.concatenate(([0], np.cumsum(counts)))
    rows, capacity, names = _rows(laid, int(columns[-1]))
    cells = supply.regular.size
    past = [courses.past for courses in laid.movable]
    size = int(columns[-1])
    return Program(
        checks=tuple(courses.check.name for courses in laid.movable),
        first_column=columns,
        unplaced_past=np.array(
            [unplaced_past_of(courses.check, base) for courses in laid.movable], dtype=np.int64
        ),
        course=np.arange(size),
        past=np.concatenate([np.empty(0, dtype=np.int64), *past]),
        money=np.concatenate([np.empty(0), *(courses.money for courses in laid.movable)]),
        place=np.zeros(size, dtype=np.int64),
        in_day=np.zeros(size, dtype=np.int64),
        footprint=rows,
        capacity=capacity,
        row_names=names,
        lazy=np.zeros(len(capacity), dtype=np.bool_),
        man_hours=movable_hours(laid, cells),
        asked=settled_hours(laid, cells),
        hours=hours_of(supply, strands_of(laid)),
        settled_past=sum(int(courses.past[0]) for courses in laid.settled),
        settled_money=guaranteed_money(base)
        + sum(float(courses.money[0]) for courses in laid.settled),
    )


@dataclass(frozen=True)
class _Legs:
    """A leg of every course of a check: ``course`` numbers them, days are half-open."""

    groups: Groups
    course: NDArray[np.int64]
    first: NDArray[np.int64]
    until: NDArray[np.int64]


def _rows(laid: LaidOut, size: int) -> tuple[csr_array, NDArray[np.float64], tuple[str, ...]]:
    """Return footprint (courses, rows), capacity (rows,) and names of the rows."""
    legs = _legs(laid)
    wanted = Counter(leg.groups for leg in legs)
    sets = [groups for groups, _ in wanted.most_common(MOST_SETS)]
    inside = {groups: [leg for leg in legs if leg.groups <= groups] for groups in sets}
    entries = sum(int((leg.until - leg.first).sum()) for mine in inside.values() for leg in mine)
    apart = 1 + entries // MOST_ENTRIES
    members: list[NDArray[np.int64]] = []
    capacity: list[float] = []
    names: list[str] = []
    for groups, mine in inside.items():
        course = np.concatenate([leg.course for leg in mine])
        first = np.concatenate([leg.first for leg in mine])
        until = np.concatenate([leg.until for leg in mine])
        usable = sum((laid.groups[n].usable for n in groups), np.zeros(len(laid.calendar.worked)))
        for day in range(int(first.min(initial=0)), int(until.max(initial=0)), apart):
            stand = course[(first <= day) & (day < until)]
            if len(stand):
                members.append(stand)
                capacity.append(float(usable[day]))
                names.append(f"{len(groups)} groups of bays on {laid.calendar.date(day)}")
    ends = np.cumsum([0, *map(len, members)])
    stands = np.concatenate([np.empty(0, dtype=np.int64), *members])
    rows = csr_array((np.ones(len(stands)), stands, ends), shape=(len(members), size))
    return csr_array(rows.T), np.array(capacity), tuple(names)


def _legs(laid: LaidOut) -> list[_Legs]:
    legs = []
    begin = 0
    for courses in laid.movable:
        count, edges = len(courses.past), courses.stays.edges
        for leg, kind in enumerate(kinds_by_leg(courses.work)):
            groups = frozenset(
                number
                for number, group in enumerate(laid.groups)
                if courses.check.name in group.fits and (not kind or kind in group.work)
            )
            course = np.arange(begin, begin + count)
            legs.append(_Legs(groups, course, edges[:, leg], edges[:, leg + 1]))
        begin += count
    return legs
