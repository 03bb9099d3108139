"""An invented plan whose man-hours are levelled, small enough to be worked out by hand.

One mechanic works 10 hours every day, 70 a week. Each check is 100 hours over ten days, and may
take 150 % of its even share on a day. C1 comes in on Thursday of the first week, C2 on Thursday of
the second. Mechanic hours by week:

=========  ===========  =======================  ==========================
week       C1           C2                       both
=========  ===========  =======================  ==========================
2027-W01   even 40; 60                           even 40; 60
2027-W02   even 60; 40  even 40; 30              even 100, 30 too many; 70
2027-W03                even 60; 70              even 60; 70
=========  ===========  =======================  ==========================

Spread evenly, W02 would buy 14 h of overtime (20 % of 70) at 60 EUR and 16 h of contract labour at
80 EUR: 840 + 1,280 = 2,120 EUR. Levelled it buys nothing.
"""

from dataclasses import replace

from capacity.facts import Base, Crew
from capacity.plans.audit import audit
from capacity.plans.levelled import spread_evenly
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan, WeekHours
from capacity.settings import Settings
from tests.plans.stories import FIRST_DAY, base, check, day, package, placed, stage

SKILL = "Mechanic"
MOVED, SAVED, WOULD_BUY = 30.0, 2120.0, 30.0
W01, W02, W03 = "2027-W01", "2027-W02", "2027-W03"


def levelled_base(**changes: object) -> Base:
    """Return two bays, two checks and one mechanic."""
    work = replace(stage("Work", 10, hours=100), daily_peak=1.5)
    usual = base()
    return base(
        check("C1", package="Heavy", earliest_in=day(3), latest_in=day(3)),
        check("C2", package="Heavy", earliest_in=day(10), latest_in=day(10)),
        packages=(package(work),),
        bays=tuple(replace(usual.bays[0], name=name) for name in ("B1", "B2")),
        crews=(Crew("One", (SKILL,), 1, "Daily", FIRST_DAY),),
    ).replace(**changes)


def levelled_plan() -> Plan:
    """Return the plan of the table above."""
    return Plan(
        (
            _with_hours("C1", 3, "B1", {W01: 60.0, W02: 40.0}),
            _with_hours("C2", 10, "B2", {W02: 30.0, W03: 70.0}),
        )
    )


def levelled_outcome() -> Planned:
    """Return the plan as an outcome."""
    return _outcome(levelled_plan())


def even_outcome() -> Planned:
    """Return the same slots with all hours spread evenly, and none stated."""
    return _outcome(spread_evenly(levelled_plan()))


def _with_hours(name: str, first: int, bay: str, by_week: dict[str, float]):
    placement = placed(name, first, bay=bay)
    (work,) = placement.stages
    hours = tuple(WeekHours(SKILL, week, amount) for week, amount in by_week.items())
    return replace(placement, stages=(replace(work, hours=hours),))


def _outcome(plan: Plan) -> Planned:
    found = audit(levelled_base(), plan)
    assert found.broken == ()
    return Planned(
        plan=plan,
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
