"""The 50 % rule, over plain counts and over a roster.

Source: AMC 145.A.30(d) paragraph 1, from memory and not re-read: at least half the staff that
perform maintenance in each workshop, hangar or flight line on any shift should be employed.
``employed >= ceil(n / 2)`` and the cases are worked out by hand from it.
"""

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from capacity.facts import Absence, Crew, Employment, Function, FunctionStaff, Pattern, Shift
from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.man_hour_plan.own_staff_share import (
    HeadCount,
    has_too_few_employed,
    least_employed,
    too_few_by_shift,
    too_few_employed,
)
from capacity.man_hour_plan.roster_heads import counts_on
from capacity.plans.plan import Plan
from tests.bases import BAY
from tests.plans import stories
from tests.plans.stories import FIRST_DAY, MECHANIC, day


@pytest.mark.parametrize(
    ("heads", "employed", "is_enough"),
    [(10, 5, True), (10, 4, False), (11, 5, False), (11, 6, True), (1, 1, True), (1, 0, False)],
)
def test_half_rounded_up_must_be_employed(heads, employed, is_enough):
    count = HeadCount("Hangar 1", "Day", employed, heads - employed)
    assert has_too_few_employed(count) is not is_enough


def test_a_good_day_shift_makes_up_for_no_night_shift():
    day_shift = HeadCount("Hangar 1", "Day", employed=8, contract=0)
    night_shift = HeadCount("Hangar 1", "Night", employed=2, contract=6)
    # 10 of 16 are employed on the whole, 62.5 %
    assert (day_shift.employed + night_shift.employed) / 16 == 0.625
    assert too_few_employed((day_shift, night_shift)) == (night_shift,)


def test_a_good_hangar_makes_up_for_no_other():
    good = HeadCount("Hangar 1", "Day", employed=20, contract=0)
    bad = HeadCount("Hangar 2", "Day", employed=1, contract=3)
    assert too_few_employed((good, bad)) == (bad,)


def test_of_parts_of_people_half_is_enough():
    assert least_employed(7.4) == pytest.approx(3.7)
    assert not has_too_few_employed(HeadCount("", "Day", 3.7, 3.7))
    assert has_too_few_employed(HeadCount("", "Day", 3.6, 3.8))


@given(st.integers(0, 500), st.integers(0, 500))
def test_whole_people_are_enough_when_no_more_are_contracted_than_employed(employed, contract):
    count = HeadCount("", "Day", employed, contract)
    assert has_too_few_employed(count) == (contract > employed)


def test_nobody_there_breaks_nothing():
    assert not has_too_few_employed(HeadCount("", "Day", 0, 0))


def crew(name: str, heads: int, pattern: str, area: str = "", contract: bool = False) -> Crew:
    """Mechanics of one pattern."""
    return Crew(
        name,
        ("Mechanic",),
        heads,
        pattern,
        FIRST_DAY,
        frozenset(),
        Employment.CONTRACT if contract else Employment.EMPLOYED,
        area,
    )


def roster(*crews: Crew, **changes):
    """A base with a day and a night shift."""
    return stories.base(
        crews=crews,
        patterns=(Pattern("Days", ("Day",)), Pattern("Nights", ("Night",))),
        shifts=(Shift("Day", time(6), 8.0), Shift("Night", time(22), 8.0, night=True)),
        **changes,
    )


NIGHT_TOO_THIN = (
    crew("A", 8, "Days"),
    crew("B", 2, "Nights"),
    crew("Guests", 6, "Nights", contract=True),
)


def test_the_roster_is_counted_by_shift_in_the_only_hangar():
    counts = counts_on(roster(*NIGHT_TOO_THIN), [FIRST_DAY])
    assert counts[FIRST_DAY] == (
        HeadCount("North", "Day", 8.0, 0.0),
        HeadCount("North", "Night", 2.0, 6.0),
    )


def test_a_man_hour_plan_tells_the_night_shift_on_all_its_days():
    (broken,) = man_hour_plan(roster(*NIGHT_TOO_THIN), Plan(())).too_few_employed or ()
    assert (broken.worst.area, broken.worst.shift) == ("North", "Night")
    # 4 January to 28 February 2027
    assert (broken.days[0], broken.days[-1]) == (FIRST_DAY, date(2027, 2, 28))
    assert len(broken.days) == 56


def test_the_rule_can_be_switched_off():
    base = roster(*NIGHT_TOO_THIN, own_staff_share_rule=False)
    assert man_hour_plan(base, Plan(())).too_few_employed is None


def test_absence_can_break_it_for_a_day_alone():
    crews = (crew("B", 2, "Nights"), crew("Guests", 2, "Nights", contract=True))
    away = (Absence("B", day(3), day(4), 1),)
    (broken,) = man_hour_plan(roster(*crews, absences=away), Plan(())).too_few_employed or ()
    assert broken.days == (day(3), day(4))
    assert broken.worst == HeadCount("North", "Night", 1.0, 2.0)


def test_crews_of_two_hangars_stand_in_their_areas():
    bays = (BAY, replace(BAY, name="B2", hangar="South"))
    crews = (crew("A", 8, "Days", "North"), crew("Guests", 2, "Days", "South", contract=True))
    (broken,) = man_hour_plan(roster(*crews, bays=bays), Plan(())).too_few_employed or ()
    assert broken.worst == HeadCount("South", "Day", 0.0, 2.0)


def test_without_an_area_crews_of_several_hangars_count_together_and_blank():
    bays = (BAY, replace(BAY, name="B2", hangar="South"))
    crews = (crew("A", 8, "Days"), crew("Guests", 2, "Days", contract=True))
    assert counts_on(roster(*crews, bays=bays), [FIRST_DAY])[FIRST_DAY] == (
        HeadCount("", "Day", 8.0, 2.0),
    )


def test_people_who_perform_no_maintenance_do_not_count():
    skills = (MECHANIC, replace(MECHANIC, name="Auditing"))
    auditors = replace(crew("Auditors", 5, "Nights"), skills=("Auditing",))
    base = roster(*NIGHT_TOO_THIN, auditors, skills=skills)
    assert man_hour_plan(base, Plan(())).too_few_employed == ()  # 7 of 13
    told = base.replace(functions=(FunctionStaff(Function.MONITOR_QUALITY, "Auditing"),))
    assert len(man_hour_plan(told, Plan(())).too_few_employed or ()) == 1


def test_the_worst_day_is_shown():
    counts = {
        day(0): (HeadCount("North", "Day", 4, 6),),
        day(1): (HeadCount("North", "Day", 1, 9),),
        day(2): (HeadCount("North", "Day", 5, 5),),
    }
    (broken,) = too_few_by_shift(counts)
    assert broken.worst == HeadCount("North", "Day", 1, 9)
    assert broken.days == (day(0), day(1))
