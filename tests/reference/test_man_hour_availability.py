"""Man-hours that people give after absence and at a productivity.

Source: textbook arithmetic, available hours = heads x paid hours x (1 - absence) x
productivity, worked out by hand in each test.
"""

from datetime import time

import pytest

import capacity
from capacity.facts import Absence, Base, Crew, Pattern, Shift
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from tests.reference import stories
from tests.reference.stories import FIRST_DAY, day


def office(heads: int, absences: tuple[Absence, ...], **changes: object) -> Base:
    """People who work 7.5 hours from Monday to Friday, 37.5 hours a week."""
    return stories.base(
        stories.bays(1),
        crews=(Crew("Mechanics", ("Mechanic",), heads, "Week", FIRST_DAY),),
        patterns=(Pattern("Week", ("Day",) * 5 + (None,) * 2),),
        shifts=(Shift("Day", time(7), 7.5),),
        absences=absences,
        **changes,
    )


def test_forty_people_with_18_percent_away_at_75_percent_give_922_and_a_half_hours_a_week() -> None:
    # 40 x 37.5 h x (1 - 0.18) = 1,230 h attended; x 0.75 = 922.5 h
    away = Absence("Mechanics", FIRST_DAY, day(69), heads=0.18 * 40)
    base = office(40, (away,), productivity=0.75)
    regular = available_hours(base, calendar_of(base)).regular
    assert regular[:10, 0] == pytest.approx([922.5] * 10)


def test_the_audit_counts_the_same_922_and_a_half_hours() -> None:
    away = Absence("Mechanics", FIRST_DAY, day(69), heads=0.18 * 40)
    base = office(40, (away,), productivity=0.75)
    first_week = capacity.audit(base, capacity.Plan(())).weeks[0]
    assert first_week.regular == pytest.approx(922.5)


def test_one_person_gives_1627_and_a_half_hours_a_year() -> None:
    # 260 days - 25 leave - 8 holidays - 5 sick - 5 training = 217 days x 7.5 h
    leave = Absence("Mechanics", day(0), day(7 * 8 + 2), heads=1, reason="43 working days")
    base = office(1, (leave,), weeks=52)
    year = available_hours(base, calendar_of(base)).regular[:52, 0]
    assert year.sum() == pytest.approx(217 * 7.5)
    assert year.sum() == pytest.approx(1627.5)
