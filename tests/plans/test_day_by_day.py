"""Hours that fit a week but not its days."""

from dataclasses import replace
from math import fsum
from random import Random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from capacity.errors import AuditError
from capacity.facts import Absence, Base, Crew, Employment, Pattern, Skill, Stage
from capacity.plans import day_by_day
from capacity.plans.audit import Auditor
from capacity.plans.day_by_day import DayShortage
from capacity.plans.day_flow import least_unfit
from capacity.plans.shared_weeks import HoursSharing
from capacity.plans.sharing import cheapest_sharing
from capacity.plans.sharing_program import GroupWeek, SharingProgram, WeekPart
from capacity.plans.sharing_rows import Rows
from capacity.plans.skill_groups import SkillGroup
from tests.bases import TWIN

from .stories import MECHANIC, PLENTY, base, check, day, package, placed, plan, stage

NOTHING_BOUGHT = replace(MECHANIC, overtime_cap=0.0, contract_cap=0.0)
EIGHT = replace(PLENTY, name="Eight", heads=8)


def short(hours: float, days: int = 6, **changes: object) -> tuple[DayShortage, ...]:
    """Ask ``hours`` over days from Monday on of eight people, six man-hours a day each."""
    work = package(stage("Work", days, hours=hours))
    usual: dict[str, object] = {
        "packages": (work,),
        "crews": (EIGHT,),
        "skills": (NOTHING_BOUGHT,),
        "productivity": 0.6,
        "weeks": 1,
    }
    of = base(check(package="Heavy", earliest_in=day(0)), **(usual | changes))
    auditor = Auditor(of)
    made = plan(placed("C1", 0, ("Work", 0, days)))
    found = auditor.audit(made)
    assert found.broken == ()
    return auditor.day_shortages(made, found)


def test_what_is_asked_in_six_days_is_not_done_on_the_seventh() -> None:
    """330 h in six days: eight people give 6 x 48 = 288 h, so 42 h are left.

    The week has 7 x 48 = 336 h and no overload. Worked by hand.
    """
    (one,) = short(330)
    assert (one.week, one.skill) == ("2027-W01", "Mechanic")
    assert one.overload == pytest.approx(42)
    assert (one.overtime, one.contract, one.money) == (0.0, 0.0, 0.0)
    assert short(288) == ()
    assert short(330, days=7) == ()


def test_overtime_and_contract_labour_may_lie_on_any_day_up_to_their_caps() -> None:
    """10 % of 336 h are 33.6 h of overtime at 60, so 8.4 of the 42 h are left.

    With 1 % more of contract labour at 80, 3.36 h, 5.04 h are.
    """
    overtime = replace(NOTHING_BOUGHT, overtime_cap=0.1)
    (one,) = short(330, skills=(overtime,))
    assert (one.overload, one.overtime) == (pytest.approx(8.4), pytest.approx(33.6))
    assert one.money == pytest.approx(33.6 * 60)
    (one,) = short(330, skills=(replace(overtime, contract_cap=0.01),))
    assert (one.overload, one.contract) == (pytest.approx(5.04), pytest.approx(3.36))
    assert one.money == pytest.approx(33.6 * 60 + 3.36 * 80)


def test_who_is_away_on_a_day_lacks_on_that_day() -> None:
    """42 h a day are asked; with three away on Tuesday 30 h are there, and 12 h are left.

    The week has 336 - 18 h, more than the 252 h asked.
    """
    away = Absence("Eight", day(1), day(1), 3)
    (one,) = short(252, absences=(away,))
    assert one.overload == pytest.approx(12)


def test_a_contract_crew_gives_on_the_days_of_its_roster() -> None:
    """Two contract people on Sunday alone are no help in six days from Monday on."""
    sunday = Pattern("Sunday", (None,) * 6 + ("Day",))
    contract = replace(
        EIGHT, name="Contract", heads=2, pattern="Sunday", employment=Employment.CONTRACT
    )
    patterns = (Pattern("Daily", ("Day",)), sunday)
    (one,) = short(330, crews=(EIGHT, contract), patterns=patterns)
    assert one.overload == pytest.approx(42)
    every_day = replace(contract, pattern="Daily")
    (one,) = short(330, crews=(EIGHT, every_day), patterns=patterns)
    assert (one.overload, one.contract) == (0.0, pytest.approx(42))


