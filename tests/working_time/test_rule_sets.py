"""The shipped limits: their numbers, their sources, and how they are told."""

from datetime import date

import pytest

from capacity.working_time.breaches import Broken, breaches_of
from capacity.working_time.limits import Known
from capacity.working_time.rule_sets import RULE_SETS
from capacity.working_time.wording import (
    CAUTION,
    breach_in_words,
    broken_in_words,
    limit_in_words,
)
from tests.working_time.rosters import duty, limit, night, roster

SEEN, FROM_MEMORY = Known.SEEN, Known.FROM_MEMORY

# Sources: UK CAA Paper 2002/06, where seen by a press report of DGCA circular AAC 05/2019;
# Directive 2003/88/EC; 14 CFR 121.377. "From memory": nobody re-read the number.
NUMBERS = {
    "shift-length": (12, FROM_MEMORY),
    "shift-length-with-overtime": (13, FROM_MEMORY),
    "rest-between-shifts": (11, SEEN),
    "scheduled-hours-in-7-days": (48, SEEN),
    "hours-in-7-days": (60, SEEN),
    "days-in-a-row": (7, SEEN),
    "rest-day-block": (59, FROM_MEMORY),
    "nights-in-a-row": (6, FROM_MEMORY),
    "nights-over-8-h-in-a-row": (4, FROM_MEMORY),
    "nights-over-10-h-in-a-row": (2, FROM_MEMORY),
    "rest-after-nights": (59, FROM_MEMORY),
    "rest-after-many-nights": (83, FROM_MEMORY),
    "night-finish": (8, FROM_MEMORY),
    "day-start": (6, FROM_MEMORY),
    "early-starts-in-a-row": (4, FROM_MEMORY),
    "daily-rest": (11, SEEN),
    "weekly-rest": (35, SEEN),
    "average-weekly-hours": (48, SEEN),
    "average-night-hours": (8, SEEN),
    "free-day-in-seven": (24, SEEN),
    "free-days-in-month": (1, SEEN),
}


def test_the_numbers_are_those_of_the_sources():
    shipped = [one for rule_set in RULE_SETS.values() for one in rule_set.limits]
    assert {one.id: (one.number, one.known) for one in shipped} == NUMBERS
    assert len(shipped) == len(NUMBERS)
    assert all(one.source and one.unit and one.what for one in shipped)


def test_each_rule_set_is_found_by_its_name():
    assert list(RULE_SETS) == [
        "good-practice",
        "working-time-directive",
        "one-day-in-seven-strict",
        "one-day-in-seven-equivalent",
    ]
    assert all(rule_set.name == name for name, rule_set in RULE_SETS.items())


def test_limits_are_told_with_source_and_how_well_they_are_known():
    assert limit_in_words(limit("rest-between-shifts")) == (
        "rest between two shifts: at least 11 h (UK CAA Paper 2002/06, good-practice limits on "
        "the working hours of maintenance staff; as repeated by DGCA circular AAC 05/2019, in a "
        "press report; number seen)"
    )
    assert limit_in_words(limit("shift-length")).endswith(
        "staff; number from memory, not checked against the text)"
    )
    assert "local law, collective agreements" in CAUTION


@pytest.mark.parametrize(
    ("name", "periods", "said"),
    [
        (
            "rest-between-shifts",
            (night(1), duty(2, start=17.5)),
            "rest between two shifts: 10.5 h on Tue 5 Jan 2027, at least 11 h",
        ),
        (
            "nights-over-10-h-in-a-row",
            (night(1), night(2), night(3)),
            "nights of more than 10 h in a row: 3 nights on Wed 6 Jan 2027, at most 2 nights",
        ),
        (
            "free-days-in-month",
            tuple(duty(number) for number in range(1, 29)),
            "free periods of 24 h in a calendar month, for every seven of its days: "
            "0 periods on Sun 31 Jan 2027, at least 4 periods",
        ),
    ],
)
def test_breaches_are_told_with_value_day_and_limit(name, periods, said):
    one = limit(name)
    (breach,) = one.rule(roster(*periods), one)
    assert breach_in_words(breach) == said
    assert broken_in_words(Broken("Red", breach, 1)) == f"crew Red, {said}"
    assert broken_in_words(Broken("Red", breach, 3)) == f"crew Red, {said}, 3 times in all"


def test_a_roster_of_short_days_breaks_nothing_in_any_set():
    week = [duty(7 * week + place, 8, 7.5) for week in range(4) for place in range(1, 6)]
    for rule_set in RULE_SETS.values():
        assert breaches_of(roster(*week), rule_set) == ()


def test_breaches_come_limit_by_limit():
    found = breaches_of(roster(night(1, overtime=2), night(2)), RULE_SETS["good-practice"])
    assert [(breach.limit.id, breach.day) for breach in found] == [
        ("shift-length-with-overtime", date(2027, 1, 4)),
        ("rest-between-shifts", date(2027, 1, 5)),
        ("night-finish", date(2027, 1, 4)),
    ]
