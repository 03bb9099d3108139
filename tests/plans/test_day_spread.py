"""The days of a week on which levelled work is done, so that least has to be bought.

Source of the second count: ``scipy.optimize.linprog`` over a program written down from the contract
alone; small weeks are worked by hand.
"""

from dataclasses import replace
from datetime import date, timedelta
from math import fsum
from random import Random

import numpy as np
import pytest
from scipy.optimize import linprog

from capacity.errors import AuditError
from capacity.facts import Base, Crew, Employment, Pattern, Skill
from capacity.plans import day_spread
from capacity.plans.audit import Auditor
from capacity.plans.day_by_day import DayShortage
from capacity.plans.day_spread import WeekWork, cheapest_days, least_cost, sources_of
from capacity.plans.man_hours import GivenHours
from capacity.plans.plan import Plan, WeekHours
from capacity.plans.skill_groups import skill_groups
from capacity.plans.worked_days import WorkedDays

from .stories import MECHANIC, base, check, day, package, placed, stage

SKILLS = ("Airframe", "Cabin", "Avionics")


def shortages(
    peak: float, cycle: tuple[str | None, ...], days: int = 7, **of_stage: object
) -> list[DayShortage]:
    """One stage of 70 h from Monday on, told as levelled; one crew of 2 x 10 h."""
    work = replace(stage("Work", days, hours=70), daily_peak=peak, **of_stage)
    of = base(
        check(package="Heavy", earliest_in=day(0)),
        packages=(package(work),),
        patterns=(Pattern("Some", cycle),),
        crews=(Crew("Crew", ("Mechanic",), 2, "Some", day(0)),),
    )
    placement = placed("C1", 0, ("Work", 0, days))
    if peak > 1.0:
        stated = replace(placement.stages[0], hours=(WeekHours("Mechanic", "2027-W01", 70.0),))
        placement = replace(placement, stages=(stated,))
    auditor, made = Auditor(of), Plan((placement,))
    found = auditor.audit(made)
    assert found.broken == ()
    return list(auditor.day_shortages(made, found))


def test_a_stage_is_worked_where_the_people_are_as_far_as_its_peak_goes() -> None:
    """Four days of 20 h. At 150 % a day takes 15: 60 h in four days, and 10 are left.

    Evenly 10 h on each of seven days: on three of them, 30 h, there is nobody. At 175 % all 70 h
    are done in the four days.
    """
    cycle = ("Day", "Day", "Day", "Day", None, None, None)
    (one,) = shortages(1.5, cycle)
    assert one.overtime == pytest.approx(10.0)
    assert (one.freest_bought, one.freest_overload) == (0.0, 0.0)
    (one,) = shortages(1.0, cycle)
    assert one.overtime + one.contract == pytest.approx(30.0)
    assert one.freest_bought == 0.0
    assert shortages(1.75, cycle) == []


def test_heads_hold_a_day_back() -> None:
    """One head of 10 h a day leaves no room for a peak."""
    cycle = ("Day", "Day", "Day", "Day", None, None, None)
    (one,) = shortages(1.75, cycle, max_heads=1)
    assert one.overtime + one.contract == pytest.approx(30.0)


def test_what_no_day_can_take_is_left_on_the_freest_days_too() -> None:
    """Three days hold 60 of the 70 h; the week has 140."""
    (one,) = shortages(2.0, ("Day",) * 7, days=3)
    assert (one.overtime, one.freest_bought) == (pytest.approx(10.0), pytest.approx(10.0))


def drawn(rng: Random) -> tuple[Base, list[WeekWork], GivenHours]:
    """Draw a week of three skills, crews of one to three of them, and work on some of its days."""
    skills = tuple(
        Skill(
            name,
            overtime_cost=float(rng.randint(40, 70)),
            overtime_cap=rng.choice([0.0, 0.1, 0.3]),
            contract_cost=float(rng.randint(40, 70)),
            contract_cap=rng.choice([0.0, 0.1]),
        )
        for name in SKILLS
    )
    patterns = tuple(
        Pattern(f"P{n}", tuple(rng.choice(["Day", "Day", None]) for _ in range(7)))
        for n in range(3)
    )
    crews = tuple(
        Crew(
            f"Crew {number}",
            tuple(rng.sample(SKILLS, rng.randint(1, 3))),
            heads=rng.randint(1, 3),
            pattern=f"P{number % 3}",
            starts_cycle_on=day(0),
            types=rng.choice([frozenset[str](), frozenset({"Twin"})]),
            employment=rng.choice([Employment.EMPLOYED, Employment.EMPLOYED, Employment.CONTRACT]),
        )
        for number in range(rng.randint(2, 6))
    )
    of = base(skills=skills, crews=crews, patterns=patterns)
    work = []
    for _ in range(rng.randint(2, 9)):
        days = tuple(sorted(day(n) for n in rng.sample(range(7), rng.randint(1, 7))))
        hours = float(rng.randint(1, 60))
        most = max(hours / len(days), hours * rng.choice([0.2, 0.4, 1.0]))
        work.append(WeekWork(rng.choice(SKILLS), rng.choice(("Twin", "Wide")), hours, days, most))
    return of, work, GivenHours(of, WorkedDays(of))


