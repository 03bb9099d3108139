"""Bases in which the overtime is known: ten mechanics whose week is 700 man-hours.

Overtime is at most 140 h of it at 60, contract labour 175 h at 80, and overload costs 500.
"""

from dataclasses import replace
from datetime import time

from capacity.facts import Base, Check, Crew, Package, Shift, Status
from capacity.plans.plan import Placement
from tests.bases import BAY
from tests.plans.stories import FIRST_DAY, base, check, day, package, placed, stage

TEN = Crew("Ten", ("Mechanic",), 10, "Daily", FIRST_DAY)
DAY = Shift("Day", time(7), 10.0)


def visit(hours: float, days: int = 7) -> Package:
    """Return a package of one stage of so many days and man-hours, named after both."""
    return package(stage("Work", days, hours=hours), name=f"{days} days, {hours:g} h")


def fixed(name: str, visit_: Package, in_day: int = 0, bay: str = "B1") -> Check:
    """Fix a check in a bay from a day on."""
    return check(
        name,
        package=visit_.name,
        status=Status.FIXED,
        earliest_in=day(in_day),
        latest_in=day(in_day),
        fixed_bay=bay,
        fixed_in=day(in_day),
    )


def booked(name: str, visit_: Package, first: int, last: int, **changes: object) -> Check:
    """Book a check that may come in on the days ``first`` to ``last``."""
    window = {"earliest_in": day(first), "latest_in": day(last)}
    return check(name, package=visit_.name, **window, **changes)


def stands(name: str, visit_: Package, in_day: int = 0, bay: str = "B1") -> Placement:
    """Place a check whose one stage begins on its in day."""
    days = visit_.stages[0].days
    return placed(name, in_day, ("Work", in_day, in_day + days), bay=bay)


def ten_mechanics(visits: tuple[Package, ...], *checks: Check, **changes: object) -> Base:
    """Eight weeks of two bays; only the changes differ from story to story."""
    usual = {
        "packages": visits,
        "crews": (TEN,),
        "shifts": (DAY,),
        "bays": (BAY, replace(BAY, name="B2")),
    }
    return base(*checks, **{**usual, **changes})
