"""Who must be there when a stage is worked: each licence it asks for, and two for critical work.

That somebody else inspects critical work is common practice; tests here only hold the plan to
it. They plan people, and release nothing.
"""

from dataclasses import replace

import pytest

from capacity.facts import Crew, Skill
from capacity.plans.plan import WeekHours
from tests.crews.stories import (
    MECHANIC,
    away,
    base,
    crew,
    day,
    one_stage,
    package,
    placed,
    short,
    staffed,
    stage,
)

MECHANICS = crew("Mechanics", 2)
LICENSED = stage("Work", 1, man_hours={"Mechanic": 16.0, "Certifier": 1.0})


def certifiers(shift: str, heads: int = 1, **changes: object) -> Crew:
    return crew(f"Certifiers {shift}", heads, shift, skills=("Certifier",), **changes)


@pytest.mark.parametrize(
    ("shift", "missing"), [("Early", 0.0), ("Middle", 0.0), ("Late", 16.0), ("Night", 16.0)]
)
def test_the_licence_is_there_in_the_shift_or_one_that_overlaps_it(
    shift: str, missing: float
) -> None:
    """Early is 06-14, Middle 10-18 and Late 14-22: where one ends another may start."""
    assert short(LICENSED, MECHANICS, certifiers(shift)) == pytest.approx(missing)


def test_without_its_licence_nobody_works_on_a_stage() -> None:
    assert short(LICENSED, MECHANICS) == pytest.approx(17.0)


def test_a_stage_without_licensed_hours_needs_no_licence() -> None:
    assert short(stage("Work", 1, hours=16.0), MECHANICS) == pytest.approx(0.0)


def test_the_licence_is_wanted_in_every_shift_that_is_worked() -> None:
    late = crew("Late mechanics", 2, "Late")
    work = stage("Work", 1, man_hours={"Mechanic": 32.0, "Certifier": 1.0})
    assert short(work, MECHANICS, late, certifiers("Early")) == pytest.approx(16.0)
    assert short(work, MECHANICS, late, certifiers("Early"), certifiers("Late")) == pytest.approx(
        0.0
    )
    # One in between meets both.
    assert short(work, MECHANICS, late, certifiers("Middle")) == pytest.approx(0.0)


def test_the_licence_is_wanted_on_every_day_that_is_worked() -> None:
    work = stage("Work", 2, man_hours={"Mechanic": 32.0, "Certifier": 1.0})
    gone = away("Certifiers Early", 1, 1)
    assert short(work, MECHANICS, certifiers("Early"), absences=gone) == pytest.approx(16.0)


def test_a_licence_is_wanted_in_the_days_in_which_its_work_is_done() -> None:
    """All certifying of two weeks lies in the first one: the second needs no certifier."""
    work = stage("Work", 14, man_hours={"Mechanic": 32.0, "Certifier": 8.0}, daily_peak=2.0)
    weeks = (("Mechanic", "2027-W01"), ("Mechanic", "2027-W02"), ("Certifier", "2027-W01"))
    stated = tuple(
        WeekHours(skill, week, hours)
        for (skill, week), hours in zip(weeks, (16.0, 16.0, 8.0), strict=True)
    )
    gone = away("Certifiers Early", 1, *range(7, 14))
    base_ = base([package(work)], [MECHANICS, certifiers("Early")], absences=gone)
    placement = placed("C1", ("Work", 0, 14))
    levelled = replace(placement, stages=(replace(placement.stages[0], hours=stated),))
    for first, given in ((0, 24.0), (7, 16.0)):
        result = staffed(base_, levelled, first_day=day(first))
        assert result.audit.given == pytest.approx(given)
    # Evenly 4 h of certifying lie in the second week, and nobody is there for them.
    assert staffed(base_, placement, first_day=day(7)).audit.given == 0.0


