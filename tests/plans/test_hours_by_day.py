"""On which days the hours of a week lie, by hand.

The stage ``Work`` takes 10 days with 100 man-hours from day 10 on, a Thursday: 4 days in its first
week, 6 in the second. ``Beside``, with 14 man-hours in 14 days, makes float days of days 20 to 23.
"""

from dataclasses import replace
from datetime import date

import pytest

from capacity.facts import Base, Crew, DoneHours, Employment, Pattern, WorkDone
from capacity.plans.hours_within import hours_within, stretched
from capacity.plans.laid_plan import stays_of
from capacity.plans.man_hours import GivenHours, asked_by_day
from capacity.plans.plan import Placement, StageDays, WeekHours
from capacity.plans.roster_days import hours_by_roster
from capacity.plans.stays import Stay
from capacity.plans.weeks import monday_of, week_name
from capacity.plans.worked_days import WorkedDays

from .stories import FIRST_DAY, MECHANIC, MON_TO_FRI, base, check, day, package, placed, plan, stage

FIRST, SECOND, THIRD = (week_name(monday_of(day(number))) for number in (7, 14, 21))
OFFICE = (Pattern("Office", ("Day",) * 5 + (None, None)), Pattern("Daily", ("Day",)))
LINE = Crew("Line", ("Mechanic",), 2, "Office", FIRST_DAY)


def story(peak: float = 2.0, *, into_float: bool = False, **changes: object) -> Base:
    """Two mechanics from Monday to Friday, 10 h a day, in a base that works every day."""
    work = replace(stage("Work", 10, hours=100), daily_peak=peak, into_float=into_float)
    usual: dict[str, object] = {"crews": (LINE,), "patterns": OFFICE, "weeks": 4}
    return base(
        check(package="Heavy", earliest_in=day(0)),
        packages=(package(work, stage("Beside", 14, hours=14)),),
    ).replace(**(usual | changes))


def stating(*hours: tuple[str, float], first: int = 10) -> Placement:
    """The check with the hours of its stage Work in such weeks."""
    told = placed("C1", first, ("Work", first, first + 10), ("Beside", first, first + 14))
    stated = tuple(WeekHours("Mechanic", week, amount) for week, amount in hours)
    return replace(told, stages=(replace(told.stages[0], hours=stated), told.stages[1]))


def stay_of(base_: Base, told: Placement) -> Stay:
    return stays_of(plan(told), base_)["C1"]


def on_days(base_: Base, told: Placement) -> dict[int, float]:
    """Return the mechanics' hours of Work by the number of the day, as people are there."""
    (work, _) = stay_of(base_, told).stages
    given = GivenHours(base_, WorkedDays(base_))
    found = hours_by_roster(work, base_, given)
    return {(when - FIRST_DAY).days: hours for (when, _), hours in found.items() if hours > 1e-12}


def test_hours_go_to_the_days_on_which_people_are_there() -> None:
    """40 h on Thursday and Friday; 60 h from Monday to Friday, nothing on Saturday."""
    found = on_days(story(), stating((FIRST, 40.0), (SECOND, 60.0)))
    assert found == pytest.approx({10: 20, 11: 20} | dict.fromkeys(range(14, 19), 12))


def test_what_exceeds_the_peak_goes_to_days_without_people() -> None:
    """A day takes 15 h at 150 %: 30 of 40 h with people, 5 h on Saturday and Sunday each."""
    found = on_days(story(1.5), stating((FIRST, 40.0), (SECOND, 60.0)))
    assert found == pytest.approx({10: 15, 11: 15, 12: 5, 13: 5} | dict.fromkeys(range(14, 19), 12))


def test_half_an_hour_is_no_rounding() -> None:
    """30.5 h at 15 h a day: half an hour is left for the two days without people."""
    found = on_days(story(1.5), stating((FIRST, 30.5), (SECOND, 69.5)))
    assert found == pytest.approx(
        {10: 15, 11: 15, 12: 0.25, 13: 0.25} | dict.fromkeys(range(14, 19), 13.9)
    )


def test_days_with_fewer_people_take_fewer_hours() -> None:
    """One more mechanic on Thursday only: 30 and 20 h a day are there, so 24 and 16 of 40 h.

    Painters and those who can do the work but whose own skill is another count for nothing.
    """
    thursday = Pattern("Thursday", (None,) * 3 + ("Day",) + (None,) * 3)
    friday = Pattern("Friday", (None,) * 4 + ("Day",) + (None,) * 2)
    more = Crew("More", ("Mechanic",), 1, "Thursday", FIRST_DAY)
    paint = Crew("Paint", ("Painter", "Mechanic"), 9, "Friday", FIRST_DAY)
    of = story(
        3.0,
        crews=(LINE, more, paint),
        patterns=(*OFFICE, thursday, friday),
        skills=(MECHANIC, replace(MECHANIC, name="Painter")),
    )
    found = on_days(of, stating((FIRST, 40.0), (SECOND, 60.0)))
    assert (found[10], found[11]) == (pytest.approx(24), pytest.approx(16))


def test_hours_before_the_first_day_are_gone() -> None:
    """From day -4 on, a Thursday: the first four days lie before the plan, six in its week 1."""
    even = on_days(story(), stating(first=-4))
    assert even == pytest.approx(dict.fromkeys(range(6), 10))
    stated = on_days(story(), stating((week_name(monday_of(day(0))), 60.0), first=-4))
    assert stated == pytest.approx(dict.fromkeys(range(5), 12))


