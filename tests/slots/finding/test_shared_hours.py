"""The cuts price a week's shared hours as a linear program does."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.random import Generator, default_rng
from scipy.optimize import linprog

from capacity.facts import Base, Crew, Employment, Package, Skill, Stage
from capacity.labour.available import available_hours
from capacity.labour.calendar import calendar_of
from capacity.labour.kinds import kinds_of
from capacity.labour.supply import Supply
from capacity.slots.finding.ruin_recreate import RuinRecreate
from capacity.slots.program.hours import hours_of
from tests.bench.invented_hangar import invented_hangar
from tests.reference import stories
from tests.slots.building import Built, built, nothing

MONDAY = date(2027, 1, 4)
SKILLS = tuple(Skill(name, 40.0, 0.2, 60.0, 0.1) for name in ("Engine", "Airframe", "Avionics"))


def crew(name: str, *skills: str, heads: int = 5, **changes: object) -> Crew:
    return Crew(name, skills, heads, "Daily", MONDAY, **changes)


def base_of(*crews: Crew, **changes: object) -> Base:
    return stories.base(stories.bays(1), crews=crews, skills=SKILLS, **changes)


def supply_of(base: Base) -> Supply:
    return available_hours(base, calendar_of(base))


def solved(supply: Supply, excess: np.ndarray) -> float:
    """Price the excess of one week by a linear program of its own."""
    pools, kinds = np.nonzero(supply.serves)
    rows = [(pools == p).astype(float) for p in range(len(supply.pool_names))]
    room = supply.pool_hours[:, 0]
    bounded = [p for p in range(len(rows)) if np.isfinite(room[p])]
    answer = linprog(
        supply.pool_price[pools, kinds],
        A_ub=np.array([rows[p] for p in bounded]),
        b_ub=room[bounded],
        A_eq=np.array([(kinds == k).astype(float) for k in range(supply.kinds)]),
        b_eq=excess[0],
    )
    return float(answer.fun)


def any_base(rng: Generator) -> Base:
    """A few crews with one to three skills; overtime and contract at different prices."""
    names = [skill.name for skill in SKILLS]
    crews = [
        crew(
            f"C{number}",
            *rng.permutation(names)[: rng.integers(1, 4)],
            heads=int(rng.integers(1, 6)),
        )
        for number in range(rng.integers(1, 5))
    ]
    skills = tuple(
        Skill(name, float(rng.integers(20, 60)), 0.2, float(rng.integers(20, 60)), 0.3)
        for name in names
    )
    return base_of(*crews).replace(skills=skills)


@given(seed=st.integers(0, 10_000))
@settings(deadline=None, max_examples=80)
def test_the_cheapest_sharing_costs_what_the_cuts_say(seed: int) -> None:
    rng = default_rng(seed)
    supply = supply_of(any_base(rng))
    load = np.zeros(supply.regular.shape)
    load[0] = rng.uniform(0, 900, supply.kinds) * (rng.random(supply.kinds) < 0.8)
    hours = hours_of(supply)
    assert hours.cuts.is_exact
    expected = solved(supply, hours.excess(load.ravel()))
    assert hours.money(load.ravel()) == pytest.approx(expected, abs=1e-4)


def test_contract_crews_that_cost_differently_by_skill_are_solved() -> None:
    skills = (Skill("Engine", 90.0, 0.0, 50.0, 0.0), Skill("Airframe", 90.0, 0.0, 30.0, 0.0))
    agency = crew("Agency", "Engine", "Airframe", employment=Employment.CONTRACT)
    base = base_of(agency).replace(skills=skills, overload_cost=100.0)
    supply = supply_of(base)
    hours = hours_of(supply)
    assert not hours.cuts.is_exact
    load = np.zeros(supply.regular.shape)
    load[0] = 300.0, 300.0
    # 5 people x 7 days x 10 h = 350 contract hours. An hour of it saves 50 in Engine and 70 in
    # Airframe against overload: 300 go to Airframe, 50 to Engine, 250 are overload.
    assert hours.money(load.ravel()) == pytest.approx(300 * 30 + 50 * 50 + 250 * 100)


def test_a_crew_of_two_skills_is_counted_once() -> None:
    supply = supply_of(base_of(crew("Both", "Engine", "Airframe")))
    load = np.zeros(supply.regular.shape)
    load[0, :2] = 200.0, 200.0
    # 350 hours for 400 asked: 50 overtime of Engine, whose own crew it is (cap 20 % of 350).
    assert hours_of(supply).money(load.ravel()) == pytest.approx(50 * 40.0)


def test_types_split_a_skill_only_where_a_crew_tells_them_apart() -> None:
    types = tuple(stories.base(stories.bays(1)).types)
    other = type(types[0])("Wide", 60.0, 60.0, 17.0)
    crews = crew("All", "Engine"), crew("Twins", "Airframe", types=frozenset({"Twin"}))
    kinds = kinds_of(base_of(*crews).replace(types=(*types, other)))
    assert [(kind.skill, sorted(kind.types)) for kind in kinds] == [
        ("Engine", ["Twin", "Wide"]),
        ("Airframe", ["Twin"]),
        ("Airframe", ["Wide"]),
        ("Avionics", ["Twin", "Wide"]),
    ]


def test_hours_for_one_type_do_not_help_another() -> None:
    types = tuple(stories.base(stories.bays(1)).types)
    other = type(types[0])("Wide", 60.0, 60.0, 17.0)
    base = base_of(crew("Twins", "Engine", types=frozenset({"Twin"})))
    supply = supply_of(base.replace(types=(*types, other)))
    load = np.zeros(supply.regular.shape)
    load[0, :2] = 0.0, 100.0
    # 350 idle hours for the twins; the wide one gets 70 overtime and 30 contract hours.
    assert hours_of(supply).money(load.ravel()) == pytest.approx(70 * 40.0 + 30 * 60.0)


@pytest.fixture(scope="module")
def hangar() -> Built:
    return built(invented_hangar(1).replace(longest_wait_days=0))


def test_the_compiled_rounds_price_shared_hours_as_the_program_does(hangar: Built) -> None:
    search = RuinRecreate(hangar.program, nothing(hangar.program), seed=3)
    search.rounds(400, 5000.0, 1e6)
    days, money = hangar.program.cost(search.best)
    assert (search.costs.best_days, search.costs.best_money) == pytest.approx((days, money))
    assert hangar.audited(search.best).goals.money == pytest.approx(money, abs=0.005)


@given(seed=st.integers(0, 10_000))
@settings(deadline=None, max_examples=25)
def test_a_check_goes_where_its_shared_hours_are_cheapest(seed: int) -> None:
    rng = default_rng(seed)
    base = any_base(rng)
    hours = {skill.name: float(rng.uniform(0, 900)) for skill in SKILLS}
    packages = tuple(
        Package(name, (Stage("Work", "maintenance", 5, asks),))
        for name, asks in (("there", hours), ("mine", {k: 0.3 * h for k, h in hours.items()}))
    )
    there = stories.fixed("F", 5, 0, "B1", package="there")
    mine = stories.visit("A", 5, 0, 9, package="mine")
    base = base.replace(bays=stories.bays(2), checks=(there, mine), packages=packages)
    program = built(base).program
    search = RuinRecreate(program, nothing(program), seed=1)
    search.rounds(100, 1e-6, 1e6)
    timely = np.flatnonzero(program.past == 0)
    cheapest = min(program.cost(timely[[column]])[1] for column in range(len(timely)))
    assert search.costs.best_money == pytest.approx(cheapest, abs=0.01)
    assert program.cost(search.best) == (0, pytest.approx(cheapest, abs=0.01))