def test_one_who_is_there_for_the_licence_may_give_no_hours_of_it() -> None:
    """8 h of certifying are done in the early shift; in the late one somebody is only there."""
    late = crew("Late mechanics", 2, "Late")
    work = stage("Work", 1, man_hours={"Mechanic": 32.0, "Certifier": 8.0})
    result = one_stage(work, [MECHANICS, late, certifiers("Early"), certifiers("Late")])
    assert result.audit.short == pytest.approx(0.0)
    there = {a.shift for a in result.plan.attendance if a.skill == "Certifier"}
    assert there == {"Early", "Late"}


def test_two_skills_of_one_licence_stand_in_for_each_other() -> None:
    avionics = Skill("Avionics", 60.0, 9.0, 80.0, 0.0, licence="B1")
    skills = (MECHANIC, avionics, Skill("Certifier", 60.0, 9.0, 80.0, 0.0, licence="B1"))
    work = stage("Work", 1, man_hours={"Mechanic": 16.0, "Certifier": 1.0, "Avionics": 1.0})
    of_avionics = crew("Avionics", 1, skills=("Avionics",))
    assert short(work, MECHANICS, of_avionics, skills=skills) == pytest.approx(1.0)
    other = (*skills[:2], Skill("Certifier", 60.0, 9.0, 80.0, 0.0, licence="C"))
    assert short(work, MECHANICS, of_avionics, skills=other) == pytest.approx(18.0)


CRITICAL = stage("Work", 1, hours=4.0, critical=True)


def test_critical_work_is_not_done_by_one_alone() -> None:
    assert short(CRITICAL, crew("One", 1)) == pytest.approx(4.0)
    assert short(stage("Work", 1, hours=4.0), crew("One", 1)) == pytest.approx(0.0)


def test_critical_work_is_done_by_two() -> None:
    result = one_stage(CRITICAL, [MECHANICS])
    assert result.audit.short == pytest.approx(0.0)
    assert sum(there.heads for there in result.plan.attendance) == 2


def test_two_crews_of_one_are_two_people() -> None:
    assert short(CRITICAL, crew("One", 1), crew("Other", 1)) == pytest.approx(0.0)
    assert short(CRITICAL, crew("One", 1), crew("Other", 1, "Late")) == pytest.approx(4.0)
    assert short(CRITICAL, crew("One", 1), crew("Other", 1, "Middle")) == pytest.approx(0.0)


def test_quarters_of_a_shift_of_one_person_are_not_two_people() -> None:
    result = one_stage(CRITICAL, [crew("One", 1)], {"parts": 4})
    assert result.audit.short == pytest.approx(4.0)
    result = one_stage(CRITICAL, [MECHANICS], {"parts": 4})
    assert result.audit.short == pytest.approx(0.0)


def test_the_two_are_qualified_where_a_licence_is_asked_for() -> None:
    """Two mechanics do not inspect for each other where the stage asks for certifiers."""
    work = stage("Work", 1, man_hours={"Mechanic": 8.0, "Certifier": 2.0}, critical=True)
    assert short(work, MECHANICS, certifiers("Early")) == pytest.approx(10.0)
    assert short(work, MECHANICS, certifiers("Early", heads=2)) == pytest.approx(0.0)


def test_one_person_with_two_licences_is_one_person() -> None:
    skills = tuple(Skill(k, 60.0, 9.0, 80.0, 0.0, licence=k) for k in ("B1", "B2"))
    work = stage("Work", 1, man_hours={"B1": 2.0, "B2": 2.0}, critical=True)
    both = crew("Both", 1, skills=("B1", "B2"))
    for parts in (1, 4):
        settings = {"parts": parts}
        alone = one_stage(work, [both], settings, skills=skills)
        assert alone.audit.short == pytest.approx(4.0)
        pair = one_stage(work, [both, crew("Other", 1, skills=("B2",))], settings, skills=skills)
        assert pair.audit.short == pytest.approx(0.0)
