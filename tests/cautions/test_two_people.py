"""Critical work on shifts with fewer than two different qualified people.

Source: AMC4 145.A.48(b) and 14 CFR 121.371(b) (both seen); two distinct people on the shift,
and one head with both skills being one person, are derived from them.
"""

from dataclasses import replace
from datetime import time

import pytest

from capacity.cautions.messages import single_person_messages
from capacity.cautions.two_people import (
    CriticalShift,
    critical_shifts,
    has_two_people,
    single_person_critical_work,
    stages_without_two_people,
)
from capacity.facts import Absence, Base, Crew, Pattern, Shift
from capacity.messages import Level
from tests.plans import stories
from tests.plans.stories import FIRST_DAY, MECHANIC, check, day, package, placed, plan, stage

INSPECTOR = replace(MECHANIC, name="Inspection")
STAY = placed("C1", 5, ("Controls", 5, 7))


@pytest.mark.parametrize(
    ("heads", "is_enough"),
    [
        ({"A": 2}, True),
        ({"A": 1, "B": 1}, True),
        ({"A": 1}, False),  # one head, whatever its skills
        ({}, False),
        ({"A": 1.8}, False),  # one of the two is away for part of the time
        ({"A": 1.9, "B": 0.9}, False),
        ({"A": 0.1 * 3 + 1.7}, True),  # 2 but for rounding
    ],
)
def test_two_different_whole_people_are_needed(heads, is_enough):
    assert has_two_people(heads) is is_enough


def test_only_the_thin_shifts_are_returned():
    enough = CriticalShift("C1", "Controls", day(5), "Day", {"A": 4})
    thin = CriticalShift("C1", "Controls", day(5), "Night", {"B": 1})
    assert single_person_critical_work((enough, thin)) == (thin,)
    assert stages_without_two_people((enough, thin)) == ()
    assert stages_without_two_people((thin,)) == (("C1", "Controls"),)


def base_of(*crews: Crew, by_night: bool = True, critical: bool = True, **changes: object) -> Base:
    """A check whose stage of two days asks mechanics and inspectors."""
    work = replace(
        stage("Controls", 2),
        man_hours={"Mechanic": 20.0, "Inspection": 4.0},
        critical=critical,
        by_night=by_night,
    )
    return stories.base(
        replace(check(), package="Heavy"),
        packages=(package(work),),
        skills=(MECHANIC, INSPECTOR, replace(MECHANIC, name="Cleaning")),
        crews=crews,
        patterns=(Pattern("Days", ("Day",)), Pattern("Nights", ("Night",))),
        shifts=(Shift("Day", time(6), 10.0), Shift("Night", time(20), 8.0, night=True)),
        **changes,
    )


def crew(name: str, heads: int, *skills: str, pattern: str = "Days", types: str = "") -> Crew:
    """People of one crew."""
    return Crew(name, skills, heads, pattern, FIRST_DAY, frozenset({types} if types else ()))


def thin(base: Base) -> list[tuple[int, str, int]]:
    """Return day, shift and people of the shifts with fewer than two."""
    found = single_person_critical_work(critical_shifts(plan(STAY), base))
    return [((shift.day - FIRST_DAY).days, shift.shift, shift.people) for shift in found]


def test_a_mechanic_and_an_inspector_are_enough():
    assert thin(base_of(crew("A", 1, "Mechanic"), crew("B", 1, "Inspection"))) == []


def test_one_head_with_both_skills_is_not():
    assert thin(base_of(crew("A", 1, "Mechanic", "Inspection"))) == [(5, "Day", 1), (6, "Day", 1)]


def test_people_without_the_skill_or_the_type_do_not_count():
    helpers = crew("C", 9, "Cleaning")
    strangers = crew("D", 9, "Mechanic", types="Jumbo")
    base = base_of(crew("A", 1, "Mechanic", types="Twin"), helpers, strangers)
    assert thin(base) == [(5, "Day", 1), (6, "Day", 1)]


def test_a_thin_night_is_told_unless_the_stage_is_not_done_by_night():
    crews = (crew("A", 5, "Mechanic"), crew("B", 1, "Mechanic", pattern="Nights"))
    assert thin(base_of(*crews)) == [(5, "Night", 1), (6, "Night", 1)]
    assert thin(base_of(*crews, by_night=False)) == []


def test_absence_thins_a_shift_out():
    away = (Absence("A", day(6), day(6), 1),)
    assert thin(base_of(crew("A", 2, "Mechanic"), absences=away)) == [(6, "Day", 1)]


def test_a_day_without_anybody_qualified_is_told_once():
    assert thin(base_of(crew("C", 9, "Cleaning"))) == [(5, "", 0), (6, "", 0)]


def test_a_stage_that_is_not_critical_asks_for_nothing():
    assert thin(base_of(crew("A", 1, "Mechanic"), critical=False)) == []


def test_days_before_the_plan_ask_for_nothing():
    base = base_of(crew("A", 1, "Mechanic"), first_day=day(6))
    assert thin(base) == [(6, "Day", 1)]
    shifts = critical_shifts(plan(STAY), base)
    assert [shift.day for shift in shifts] == [day(6)]


def test_messages_warn_of_stages_without_two_and_note_thin_shifts():
    alone = critical_shifts(plan(STAY), base_of(crew("A", 1, "Mechanic")))
    (warning,) = single_person_messages(alone)
    assert warning.level is Level.WARNING
    assert "'Controls' of C1 never has two different" in warning.what
    assert "licensed staff decide" in warning.remedy
    crews = (crew("A", 5, "Mechanic"), crew("B", 1, "Mechanic", pattern="Nights"))
    (note,) = single_person_messages(critical_shifts(plan(STAY), base_of(*crews)))
    assert note.level is Level.NOTE
    assert "on shift Night of Sat 9 Jan 2027 and 1 more" in note.what
    enough = critical_shifts(plan(STAY), base_of(crew("A", 2, "Mechanic")))
    assert single_person_messages(enough) == ()
