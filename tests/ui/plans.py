"""Invented plan values for charts and tables: nothing is searched for here."""

from dataclasses import replace
from datetime import date, time, timedelta

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
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.reports.plan.view import View, view_of
from capacity.settings import Settings

MONDAY = date(2027, 1, 4)


def day(number: int) -> date:
    """Return a day counted from the first day of the plan."""
    return MONDAY + timedelta(days=number)


def base(**changes: object) -> Base:
    """Return two bays, two checks and ten people of one skill who give 300 h a week."""
    work = frozenset({"maintenance"})
    stages = (
        Stage("open", "maintenance", 2, {"mechanic": 80.0}),
        Stage("repair", "maintenance", 3, {"mechanic": 300.0}, after=("open",), alone=True),
    )
    invented = Base(
        name="Northfield",
        first_day=MONDAY,
        weeks=3,
        skills=(Skill("mechanic", 60.0, 0.2, 90.0, 0.25),),
        bays=(Bay("B1", "North", 40, 45, 14, work), Bay("B2", "North", 40, 45, 14, work)),
        types=(AircraftType("T30", 34, 38, 12),),
        packages=(Package("light", stages),),
        checks=(
            Check("C1", "Q-A", "T30", "light", Status.FIXED, MONDAY, MONDAY, fixed_bay="B1",
                  fixed_in=MONDAY, agreed_out=day(5)),
            Check("C2", "Q-B", "T30", "light", Status.BOOKED, MONDAY, day(7), customer="Aero East",
                  third_party=True, agreed_out=day(4), late_cost_per_day=500.0),
        ),
        crews=(Crew("red", ("mechanic",), 10, "days", MONDAY),),
        patterns=(Pattern("days", ("D", "D", "D", "D", "D", None, None)),),
        shifts=(Shift("D", time(7), 8.0),),
        closures=(Closure("B2", day(9), day(10), "door"),),
    )  # fmt: skip
    return replace(invented, **changes)


def stay(check: str, bay: str, first: int) -> Placement:
    """Return a placement of a check from a day on."""
    return Placement(
        check,
        bay,
        "open",
        day(first),
        day(first + 5),
        (
            StageDays("open", day(first), day(first + 2)),
            StageDays("repair", day(first + 2), day(first + 5)),
        ),
    )


def view(of: Base | None = None, *placements: Placement) -> View:
    """Return a view of a plan that holds the placements; all checks at once without any."""
    facts = of or base()
    bays = zip(facts.checks, ("B1", "B2"), strict=False)
    made = Plan(placements or tuple(stay(check.name, bay, 0) for check, bay in bays))
    found = audit(facts, made)
    outcome = Planned(
        plan=made,
        audit=found,
        bound=None,
        gap=None,
        days_bound=0,
        seconds=1.0,
        stopped_by="time",
        settings=Settings(),
        versions={},
        history=(),
    )
    return view_of(facts, outcome, ())
