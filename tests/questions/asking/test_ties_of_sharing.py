"""Hours that can be shared out in several ways for the same money are told as no difference."""

from dataclasses import replace
from datetime import date, timedelta
from math import fsum
from random import Random

import numpy as np
import pytest
from scipy.optimize import linprog

from capacity.facts import Base as Facts
from capacity.facts import Crew, Employment, Skill, Stage, Status
from capacity.plans.audit import Auditor
from capacity.plans.plan import Plan
from capacity.questions.asking.differences import costs_between, hours_more
from capacity.questions.compare.two_plans import compare
from tests.bases import BAY, TWIN
from tests.plans.stories import base, check, day, package, placed, plan

WEEKS = 6
SKILLS = ("Airframe", "Cabin", "Avionics", "Structures")
SOURCES = ("overtime", "contract", "overload")


def mixed(rng: Random) -> tuple[Facts, Plan, Plan, str]:
    """Draw crews of several skills, and two plans that differ in one check in one week.

    A check of five days comes in on each Monday, each into a bay of its own, and asks more than
    there is of some skills; one more stands in one plan only. Prices are alike, so that many
    sharings cost the same.
    """
    cost = float(rng.choice([60, 80]))
    skills = tuple(
        Skill(name, cost, rng.choice([0.0, 0.1, 0.2]), 80.0, rng.choice([0.0, 0.1]))
        for name in SKILLS
    )
    other = replace(TWIN, name="Wide")
    packages = tuple(
        package(
            Stage(
                "Work",
                "maintenance",
                5,
                {name: float(rng.randint(40, 160)) for name in rng.sample(SKILLS, 3)},
            ),
            name=f"P{number}",
        )
        for number in range(WEEKS + 1)
    )
    shared = rng.randrange(WEEKS)
    weeks = [*range(WEEKS), shared]
    checks = [
        replace(
            check(f"C{n}", package=f"P{n}", earliest_in=day(7 * week), latest_in=day(7 * week)),
            type=rng.choice(["Twin", "Wide"]),
        )
        for n, week in enumerate(weeks)
    ]
    checks[-1] = replace(checks[-1], status=Status.OPTION)
    crews = tuple(
        Crew(
            f"Crew {number}",
            tuple(rng.sample(SKILLS, rng.randint(1, 3))),
            heads=rng.randint(1, 2),
            pattern="Daily",
            starts_cycle_on=day(0),
            types=rng.choice([frozenset[str](), frozenset({"Twin"})]),
            employment=rng.choice([Employment.EMPLOYED, Employment.EMPLOYED, Employment.CONTRACT]),
        )
        for number in range(rng.randint(3, 7))
    )
    facts = base(
        *checks,
        weeks=WEEKS,
        skills=skills,
        types=(TWIN, other),
        packages=packages,
        crews=crews,
        bays=tuple(replace(BAY, name=f"B{n}") for n in range(len(checks))),
    )
    stands = [
        placed(f"C{n}", 7 * week, ("Work", 7 * week, 7 * week + 5), bay=f"B{n}")
        for n, week in enumerate(weeks)
    ]
    name = checks[-1].name
    return facts, plan(*stands[:-1], refused=(name,)), plan(*stands), f"2027-W{shared + 1:02}"


@pytest.mark.parametrize("seed", range(40))
def test_one_check_in_one_week_changes_the_hours_of_that_week_alone(seed: int) -> None:
    """In either direction, and what is told adds up to what the plans cost more."""
    facts, first, second, week = mixed(Random(seed))
    for old, new in ((first, second), (second, first)):
        told = compare(facts, old, new)
        assert (told.first.broken, told.second.broken) == ((), ())
        more = hours_more(told.first, told.second)
        assert {one.week for one in more} <= {week}
        assert {o.week for o in told.overloads if abs(o.first - o.second) > 1e-6} <= {week}
        costs = {skill.name: skill for skill in facts.skills}
        paid = fsum(
            one.overtime * costs[one.skill].overtime_cost
            + one.contract * costs[one.skill].contract_cost
            + one.overload * facts.overload_cost
            for one in more
        )
        labour = costs_between(told.first, told.second, ()).labour
        assert paid == pytest.approx(labour, abs=1e-3)
        assert labour == pytest.approx(told.second.goals.money - told.first.goals.money, abs=1e-3)
        alone = Auditor(facts).audit(new).goals
        assert told.second.goals.money == pytest.approx(alone.money, abs=1e-3)
        assert told.second.goals.overload_hours == pytest.approx(alone.overload_hours, abs=1e-3)


