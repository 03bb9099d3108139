"""Of equally cheap ways to buy hours the nearest to another plan's is taken, by hand.

Two skills, whose overtime and contract hours cost the same. Each has a crew with 100 h, so caps of
20 h, and is asked 110 h. ``Both`` can do either, for 30 h.
"""

from dataclasses import replace

import pytest

from capacity.facts import Crew
from capacity.plans.sharing import cheapest_sharing
from capacity.plans.sharing_program import GroupWeek, WeekPart
from capacity.plans.skill_groups import SkillGroup
from capacity.plans.week_hours import SharedWeek, SkillWeek

from .stories import FIRST_DAY, MECHANIC

AIRFRAME, CABIN = (
    replace(MECHANIC, name=name, contract_cost=60.0, overtime_cap=0.2, contract_cap=0.2)
    for name in ("Airframe", "Cabin")
)
CREWS = tuple(
    Crew(name, skills, 1, "Daily", FIRST_DAY)
    for name, skills in (("A", ("Airframe",)), ("C", ("Cabin",)), ("Both", ("Cabin", "Airframe")))
)


def shared(airframe: float, cabin: float, near: dict[str, SkillWeek] | None) -> SharedWeek:
    part = WeekPart(
        {("Airframe", "Twin"): airframe, ("Cabin", "Twin"): cabin},
        {"A": 100.0, "C": 100.0, "Both": 30.0},
    )
    group = SkillGroup((AIRFRAME, CABIN), CREWS)
    (found,) = cheapest_sharing([GroupWeek(group, (part,), near)], 500.0)
    return found


def week(regular: float, overtime: float, contract: float) -> SkillWeek:
    return SkillWeek(regular, overtime, contract, 0.0, 20.0, 20.0)


def figures(found: SharedWeek) -> list[tuple[float, float, float]]:
    names = ("Airframe", "Cabin")
    weeks = (found.skills[name] for name in names)
    return [pytest.approx((w.regular, w.overtime, w.contract)) for w in weeks]


def test_without_another_plan_crews_stay_in_their_skill_and_overtime_comes_first() -> None:
    """120 and 150 h are asked: Both's 30 h are the cabin's, and 20 h each are overtime."""
    found = shared(120, 150, None)
    assert figures(found) == [(100, 20, 0), (130, 20, 0)]


@pytest.mark.parametrize(
    ("airframe", "cabin"),
    [
        (week(100, 0, 20), week(130, 0, 20)),
        (week(100, 5, 15), week(130, 20, 0)),
        (week(100, 20, 0), week(130, 1, 19)),
        # Both goes to the airframes, who buy less, and the cabin buys more.
        (week(115, 5, 0), week(115, 20, 15)),
        (week(110, 0, 10), week(120, 15, 15)),
    ],
)
def test_hours_that_cost_the_same_stay_those_of_the_other_plan(
    airframe: SkillWeek, cabin: SkillWeek
) -> None:
    near = {"Airframe": airframe, "Cabin": cabin}
    told = [(w.regular, w.overtime, w.contract) for w in (airframe, cabin)]
    assert figures(shared(120, 150, near)) == told


def test_it_goes_as_near_as_it_can_and_never_costs_more() -> None:
    """The other plan bought 18 h of contract and no overtime for the cabin's 160 h.

    30 h are to be bought there: 20 h of the cap at the most, or Both gives to nobody else; so 18
    of contract and 12 of overtime, since only hours bought count.
    """
    near = {"Airframe": week(100, 0, 0), "Cabin": week(130, 0, 18)}
    found = shared(100, 160, near)
    assert figures(found) == [(100, 0, 0), (130, 12, 18)]
