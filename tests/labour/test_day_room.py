"""Room for man-hours a day, by hand: heads x hours of the shifts that crews work x productivity."""

from dataclasses import replace
from datetime import time
from math import inf

import pytest

from capacity.facts import Pattern, Shift
from capacity.labour.day_room import day_room_of
from tests.plans.stories import base, package, stage

EARLY = Shift("Day", time(6), 8.0)
LATE = Shift("Late", time(14), 7.5)
NIGHT = Shift("Night", time(22), 8.5, night=True)
ANY = replace(stage("Any", 2), max_heads=4)
BY_DAY = replace(stage("By day", 2), max_heads=4, by_night=False)
STAGES = package(ANY, BY_DAY, stage("Without heads", 2))


def room(*cycle: str, **changes: object) -> dict[str, float]:
    """The room where the one crew goes through such shifts."""
    three = base(patterns=(Pattern("Daily", cycle),), shifts=(EARLY, LATE, NIGHT), **changes)
    return day_room_of(three, STAGES)


def test_night_shifts_give_room_to_what_may_run_by_night() -> None:
    """4 heads: 8 + 7.5 + 8.5 = 24 h are 96 h; without the night 15.5 h are 62 h."""
    expected = {"Any": 96.0, "By day": 62.0, "Without heads": inf}
    assert room("Day", "Late", "Night") == pytest.approx(expected)


def test_shifts_that_nobody_works_give_none() -> None:
    """4 heads x 8 h x 0.5."""
    found = room("Day", productivity=0.5)
    assert found == pytest.approx({"Any": 16.0, "By day": 16.0, "Without heads": inf})


def test_a_day_has_24_hours() -> None:
    long = replace(NIGHT, hours=12.0)
    three = base(patterns=(Pattern("Daily", ("Day", "Late", "Night")),), shifts=(EARLY, LATE, long))
    assert day_room_of(three, STAGES)["Any"] == pytest.approx(96.0)


def test_a_pattern_that_no_crew_has_gives_none() -> None:
    """Nights are in a pattern that stands ready: 4 heads x 8 h."""
    two = (Pattern("Daily", ("Day",)), Pattern("Ready", ("Late", "Night")))
    of = base(patterns=two, shifts=(EARLY, LATE, NIGHT))
    assert day_room_of(of, STAGES)["Any"] == pytest.approx(32.0)