def test_crews_of_several_skills_go_day_by_day_where_they_are_worth_most() -> None:
    """Mechanics lack 7 h a day; two painters who can do both have 12 h on three of six days."""
    painter = Skill("Painter", 60.0, 0.0, 80.0, 0.0)
    three_days = Pattern("Three", ("Day",) * 3 + (None,) * 4)
    both = Crew("Both", ("Painter", "Mechanic"), 2, "Three", day(0))
    (one,) = short(
        330,
        crews=(EIGHT, both),
        skills=(NOTHING_BOUGHT, painter),
        patterns=(Pattern("Daily", ("Day",)), three_days),
    )
    assert (one.skill, one.overload) == ("Mechanic", pytest.approx(3 * 7))


def test_an_overload_of_the_week_is_not_told_again() -> None:
    """Of 350 h the week lacks 14 h and the days 62 h: 48 h more."""
    (one,) = short(350)
    assert one.overload == pytest.approx(48)


def test_it_costs_nothing_and_breaks_no_rule() -> None:
    """The money of the plan is that of its weeks."""
    work = package(stage("Work", 6, hours=330))
    of = base(
        check(package="Heavy", earliest_in=day(0)),
        packages=(work,),
        crews=(EIGHT,),
        skills=(NOTHING_BOUGHT,),
        productivity=0.6,
    )
    found = Auditor(of).audit(plan(placed("C1", 0, ("Work", 0, 6))))
    assert (found.goals.overload_hours, found.goals.money, found.broken) == (0.0, 0.0, ())


@pytest.mark.parametrize(
    ("overload_cost", "holds"), [(150.0, False), (160.0, False), (161.0, True)]
)
def test_overload_is_dearer_than_any_chain_of_hours_or_counts_may_differ(
    overload_cost: float, holds: bool
) -> None:
    """One skill, overtime at 60 and contract at 80: an hour pushes through two at the most, 160."""
    sharing = HoursSharing(base(overload_cost=overload_cost))
    assert sharing.holds_all_that_fits is holds


