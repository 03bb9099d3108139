"""What a crew plan tells of working time: averages over the crew, the worst case as one.

Directive 2003/88/EC, Articles 6 and 16(b) (seen): 48 h a week on average with of overtime, over
four months at the most; 17 weeks for them are from memory. Worked out by hand.
"""

from dataclasses import replace
from datetime import timedelta

import pytest

from capacity.crews.crew_plan import Attendance, CrewPlan
from capacity.crews.working_time import working_time_warnings
from capacity.facts import Absence, Base, Pattern
from tests.crews.stories import MECHANIC, base, crew, day, package, stage

FIVE_ON = Pattern("Five on", (*["Early"] * 5, None, None))
TEN = crew("Ten", 10, FIVE_ON.name)
TWO_PACKAGES = [package(stage("Work", 5, hours=80.0), name=f"Package {n}") for n in (1, 2)]


def rostered(rules: str = "working-time-directive", **changes: object) -> Base:
    """Ten people on five shifts of 8 h, 40 h a week, all of them booked."""
    return base(
        TWO_PACKAGES,
        [TEN],
        skills=(replace(MECHANIC, overtime_cap=1.0),),
        patterns=(FIVE_ON,),
        working_time_rules=rules,
        working_time_mode="warn",
        productivity=1.0,
        **changes,
    )


def worked(weeks: int, overtime: float, heads: float, others: float = 0.0) -> CrewPlan:
    """Return a plan in which ``heads`` people on C1 stay longer on every shift, and others not."""
    rows = [
        Attendance(day(7 * week + number), "Early", "Ten", check, "Mechanic", people, extra)
        for week in range(weeks)
        for number in range(5)
        for check, people, extra in (("C1", heads, overtime * heads), ("C2", others, 0.0))
        if people
    ]
    until = day(0) + timedelta(days=7 * weeks)
    return CrewPlan(day(0), until, tuple(rows), (), (), (), ())


def told(made: CrewPlan, of: Base) -> str:
    (sentence,) = working_time_warnings(made, of)
    return sentence


def test_two_of_ten_who_stay_longer_are_the_worst_case_not_the_average() -> None:
    """2 h on 5 shifts: 50 h for the two if they are always the same; 42 h for a person."""
    sentence = told(worked(3, 2.0, 2.0, others=8.0), rostered())
    # (14 x 40 + 3 x 42) / 17
    assert "40.35 h a person on average over the crew" in sentence
    assert "in the weeks of this plan alone 42 h" in sentence
    assert "worst case 50 h, if one person is always on the aircraft with most overtime" in sentence
    assert "at most 48 h" in sentence


def test_the_days_of_the_reference_period_are_told_and_how_they_are_filled() -> None:
    sentence = told(worked(3, 2.0, 10.0), rostered())
    assert "41.76 h a person on average" in sentence  # (14 x 40 + 3 x 50) / 17
    assert (
        "from Mon 28 Sep 2026 to Sun 24 Jan 2027" in sentence
    )  # 17 weeks, the plan's three at their end
    assert "outside this plan as the roster has it, without overtime" in sentence
    assert "in the weeks of this plan alone 50 h" in sentence
    assert "worst case" not in sentence


def test_a_plan_as_long_as_the_reference_period_is_not_filled() -> None:
    sentence = told(worked(17, 2.0, 10.0), rostered(weeks=17))
    assert (
        "50 h a person on average over the crew, from Mon 4 Jan 2027 to Sun 2 May 2027" in sentence
    )
    assert "outside this plan" not in sentence


def test_what_keeps_the_limit_in_every_way_is_not_told() -> None:
    """1.6 h on 5 shifts are just 48 h for whoever always stays."""
    assert working_time_warnings(worked(3, 1.6, 2.0, others=8.0), rostered()) == ()


def test_those_who_are_away_share_no_overtime() -> None:
    """5 of ten are away: 4 man-hours a day are 0.8 h for each of the others."""
    away = Absence("Ten", day(0), day(20), 5)
    sentence = told(worked(3, 2.0, 2.0, others=3.0), rostered(absences=(away,)))
    assert "in the weeks of this plan alone 44 h" in sentence


@pytest.mark.parametrize(("overtime", "is_told"), [(4.0, False), (4.5, True)])
def test_sums_in_seven_days_are_of_a_person_too(overtime: float, is_told: bool) -> None:
    """60 h in seven days (seen): one who always stays 4.5 h longer has 62.5, on average 44.5."""
    sentences = working_time_warnings(
        worked(1, overtime, 2.0, others=8.0), rostered("good-practice")
    )
    sums = [s for s in sentences if "in seven successive days" in s]
    assert bool(sums) is is_told
    if is_told:
        assert "44.5 h a person on average" in sums[0]
        assert "worst case 62.5 h" in sums[0]


def test_the_limit_of_one_shift_is_that_of_the_people_who_stay() -> None:
    """13 h with overtime (from memory): two of ten who stay 6 h longer are 14 h there."""
    sentences = working_time_warnings(worked(1, 6.0, 2.0, others=8.0), rostered("good-practice"))
    assert any("shift with overtime: 14 h" in sentence for sentence in sentences)
