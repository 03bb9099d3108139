"""Change stages, or the hours they get, in a crew plan that stands: the audit says so."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_plan import CrewPlan, Short, StageHours, StageMove
from capacity.plans.plan import Plan
from tests.crews.standing_plan import (
    MONDAY,
    broken,
    moved,
    standing,
    working,
)
from tests.crews.stories import SETTINGS, base, crew, day, package, placed, staffed, stage

MUTATIONS: dict[str, tuple[Callable[[], CrewPlan], str]] = {
    "a stage missing": (
        lambda: replace(standing(), stages=standing().stages[1:]),
        "Open is missing",
    ),
    "a stage twice": (
        lambda: replace(standing(), stages=(*standing().stages, standing().stages[-1])),
        "is listed twice",
    ),
    "a shift that there is not": (
        lambda: working(lambda w: w.stage == "Open", shift="Lunch"),
        "the base has no shift Lunch",
    ),
    "a skill that there is not": (
        lambda: replace(standing(), short=(Short("C1", "Open", "Welder", 1.0),)),
        "C1: the base has no skill Welder",
    ),
    "a stage that is not in the slot plan": (
        lambda: replace(
            standing(), stages=(*standing().stages, StageMove("C1", "Wash", MONDAY, day(1), MONDAY))
        ),
        "Wash is not in the slot plan",
    ),
    "hours of a stage that is not in the slot plan": (
        lambda: working(lambda w: w.stage == "Open", stage="Wash"),
        "Wash of C1 is not in the slot plan",
    ),
    "a stage before the aircraft is in": (lambda: moved("Open", -1, 0), "leaves its days"),
    "a stage after the aircraft is out": (lambda: moved("Close", 4, 5), "leaves its days"),
    "a stage before the one it waits for": (
        lambda: moved("Swing", 0, 1),
        "Swing starts before Open has ended",
    ),
    "a stage beside one that is alone": (
        lambda: moved("Swing", 3, 4),
        "which is done alone",
    ),
    "a stage on fewer days": (lambda: moved("Work", 1, 2), "takes other worked days"),
    "a stage on more days": (lambda: moved("Swing", 1, 3), "takes other worked days"),
    "equipment held twice": (lambda: moved("Hoist", 2, 3, "C2"), "Jacks: 2 stages hold a piece"),
    "a stage that sends items to a shop, moved": (
        lambda: moved("Remove", 1, 2, "C2"),
        "Remove is moved, but its items leave for a shop",
    ),
    "a stage that waits for items of a shop, moved": (
        lambda: moved("Refit", 3, 4, "C2"),
        "Refit is moved, but its items leave for a shop",
    ),
    "hours on a day on which the stage is not run": (
        lambda: working(lambda w: w.stage == "Close", day=day(2)),
        "Close has hours on Wed 6 Jan 2027, outside its days",
    ),
    "fewer hours than asked": (
        lambda: working(lambda w: w.stage == "Swing", hours=1.0),
        "is 8.00 h of Mechanic, but",
    ),
    "short of hours that are given": (
        lambda: replace(standing(), short=(Short("C1", "Swing", "Mechanic", 2.0),)),
        "10.00 h are accounted for",
    ),
    "hours of a skill that is not asked": (
        lambda: working(lambda w: w.stage == "Swing", skill="Certifier"),
        "Swing is 0.00 h of Certifier",
    ),
    "hours given by contract that were not bought": (
        lambda: replace(standing(), bought=(Short("C1", "Swing", "Mechanic", 2.0),)),
        "more than in the slot plan",
    ),
    "hours taken back": (
        lambda: replace(
            standing(),
            work=(
                *standing().work,
                StageHours(day(1), "Early", "Mechanics", "C1", "Swing", "Mechanic", -2.0),
                StageHours(day(1), "Early", "Mechanics", "C1", "Swing", "Mechanic", 2.0),
            ),
        ),
        "-2.00 h",
    ),
}


@pytest.mark.parametrize("name", MUTATIONS)
def test_a_change_is_told(name: str) -> None:
    change, sentence = MUTATIONS[name]
    assert sentence in broken(change())


def test_a_stage_is_not_moved_before_the_end_of_the_leg_before() -> None:
    """Paint starts where all maintenance has ended, though no stage of it says so."""
    legs = package(stage("Long", 2), stage("Mask", 1, work="paint"), stage("Coat", 2, work="paint"))
    base_ = base([legs], [crew("Mechanics", 1)])
    stay = placed("C1", ("Long", 0, 2), ("Mask", 2, 3), ("Coat", 2, 4))
    made = staffed(base_, stay).plan
    early = tuple(
        replace(s, first=day(1), until=day(2)) if s.stage == "Mask" else s for s in made.stages
    )
    found = audit_crews(replace(made, stages=early), Plan((stay,)), base_, SETTINGS).broken
    assert found == ("C1: Mask starts before Long has ended.",)


def test_a_stage_that_reaches_out_of_the_weeks_is_not_moved() -> None:
    base_ = base([package(stage("Long", 4, hours=8.0), stage("Short", 1))], [crew("Mechanics", 1)])
    stay = placed("C1", ("Long", 5, 9), ("Short", 5, 6))
    made = staffed(base_, stay).plan
    late = tuple(
        replace(s, first=day(7), until=day(8)) if s.stage == "Short" else s for s in made.stages
    )
    found = audit_crews(replace(made, stages=late), Plan((stay,)), base_, SETTINGS).broken
    assert found == ("C1: Short is moved, but not all of it is in the weeks staffed.",)
