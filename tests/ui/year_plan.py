"""A year of 300 checks in 20 bays, laid by hand: each bay takes one check after another.

Invented and plain: no search is made for it, so a page can be shown with it at once.
"""

from dataclasses import replace
from datetime import date, time, timedelta
from functools import cache

from capacity.facts import (
    AircraftType,
    Base,
    Bay,
    Check,
    Closure,
    Crew,
    Package,
    Pattern,
    Shift,
    Skill,
    Stage,
    Status,
)
from capacity.plans.audit import audit
from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.samples.laid_plan import laid_plan

FIRST_DAY = date(2027, 1, 4)
BAYS, CHECKS_A_BAY, DAYS_APART = 20, 15, 24
SKILLS = ("mechanic", "avionics", "structures", "painter")


def _stage(name: str, days: int, hours: dict[str, float], *after: str) -> Stage:
    return Stage(name, "maintenance", days, hours, after)


PACKAGE = Package(
    "C check",
    (
        _stage("open", 2, {"mechanic": 80.0}),
        _stage("inspect", 4, {"mechanic": 120.0, "avionics": 60.0}, "open"),
        _stage("repair", 6, {"structures": 240.0, "mechanic": 150.0}, "inspect"),
        _stage("touch up", 2, {"painter": 60.0}, "repair"),
        _stage("close", 3, {"mechanic": 110.0}, "touch up"),
        _stage("test", 2, {"mechanic": 30.0, "avionics": 40.0}, "close"),
    ),
)
STAY_DAYS = 19


def _places() -> list[tuple[str, str, date]]:
    """Return check, bay and in day; bays begin a day apart, over four days."""
    return [
        (f"C{bay * CHECKS_A_BAY + turn + 1:03}", f"Bay {bay + 1}",
         FIRST_DAY + timedelta(days=bay % 4 + turn * DAYS_APART))
        for bay in range(BAYS) for turn in range(CHECKS_A_BAY)
    ]  # fmt: skip


def _check(number: int, name: str, bay: str, first: date) -> Check:
    """Give every fifth check a fixed place, every third to a customer, every seventh out late."""
    is_fixed, is_late = number % 5 == 0, number % 7 == 0
    check = Check(
        name, f"Q-{name}", "T30", PACKAGE.name, Status.BOOKED, FIRST_DAY, first,
        customer="Aero East" if number % 3 == 0 else "", third_party=number % 3 == 0,
        agreed_out=first + timedelta(days=STAY_DAYS + (-2 if is_late else 1)),
        late_cost_per_day=500.0,
    )  # fmt: skip
    if not is_fixed:
        return check
    return replace(check, status=Status.FIXED, earliest_in=first, fixed_bay=bay, fixed_in=first)


def year_base() -> Base:
    """Return the base: every day is worked, and some weeks are short of every skill."""
    work = frozenset({"maintenance"})
    return Base(
        name="Northfield year (invented)",
        first_day=FIRST_DAY,
        weeks=52,
        skills=tuple(Skill(name, 60.0, 0.2, 90.0, 0.25) for name in SKILLS),
        bays=tuple(Bay(f"Bay {n + 1}", "North", 40, 45, 14, work) for n in range(BAYS)),
        types=(AircraftType("T30", 34, 38, 12),),
        packages=(PACKAGE,),
        checks=tuple(_check(number, *place) for number, place in enumerate(_places())),
        crews=tuple(
            Crew(f"{skill} {n}", (skill,), 12, "days", FIRST_DAY)
            for skill in SKILLS for n in range(4)
        ),
        patterns=(Pattern("days", ("D", "D", "D", "D", "D", "D", None)),),
        shifts=(Shift("D", time(7), 8.0),),
        closures=tuple(
            Closure(f"Bay {n + 1}", FIRST_DAY + timedelta(days=360), FIRST_DAY
                    + timedelta(days=363), "door")
            for n in range(4)
        ),
    )  # fmt: skip


@cache
def year_outcome() -> Planned:
    """Return the plan of the year with its audit."""
    base = year_base()
    made = laid_plan(base, _places())
    return Planned(
        plan=made,
        audit=audit(base, made),
        bound=None,
        gap=None,
        days_bound=0,
        seconds=1.0,
        stopped_by="time",
        settings=Settings(),
        versions={},
        history=(),
    )