def test_a_second_count_that_finds_other_hours_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whichever of the two is wrong: nobody is told either."""
    for wrong in (0.0, 43.0):
        monkeypatch.setattr(day_by_day, "least_unfit", lambda week, wrong=wrong: wrong)
        with pytest.raises(AuditError, match=r"42\.00 h fit no day of a week"):
            short(330)


SKILLS = ("Airframe", "Cabin", "Avionics")


def drawn(rng: Random) -> GroupWeek:
    """Draw a week of three skills and crews of one to three of them, on some of seven days."""
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
    crews = tuple(
        Crew(
            f"Crew {number}",
            tuple(rng.sample(SKILLS, rng.randint(1, 3))),
            heads=1,
            pattern="Daily",
            starts_cycle_on=day(0),
            types=rng.choice([frozenset[str](), frozenset({"Twin"})]),
            employment=rng.choice([Employment.EMPLOYED, Employment.EMPLOYED, Employment.CONTRACT]),
        )
        for number in range(rng.randint(2, 5))
    )
    parts = tuple(
        WeekPart(
            {
                (skill, aircraft): float(rng.choice([0, 0, 5, 11, 20]))
                for skill in SKILLS
                for aircraft in (TWIN.name, "Wide")
            },
            {crew.name: float(rng.choice([0, 6, 12, 18])) for crew in crews},
        )
        for _ in range(7)
    )
    return GroupWeek(SkillGroup(skills, crews), parts)


@pytest.mark.parametrize("seed", range(40))
def test_sharing_over_days_against_a_second_solution(seed: int) -> None:
    """Money and hours that fit nowhere, by a program written down from the contract alone."""
    week = drawn(Random(seed))
    overload_cost = 500.0
    (found,) = cheapest_sharing([week], overload_cost)
    overload = fsum(hours.overload for hours in found.skills.values())
    money, least = second_solution(week, overload_cost)
    costs = {skill.name: skill for skill in week.group.skills}
    told = fsum(
        hours.overtime * costs[name].overtime_cost
        + hours.contract * costs[name].contract_cost
        + hours.overload * overload_cost
        for name, hours in found.skills.items()
    )
    assert told == pytest.approx(money, abs=1e-3)
    assert overload == pytest.approx(least, abs=1e-6)
    assert least_unfit(week) == pytest.approx(least, abs=1e-6)


def second_solution(week: GroupWeek, overload_cost: float) -> tuple[float, float]:
    """Return the least money and the least overload: each way to do an hour is a column.

    (day, skill, type, source), where a source is a crew on that day, or overtime, contract cap
    or overload of the skill.
    """
    ways: list[tuple[int, str, str, object, float]] = []
    for number, part in enumerate(week.parts):
        for skill, aircraft in part.asked:
            price = next(s for s in week.group.skills if s.name == skill)
            for crew in week.group.crews:
                if skill in crew.skills and (not crew.types or aircraft in crew.types):
                    contract = crew.employment is Employment.CONTRACT
                    cost = price.contract_cost if contract else 0.0
                    ways.append((number, skill, aircraft, (number, crew.name), cost))
            ways.append((number, skill, aircraft, ("overtime", skill), price.overtime_cost))
            ways.append((number, skill, aircraft, ("contract", skill), price.contract_cost))
            ways.append((number, skill, aircraft, ("overload", skill), overload_cost))
    most = {
        (number, crew.name): part.hours[crew.name]
        for number, part in enumerate(week.parts)
        for crew in week.group.crews
    }
    for skill in week.group.skills:
        own = sum(
            part.hours[crew.name]
            for part in week.parts
            for crew in week.group.crews
            if crew.skills[0] == skill.name and crew.employment is Employment.EMPLOYED
        )
        most["overtime", skill.name] = skill.overtime_cap * own
        most["contract", skill.name] = skill.contract_cap * own
    rows, low, high = [], [], []
    for number, part in enumerate(week.parts):
        for (skill, aircraft), hours in part.asked.items():
            rows.append([float(way[:3] == (number, skill, aircraft)) for way in ways])
            low.append(hours)
            high.append(hours)
    for source, hours in most.items():
        rows.append([float(way[3] == source) for way in ways])
        low.append(0.0)
        high.append(hours)
    held = LinearConstraint(np.array(rows), low, high)
    cost = np.array([way[4] for way in ways])
    over = np.array([float(way[3][0] == "overload") for way in ways])  # type: ignore[index]
    free = Bounds(0.0, np.inf)
    return tuple(milp(goal, constraints=held, bounds=free).fun for goal in (cost, over))


@pytest.mark.parametrize("seed", range(10))
def test_the_sums_by_which_ties_go_are_the_hours_that_are_told(seed: int) -> None:
    """Whatever the columns hold: a sum of columns and what is read of them are the same figure.

    Pools give no more than they have: each a random part of it, over its columns in turn.
    """
    rng = Random(seed)
    program = SharingProgram(drawn(rng), 500.0)
    at_most = Rows()
    program.add_to(at_most, Rows(), first=0)
    values = []
    for column in range(len(program.costs)):
        # A row's right-hand side over its columns: all together keep to every row.
        parts = [side / len(terms) for terms, side in at_most.each() if column in dict(terms)]
        values.append(rng.random() * min(parts, default=9.0))
    found = program.read(values)
    told = {(skill, source): (terms, constant) for skill, source, terms, constant in program.told()}
    assert {skill for skill, _ in told} == set(SKILLS)
    for (skill, source), (terms, constant) in told.items():
        counted = constant + fsum(factor * values[column] for column, factor in terms)
        assert counted == pytest.approx(getattr(found.skills[skill], source), abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_plans_of_random_bases_are_told_what_the_flow_finds(seed: int) -> None:
    """A plan with stages side by side: the hours told are those that no day can take.

    One skill, so that days can be judged by themselves: the week lacks
    ``sum over days of max(0, asked - there)`` less what may be bought, where nothing is bought
    for the week as a whole.
    """
    rng = Random(seed)
    hours = [float(rng.randint(20, 120)) for _ in range(2)]
    work = package(
        stage("One", rng.randint(1, 4), hours=hours[0]),
        Stage("Two", "maintenance", rng.randint(1, 4), {"Mechanic": hours[1]}, ()),
    )
    lasts = max(s.days for s in work.stages)
    crew = replace(PLENTY, name="Crew", heads=rng.randint(2, 4))
    pattern = Pattern("Daily", tuple(rng.choice(["Day", "Day", None]) for _ in range(7)))
    of: Base = base(
        check(package="Heavy", earliest_in=day(0)),
        packages=(work,),
        crews=(crew,),
        patterns=(pattern,),
        skills=(NOTHING_BOUGHT,),
        weeks=1,
    )
    stages = [(s.name, 0, s.days) for s in work.stages]
    made = plan(placed("C1", 0, *stages, out=lasts))
    auditor = Auditor(of)
    found = auditor.audit(made)
    told = fsum(s.overload for s in auditor.day_shortages(made, found))
    lacking = [
        max(
            0.0,
            fsum(h / s.days for h, s in zip(hours, work.stages, strict=True) if n < s.days)
            - 10.0 * crew.heads * (pattern.cycle[n] is not None),
        )
        for n in range(7)
    ]
    assert told == pytest.approx(fsum(lacking) - found.goals.overload_hours)
