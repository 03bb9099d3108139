"""A plan of the invented quarter, laid once and judged by the audit."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from capacity.facts import Base, Status
from capacity.plans.audit import Audit, audit
from capacity.plans.plan import Plan
from tests.samples.laid_plan import laid_plan

# Check, bay, in day. Not the best plan, but a good one; it is here so that what the sample
# promises does not hang on how well a search does on the day.
PLACES = """
W-03 Bay 31   2027-01-08
W-04 Bay 32   2027-01-15
W-05 Bay 11   2027-01-28
W-06 Bay 12   2027-01-31
W-07 Bay 32   2027-02-16
W-08 Bay 12   2027-02-25
W-09 Bay 31   2027-02-24
W-10 Bay 32   2027-03-22
W-11 Bay 11   2027-03-18
N-03 Bay 24   2027-01-04
N-04 Bay 22   2027-01-07
N-05 Bay 21   2027-01-26
N-06 Bay 23   2027-01-27
N-07 Bay 24   2027-02-07
N-08 Bay 23   2027-02-16
N-09 Bay 22   2027-02-21
N-10 Bay 24   2027-02-26
N-11 Bay 24   2027-03-12
N-12 Bay 22   2027-03-14
N-13 Bay 23   2027-03-13
N-14 Bay 21   2027-03-04
R-02 Bay 34   2027-01-04
R-03 Bay 33   2027-01-21
R-04 Bay 34   2027-01-24
R-05 Bay 34   2027-02-08
R-06 Bay 33   2027-02-18
R-07 Bay 34   2027-03-02
R-08 Bay 33   2027-03-08
R-09 Bay 34   2027-04-01
R-10 Bay 33   2027-03-31
P-01 Paint 13 2027-01-05
P-02 Paint 13 2027-01-19
P-03 Paint 13 2027-02-05
P-04 Paint 13 2027-02-17
P-05 Paint 13 2027-03-03
P-06 Paint 13 2027-03-18
P-07 Paint 13 2027-03-31
"""


def places(base: Base) -> Iterator[tuple[str, str, date]]:
    for check in base.checks:
        if check.status is Status.FIXED and check.fixed_bay and check.fixed_in:
            yield check.name, check.fixed_bay, check.fixed_in
    for line in PLACES.strip().splitlines():
        check_name, *bay, in_day = line.split()
        yield check_name, " ".join(bay), date.fromisoformat(in_day)


@pytest.fixture(scope="module")
def plan(quarter: Base) -> Plan:
    """Return the plan."""
    return laid_plan(quarter, places(quarter))


@pytest.fixture(scope="module")
def audited(quarter: Base, plan: Plan) -> Audit:
    """Return what the audit makes of the plan."""
    return audit(plan, quarter)


def test_every_booked_check_can_start_by_its_latest_in(plan: Plan, audited: Audit) -> None:
    assert audited.broken == ()
    assert (plan.not_placed, audited.goals.days_past_latest_in) == ((), 0)


def test_the_bays_are_well_used(quarter: Base, plan: Plan) -> None:
    end = quarter.first_day + timedelta(weeks=quarter.weeks)
    used = sum(
        (min(place.out_day, end) - max(place.in_day, quarter.first_day)).days
        for place in plan.placements
    )
    closed = sum((closure.last - closure.first).days + 1 for closure in quarter.closures)
    assert 0.75 <= used / (len(quarter.bays) * 7 * quarter.weeks - closed) <= 0.90


def test_every_skill_is_asked_for_nearly_all_it_can_give(quarter: Base, audited: Audit) -> None:
    asked: defaultdict[str, float] = defaultdict(float)
    given: defaultdict[str, float] = defaultdict(float)
    for load in audited.weeks[: quarter.weeks * len(quarter.skills)]:
        asked[load.skill] += load.demand
        given[load.skill] += load.regular
    shares = {skill: asked[skill] / given[skill] for skill in asked}
    assert all(0.88 <= share <= 1.0 for share in shares.values()), shares


def test_some_weeks_are_overloaded_all_the_same(audited: Audit) -> None:
    overloaded = {(load.week, load.skill) for load in audited.weeks if load.overload > 0.5}
    assert 2 <= len(overloaded) <= 4, overloaded
    assert 0 < audited.goals.overload_hours < 200
    assert sum(load.contract > 0.5 for load in audited.weeks) >= 10
