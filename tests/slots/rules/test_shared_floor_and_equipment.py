"""Shared floor, equipment, stages alone and paces, each as a small story proven to the end."""

from dataclasses import replace

import pytest

from capacity.facts import Equipment, EquipmentOutage, Package, Stage, Status
from tests.reference.stories import base, bays, day, proven, visit


def late_from(number: int) -> dict:
    return {"agreed_out": day(number), "late_cost_per_day": 1.0}


def test_one_wide_position_against_two_narrow_ones():
    """Bin packing, worked out by hand: a wide bay's floor holds two narrow stays, or one wide one.

    Two narrow visits of 4 days and a wide one of 4, all due on day 4. Apart they are late by 0;
    on one floor the wide one is fixed, so both narrow ones wait 4 days: 8.
    """
    wide, left, right = bays(3)
    wide = replace(wide, name="Wide", shares_floor_with=frozenset({"Left", "Right"}))
    left, right = replace(left, name="Left"), replace(right, name="Right")
    big = visit("Big", 4, 0, 0, status=Status.FIXED, fixed_bay="Wide", fixed_in=day(0))
    small = [visit(name, 4, 0, 30, **late_from(4)) for name in ("S1", "S2")]
    outcome = proven(base((wide, left, right), big, *small))
    assert outcome.audit.goals.money == 8.0
    apart = base((replace(wide, shares_floor_with=frozenset()), left, right), big, *small)
    assert proven(apart).audit.goals.money == 0.0


def jacked(name: str, number: int, **changes: object):
    """A package whose second of three stages, 2 days each, stands on jacks."""
    stages = tuple(
        Stage(f"S{n}", "maintenance", 2, after=(f"S{n - 1}",) if n else ()) for n in range(number)
    )
    return Package(name, (stages[0], replace(stages[1], **changes), *stages[2:]))


@pytest.mark.parametrize(("sets", "late_days"), [(2, 0), (1, 2)])
def test_jack_sets_are_held_over_the_stage(sets, late_days):
    # Three stages of 2 days in two bays; with one set the second aircraft is 2 days late.
    package = jacked("Jacked", 3, equipment=("jacks",))
    visits = [visit(name, 6, 0, 30, package="Jacked", **late_from(6)) for name in ("A", "B")]
    plain = base(bays(2), *visits, equipment=(Equipment("jacks", sets),))
    outcome = proven(plain.replace(packages=(*plain.packages, package)))
    assert outcome.audit.goals.money == late_days


def test_an_outage_counts_like_an_aircraft():
    package = jacked("Jacked", 3, equipment=("jacks",))
    outage = EquipmentOutage("jacks", day(2), day(3), 1)
    plain = base(
        bays(1),
        visit("A", 6, 0, 30, package="Jacked", **late_from(6)),
        equipment=(Equipment("jacks", 1),),
        equipment_outages=(outage,),
    )
    # Jacks from day 4 on: the visit begins 2 days later.
    outcome = proven(plain.replace(packages=(*plain.packages, package)))
    assert outcome.audit.goals.money == 2.0


def test_nobody_works_beside_a_stage_that_is_alone():
    # Two parallel stages of 3 days take 3 days; when one must be alone they take 6.
    swing = Stage("Gear swing", "maintenance", 3, alone=True)
    side_by_side = Package("Swing", (swing, Stage("Cabin", "maintenance", 3)))
    plain = base(bays(1), visit("A", 3, 0, 0, package="Swing"))
    outcome = proven(plain.replace(packages=(*plain.packages, side_by_side)))
    (placement,) = outcome.plan.placements
    assert (placement.out_day - placement.in_day).days == 6


@pytest.mark.parametrize(("shortest", "late_days"), [(None, 3), (4, 2), (2, 0)])
def test_a_stage_runs_faster_when_that_pays(shortest, late_days):
    package = Package("Flexible", (Stage("Work", "maintenance", 5, shortest_days=shortest),))
    plain = base(bays(1), visit("A", 5, 0, 0, package="Flexible", **late_from(2)))
    outcome = proven(plain.replace(packages=(*plain.packages, package)))
    assert outcome.audit.goals.money == late_days


def test_a_stage_runs_slower_when_hours_are_short():
    # 1 head x 10 h x 7 days = 70 h a week; 140 h in 7 days buy 70 h, over 14 days none.
    stage = Stage("Work", "maintenance", 7, {"Mechanic": 140.0}, longest_days=14)
    plain = base(bays(1), visit("A", 7, 0, 0, package="Slow"), overload_cost=1.0)
    outcome = proven(plain.replace(packages=(*plain.packages, Package("Slow", (stage,)))))
    assert outcome.audit.goals.money == pytest.approx(0.0)
    hurried = replace(stage, longest_days=None)
    outcome = proven(plain.replace(packages=(*plain.packages, Package("Slow", (hurried,)))))
    assert outcome.audit.goals.money == pytest.approx(70.0)
