"""Hand-workable cases for shared skills, shared floor and moves between bays."""

from dataclasses import replace
from itertools import permutations

import pytest

import capacity
from capacity.facts import Bay, Check, Crew, Package, Skill, Stage
from tests.reference import stories
from tests.reference.stories import FIRST_DAY, bays, day, proven, visit

MONDAY_AND_TUESDAY = frozenset({0, 1})


def worked_days_taken(*crews: Crew) -> int:
    """Do three tasks of two days that need one person of skill x, y and z, as soon as can be.

    The base works two days a week, so that a week holds one task of each person.
    """
    tasks = tuple(
        Package(skill, (Stage("Work", "maintenance", 2, {skill: 20.0}),)) for skill in "xyz"
    )
    visits = [
        visit(skill, 2, 0, 7, package=skill, agreed_out=day(2), late_cost_per_day=1.0)
        for skill in "xyz"
    ]
    base = stories.base(bays(3), *visits, working_weekdays=MONDAY_AND_TUESDAY)
    outcome = proven(
        base.replace(
            packages=tasks,
            skills=tuple(Skill(skill, 50.0, 0.0, 70.0, 0.0) for skill in "xyz"),
            crews=crews,
        )
    )
    assert outcome.audit.goals.overload_hours == 0.0
    return 2 * len({placement.in_day for placement in outcome.plan.placements})


def person(name: str, *skills: str) -> Crew:
    return Crew(name, skills, 1, "Daily", FIRST_DAY)


def test_one_person_with_two_skills_is_no_two_people() -> None:
    """Counted by skill there are people enough for two days; the true optimum is four.

    Worked by hand: the one person who has both x and y can do one of the two tasks at a time.
    """
    assert worked_days_taken(person("A", "x", "y"), person("B", "z"), person("C", "z")) == 4
    assert worked_days_taken(person("A", "x"), person("B", "y"), person("C", "z")) == 2


def on_one_floor(last_in: int) -> capacity.Planned:
    """Two wide and four narrow visits of three days where a wide one takes two places."""
    wide = Bay("W", "North", 60.0, 60.0, 18.0, frozenset({"maintenance"}))
    narrow = bays(2)
    floor = replace(wide, shares_floor_with=frozenset(bay.name for bay in narrow))
    types = stories.base(narrow).types
    jumbo = replace(types[0], name="Jumbo", span_m=59.0)
    visits: list[Check] = [visit(f"W{n}", 3, 0, last_in, type="Jumbo") for n in range(2)]
    visits += [visit(f"N{n}", 3, 0, last_in) for n in range(4)]
    return proven(stories.base((*narrow, floor), *visits).replace(types=(*types, jumbo)))


def test_visits_on_one_floor_pack_like_items_into_bins() -> None:
    """Bin packing: items of sizes 2, 2, 1, 1, 1, 1 into bins of 2 need four bins.

    The sum of the sizes over the size of a bin is a lower bound that is reached here (worked
    by hand). A bin is a spell of three days: the fourth begins on day 9.
    """
    assert on_one_floor(last_in=9).audit.goals.days_past_latest_in == 0
    # With three bins of two places, one wide or two narrow visits are three days late.
    assert on_one_floor(last_in=6).audit.goals.days_past_latest_in == 3


JOBS = {"A": (3, 2), "B": (1, 4), "C": (2, 3), "D": (4, 1)}


def blocking_makespan(order: tuple[str, ...]) -> int:
    """Return the end of a two-machine flow shop without room to wait in between.

    Hall and Sriskandarajah, A survey of machine scheduling problems with blocking and no-wait
    in process, Operations Research 44 (1996) - from memory: a job holds the first machine
    until the second is free.
    """
    leaves_first, leaves_second = 0, 0
    for job in order:
        first, second = JOBS[job]
        leaves_first = max(leaves_first + first, leaves_second)
        leaves_second = leaves_first + second
    return leaves_second


def flow_shop(agreed: int) -> capacity.Planned:
    packages = tuple(
        Package(
            job, (Stage("Strip", "maintenance", a), Stage("Paint", "paint", b, after=("Strip",)))
        )
        for job, (a, b) in JOBS.items()
    )
    visits = [
        visit(job, 1, 0, 13, package=job, agreed_out=day(agreed), late_cost_per_day=100.0)
        for job in JOBS
    ]
    first = bays(1)[0]
    second = replace(first, name="P", work=frozenset({"paint"}))
    base = stories.base((first, second), *visits, longest_wait_days=5)
    return proven(base.replace(packages=packages))


def test_a_maintenance_and_a_paint_bay_are_a_flow_shop_with_blocking() -> None:
    """Feasible at the least makespan over all orders, and not a day earlier."""
    least = min(blocking_makespan(order) for order in permutations(JOBS))
    assert flow_shop(least).audit.goals.money == 0.0
    assert flow_shop(least - 1).audit.goals.money == pytest.approx(100.0)
