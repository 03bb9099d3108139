"""Man-hours are met or told to be short; nobody works who is not there, may not or cannot."""

from dataclasses import replace

import pytest

from capacity.facts import Check, Pattern, Status
from tests.crews.stories import (
    NIGHT,
    away,
    base,
    crew,
    day,
    one_stage,
    package,
    placed,
    short,
    staffed,
    stage,
)

TWO = crew("Two", 2)


@pytest.mark.parametrize(("asked", "missing"), [(20.0, 0.0), (32.0, 0.0), (33.5, 1.5)])
def test_two_people_give_32_hours_in_two_days(asked: float, missing: float) -> None:
    result = one_stage(stage("Work", 2, hours=asked), [TWO])
    assert result.audit.short == pytest.approx(missing)
    assert result.audit.given == pytest.approx(asked - missing)
    assert result.audit.asked == pytest.approx(asked)


def test_what_is_short_names_its_stage_and_skill() -> None:
    result = one_stage(stage("Work", 1, hours=20.0), [TWO])
    assert [(s.check, s.stage, s.skill, s.hours) for s in result.plan.short] == [
        ("C1", "Work", "Mechanic", 4.0)
    ]


def test_productivity_shortens_what_a_person_gives() -> None:
    work = stage("Work", 1, hours=12.0)
    assert short(work, TWO, productivity=0.75) == pytest.approx(0.0)
    assert short(work, TWO, productivity=0.5) == pytest.approx(4.0)


@pytest.mark.parametrize(("absent", "missing"), [(0.0, 0.0), (1.0, 8.0), (0.5, 8.0), (9.0, 16.0)])
def test_heads_are_whole_and_less_those_absent(absent: float, missing: float) -> None:
    """Half a head away leaves one whole one of two."""
    absences = away("Two", absent, 0) if absent else ()
    assert short(stage("Work", 1, hours=16.0), TWO, absences=absences) == pytest.approx(missing)


def test_people_are_shared_between_aircraft_of_the_same_day() -> None:
    both = base(
        [package(stage("Work", 1, hours=12.0), name=name) for name in ("One", "Other")], [TWO]
    )
    stays = [placed(name, ("Work", 0, 1)) for name in ("C1", "C2")]
    # In whole shifts the third gives 4 h to one aircraft, in quarters 4 h to each.
    assert staffed(both, *stays).audit.short == pytest.approx(8.0)
    one_more = replace(both, crews=(crew("Three", 3),))
    assert staffed(one_more, *stays).audit.short == pytest.approx(4.0)
    assert staffed(one_more, *stays, parts=4).audit.short == pytest.approx(0.0)


def test_a_stage_that_is_not_done_by_night_is_left_by_the_night_shift() -> None:
    nights, days = crew("Nights", 2, NIGHT.name), crew("Days", 2)
    assert short(stage("Work", 1, hours=32.0), nights, days) == pytest.approx(0.0)
    by_day = stage("Work", 1, hours=32.0, by_night=False)
    assert short(by_day, nights, days) == pytest.approx(16.0)
    assert short(by_day, nights) == pytest.approx(32.0)
    assert short(stage("Work", 1, hours=16.0, by_night=False), nights, days) == pytest.approx(0.0)


@pytest.mark.parametrize(("most", "missing"), [(1, 9.0), (2, 1.0), (3, 0.0)])
def test_most_heads_in_any_one_shift(most: int, missing: float) -> None:
    work = stage("Work", 1, hours=17.0, max_heads=most)
    assert short(work, crew("Five", 5)) == pytest.approx(missing)


def test_most_heads_count_for_each_shift_by_itself() -> None:
    work = stage("Work", 1, hours=33.0, max_heads=2)
    early, late = crew("Early five", 5), crew("Late five", 5, "Late")
    assert short(work, early, late) == pytest.approx(1.0)


def test_most_heads_count_the_people_of_all_skills_and_crews() -> None:
    work = stage("Work", 1, man_hours={"Mechanic": 8.0, "Certifier": 9.0}, max_heads=2)
    certifiers = crew("Certifiers", 2, skills=("Certifier",))
    assert short(work, TWO, certifiers) == pytest.approx(1.0)


def test_a_crew_works_only_on_its_types() -> None:
    work = stage("Work", 1, hours=16.0)
    assert short(work, replace(TWO, types=frozenset({"Tanker"}))) == pytest.approx(16.0)
    assert short(work, replace(TWO, types=frozenset({"Tanker", "Twin"}))) == pytest.approx(0.0)
    tanker = Check("C1", "Aircraft", "Tanker", "Heavy", Status.BOOKED, day(0), day(9))
    of_tankers = replace(TWO, types=frozenset({"Tanker"}))
    assert short(work, of_tankers, checks=(tanker,)) == pytest.approx(0.0)


def test_a_crew_works_only_in_its_skills() -> None:
    work = stage("Work", 1, man_hours={"Certifier": 8.0})
    assert short(work, TWO) == pytest.approx(8.0)
    assert short(work, replace(TWO, skills=("Mechanic", "Certifier"))) == pytest.approx(0.0)


def test_a_crew_works_only_on_the_days_of_its_pattern() -> None:
    on_and_off = Pattern("On and off", ("Early", None))
    two = crew("Two", 2, "On and off")
    work = stage("Work", 2, hours=32.0)
    patterns = (on_and_off,)
    assert short(work, two, patterns=patterns) == pytest.approx(16.0)
    other_half = replace(two, name="Other half", starts_cycle_on=day(1))
    assert short(work, two, other_half, patterns=patterns) == pytest.approx(0.0)


def test_nobody_works_on_days_on_which_the_base_does_not() -> None:
    """Friday to Monday are two worked days: 32 h, not 64."""
    five_days = frozenset(range(5))
    over_the_weekend = base(
        [package(stage("Work", 2, hours=40.0))], [TWO], working_weekdays=five_days
    )
    result = staffed(over_the_weekend, placed("C1", ("Work", 4, 8)), weeks=2)
    assert result.audit.short == pytest.approx(8.0)
    assert {there.day for there in result.plan.attendance} == {day(4), day(7)}


def test_a_stage_that_reaches_out_of_the_weeks_asks_its_share_of_days() -> None:
    """Four of its ten days lie in the week."""
    long = base([package(stage("Work", 10, hours=160.0))], [TWO])
    result = staffed(long, placed("C1", ("Work", 3, 13)))
    assert result.audit.asked == pytest.approx(64.0)
    assert result.audit.short == pytest.approx(0.0)
    begun = staffed(long, placed("C1", ("Work", 0, 10)), first_day=day(8))
    assert begun.audit.asked == pytest.approx(32.0)
