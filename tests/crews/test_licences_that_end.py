"""Crew plans keep to licences that end, person by person."""

from dataclasses import replace
from random import Random

import pytest

from capacity.crews.assign import assign_crews
from capacity.crews.crew_audit import audit_crews
from capacity.facts import Base, Licence
from capacity.plans.plan import Plan
from tests.bases import day
from tests.crews.random_bases import to_staff
from tests.crews.stories import SETTINGS, base, crew, one_stage, package, placed, staffed, stage

WORK = stage("Work", 2, hours=32.0)
"""Two mechanics on each of two days of eight hours."""


def lost(people: int, until: int, of: str = "Mechanic") -> tuple[Licence, ...]:
    return (Licence("Two", of, people, day(until)),)


@pytest.mark.parametrize(
    ("rows", "short"),
    [
        ((), 0.0),
        (lost(1, -1), 16.0),
        (lost(1, 0), 8.0),
        (lost(2, 0), 16.0),
        (lost(1, 1), 0.0),
        (lost(1, -1, of="Twin"), 16.0),
        (lost(1, -1, of="Tanker"), 0.0),
        (lost(1, 0, of="Twin") + lost(1, -1), 16.0),
    ],
)
def test_hours_end_with_the_licence(rows: tuple[Licence, ...], short: float) -> None:
    """A licence that ends before the first day takes a person's eight hours on both days."""
    result = one_stage(WORK, [crew("Two", 2)], licences=rows)
    assert result.audit.short == pytest.approx(short)


def test_they_still_work_in_the_crew_s_other_skills() -> None:
    """Sixteen hours a day of each of two skills; one of four people has lost the first one."""
    both = stage("Work", 1, hours=0.0, man_hours={"Mechanic": 24.0, "Certifier": 8.0})
    team = crew("Two", 4, skills=("Mechanic", "Certifier"))
    assert one_stage(both, [team], licences=lost(1, -1)).audit.short == 0.0
    assert one_stage(both, [team], licences=lost(2, -1)).audit.short == pytest.approx(8.0)
    same = lost(1, -1) + lost(1, -1, of="Certifier")
    assert one_stage(both, [team], licences=same).audit.short == pytest.approx(8.0)


def test_the_audit_tells_a_plan_that_does_not_keep_to_it() -> None:
    of = base([package(WORK)], [crew("Two", 2)])
    stays = placed("C1", ("Work", 0, 2))
    made = staffed(of, stays).plan
    with_end = of.replace(licences=lost(1, 0))
    told = audit_crews(made, Plan((stays,)), with_end, SETTINGS).broken
    assert told == (
        "Two on Tue 5 Jan 2027: 2 people at work for which the licences of 1 have ended, 2 "
        "present.",
    )


def with_licences(of: Base, random: Random) -> Base:
    rows = []
    for one in of.crews:
        for name in (*one.skills, *(sorted(one.types) or ["Twin", "Tanker"])):
            if random.random() < 0.4:
                until = day(random.randint(-2, 6))
                rows.append(Licence(one.name, name, random.randint(1, one.heads), until))
    return of.replace(licences=tuple(rows))


@pytest.mark.parametrize("seed", range(200, 206))
def test_random_bases_are_staffed_as_the_audit_has_it(seed: int) -> None:
    drawn = to_staff(seed)
    of = with_licences(drawn.base, Random(seed))
    settings = replace(drawn.settings, seconds=min(drawn.settings.seconds, 3.0))
    assert assign_crews(of, drawn.plan, settings).audit.broken == ()


def test_nobody_works_without_a_licence_that_has_ended() -> None:
    """The only certifier loses the licence after the first day; without one no work goes on."""
    work = stage("Work", 2, hours=0.0, man_hours={"Mechanic": 32.0, "Certifier": 2.0})
    crews = [crew("Two", 2), crew("Certifiers", 1, skills=("Certifier",))]
    assert one_stage(work, crews).audit.short == 0.0
    ends = (Licence("Certifiers", "Certifier", 1, day(0)),)
    assert one_stage(work, crews, licences=ends).audit.short == pytest.approx(16.0)
