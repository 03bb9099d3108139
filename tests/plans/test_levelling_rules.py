"""Hours that a plan states by week: what the audit lets stand, and what it does not.

The stage ``Work`` takes 10 days with 100 man-hours, 10 a day, from day 10 on, a Thursday. So it
has 4 days in its first week, and 6 in the second. At a peak of 150 % a day takes 15.
"""

from dataclasses import replace
from datetime import date

import pytest

from capacity.plans.audit import audit
from capacity.plans.plan import Plan, WeekHours
from capacity.plans.weeks import monday_of, week_name
from tests.plans.stories import base, check, day, package, placed, stage

FIRST, SECOND, THIRD = (week_name(monday_of(day(number))) for number in (7, 14, 21))


def story(peak: float = 1.5, *, into_float: bool = False, **of_stage: object):
    work = replace(stage("Work", 10, hours=100), daily_peak=peak, into_float=into_float, **of_stage)
    beside = stage("Beside", 14, hours=14)
    stages = (work, beside) if into_float else (work,)
    return base(
        check("C1", package="Heavy", earliest_in=day(7), latest_in=day(30)),
        packages=(package(*stages),),
    )


def broken_by(base_, *hours: tuple[str, float], float_stage: bool = False, first: int = 10):
    spans = [("Work", first, first + 10)]
    if float_stage:
        spans.append(("Beside", first, first + 14))
    placement = placed("C1", first, *spans)
    stated = tuple(WeekHours("Mechanic", week, amount) for week, amount in hours)
    stages = (replace(placement.stages[0], hours=stated), *placement.stages[1:])
    return audit(base_, Plan((replace(placement, stages=stages),)))


def test_the_even_hours_may_be_stated():
    assert broken_by(story(), (FIRST, 40.0), (SECOND, 60.0)).broken == ()


def test_the_audit_prices_the_weeks_in_which_the_hours_are_stated():
    found = broken_by(story(), (FIRST, 60.0), (SECOND, 40.0))
    assert found.broken == ()
    assert {w.week: w.demand for w in found.weeks if w.demand} == {FIRST: 60.0, SECOND: 40.0}


@pytest.mark.parametrize(
    ("hours", "says"),
    [
        (((FIRST, 61.0), (SECOND, 39.0)), "its 4 days there may take 60.00 at the most"),
        (((FIRST, 9.0), (SECOND, 91.0)), "its 6 days there may take 90.00 at the most"),
        (((FIRST, 40.0), (SECOND, 59.0)), "with 99.00 man-hours of Mechanic in all"),
        (((FIRST, 40.0), (SECOND, 50.0), (THIRD, 10.0)), "its 0 days there may take 0.00"),
        (((FIRST, -1.0), (SECOND, 90.0), (FIRST, 11.0)), "with -1.00 man-hours"),
        (((FIRST, 31.0), (FIRST, 30.0), (SECOND, 39.0)), "with 61.00 man-hours of Mechanic"),
        (((FIRST, 40.0), ("some week", 60.0)), "its 0 days there may take 0.00"),
    ],
)
def test_what_a_stage_cannot_do_breaks_a_rule(hours, says):
    assert says in " ".join(broken_by(story(), *hours).broken)


def test_without_a_peak_only_the_even_hours_stand():
    assert broken_by(story(1.0), (FIRST, 40.0), (SECOND, 60.0)).broken == ()
    assert broken_by(story(1.0), (FIRST, 41.0), (SECOND, 59.0)).broken != ()


def test_heads_lower_the_peak():
    # A day shift of 10 hours for everybody: 1 head has room for 10 man-hours, 2 for 20.
    one, two = story(2.0, max_heads=1), story(2.0, max_heads=2)
    assert broken_by(one, (FIRST, 41.0), (SECOND, 59.0)).broken != ()
    assert broken_by(two, (FIRST, 70.0), (SECOND, 30.0)).broken == ()


def test_float_days_take_hours_until_the_leg_ends():
    # Beside runs four days longer: one in the second week and three behind it.
    free = story(1.0, into_float=True)
    at_most = ((FIRST, 10.0), (SECOND, 60.0), (THIRD, 30.0))
    assert broken_by(free, *at_most, float_stage=True).broken == ()
    at_most = ((FIRST, 0.0), (SECOND, 70.0), (THIRD, 30.0))
    assert broken_by(free, *at_most, float_stage=True).broken == ()
    rigid = story(1.0)
    assert broken_by(rigid, *at_most).broken != ()


def test_a_skill_that_the_stage_does_not_ask_is_foreign():
    placement = placed("C1", 10, ("Work", 10, 20))
    hours = (WeekHours("Mechanic", FIRST, 40.0), WeekHours("Mechanic", SECOND, 60.0))
    foreign = (*hours, WeekHours("painter", SECOND, 1.0))
    stages = (replace(placement.stages[0], hours=foreign),)
    found = audit(story(), Plan((replace(placement, stages=stages),)))
    assert "man-hours of painter" in " ".join(found.broken)


def test_no_hours_of_a_foreign_skill_are_foreign_too():
    """Nobody may price or show a skill that the stage, or the base, does not know."""
    placement = placed("C1", 10, ("Work", 10, 20))
    hours = (WeekHours("Mechanic", FIRST, 40.0), WeekHours("Mechanic", SECOND, 60.0))
    stages = (replace(placement.stages[0], hours=(*hours, WeekHours("Painter", FIRST, 0.0))),)
    found = audit(story(), Plan((replace(placement, stages=stages),)))
    assert "man-hours of Painter, of which it takes none" in " ".join(found.broken)


MON, TUE, SUN = (day(number) for number in (14, 15, 13))


def by_day(*days: tuple[date, float], first: float = 40.0, second: float = 60.0):
    """Return what the audit says of the days of the second week."""
    placement = placed("C1", 10, ("Work", 10, 20))
    stated = (
        WeekHours("Mechanic", FIRST, first),
        WeekHours("Mechanic", SECOND, second, days),
    )
    stages = (replace(placement.stages[0], hours=stated),)
    counted = story().replace(counts_days=True)
    return audit(counted, Plan((replace(placement, stages=stages),))).broken


def test_days_may_be_stated_of_a_week():
    assert by_day(*((day(14 + n), 15.0) for n in range(4))) == ()


@pytest.mark.parametrize(
    ("days", "says"),
    [
        (((MON, 15.0), (TUE, 15.0)), "but its days there have 30.00"),
        (((MON, 16.0), *((day(15 + n), 11.0) for n in range(4))), "a day may take 15.00 at"),
        (((SUN, 15.0), *((day(14 + n), 15.0) for n in range(3))), "when it cannot be worked"),
        (((MON, -15.0), *((day(15 + n), 15.0) for n in range(5))), "with -15.00 man-hours"),
    ],
)
def test_days_that_are_not_the_stages_are_told(days, says):
    assert says in " ".join(by_day(*days))
