"""One lane of two bays, the inner one behind the outer one.

Source: an example made for this project and solved by trying every placement. Three visits
(release, length): V1 (0, 6), V2 (1, 3), V3 (2, 4). An aircraft in the inner bay comes in and
leaves only while the outer one is empty; touching times are allowed. Least total time in the
system (out day less release): 15 without blocking, 17 with.
"""

from dataclasses import replace

import pytest

from capacity.facts import Status
from tests.reference.stories import base, bays, day, proven, visit

VISITS = {"V1": (0, 6), "V2": (1, 3), "V3": (2, 4)}


def lane(*, blocked: bool):
    outer, inner = bays(2)
    if blocked:
        inner = replace(inner, reached_through=outer.name)
    visits = [
        # Agreed out on its release day, at 1 a day: lateness is the time in the system.
        visit(name, length, release, 12, agreed_out=day(release), late_cost_per_day=1.0)
        for name, (release, length) in VISITS.items()
    ]
    return base((outer, inner), *visits, longest_delay_days=0)


@pytest.mark.parametrize(("blocked", "total_days"), [(False, 15.0), (True, 17.0)])
def test_the_least_time_in_the_system(blocked, total_days):
    assert proven(lane(blocked=blocked)).audit.goals.money == pytest.approx(total_days)


def test_a_third_bay_behind_both_counts_the_whole_way():
    # B3 behind B2 behind B1: what stands in B1 strictly over a move blocks B3 as well.
    first, second, third = bays(3)
    second = replace(second, reached_through=first.name)
    third = replace(third, reached_through=second.name)
    long_one = visit("Long", 20, 0, 0, status=Status.FIXED, fixed_bay="B1", fixed_in=day(0))
    short_one = visit("Short", 5, 3, 3)
    # Short may come in from day 3 to day 3 + 7, always strictly inside Long's 20 days.
    outcome = proven(base((first, second, third), long_one, short_one))
    assert outcome.audit.goals.days_past_latest_in == 8
    assert outcome.plan.not_placed == ("Short",)


def test_the_day_on_which_the_way_is_left_is_free():
    first, second = bays(2)
    second = replace(second, reached_through=first.name)
    long_one = visit("Long", 6, 0, 0, status=Status.FIXED, fixed_bay="B1", fixed_in=day(0))
    short_one = visit("Short", 5, 6, 6)
    outcome = proven(base((first, second), long_one, short_one))
    assert outcome.audit.goals.days_past_latest_in == 0
