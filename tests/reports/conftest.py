"""An invented quarter with a plan made by hand rules, to be looked at and to be tested with."""

import random
from collections import defaultdict
from datetime import date, timedelta

import pytest

from capacity.facts import (
    AircraftType,
    Base,
    Bay,
    Check,
    Closure,
    Package,
    Skill,
    Stage,
    Status,
)
from capacity.messages import Level, Message
from capacity.plans.audit import Audit, CheckAccount
from capacity.plans.outcome import Planned, Progress, relative_gap
from capacity.plans.plan import Goals, Placement, Plan, StageDays, WeekLoad
from capacity.settings import Settings

FIRST_DAY = date(2027, 1, 4)
WEEKS = 20
REGULAR = {
    "Airframe": 1750.0,
    "Engines": 420.0,
    "Avionics": 430.0,
    "Structures": 980.0,
    "Cabin": 700.0,
    "Inspection": 260.0,
    "Stores": 0.0,
}
OWN = "Larkspur Air"
OTHERS = ("Marrow Airways", "Quillon Jet", "Sable Freight")
NO_REGULAR_HOURS = "Stores"


def days_on(number: int) -> timedelta:
    return timedelta(days=number)


def invented_base() -> Base:
    """Return ten bays in three hangars and 40 checks over 20 weeks."""
    rng = random.Random(11)
    bays = [
        Bay(f"N{n}", "North", 36.0, 45.0, 13.0, frozenset({"maintenance"}), changeover_days=1)
        for n in range(1, 5)
    ]
    bays += [
        Bay(f"S{n}", "South", 65.0, 70.0, 19.0, frozenset({"maintenance"})) for n in range(1, 4)
    ]
    bays += [Bay(f"E{n}", "East", 36.0, 45.0, 13.0, frozenset({"maintenance"})) for n in (1, 2, 3)]
    packages = (
        _package("Light", 7, {"Airframe": 330.0, "Engines": 120.0, "Avionics": 110.0}),
        _package("Middle", 14, {"Airframe": 900.0, "Structures": 420.0, "Inspection": 190.0}),
        _package("Heavy", 26, {"Airframe": 1900.0, "Structures": 1500.0, "Cabin": 1300.0}),
    )
    checks = []
    for number in range(1, 41):
        third_party = rng.random() < 0.4
        wanted = FIRST_DAY + days_on(rng.randrange(0, 7 * WEEKS - 20))
        package = rng.choice(("Light", "Light", "Middle", "Middle", "Heavy"))
        checks.append(
            Check(
                name=f"V{number:03d}",
                aircraft=f"ZZ-{chr(65 + number % 26)}{chr(65 + number // 26)}{number % 10}",
                type="Narrow" if number % 3 else "Wide",
                package=package,
                status=Status.OPTION if number % 13 == 0 else Status.BOOKED,
                earliest_in=wanted - days_on(10),
                latest_in=wanted + days_on(12),
                customer=rng.choice(OTHERS) if third_party else OWN,
                third_party=third_party,
                wanted_in=wanted if number % 2 else None,
                agreed_out=wanted + days_on({"Light": 14, "Middle": 20, "Heavy": 33}[package])
                if third_party
                else None,
                early_cost_per_day=150.0,
                late_cost_per_day=4000.0 if third_party else 0.0,
                price=90_000.0 if number % 13 == 0 else 0.0,
            )
        )
    already_in = {"V001": ("S1", FIRST_DAY - days_on(6)), "V002": ("N1", FIRST_DAY)}
    for place, check in enumerate(checks):
        if check.name in already_in:
            bay, day = already_in[check.name]
            checks[place] = Check(
                name=check.name,
                aircraft=check.aircraft,
                type=check.type,
                package="Middle",
                status=Status.FIXED,
                earliest_in=day,
                latest_in=day + days_on(5),
                customer=OWN,
                fixed_bay=bay,
                fixed_in=day,
            )
    return Base(
        name="Wold Heath",
        first_day=FIRST_DAY,
        weeks=WEEKS,
        skills=tuple(Skill(name, 65.0, 0.2, 95.0, 0.1) for name in REGULAR),
        bays=tuple(bays),
        types=(
            AircraftType("Narrow", 34.0, 38.0, 12.0),
            AircraftType("Wide", 60.0, 64.0, 17.5),
        ),
        packages=packages,
        checks=tuple(checks),
        crews=(),
        patterns=(),
        shifts=(),
        closures=(
            Closure("N3", FIRST_DAY + days_on(40), FIRST_DAY + days_on(53), "door repair"),
            Closure("E2", FIRST_DAY + days_on(90), FIRST_DAY + days_on(96), "floor"),
        ),
        working_weekdays=frozenset(range(6)),
    )


