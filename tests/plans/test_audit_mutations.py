"""Change one thing in a plan that stands: the audit says so, or its figures follow.

What the audit should say is worked out here from day numbers alone. Three checks, each Open
2 days and then Work 4 days, in bays of which only B1 and B2 hold the aircraft. Nothing is
bought, so money is early and late days less the price of the option.
"""

from dataclasses import replace
from datetime import timedelta
from math import fsum

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from capacity.facts import Status
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Placement, Plan
from tests.bases import BAY

from .stories import base, check, day, package, placed, stage

CHECKS = {
    one.name: one
    for one in (
        check("C1", package="Heavy", early_cost_per_day=3.0, latest_in=day(12)),
        check("C2", package="Heavy", agreed_out=day(18), late_cost_per_day=11.0),
        check("C3", package="Heavy", status=Status.OPTION, price=500.0, early_cost_per_day=2.0),
    )
}
BASE = base(
    *CHECKS.values(),
    packages=(package(stage("Open", 2, hours=20), stage("Work", 4, "Open", hours=80)),),
    bays=(BAY, replace(BAY, name="B2"), replace(BAY, name="Small", max_span_m=20.0)),
)
AUDITOR = Auditor(BASE)
SIX_DAYS = 6


def stay(name: str, in_day: int, bay: str) -> Placement:
    """Lay a check out by hand; the base works every day, so stages simply follow on."""
    opening, work = ("Open", in_day, in_day + 2), ("Work", in_day + 2, in_day + SIX_DAYS)
    return placed(name, in_day, opening, work, bay=bay)


STANDING = Plan((stay("C1", 6, "B1"), stay("C2", 12, "B1"), stay("C3", 8, "B2")))
MONEY = 6 * 3.0 + 2 * 2.0 - 500.0


def stands(plan: Plan) -> bool:
    """Tell from day numbers whether windows, sizes and bays are kept."""
    names = [placement.check for placement in plan.placements]
    occupied: set[tuple[str, int]] = set()
    for placement in plan.placements:
        one = CHECKS.get(placement.check)
        if one is None or placement.bay not in ("B1", "B2"):
            return False
        in_day = (placement.in_day - day(0)).days
        last_in = (one.latest_in - day(0)).days + (0 if one.status is Status.OPTION else 5)
        days = {(placement.bay, in_day + n) for n in range(SIX_DAYS)}
        if not 5 <= in_day <= last_in or occupied & days:
            return False
        occupied |= days
    return sorted(names) == ["C1", "C2", "C3"]


def money(plan: Plan) -> float:
    """Add up the early and late days from what the plan states, less the option's price."""
    total = -500.0
    for placement in plan.placements:
        one = CHECKS[placement.check]
        total += one.early_cost_per_day * max(0, (one.latest_in - placement.in_day).days)
        if one.agreed_out is not None:
            total += one.late_cost_per_day * max(0, (placement.out_day - one.agreed_out).days)
    return total


def assert_told_truly(plan: Plan) -> Audit:
    """Check that the audit finds what day numbers say and loses no man-hour between weeks."""
    result = AUDITOR.audit(plan)
    assert (result.broken == ()) == stands(plan)
    if not result.broken:
        past = [max(0, (p.in_day - CHECKS[p.check].latest_in).days) for p in plan.placements]
        assert result.goals.days_past_latest_in == sum(past)
        assert result.goals.money == pytest.approx(money(plan))
    asked = fsum(load.demand for load in result.weeks)
    assert asked == pytest.approx(fsum(account.man_hours for account in result.accounts))
    return result


def changed(index: int, placement: Placement) -> Plan:
    """Put another placement in the place of one of the three."""
    placements = list(STANDING.placements)
    placements[index] = placement
    return replace(STANDING, placements=tuple(placements))


WHICH = st.integers(0, 2)


def test_the_plan_stands_before_it_is_changed() -> None:
    """C1 is 6 days early, C2 two days past its Latest in and out as agreed, C3 2 days early."""
    result = assert_told_truly(STANDING)
    assert result.broken == ()
    assert (result.goals.days_past_latest_in, result.goals.money) == (2, MONEY)


@given(WHICH, st.integers(-9, 20), st.sampled_from(["B1", "B2", "Small", "B9"]))
def test_a_whole_stay_moved(index: int, days: int, bay: str) -> None:
    """Another day and another bay: it stands exactly where day numbers say it does."""
    name, in_day = (("C1", 6), ("C2", 12), ("C3", 8))[index]
    assert_told_truly(changed(index, stay(name, in_day + days, bay)))


@given(WHICH, st.sampled_from(["C1", "C2", "C3", "C9"]))
def test_another_name_on_a_stay(index: int, name: str) -> None:
    """Unless it is the same name again, one check is forgotten and another comes twice."""
    assert_told_truly(changed(index, replace(STANDING.placements[index], check=name)))


@given(
    WHICH,
    st.sampled_from(["in_day", "out_day", "first", "until", "stage", "stage_from", "lost"]),
    st.integers(0, 1),
    st.integers(-5, 5),
)
def test_one_stated_thing_changed_always_breaks(
    index: int, what: str, which_stage: int, days: int
) -> None:
    """In day, stages and out day hang together, so none can change alone."""
    assume(days != 0)
    shift = timedelta(days=days)
    right = STANDING.placements[index]
    stages = list(right.stages)
    slip = stages[which_stage]
    if what in ("first", "until"):
        stages[which_stage] = replace(slip, **{what: getattr(slip, what) + shift})
    elif what == "stage":
        stages[which_stage] = replace(slip, stage=f"{slip.stage} {days}")
    elif what == "lost":
        del stages[which_stage]
    wrong = replace(right, stages=tuple(stages))
    if what in ("in_day", "out_day"):
        wrong = replace(right, **{what: getattr(right, what) + shift})
    elif what == "stage_from":
        wrong = replace(right, stage_from="Work")
    assert AUDITOR.audit(changed(index, wrong)).broken


@given(WHICH, st.sampled_from(["not_placed", "refused"]))
def test_a_stay_given_up(index: int, listed: str) -> None:
    """It stands in the right list only, and there costs 6 days past or the option's price."""
    given_up = STANDING.placements[index].check
    left = tuple(p for p in STANDING.placements if p.check != given_up)
    result = AUDITOR.audit(replace(STANDING, placements=left, **{listed: (given_up,)}))
    right = "refused" if given_up == "C3" else "not_placed"
    assert (result.broken == ()) == (listed == right)
    past = {"C1": 2 + 6, "C2": 6, "C3": 2}
    assert result.goals.days_past_latest_in == past[given_up]
    saved = {"C1": 18.0, "C2": 0.0, "C3": 4.0 - 500.0}
    assert result.goals.money == pytest.approx(MONEY - saved[given_up])
