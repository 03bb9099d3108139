"""A week's man-hours are filled from the cheapest tier up.

Source: arithmetic by hand. Widths and prices are those of a common textbook example of
production planning with regular time, overtime and subcontracting (from memory): 700 regular
hours, 50 of overtime at 50, 150 subcontracted at 70; demands of 800, 1000 and 750.
"""

from dataclasses import replace
from datetime import time

import pytest

from capacity.facts import Base, Crew, Package, Pattern, Shift, Skill, Stage
from tests.reference import stories
from tests.reference.stories import FIRST_DAY, fixed, proven

OVERTIME_CAP, CONTRACT_CAP = 50 / 700, 150 / 700
SKILL = Skill("Mechanic", 50.0, OVERTIME_CAP, 70.0, CONTRACT_CAP)


def week_that_asks(man_hours: float, skill: Skill = SKILL, **changes: object) -> Base:
    """One fixed check that takes the whole first week; 10 people give 700 hours in it."""
    work = Stage("Work", "maintenance", 7, {"Mechanic": man_hours})
    usual = stories.base(
        stories.bays(1),
        fixed("C1", 7, 0, "B1", package="A week"),
        packages=(Package("A week", (work,)),),
        skills=(skill,),
        crews=(Crew("Ten", ("Mechanic",), 10, "Daily", FIRST_DAY),),
        patterns=(Pattern("Daily", ("Day",)),),
        shifts=(Shift("Day", time(6), 10.0),),
        overload_cost=500.0,
    )
    return usual.replace(**changes)


@pytest.mark.parametrize(
    ("asked", "overtime", "contract", "overload", "money"),
    [
        (700, 0, 0, 0, 0),
        (750, 50, 0, 0, 50 * 50),
        (800, 50, 50, 0, 50 * 50 + 50 * 70),
        (900, 50, 150, 0, 50 * 50 + 150 * 70),
        (1000, 50, 150, 100, 50 * 50 + 150 * 70 + 100 * 500),
    ],
)
def test_overtime_first_when_it_is_cheaper(
    asked: float, overtime: float, contract: float, overload: float, money: float
) -> None:
    audit = proven(week_that_asks(asked)).audit
    week = audit.weeks[0]
    assert week.regular == pytest.approx(700)
    assert (week.overtime, week.contract, week.overload) == pytest.approx(
        (overtime, contract, overload), abs=1e-9
    )
    assert audit.goals.money == pytest.approx(money, abs=1e-6)


def test_contract_first_when_it_is_cheaper() -> None:
    dear_overtime = replace(SKILL, overtime_cost=90.0)
    audit = proven(week_that_asks(880, dear_overtime)).audit
    assert audit.weeks[0].contract == pytest.approx(150)
    assert audit.weeks[0].overtime == pytest.approx(30)
    assert audit.goals.money == pytest.approx(150 * 70 + 30 * 90)


def test_findings_ask_man_hours_like_any_others() -> None:
    # 500 routine hours with 40 % findings on an old aircraft (factor 1.5): 500 x 1.6 = 800.
    base = week_that_asks(500)
    (package,), (check,) = base.packages, base.checks
    with_findings = replace(package, stages=(replace(package.stages[0], findings=0.4),))
    older = replace(check, findings_factor=1.5)
    audit = proven(base.replace(packages=(with_findings,), checks=(older,))).audit
    assert audit.weeks[0].demand == pytest.approx(800)
    assert audit.goals.money == pytest.approx(50 * 50 + 50 * 70)
