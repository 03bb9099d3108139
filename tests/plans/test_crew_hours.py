"""Who gives the hours of a week, by hand: crew by crew and skill by skill."""

from dataclasses import replace

import pytest

from capacity.facts import Base, Crew, Employment
from capacity.plans.audit import audit
from capacity.plans.plan import WeekHours

from .stories import (
    FIRST_DAY,
    MECHANIC,
    PLENTY,
    audited,
    base,
    check,
    package,
    placed,
    plan,
    stage,
)

PAINTER = replace(MECHANIC, name="Painter")
LINE = replace(PLENTY, name="Line", heads=1)
"""70 man-hours a week; 20 % of them can be overtime, 25 % contract."""
AGENCY = Crew("Agency", ("Mechanic",), 2, "Daily", FIRST_DAY, employment=Employment.CONTRACT)


def given(of: Base) -> dict[tuple[str, str], float]:
    """Return what crews give in the week of the seven days of work."""
    found = audited(of, placed("C1", 7, ("Work", 7, 14)))
    return {(one.crew, one.skill): one.hours for one in found.crew_hours if one.week == "2027-W02"}


def asking(mechanic: float, painter: float = 0.0, **changes: object) -> Base:
    work = replace(stage("Work", 7), man_hours={"Mechanic": mechanic, "Painter": painter})
    return base(check(package="Heavy"), packages=(package(work),)).replace(**changes)


@pytest.mark.parametrize(
    ("asked", "line", "agency"), [(60, 60, 0), (100, 70, 16), (224, 70, 140), (300, 70, 140)]
)
def test_contract_people_give_what_is_left_and_no_more_than_they_have(
    asked: float, line: float, agency: float
) -> None:
    """Regular 70, overtime 14, contract people up to 140, then the contract cap, then overload."""
    found = given(asking(asked, crews=(LINE, AGENCY)))
    expected = {("Line", "Mechanic"): line, ("Agency", "Mechanic"): agency}
    assert found == pytest.approx({key: hours for key, hours in expected.items() if hours})


def test_every_skill_of_a_crew_is_told() -> None:
    """Both do 30 h of paint and 40 h of the mechanics' 50; the mechanic the other 10."""
    both = Crew("Both", ("Painter", "Mechanic"), 1, "Daily", FIRST_DAY)
    of = asking(110, 30, crews=(LINE, both), skills=(MECHANIC, PAINTER))
    found = given(of)
    assert found["Line", "Mechanic"] == pytest.approx(70)
    assert found["Both", "Mechanic"] == pytest.approx(40)
    assert found["Both", "Painter"] == pytest.approx(30)


def test_a_type_that_a_crew_may_not_touch_is_shared_out_in_quiet_weeks_too() -> None:
    """The mechanics of another type give nothing; painters who may do it, give all of it."""
    other = replace(LINE, types=frozenset({"Wide"}))
    both = Crew("Both", ("Painter", "Mechanic"), 1, "Daily", FIRST_DAY)
    wide = replace(base().types[0], name="Wide")
    of = asking(50, crews=(other, both), skills=(MECHANIC, PAINTER))
    found = given(of.replace(types=(*base().types, wide)))
    assert found == pytest.approx({("Both", "Mechanic"): 50})


def test_hours_that_a_stage_without_work_states_are_told_and_not_fallen_over() -> None:
    """Heads limit a day of work; there is none here, and 5 h are stated all the same."""
    work = replace(stage("Work", 7), max_heads=2, daily_peak=1.5)
    of = base(check(package="Heavy"), packages=(package(work),))
    told = placed("C1", 7, ("Work", 7, 14))
    stated = replace(told.stages[0], hours=(WeekHours("Mechanic", "2027-W02", 5.0),))
    broken = audit(of, plan(replace(told, stages=(stated,)))).broken
    assert "5.00 man-hours of Mechanic" in " ".join(broken)