def _package(name: str, days: int, man_hours: dict[str, float]) -> Package:
    first = {skill: hours / 4 for skill, hours in man_hours.items()} | {"Stores": 6.0}
    second = {skill: 3 * hours / 4 for skill, hours in man_hours.items()}
    return Package(
        name,
        (
            Stage("Opening up", "maintenance", max(1, days // 4), first),
            Stage("Work", "maintenance", days - max(1, days // 4), second, after=("Opening up",)),
        ),
    )


def invented_plan(base: Base) -> Planned:
    """Return a first-come plan: each check takes the first bay that is free early enough."""
    free = {bay.name: FIRST_DAY - days_on(10) for bay in base.bays}
    turn = {bay.name: bay.changeover_days for bay in base.bays}
    packages = {package.name: package for package in base.packages}
    placements, not_placed, refused = [], [], []
    for check in sorted(base.checks, key=lambda c: (c.fixed_in is None, c.earliest_in)):
        length = _calendar_days(base, packages[check.package])
        fits = [bay.name for bay in base.bays if (bay.hangar == "South") == (check.type == "Wide")]
        bays = [check.fixed_bay] if check.fixed_bay else fits
        wanted = check.fixed_in or max(check.earliest_in + days_on(6), FIRST_DAY)
        bay = min(bays, key=lambda name: max(free[name], wanted))
        in_day = _past_closures(base, bay, max(free[bay], wanted), length)
        if check.status is not Status.FIXED and in_day > check.latest_in + days_on(
            0 if check.status is Status.OPTION else 9
        ):
            (refused if check.status is Status.OPTION else not_placed).append(check.name)
            continue
        placements.append(_placement(base, check.name, bay, in_day, packages[check.package]))
        free[bay] = placements[-1].out_day + days_on(turn[bay])
    plan = Plan(tuple(placements), tuple(not_placed), tuple(refused))
    audit = _account_for(base, plan)
    money = audit.goals.money
    bound = money - 4321.0
    return Planned(
        plan=plan,
        audit=audit,
        bound=bound,
        gap=relative_gap(money, bound),
        days_bound=0,
        seconds=61.27,
        stopped_by="time",
        settings=Settings(),
        versions={"hangar-capacity": "0.1.0", "solver": "9.9"},
        history=(
            Progress(0.4, 60, money + 90_000, None, None, "first draft"),
            Progress(9.1, 40, money, bound, relative_gap(money, bound), "neighbourhood"),
        ),
    )


def _works(base: Base, day: date) -> bool:
    return day.weekday() in base.working_weekdays


def _after_worked(base: Base, day: date, count: int) -> date:
    while count:
        count -= _works(base, day)
        day += days_on(1)
    return day


def _calendar_days(base: Base, package: Package) -> int:
    # Six of seven days are worked, and a start may fall before a day off.
    return sum(stage.days for stage in package.stages) * 7 // 6 + 2


def _past_closures(base: Base, bay: str, day: date, length: int) -> date:
    for closure in base.closures:
        if closure.bay == bay and day <= closure.last and day + days_on(length) > closure.first:
            day = closure.last + days_on(1)
    return day


def _placement(base: Base, check: str, bay: str, in_day: date, package: Package) -> Placement:
    stages, day = [], max(in_day, base.first_day)
    for stage in package.stages:
        until = _after_worked(base, day, stage.days)
        stages.append(StageDays(stage.name, day, until))
        day = until
    return Placement(check, bay, package.stages[0].name, in_day, day, tuple(stages))


def _account_for(base: Base, plan: Plan) -> Audit:
    checks = {check.name: check for check in base.checks}
    packages = {package.name: package for package in base.packages}
    demand: dict[tuple[str, str], float] = defaultdict(float)
    accounts = []
    for placement in plan.placements:
        check = checks[placement.check]
        asked = 0.0
        for days, stage in zip(placement.stages, packages[check.package].stages, strict=True):
            span = [days.first + days_on(n) for n in range((days.until - days.first).days)]
            worked = [day for day in span if _works(base, day)]
            for day in worked:
                for skill, hours in stage.man_hours.items():
                    demand[_week(day), skill] += hours / len(worked)
                    asked += hours / len(worked)
        early = max(0, (check.latest_in - placement.in_day).days)
        out = check.agreed_out or placement.out_day
        late = max(0, (placement.out_day - out).days)
        accounts.append(
            CheckAccount(
                check.name,
                placement.bay,
                placement.in_day,
                placement.out_day,
                max(0, (placement.in_day - check.latest_in).days),
                early,
                late,
                early * check.early_cost_per_day,
                late * check.late_cost_per_day,
                check.price if check.status is Status.OPTION else 0.0,
                asked,
            )
        )
    last = max(placement.out_day for placement in plan.placements)
    mondays = [FIRST_DAY + days_on(7 * n) for n in range((last - FIRST_DAY).days // 7 + 1)]
    weeks = tuple(
        _load(_week(monday), skill, demand[_week(monday), skill])
        for monday in mondays
        for skill in REGULAR
    )
    overtime = sum(w.overtime for w in weeks) * 65.0
    contract = sum(w.contract for w in weeks) * 95.0
    overload = sum(w.overload for w in weeks) * base.overload_cost
    past = sum(a.days_past_latest_in for a in accounts)
    past += len(plan.not_placed) * (base.longest_delay_days + 1)
    money = overtime + contract + overload
    money += sum(a.early_money + a.late_money - a.price for a in accounts)
    goals = Goals(past, sum(w.overload for w in weeks), money)
    return Audit(goals, weeks, tuple(accounts), overtime, contract, overload, ())


def _week(day: date) -> str:
    iso = day.isocalendar()
    return f"{iso.year}-W{iso.week:02d}"


def _load(week: str, skill: str, demand: float) -> WeekLoad:
    regular = REGULAR[skill]
    rest = max(0.0, demand - regular)
    overtime = min(rest, 0.2 * regular)
    contract = min(rest - overtime, 0.1 * regular)
    overload = rest - overtime - contract
    return WeekLoad(
        week,
        skill,
        demand,
        regular,
        overtime,
        contract,
        overload,
        0.2 * regular,
        0.1 * regular,
    )


def invented_messages() -> tuple[Message, ...]:
    return (
        Message(Level.WARNING, "Checks!X1", "the column Colour is unknown.", "Remove it."),
        Message(Level.NOTE, "Crews", "no crew gives hours in Stores.", "Add a crew."),
    )


@pytest.fixture(scope="session")
def base() -> Base:
    """A quarter with fixed, booked and optional checks, closures and days off."""
    return invented_base()


@pytest.fixture(scope="session")
def planned(base: Base) -> Planned:
    """A plan of it with overloads, late checks, one without a slot and a refused option."""
    return invented_plan(base)


@pytest.fixture(scope="session")
def messages() -> tuple[Message, ...]:
    """A warning and a note."""
    return invented_messages()
