"""Bays reached through other bays: the way is clear on the in day and the out day."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import product

import pytest

from capacity.facts import Status
from capacity.plans.audit import Auditor, audit
from capacity.words import day as as_day
from tests.bases import BAY

from .stories import base, check, day, package, placed, plan, stage

OUTER = replace(BAY, name="O")
INNER = replace(BAY, name="I", reached_through="O")

# One lane, the inner bay I behind the outer bay O; three visits as (release, length) in days.
VISITS = {"V1": (0, 6), "V2": (1, 3), "V3": (2, 4)}
LANE = base(
    *(
        check(name, package=name, earliest_in=day(release), latest_in=day(30))
        for name, (release, _) in VISITS.items()
    ),
    packages=tuple(
        package(stage("Work", length), name=name) for name, (_, length) in VISITS.items()
    ),
    bays=(OUTER, INNER),
)
AUDITOR = Auditor(LANE)

Places = Mapping[str, tuple[str, int]]
"""The bay and the in day of each visit."""


def broken(places: Places, auditor: Auditor = AUDITOR) -> tuple[str, ...]:
    """Return what the audit says of the visits in these bays from these days on."""
    stays = (
        placed(name, first, ("Work", first, first + VISITS[name][1]), bay=bay)
        for name, (bay, first) in places.items()
    )
    return auditor.audit(plan(*stays)).broken


def test_a_lane_that_works() -> None:
    """V1 in I on 0-6, V2 in O on 1-4 while V1 stays put, V3 in I on 6-10 after V1."""
    assert broken({"V1": ("I", 0), "V2": ("O", 1), "V3": ("I", 6)}) == ()


def test_an_aircraft_in_the_way_when_another_leaves() -> None:
    """V1 leaves on day 6, when V3 stands in O on 4-8."""
    assert broken({"V1": ("I", 0), "V2": ("O", 1), "V3": ("O", 4)}) == (
        "V1 leaves bay I on Sun 10 Jan 2027, "
        "but V3 is in its way in bay O from Fri 8 Jan 2027 until Tue 12 Jan 2027.",
    )


def test_an_aircraft_in_the_way_when_another_comes_in() -> None:
    """V2 comes in on day 1 while V1 stands in O on 0-6; it leaves on day 4 no better."""
    assert broken({"V1": ("O", 0), "V2": ("I", 1), "V3": ("O", 6)}) == tuple(
        f"V2 {moves} on {as_day(day(on))}, "
        "but V1 is in its way in bay O from Mon 4 Jan 2027 until Sun 10 Jan 2027."
        for moves, on in (("comes into bay I", 1), ("leaves bay I", 4))
    )


@pytest.mark.parametrize(
    ("v3_in", "clear"), [(2, True), (3, False), (4, False), (5, False), (6, True)]
)
def test_moves_of_one_day_wait_for_each_other(v3_in: int, clear: bool) -> None:
    """V1 leaves I on day 6: V3's own out day (2 + 4) or in day (6) in O is no obstacle."""
    said = broken({"V1": ("I", 0), "V2": ("O", 20), "V3": ("O", v3_in)})
    assert (said == ()) == clear


def test_nothing_is_in_the_way_of_the_outer_bay() -> None:
    """V3 moves in O on days 2 and 6, when V1 stands in I behind it on 1-7."""
    assert broken({"V1": ("I", 1), "V2": ("I", 20), "V3": ("O", 2)}) == ()


def test_the_way_leads_through_every_bay_in_front() -> None:
    """Deep is reached through I, which is reached through O: V3 in O blocks Deep as well."""
    deep = replace(BAY, name="Deep", reached_through="I")
    auditor = Auditor(LANE.replace(bays=(OUTER, INNER, deep)))
    places = {"V1": ("Deep", 0), "V2": ("I", 20)}
    assert broken(places | {"V3": ("O", 6)}, auditor) == ()
    assert broken(places | {"V3": ("O", 5)}, auditor) == (
        "V1 leaves bay Deep on Sun 10 Jan 2027, "
        "but V3 is in its way in bay O from Sat 9 Jan 2027 until Wed 13 Jan 2027.",
    )


def test_a_way_that_leads_round_in_a_circle_comes_to_an_end() -> None:
    """O and I through each other, and a bay through one that the base does not have."""
    circle = (replace(OUTER, reached_through="I"), INNER)
    places = {"V1": ("I", 0), "V2": ("O", 20), "V3": ("I", 6)}
    assert broken(places, Auditor(LANE.replace(bays=circle))) == ()
    lost = (OUTER, replace(INNER, reached_through="B9"))
    assert broken(places, Auditor(LANE.replace(bays=lost))) == ()


def test_a_fixed_check_is_in_the_way_like_any_other() -> None:
    """V3 is fixed in O on 4-8; V1 can leave on day 8 at the earliest, so come in on day 2."""
    v1, v2, v3 = LANE.checks
    stuck = replace(v3, status=Status.FIXED, fixed_bay="O", fixed_in=day(4))
    auditor = Auditor(LANE.replace(checks=(v1, v2, stuck)))
    rest = {"V2": ("O", 20), "V3": ("O", 4)}
    said = {v1_in: broken({"V1": ("I", v1_in)} | rest, auditor) for v1_in in range(5)}
    assert [v1_in for v1_in in said if not said[v1_in]] == [2, 3, 4]


def keeps_the_lane(places: Places, blocking: bool) -> bool:
    """Tell from sets of days: no bay twice a day, and no moving day inside a stay in O."""
    days = {name: set(range(first, first + VISITS[name][1])) for name, (_, first) in places.items()}
    for one, other in product(places, places):
        if one == other:
            continue
        if places[one][0] == places[other][0] and days[one] & days[other]:
            return False
        inside = days[other] - {min(days[other])}
        moves = {min(days[one]), max(days[one]) + 1}
        if blocking and (places[one][0], places[other][0]) == ("I", "O") and moves & inside:
            return False
    return True


def test_every_plan_of_the_lane() -> None:
    """All 1,400 plans with every visit out by day 10, told as sets of days tell them.

    Day 9 is the earliest that the last one can be out: V1 in I on 0-6, V3 in O on 2-6, V2 after
    them on 6-9. Without blocking it is day 8.
    """
    free = Auditor(LANE.replace(bays=(OUTER, replace(INNER, reached_through=None))))
    ways = [
        [(bay, first) for bay in "IO" for first in range(release, 10 - length + 1)]
        for release, length in VISITS.values()
    ]
    for auditor, blocking, earliest in ((AUDITOR, True, 9), (free, False, 8)):
        last_out = []
        for chosen in product(*ways):
            places = dict(zip(VISITS, chosen, strict=True))
            stands = broken(places, auditor) == ()
            assert stands == keeps_the_lane(places, blocking), places
            if stands:
                last_out.append(max(places[name][1] + VISITS[name][1] for name in VISITS))
        assert min(last_out) == earliest


def test_the_bay_of_a_stay_may_be_unknown() -> None:
    """It has its own sentence; nothing is in its way."""
    told = plan(placed("V1", 0, ("Work", 0, 6), bay="B9"), not_placed=("V2", "V3"))
    assert audit(LANE, told).broken == ("V1 is in bay B9, which the base does not have.",)
