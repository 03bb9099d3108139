"""Working-time limits that overtime passes and the roster alone keeps, worked out by hand.

Numbers of the good-practice limits as in tests/working_time/test_good_practice.py: 60 h with
overtime in seven days and 11 h of rest were seen in a press report, the others are from memory.
"""

from dataclasses import replace
from datetime import time

import pytest

from capacity.facts import Base, Pattern, Shift
from capacity.plans.audit import audit
from capacity.questions.overtime.limits import LimitMet, limits_met
from capacity.questions.overtime.review import review_overtime
from capacity.working_time.good_practice import GOOD_PRACTICE
from tests.plans.stories import MECHANIC, day, plan
from tests.questions.overtime_stories import TEN, booked, fixed, stands, ten_mechanics, visit

FIVE_DAYS = Pattern("Five days", (*["Day"] * 5, None, None))
NINE_HOURS = Shift("Day", time(7), 9.0)
SKILL = replace(MECHANIC, overtime_cap=0.6)
HOURS_IN_7_DAYS = next(limit for limit in GOOD_PRACTICE.limits if limit.id == "hours-in-7-days")


def office_weeks(asked: float, in_day: int = 0, **changes: object) -> Base:
    """Ten mechanics who attend 45 h in five days, 450 h together; one week asks hours."""
    usual = {
        "skills": (SKILL,),
        "crews": (replace(TEN, pattern=FIVE_DAYS.name),),
        "patterns": (FIVE_DAYS,),
        "shifts": (NINE_HOURS,),
        "working_time_rules": "good-practice",
    }
    work = visit(asked)
    return ten_mechanics((work,), fixed("C1", work, in_day), **{**usual, **changes})


def met(asked: float, in_day: int = 0, **changes: object) -> tuple[LimitMet, ...]:
    """Return the limits met when a week asks so many hours."""
    base = office_weeks(asked, in_day, **changes)
    made = plan(stands("C1", visit(asked), in_day))
    assert audit(base, made).broken == ()
    return review_overtime(base, made).limits


def test_15_h_a_head_are_60_in_seven_days_and_right() -> None:
    assert met(450 + 150) == ()


def test_20_h_a_head_are_65_in_seven_days_and_too_many() -> None:
    # 4 h more on each of five days: 13 h a shift and 59 h over the weekend are still right. The
    # seven days up to the next Monday have 4 x 13 + 9 = 61 h.
    (limit,) = met(450 + 200)
    assert limit.crew == "Ten"
    assert limit.what == (
        "hours with overtime in seven successive days: 65 h on Fri 8 Jan 2027, at most 60 h"
    )
    assert limit.source == HOURS_IN_7_DAYS.source
    assert (limit.times, limit.by_overtime) == (2, True)


def test_25_h_a_head_pass_four_limits() -> None:
    # 14 h a shift on five days leave 10 h of rest between them, and 58 h over the weekend; the
    # seven days up to Friday have 70 h, those up to the next Monday 65 h.
    found = {limit.what.split(":")[0]: limit for limit in met(450 + 250)}
    assert {what: limit.times for what, limit in found.items()} == {
        "shift with overtime": 5,
        "rest between two shifts": 4,
        "hours with overtime in seven successive days": 2,
        "rest over rest days (two days and 11 h)": 1,
    }
    assert all(limit.by_overtime for limit in found.values())


def test_productivity_makes_the_attended_hours_more() -> None:
    # At 80 % booked the ten give 360 h, and 160 h more are 20 attended hours each.
    (limit,) = met(360 + 160, productivity=0.8)
    assert "65 h on Fri 8 Jan 2027" in limit.what
    assert met(360 + 119, productivity=0.8) == ()


def test_what_the_roster_passes_by_itself_is_told_apart() -> None:
    # Ten hours on five days are 50 scheduled ones, more than 48, with overtime or without.
    ten_hours = replace(NINE_HOURS, hours=10.0)
    alone = met(400, shifts=(ten_hours,))
    assert [(limit.what.split(":")[0], limit.by_overtime) for limit in alone] == [
        ("scheduled hours in seven successive days", False)
    ]
    with_overtime = met(500 + 120, shifts=(ten_hours,))
    assert {limit.what.split(":")[0]: limit.by_overtime for limit in with_overtime} == {
        "scheduled hours in seven successive days": False,
        "hours with overtime in seven successive days": True,
    }


@pytest.mark.parametrize(
    "changes", [{"working_time_rules": None}, {"working_time_mode": "off"}], ids=str
)
def test_without_rules_nothing_is_said(changes: dict[str, object]) -> None:
    assert met(450 + 250, **changes) == ()


@pytest.mark.parametrize("mode", ["warn", "hold"])
def test_with_rules_it_is_said_whatever_the_planner_does_about_it(mode: str) -> None:
    assert len(met(450 + 200, working_time_mode=mode)) == 1


def test_weeks_after_the_last_in_day_are_looked_at_too() -> None:
    # A check that comes in on the last day of a week's plan and works the week after it.
    work = visit(650, days=8)
    base = office_weeks(0, weeks=1, packages=(work,), checks=(booked("C1", work, 0, 6),))
    made = plan(stands("C1", work, 6))
    found = audit(base, made)
    assert found.broken == ()
    # Seven of eight days lie in the second week: 568.75 h of 650, so 118.75 h of overtime ...
    assert [w.overtime for w in found.weeks] == pytest.approx([0, 118.75])
    assert review_overtime(base, made).limits == ()
    # ... and of 740 h 647.5 h, so 197.5 h of overtime: 45 + 19.75 h.
    longer = visit(740, days=8)
    base = base.replace(packages=(longer,), checks=(booked("C1", longer, 0, 6),))
    (limit,) = review_overtime(base, plan(stands("C1", longer, 6))).limits
    assert "64.75 h on Fri 15 Jan 2027, at most 60 h" in limit.what
    assert limit.by_overtime


def test_overtime_is_laid_on_the_days_the_crew_works() -> None:
    # A week that starts on a Thursday has two days of work in it: 5 h more on each are 14 h.
    base = office_weeks(0, first_day=day(3), checks=(), packages=(visit(0),))
    found = limits_met({("2027-W01", "Ten"): 10.0}, base)
    shift = next(limit for limit in found if limit.what.startswith("shift with overtime"))
    assert shift.times == 2
    assert "14 h on Thu 7 Jan 2027, at most 13 h" in shift.what


def test_an_average_is_that_of_its_reference_period_and_says_so() -> None:
    """Directive 2003/88/EC, Article 6 (seen): 48 h; 17 weeks for four months from memory.

    A plan of one week with 10 h a head: 55 h in it, and (16 x 45 + 55) / 17 over 17 weeks.
    """
    (limit,) = met(450 + 100, weeks=1, working_time_rules="working-time-directive")
    assert "45.59 h a person on average over the crew" in limit.what
    assert "in the weeks of this plan alone 55 h" in limit.what
    assert "outside this plan as the roster has it, without overtime" in limit.what
    assert limit.by_overtime
    assert met(450 + 30, weeks=1, working_time_rules="working-time-directive") == ()