def second_cost(of: Base, work: list[WeekWork], given: GivenHours, last_resort: float) -> float:
    """Return the least cost by a program of hours of work, day and source, each a column."""
    columns: list[tuple[int, date, object, float]] = []
    for number, one in enumerate(work):
        skill = of.skill(one.skill)
        for when in one.days:
            for crew in of.crews:
                if one.skill in crew.skills and (not crew.types or one.aircraft in crew.types):
                    is_contract = crew.employment is Employment.CONTRACT
                    cost = skill.contract_cost if is_contract else 0.0
                    columns.append((number, when, (crew.name, when), cost))
            columns.append((number, when, ("overtime", one.skill), skill.overtime_cost))
            columns.append((number, when, ("contract", one.skill), skill.contract_cost))
            columns.append((number, when, ("overload", one.skill), last_resort))
    most: dict[object, float] = {}
    for crew in of.crews:
        for when in (day(n) for n in range(7)):
            most[crew.name, when] = given.on_day(when)[crew.name]
    for skill in of.skills:
        own = fsum(
            given.in_week(day(0))[crew.name]
            for crew in of.crews
            if crew.skills[0] == skill.name and crew.employment is Employment.EMPLOYED
        )
        most["overtime", skill.name] = skill.overtime_cap * own
        most["contract", skill.name] = skill.contract_cap * own
    rows, sides = [], []
    for source, hours in most.items():
        rows.append([float(column[2] == source) for column in columns])
        sides.append(hours)
    for number, one in enumerate(work):
        for when in one.days:
            rows.append([float(column[:2] == (number, when)) for column in columns])
            sides.append(one.most)
    sums = [[float(column[0] == number) for column in columns] for number in range(len(work))]
    solved = linprog(
        [column[3] for column in columns],
        A_ub=np.array(rows),
        b_ub=sides,
        A_eq=np.array(sums),
        b_eq=[one.hours for one in work],
    )
    return float(solved.fun)


@pytest.mark.parametrize("seed", range(60))
def test_the_cheapest_days_against_a_second_solution(seed: int) -> None:
    of, work, given = drawn(Random(seed))
    days, cost = cheapest_days(work, skill_groups(of), given, 500.0)
    assert cost == pytest.approx(second_cost(of, work, given, 500.0), abs=1e-4)
    for skill in SKILLS:
        asked = fsum(h for of_day in days.values() for (s, _), h in of_day.items() if s == skill)
        assert asked == pytest.approx(fsum(one.hours for one in work if one.skill == skill))


@pytest.mark.parametrize("seed", range(10))
def test_no_prices_prove_more_than_the_cheapest_days_cost(seed: int) -> None:
    rng = Random(seed)
    of, work, given = drawn(rng)
    _, cost = cheapest_days(work, skill_groups(of), given, 500.0)
    sources = [s for g in skill_groups(of) for s in sources_of(work, g, given, 500.0)]
    for _ in range(20):
        prices = [rng.choice((-5.0, 0.0, 0.0, 30.0, 60.0, 400.0)) for _ in sources]
        assert least_cost(work, sources, prices) <= cost + 1e-6


def test_days_that_are_not_proven_are_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    of, work, given = drawn(Random(7))
    assert cheapest_days(work, skill_groups(of), given, 500.0)[1] > 1.0
    monkeypatch.setattr(day_spread.CheapestFlow, "worth", lambda self, node: 0.0)
    with pytest.raises(AuditError, match="is proven"):
        cheapest_days(work, skill_groups(of), given, 500.0)


def test_a_day_before_the_first_takes_nothing() -> None:
    """Of 70 h over seven days, four of them planned, 40 are asked, and on those four days."""
    work = replace(stage("Work", 7, hours=70), daily_peak=2.0)
    of = base(
        check(package="Heavy", earliest_in=day(0)),
        packages=(package(work),),
        crews=(Crew("Crew", ("Mechanic",), 1, "Daily", day(0)),),
        skills=(MECHANIC,),
    ).replace(first_day=day(3))
    stay = Auditor(of)._layout.lay_out(of.checks[0], "B1", day(0))
    (found,) = day_spread.work_by_week([stay], of, holds_peaks=False).values()
    assert fsum(one.hours for one in found) == pytest.approx(40.0)
    assert {when for one in found for when in one.days} == {day(3) + timedelta(n) for n in range(4)}