@pytest.mark.parametrize("seed", range(40))
def test_the_week_that_changes_is_as_near_to_the_old_one_as_its_money_allows(seed: int) -> None:
    """Second solution: one linear program, written down here from the contract alone."""
    facts, first, second, week = mixed(Random(seed))
    told = compare(facts, first, second)
    old = [load for load in told.first.weeks if load.week == week]
    new = [load for load in told.second.weeks if load.week == week]
    distance = fsum(
        abs(getattr(a, source) - getattr(b, source))
        for a, b in zip(old, new, strict=True)
        for source in SOURCES
    )
    there = np.array([[getattr(load, source) for source in SOURCES] for load in old])
    assert distance == pytest.approx(least_distance(facts, second, week, there), abs=1e-3)


def least_distance(facts: Facts, made: Plan, week: str, there: np.ndarray) -> float:
    """Return the least sum of differences over skills and sources at the least money.

    Columns: crew x skill x type, then overtime, contract cap and overload of each skill and
    type; in the second program those by which each sum lies above and below what was there.
    """
    monday = date.fromisocalendar(2027, int(week[-2:]), 1)
    checks = {one.name: one for one in facts.checks}
    hours = {p.name: p.stages[0].man_hours for p in facts.packages}
    asked = {(skill.name, t.name): 0.0 for skill in facts.skills for t in facts.types}
    for one in made.placements:
        if monday <= one.in_day < monday + timedelta(days=7):
            aircraft = checks[one.check]
            for skill, wanted in hours[aircraft.package].items():
                asked[skill, aircraft.type] += wanted
    have = {crew.name: crew.heads * 70.0 for crew in facts.crews}
    sources: list[tuple[str, str, str, float]] = []  # skill, type, source, price
    limits: list[tuple[list[int], float]] = []
    for crew in facts.crews:
        mine = []
        for skill in facts.skills:
            for t in facts.types:
                if skill.name in crew.skills and (not crew.types or t.name in crew.types):
                    mine.append(len(sources))
                    employed = crew.employment is Employment.EMPLOYED
                    price = 0.0 if employed else skill.contract_cost
                    source = "regular" if employed else "contract"
                    sources.append((skill.name, t.name, source, price))
        limits.append((mine, have[crew.name]))
    for skill in facts.skills:
        own = fsum(
            have[c.name]
            for c in facts.crews
            if c.skills[0] == skill.name and c.employment is Employment.EMPLOYED
        )
        for source, cap, price in (
            ("overtime", skill.overtime_cap * own, skill.overtime_cost),
            ("contract", skill.contract_cap * own, skill.contract_cost),
            ("overload", np.inf, facts.overload_cost),
        ):
            mine = list(range(len(sources), len(sources) + len(facts.types)))
            sources += [(skill.name, t.name, source, price) for t in facts.types]
            limits += [] if np.isinf(cap) else [(mine, cap)]
    width, told = len(sources), len(facts.skills) * len(SOURCES)
    upper = np.zeros((len(limits) + 1, width + 2 * told))
    for row, (columns, _) in enumerate(limits):
        upper[row, columns] = 1.0
    upper[-1, :width] = [price for *_, price in sources]
    right = [most for _, most in limits]
    equal = np.zeros((len(asked) + told, width + 2 * told))
    sides = [*asked.values(), *there.ravel()]
    for row, key in enumerate(asked):
        equal[row, :width] = [(skill, t) == key for skill, t, *_ in sources]
    pairs = [(skill.name, source) for skill in facts.skills for source in SOURCES]
    for row, pair in enumerate(pairs):
        equal[len(asked) + row, :width] = [(s, source) == pair for s, _, source, _ in sources]
        equal[len(asked) + row, width + 2 * row : width + 2 * row + 2] = [-1.0, 1.0]
    money = linprog(
        upper[-1],
        A_ub=upper[:-1],
        b_ub=right,
        A_eq=equal[: len(asked)],
        b_eq=sides[: len(asked)],
    )
    distance = np.zeros(width + 2 * told)
    distance[width:] = 1.0
    found = linprog(distance, A_ub=upper, b_ub=[*right, money.fun + 1e-6], A_eq=equal, b_eq=sides)
    return float(found.fun)


def test_weeks_gone_by_are_not_told_as_overloaded() -> None:
    """A week that ended before today is left out, the week of today is told."""
    facts, first, second, week = overloaded()
    monday = date.fromisocalendar(2027, int(week[-2:]), 1)
    sunday = monday + timedelta(days=6)
    for today, there in ((None, True), (sunday, True), (sunday + timedelta(days=1), False)):
        told = compare(facts, first, second, today=today)
        assert (week in {pair.week for pair in told.overloads}) is there


def overloaded() -> tuple[Facts, Plan, Plan, str]:
    """Return the first drawn pair of plans of which one overloads the week where they differ."""
    for seed in range(40):
        facts, first, second, week = mixed(Random(seed))
        if any(o.week == week for o in compare(facts, first, second).overloads):
            return facts, first, second, week
    raise AssertionError("no draw overloads its week")
