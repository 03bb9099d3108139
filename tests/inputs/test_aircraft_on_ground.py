"""An aircraft on ground told in one line: what is read of it, and every mistake with a remedy."""

from datetime import date, timedelta

import pytest

import capacity
from capacity import InputError
from capacity.facts import Base, Package, Skill, Status
from capacity.inputs.aircraft_on_ground import aircraft_on_ground, notes_on, with_aircraft_on_ground
from tests.bases import FIRST_DAY, small_base

SKILL = Skill("Airframe", 50.0, 0.1, 70.0, 0.1)
TODAY = FIRST_DAY + timedelta(days=3)


def base() -> Base:
    skills = tuple(Skill(n, 50.0, 0.1, 70.0, 0.1) for n in ("Airframe", "Sheet metal", "Heads"))
    return small_base(skills=skills, packages=(), checks=(), crews=())


def faults(*lines: str) -> list[str]:
    with pytest.raises(InputError) as found:
        aircraft_on_ground(lines, base(), TODAY)
    return [str(message) for message in found.value.messages]


def test_type_days_and_hours_are_enough() -> None:
    (one,) = aircraft_on_ground(["Twin; 12 days; Airframe 300, Sheet metal 80.5"], base(), TODAY)
    assert (one.check.name, one.check.aircraft, one.check.type) == ("AOG-1", "AOG-1", "Twin")
    assert (one.check.status, one.check.earliest_in) == (Status.BOOKED, TODAY)
    assert one.check.latest_in == TODAY
    (stage,) = one.package.stages
    assert one.package == Package("AOG-1 work", (stage,), ("Twin",))
    assert (stage.work, stage.days) == ("maintenance", 12)
    assert stage.man_hours == {"Airframe": 300.0, "Sheet metal": 80.5}
    (note,) = notes_on([one], TODAY)
    assert "Latest in is Thu 7 Jan 2027" in str(note)


def test_all_that_can_be_said_is_read_in_any_order_and_case() -> None:
    line = (
        "Twin; AIRFRAME 300 h; customer Fernhill Air; 1 day; name R-77; aircraft QA-07; "
        "Max heads 12; latest in: 2027-01-20; agreed out 2027-02-01; late cost 250; "
        "work maintenance; sheet metal 8 hours;"
    )
    (one,) = aircraft_on_ground([line], base(), TODAY)
    check, (stage,) = one.check, one.package.stages
    assert (check.name, check.aircraft, check.customer) == ("R-77", "QA-07", "Fernhill Air")
    assert (check.latest_in, check.agreed_out) == (date(2027, 1, 20), date(2027, 2, 1))
    assert check.late_cost_per_day == 250.0
    assert (stage.max_heads, stage.days) == (12, 1)
    assert stage.man_hours == {"Airframe": 300.0, "Sheet metal": 8.0}
    assert list(notes_on([one], TODAY)) == []


def test_a_skill_that_reads_like_a_word_of_ours_is_a_skill() -> None:
    (one,) = aircraft_on_ground(["Twin; 2 d; Heads 12"], base(), TODAY)
    assert one.package.stages[0].man_hours == {"Heads": 12.0}


def test_several_have_names_of_their_own() -> None:
    lines = ["Twin; 2 days; Airframe 30"] * 2
    both = with_aircraft_on_ground(base(), lines, TODAY)
    assert [check.name for check in both.checks] == ["AOG-1", "AOG-2"]
    again = capacity.with_aircraft_on_ground(both, lines[:1], TODAY)
    assert again.checks[-1].name == "AOG-3"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("", "does not begin with a type"),
        ("Twim; 2 days; Airframe 30", "Did you mean 'Twin'?"),
        ("Twin; two days; Airframe 30", "Write whole days from 1 to 365: '12 days'."),
        ("Twin; 0 days; Airframe 30", "'0 days' is no number of days"),
        ("Twin; 2.5 days; Airframe 30", "no number of days"),
        ("Twin; 2 days; 3 days; Airframe 30", "the days are said twice"),
        ("Twin; 2 days; Airfram 30", "Did you mean 'Airframe'?"),
        ("Twin; 2 days; Airframe", "Write man-hours as skill and number"),
        ("Twin; 2 days; Airframe 30,5", "'5' cannot be read"),
        ("Twin; 2 days; Airframe 0", "Give one above 0"),
        ("Twin; 2 days; Airframe 30, airframe 5", "said twice"),
        ("Twin; 2 days; Airframe nan", "cannot be read"),
        ("Twin; 2 days; Airframe 30; latest in 3 Feb", "Write it such as 'latest in 2027-02-03'."),
        ("Twin; 2 days; Airframe 30; latest in 2027-01-01", "Latest in Fri 1 Jan 2027 is before"),
        ("Twin; 2 days; Airframe 30; agreed out 2027-01-07", "is not after Thu 7 Jan 2027"),
        ("Twin; 2 days; Airframe 30; work paint", "Name a kind of work that one does"),
        ("Twin; 2 days; Airframe 30; max heads 1.5", "is not a whole number above 0"),
        ("Twin; 2 days; Airframe 30; late cost lots", "is not a number above 0"),
        ("Twin; 2 days; Airframe 30; name", "'name' says nothing"),
        ("Twin; 2 days; Airframe 30; name A; name B", "'name' is said twice"),
    ],
)
def test_every_mistake_has_a_remedy(line: str, words: str) -> None:
    told = faults(line)
    assert any(words in one for one in told), told
    assert all(one.startswith("error aircraft on ground: ") for one in told)


def test_all_that_is_wrong_is_said_at_once_and_all_that_is_missing() -> None:
    assert len(faults("Twim; x days; Foo 1; work paint; latest in soon")) == 5
    days, hours = faults("Twin")
    assert "it does not say the days of work" in days
    assert "it does not say the man-hours of a skill" in hours
    two = faults("Twin; 2 days; Airframe 30; name A", "Twin; 2 days; Airframe 30; name A")
    assert two == [
        "error aircraft on ground 2: 'A' is already a check or a package in the workbook. Give it "
        "a name of its own: 'name R-77'."
    ]
