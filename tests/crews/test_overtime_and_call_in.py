"""Hours beyond the shifts: a little a head, so much a week, and one day off in seven."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from capacity.crews.crew_audit import CrewAudit
from capacity.facts import Absence, Crew, Pattern
from tests.crews.stories import (
    CERTIFIER,
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

TWO = crew("Two", 2)
LONGER = {"overtime_hours": 2.0}


@pytest.mark.parametrize(
    ("asked", "overtime", "missing"), [(16.0, 0.0, 0.0), (20.0, 4.0, 0.0), (21.0, 4.0, 1.0)]
)
def test_each_head_may_stay_two_hours(asked: float, overtime: float, missing: float) -> None:
    audit = one_stage(stage("Work", 1, hours=asked), [TWO], LONGER).audit
    assert audit.overtime == pytest.approx(overtime)
    assert audit.short == pytest.approx(missing)


def test_overtime_counts_by_productivity() -> None:
    audit = one_stage(stage("Work", 1, hours=20.0), [TWO], LONGER, productivity=0.5).audit
    assert audit.overtime == pytest.approx(2.0)
    assert audit.short == pytest.approx(10.0)


def test_contract_people_work_no_overtime() -> None:
    hired = crew("Hired", 2, contract=True)
    assert one_stage(stage("Work", 1, hours=20.0), [hired], LONGER).audit.short == 4.0


def test_most_heads_hold_overtime_too() -> None:
    work = stage("Work", 1, hours=20.0, max_heads=2)
    assert one_stage(work, [TWO], LONGER).audit.short == pytest.approx(4.0)


@pytest.mark.parametrize(("cap", "missing"), [(4 / 112, 0.0), (3 / 112, 1.0), (0.0, 4.0)])
def test_overtime_of_a_week_is_at_most_its_cap(cap: float, missing: float) -> None:
    """Two people give 112 regular hours in a week of seven early shifts."""
    skills = (replace(MECHANIC, overtime_cap=cap), CERTIFIER)
    audit = one_stage(stage("Work", 1, hours=20.0), [TWO], LONGER, skills=skills).audit
    assert audit.short == pytest.approx(missing, abs=0.011)


def test_the_cap_is_one_for_all_days_of_the_week() -> None:
    """4 h may be added on each day, 6 in the week: on two days 2 h are short, over two weeks 0."""
    skills = (replace(MECHANIC, overtime_cap=6 / 112), CERTIFIER)
    base_ = base([package(stage("Work", 2, hours=40.0))], [TWO], skills=skills)
    one_week = staffed(base_, placed("C1", ("Work", 1, 3)), weeks=2, **LONGER).audit
    assert one_week.short == pytest.approx(2.0, abs=0.011)
    assert one_week.overtime == pytest.approx(6.0, abs=0.011)
    sunday_and_monday = staffed(base_, placed("C1", ("Work", 6, 8)), weeks=2, **LONGER).audit
    assert sunday_and_monday.short == pytest.approx(0.0, abs=0.011)


def test_a_week_staffed_in_part_has_its_share_of_the_cap() -> None:
    """From Thursday on four of seven days: 4 h of 7."""
    skills = (replace(MECHANIC, overtime_cap=7 / 112), CERTIFIER)
    base_ = base([package(stage("Work", 2, hours=40.0))], [TWO], skills=skills)
    stay = placed("C1", ("Work", 3, 5))
    audit = staffed(base_, stay, first_day=day(3), **LONGER).audit
    assert audit.overtime == pytest.approx(4.0, abs=0.011)
    assert audit.short == pytest.approx(4.0, abs=0.011)


MONDAYS = Pattern("Mondays", ("Early", *[None] * 6))


def called_in(
    hours: float, *days: int, crews: Iterable[Crew] = (), absences: Iterable[Absence] = (), **more
) -> CrewAudit:
    """Ask ``hours`` on each of some days, on which two people have a day off; one check each."""
    packages = [package(stage("Work", 1, hours=hours), name=f"On day {n}") for n in days]
    base_ = base(
        packages,
        crews or [crew("Two", 2, "Mondays")],
        skills=(replace(MECHANIC, overtime_cap=99.0), CERTIFIER),
        patterns=(MONDAYS,),
        absences=tuple(absences),
    )
    stays = [placed(f"C{n + 1}", ("Work", on, on + 1)) for n, on in enumerate(days)]
    return staffed(base_, *stays, **{"call_in": True, "weeks": 2, **more}).audit


def test_nobody_is_called_in_where_the_base_does_not_want_it() -> None:
    assert called_in(16.0, 1, call_in=False).short == pytest.approx(16.0)


def test_people_called_in_give_overtime_only() -> None:
    audit = called_in(16.0, 1)
    assert (audit.short, audit.overtime) == (pytest.approx(0.0), pytest.approx(16.0))
    assert called_in(17.0, 1).short == pytest.approx(1.0)


def test_people_called_in_stay_no_longer_than_the_shift() -> None:
    assert called_in(17.0, 1, **LONGER).short == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("days", "missing"), [((1, 2), 16.0), ((2, 8), 16.0), ((1, 8), 0.0), ((1, 4, 8), 16.0)]
)
def test_in_any_seven_days_each_is_called_in_once(days: tuple[int, ...], missing: float) -> None:
    assert called_in(16.0, *days).short == pytest.approx(missing)


def test_some_are_called_in_on_one_day_and_others_on_the_next() -> None:
    assert called_in(8.0, 1, 2).short == pytest.approx(0.0)
    assert called_in(8.0, 1, 2, 3).short == pytest.approx(8.0)


def test_a_regular_day_in_between_does_not_count() -> None:
    """Day 7 is a Monday of the pattern."""
    assert called_in(16.0, 5, 7).short == pytest.approx(0.0)


def test_the_cap_of_the_week_holds_for_people_called_in() -> None:
    """Two people give 16 regular hours a week; at 0.5 of them one person may be called in."""
    half = (replace(MECHANIC, overtime_cap=0.5), CERTIFIER)
    base_ = base(
        [package(stage("Work", 1, hours=16.0))],
        [crew("Two", 2, "Mondays")],
        skills=half,
        patterns=(MONDAYS,),
    )
    audit = staffed(base_, placed("C1", ("Work", 1, 2)), call_in=True).audit
    assert (audit.short, audit.overtime) == (pytest.approx(8.0), pytest.approx(8.0))


def test_contract_people_are_not_called_in() -> None:
    hired = crew("Hired", 2, "Mondays", contract=True)
    # Employed people on the Monday make a cap that would let them.
    employed = crew("Employed", 2, "Mondays", types=frozenset({"Tanker"}))
    assert called_in(16.0, 1, crews=[hired, employed]).short == pytest.approx(16.0)


def test_people_absent_are_not_called_in() -> None:
    assert called_in(16.0, 1, absences=away("Two", 1, 1)).short == pytest.approx(8.0)


def test_people_are_called_in_for_the_shift_that_they_work_most() -> None:
    nights = Pattern("Nights", ("Night", "Night", "Early", *[None] * 4))
    night_crew = crew("Two", 2, "Nights")
    by_day = base(
        [package(stage("Work", 1, hours=16.0, by_night=False))],
        [night_crew],
        skills=(replace(MECHANIC, overtime_cap=99.0), CERTIFIER),
        patterns=(nights,),
    )
    stay = placed("C1", ("Work", 4, 5))
    assert staffed(by_day, stay, call_in=True).audit.short == pytest.approx(16.0)
    nights_too = by_day.replace(packages=(package(stage("Work", 1, hours=16.0)),))
    called = staffed(nights_too, stay, call_in=True)
    assert called.audit.short == pytest.approx(0.0)
    assert {there.shift for there in called.plan.attendance} == {"Night"}


def test_without_overtime_nothing_is_bought_at_a_higher_price() -> None:
    """Overtime is worked only when the shifts do not do."""
    assert short(stage("Work", 2, hours=32.0), TWO) == 0.0
    audit = one_stage(stage("Work", 2, hours=32.0), [TWO], {**LONGER, "call_in": True}).audit
    assert audit.overtime == 0.0
