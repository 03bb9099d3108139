"""How many people must be there: coverings of days and hours by our patterns and shifts.

The crew plan decides where people work, not how many there are. So the published numbers are
found as coverings of what our patterns and shifts attend, by an integer program of scipy; and
a crew plan staffs what they cover.
"""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import LinearConstraint, milp

from capacity.crews.crew_shifts import overlapping_shifts
from capacity.facts import Crew, Pattern, Shift
from capacity.labour.patterns import attended_hours
from tests.crews.stories import EARLY, FIRST_DAY, base, crew, day, package, placed, staffed, stage

# Winston, Operations Research, "post office" (4th ed. p. 72; statement seen, values computed).
POST_OFFICE = (17, 13, 15, 19, 14, 16, 11)
FIVE_ON = Pattern("Five on", (*["Early"] * 5, None, None))
SIX_ON = Pattern("Six on", (*["Early"] * 6, None))

Covers = NDArray[np.float64]


def phases(pattern: Pattern) -> list[Crew]:
    """Return a crew of one for each day of the week on which the cycle may start."""
    return [
        crew(f"{pattern.name} from {n}", 1, pattern.name, starts_cycle_on=day(n)) for n in range(7)
    ]


def days_covered(pattern: Pattern) -> Covers:
    """Return which days of the week each phase attends, shape (7 days, 7 phases)."""
    known = base([], phases(pattern), patterns=(pattern,))
    hours = [attended_hours(one, known, FIRST_DAY, 7) for one in known.crews]
    return (np.array(hours).T > 0).astype(np.float64)


def least(
    cost: Sequence[float], covers: Covers, needed: Sequence[float], whole: bool
) -> tuple[float, NDArray[np.float64]]:
    """Return the least cost with ``covers @ people >= needed``, and the people."""
    rows = LinearConstraint(covers, lb=np.array(needed, dtype=np.float64))
    kinds = np.full(len(cost), int(whole))
    found = milp(np.array(cost), constraints=rows, integrality=kinds)
    assert found.success
    return float(found.fun), found.x


def test_the_post_office_needs_23_people_and_its_relaxation_67_thirds() -> None:
    covers = days_covered(FIVE_ON)
    assert covers.sum() == 35
    relaxed, _ = least([1.0] * 7, covers, POST_OFFICE, whole=False)
    assert relaxed == pytest.approx(67 / 3)
    whole, _ = least([1.0] * 7, covers, POST_OFFICE, whole=True)
    assert whole == pytest.approx(23.0)


def test_with_a_sixth_day_of_overtime_the_post_office_costs_5370_and_19_people() -> None:
    """Five days at 50 each, a sixth for 62; the same as a pattern of six days on."""
    covers = np.hstack([days_covered(FIVE_ON), days_covered(SIX_ON)])
    cost = [5 * 50.0] * 7 + [5 * 50.0 + 62.0] * 7
    for whole in (False, True):
        money, people = least(cost, covers, POST_OFFICE, whole)
        assert money == pytest.approx(5370.0)
        assert people.sum() == pytest.approx(19.0)


def post_office_short(people: Sequence[int]) -> float:
    """Return the man-hours short when each day of the week asks its people for a shift."""
    crews = [
        Crew(one.name, one.skills, heads, one.pattern, one.starts_cycle_on)
        for one, heads in zip(phases(FIVE_ON), people, strict=True)
    ]
    packages = [
        package(stage("Sort", 1, hours=needed * EARLY.hours), name=f"Day {n}")
        for n, needed in enumerate(POST_OFFICE)
    ]
    base_ = base(packages, crews, patterns=(FIVE_ON,))
    stays = [placed(f"C{n + 1}", ("Sort", n, n + 1)) for n in range(7)]
    return staffed(base_, *stays).audit.short


def test_a_crew_plan_staffs_the_post_office_with_23_and_with_nobody_less() -> None:
    _, people = least([1.0] * 7, days_covered(FIVE_ON), POST_OFFICE, whole=True)
    heads = [round(number) for number in people]
    assert sum(heads) == 23
    assert post_office_short(heads) == pytest.approx(0.0)
    for phase in range(7):
        if heads[phase]:
            fewer = [number - (n == phase) for n, number in enumerate(heads)]
            assert post_office_short(fewer) > 0


# Hillier & Lieberman, "Union Airways"; typed from notes, not read again in the book.
UNION_SHIFTS = tuple(
    Shift(f"{start.hour:02d}", start, 8.0, start.hour >= 22)
    for start in (time(6), time(8), time(12), time(16), time(22))
)
UNION_COST = (170.0, 160.0, 175.0, 180.0, 195.0)
PERIODS = [(hour, hour + 2) for hour in range(6, 22, 2)] + [(22, 24), (24, 30)]
UNION_NEED = (48, 79, 65, 87, 64, 73, 82, 43, 52, 15)


def hours_covered() -> Covers:
    """Return which periods of the day lie inside each shift, shape (10 periods, 5 shifts)."""
    midnight = datetime.combine(FIRST_DAY, time(0))
    covers = np.zeros((len(PERIODS), len(UNION_SHIFTS)))
    for column, shift in enumerate(UNION_SHIFTS):
        starts = datetime.combine(FIRST_DAY, shift.start)
        ends = starts + timedelta(hours=shift.hours)
        for row, (first, until) in enumerate(PERIODS):
            inside = starts <= midnight + timedelta(hours=first)
            covers[row, column] = inside and midnight + timedelta(hours=until) <= ends
    return covers


def test_union_airways_costs_30610() -> None:
    covers = hours_covered()
    periods_of = [[row + 1 for row in range(10) if covers[row, shift]] for shift in range(5)]
    assert periods_of == [[1, 2, 3, 4], [2, 3, 4, 5], [4, 5, 6, 7], [6, 7, 8, 9], [9, 10]]
    money, people = least(UNION_COST, covers, UNION_NEED, whole=True)
    assert money == pytest.approx(30610.0)
    assert people.round().tolist() == [48, 31, 39, 43, 15]


def test_the_shifts_of_union_airways_overlap_where_they_cover_the_same_hours() -> None:
    """Those that cover a period together meet in time, and only those."""
    covers = hours_covered()
    together = covers.T @ covers > 0
    names = [shift.name for shift in UNION_SHIFTS]
    shared = {
        name: {other for m, other in enumerate(names) if m != n and together[n, m]}
        for n, name in enumerate(names)
    }
    assert overlapping_shifts(base([], [], shifts=UNION_SHIFTS)) == shared