def test_even_hours_leave_the_float_alone_and_stated_ones_use_it() -> None:
    """10 h on each of the ten days; 30 h in the third week lie on its three float days."""
    free = story(into_float=True)
    assert on_days(free, stating()) == pytest.approx(dict.fromkeys(range(10, 20), 10))
    told = stating((FIRST, 20.0), (SECOND, 50.0), (THIRD, 30.0))
    assert [on_days(free, told)[number] for number in (21, 22, 23)] == pytest.approx([10] * 3)


def by_day(base_: Base, told: Placement) -> dict[int, float]:
    asked = asked_by_day(stay_of(base_, told), base_.first_day)
    return {(when - FIRST_DAY).days: hours for (when, _), hours in asked.items()}


def test_without_a_roster_hours_lie_evenly_over_the_days_of_their_week() -> None:
    """Beside adds an hour on each of its 14 days."""
    free = story(into_float=True)
    even = dict.fromkeys(range(10, 20), 11) | dict.fromkeys(range(20, 24), 1)
    assert by_day(free, stating()) == pytest.approx(even)
    # 4 days take 20 h, 6 and a float day 49 h, three float days 31 h.
    told = stating((FIRST, 20.0), (SECOND, 49.0), (THIRD, 31.0))
    found = by_day(free, told)
    assert [found[n] for n in (10, 14, 20, 21)] == pytest.approx([6, 8, 8, 1 + 31 / 3])
    late = stating((week_name(monday_of(day(0))), 70.0), first=-4)
    assert by_day(free, late)[0] == pytest.approx(11)


def test_a_stage_runs_to_the_last_float_day_that_its_hours_need() -> None:
    """Float days are day 20, a Sunday, and 21 to 23 of the third week."""
    free = story(into_float=True)

    def until(*hours: tuple[str, float]) -> date:
        return stretched(plan(stating(*hours)), free).placements[0].stages[0].until

    assert until() == day(20)
    assert until((FIRST, 40.0), (SECOND, 60.0)) == day(21)
    assert until((FIRST, 40.0), (SECOND, 59.0), (THIRD, 1.0)) == day(24)
    assert until((FIRST, 40.0), (SECOND, 60.0), (THIRD, 0.0)) == day(21)


def test_hours_within_some_days_are_their_share_of_each_week() -> None:
    """40 h over 4 days and 60 h over 6; of days 12 to 14 two are in the first week, one after."""
    of = story()
    days = WorkedDays(of)
    (work, _) = stating((FIRST, 40.0), (SECOND, 60.0)).stages

    def within(first: int, until: int, first_day: int = 0) -> object:
        return hours_within(work, day(first), day(until), day(first_day), days)

    assert within(12, 15) == {"Mechanic": pytest.approx(30.0)}
    assert within(10, 20) == {"Mechanic": pytest.approx(100.0)}
    assert within(20, 25) == {}
    # The plan begins on day 12: the 40 h lie on two days.
    assert within(10, 13, first_day=12) == {"Mechanic": pytest.approx(20.0)}
    assert within(10, 12, first_day=12) == {}


def test_what_is_done_of_a_week_lies_before_the_re_plan_and_the_rest_behind_it() -> None:
    """Re-planned on day 16: of the 60 h of the second week 5 are done on days 14 and 15."""
    of = story()
    days = WorkedDays(of)
    (work, _) = stating((FIRST, 40.0), (SECOND, 60.0)).stages
    hours = (DoneHours("Mechanic", day(7), 40.0), DoneHours("Mechanic", day(14), 5.0))
    done = WorkDone("C1", "Work", day(10), day(16), hours)

    def within(first: int, until: int, told: WorkDone = done) -> object:
        return hours_within(work, day(first), day(until), day(0), days, told)

    assert within(14, 16) == {"Mechanic": pytest.approx(5.0)}
    assert within(16, 20) == {"Mechanic": pytest.approx(55.0)}
    assert within(12, 15) == {"Mechanic": pytest.approx(20.0 + 2.5)}
    # It began on another day by now: nothing of that counts.
    assert within(14, 16, replace(done, first=day(9))) == {"Mechanic": pytest.approx(20.0)}


def test_days_off_have_no_part_of_a_week() -> None:
    """Work on Thursday, Friday and Monday: 20 h of the first week are 10 h a day."""
    days = WorkedDays(story(working_weekdays=MON_TO_FRI))
    stated = tuple(WeekHours("Mechanic", week, 20.0) for week in (FIRST, SECOND))
    work = StageDays("Work", day(10), day(15), stated)
    assert hours_within(work, day(11), day(14), day(0), days) == {"Mechanic": 10.0}


def test_contract_people_are_there_too() -> None:
    """Saturday is worked by two contract mechanics alone: 60 h are 10 h on each of six days."""
    saturday = Pattern("Saturday", (None,) * 5 + ("Day", None))
    agency = Crew("Agency", ("Mechanic",), 2, "Saturday", FIRST_DAY, employment=Employment.CONTRACT)
    of = story(crews=(LINE, agency), patterns=(*OFFICE, saturday))
    found = on_days(of, stating((FIRST, 40.0), (SECOND, 60.0)))
    assert [found[number] for number in range(14, 20)] == pytest.approx([10] * 6)
