"""Contract people at half of each hangar and shift at the most: held, warned of, or neither.

That half of the people in each shift and hangar are the organisation's own is how 145.A.30(d)
is commonly kept (acceptable means of compliance, from memory).
"""

from dataclasses import replace

import pytest

from capacity.crews.assign import Staffed
from capacity.facts import Crew
from tests.crews.stories import base, crew, one_stage, package, placed, staffed, stage

OWN = crew("Own", 2)
HIRED = crew("Hired", 3, contract=True)


def shared(hours: float, how: str, *crews: Crew) -> Staffed:
    return one_stage(stage("Work", 1, hours=hours), crews, {"own_staff_share": how})


@pytest.mark.parametrize(("hours", "missing"), [(24.0, 0.0), (32.0, 0.0), (40.0, 8.0)])
def test_as_a_rule_no_more_contract_people_than_own_ones(hours: float, missing: float) -> None:
    result = shared(hours, "hold", OWN, HIRED)
    assert result.audit.short == pytest.approx(missing)
    assert result.audit.warnings == ()


def test_as_a_warning_all_may_work_and_it_is_told() -> None:
    result = shared(40.0, "warn", OWN, HIRED)
    assert result.audit.short == pytest.approx(0.0)
    assert result.audit.warnings == (
        "North, Mon 4 Jan 2027, shift Early: 3 contract people and 2 own staff: more than half are "
        "contract.",
    )


def test_no_warning_where_it_is_half_or_nobody_asks() -> None:
    assert shared(32.0, "warn", OWN, replace(HIRED, heads=2)).audit.warnings == ()
    result = shared(40.0, "off", OWN, HIRED)
    assert (result.audit.short, result.audit.warnings) == (pytest.approx(0.0), ())


def test_contract_people_alone_are_not_let_in_by_the_rule() -> None:
    assert shared(8.0, "hold", HIRED).audit.short == pytest.approx(8.0)
    assert shared(8.0, "warn", HIRED).audit.short == pytest.approx(0.0)


@pytest.mark.parametrize(("shift", "missing"), [("Early", 0.0), ("Middle", 16.0), ("Late", 16.0)])
def test_own_people_of_another_shift_do_not_count(shift: str, missing: float) -> None:
    """Not even where the shifts overlap: the rule is for each shift."""
    hired = replace(HIRED, pattern=shift, heads=2)
    assert shared(32.0, "hold", OWN, hired).audit.short == pytest.approx(missing)


@pytest.mark.parametrize(("hangar", "missing"), [("North", 0.0), ("South", 16.0)])
def test_own_people_of_another_hangar_do_not_count(hangar: str, missing: float) -> None:
    """The own people work on C1 alone, by type; those hired on C2, by type as well."""
    packages = [package(stage("Work", 1, hours=16.0), name=name) for name in ("One", "Other")]
    own = replace(OWN, types=frozenset({"Twin"}))
    hired = replace(HIRED, heads=2, types=frozenset({"Tanker"}))
    base_ = base(packages, [own, hired])
    base_ = base_.replace(
        bays=(base_.bays[0], replace(base_.bays[1], hangar=hangar)),
        checks=(base_.checks[0], replace(base_.checks[1], type="Tanker")),
    )
    stays = [placed("C1", ("Work", 0, 1)), placed("C2", ("Work", 0, 1))]
    result = staffed(base_, *stays, own_staff_share="hold")
    assert result.audit.short == pytest.approx(missing)
    told = staffed(base_, *stays, own_staff_share="warn").audit.warnings
    assert bool(told) == (missing > 0)


def test_parts_of_a_shift_count_by_their_share() -> None:
    """Own people for 6 h of 8 let as many hired hours in."""
    one = crew("Own", 1)
    work = stage("Work", 1, man_hours={"Mechanic": 20.0})
    result = one_stage(work, [one, HIRED], {"own_staff_share": "hold", "parts": 4})
    assert result.audit.short == pytest.approx(4.0)
    assert sum(there.heads for there in result.plan.attendance) == pytest.approx(2.0)
