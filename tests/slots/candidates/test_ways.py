"""Which paces and waits of a check are tried, and that it is told where not all of them are."""

from dataclasses import replace

import pytest

import capacity
from capacity.facts import Absence, Base, Package, Stage
from capacity.labour.calendar import calendar_of
from capacity.plans.plan import Plan
from capacity.questions.asking.ways_tried import proof_speaks_of, ways_tried_note
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.wording import how_dear
from capacity.slots.candidates import find_slots, ways
from capacity.slots.program.places import old_places
from tests.reference import stories
from tests.reference.stories import bays, day, proven, visit

FLEXIBLE = Stage("A", "maintenance", 2, {"Mechanic": 20.0}, shortest_days=1, longest_days=3)
THREE = Package(
    "three",
    (
        FLEXIBLE,
        replace(FLEXIBLE, name="B", after=("A",)),
        replace(FLEXIBLE, name="C", after=("B",)),
    ),
)


def flexible_base(*names: str, weeks: int = 10) -> Base:
    checks = [visit(name, 1, 0, 0, package="three") for name in names]
    base = stories.base(bays(len(names)), *checks, weeks=weeks)
    return base.replace(packages=(*base.packages, THREE))


def paces_of(base: Base, plan: Plan | None = None) -> set[tuple[int, ...]]:
    stated = plan.by_check() if plan else {}
    (candidates, *_) = find_slots(base, calendar_of(base), stated=stated).candidates
    return {tuple(row) for row in candidates.courses.stays.days.tolist()}


def test_every_pace_of_three_flexible_stages_is_tried() -> None:
    assert len(paces_of(flexible_base("X"))) == 27
    assert ways.partly_tried(flexible_base("X")) == ()
    assert proof_speaks_of(flexible_base("X")) == ""


def test_where_there_are_too_many_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ways, "MOST_WAYS", 26)
    base = flexible_base("X", "Y", "Z", "V")
    assert len(paces_of(base)) == 9  # normal, shortest, longest, and each stage by itself
    assert ways.partly_tried(base) == ("X", "Y", "Z", "V")
    outcome = proven(base)
    assert how_dear(outcome, base).endswith(
        "Proven: no plan costs less. This is proven of plans with the paces and waits "
        "that are tried for X, Y and 2 others, which have too many to try them all."
    )
    assert ways_tried_note(base) in [finding.what for finding in plan_messages(outcome, base)]


def test_one_check_with_too_many_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ways, "MOST_WAYS", 26)
    note = ways_tried_note(flexible_base("X"))
    assert note is not None
    assert note.endswith("tried for X, which has too many to try them all.")


def test_too_many_in_days_and_ways_in_all_are_cut_down_and_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    base = flexible_base("X", "Y")  # each on day 0 and up to seven days past
    monkeypatch.setattr(ways, "MOST_COURSES", 2 * 8 * 27)
    assert ways.partly_tried(base) == ()
    monkeypatch.setattr(ways, "MOST_COURSES", 2 * 8 * 27 - 1)
    assert ways.partly_tried(base) == ("X", "Y")


def test_the_own_ways_of_a_plan_are_tried_in_any_case(monkeypatch: pytest.MonkeyPatch) -> None:
    """So a search that goes on from a plan never comes to a dearer one.

    Nobody is there in the first week, of which days 2 to 6 are left. C has all man-hours, so it
    is cheapest to take five days over A and B and one over C: out on day 8, as agreed. None of
    the few paces does; the best of them is out a day later.
    """
    first, second, last = THREE.stages
    no_hours = (replace(first, man_hours={}), replace(second, man_hours={}), last)
    check = visit("X", 1, 2, 2, package="three", agreed_out=day(8), late_cost_per_day=100.0)
    base = stories.base(bays(1), check, packages=(replace(THREE, stages=no_hours),))
    base = base.replace(absences=(Absence("Day crew", day(0), day(6), 1.0),))
    best = proven(base)
    monkeypatch.setattr(ways, "MOST_WAYS", 1)
    few = proven(base)
    (mine,) = {
        tuple((stage.until - stage.first).days for stage in placement.stages)
        for placement in best.plan.placements
    }
    assert (best.audit.goals.money, few.audit.goals.money) == (0.0, 100.0)
    assert mine not in paces_of(base)
    assert mine in paces_of(base, best.plan)
    again = capacity.plan(base, capacity.Settings(seconds=5), begin=best.plan)
    assert isinstance(again, capacity.Planned)
    assert again.audit.goals == best.audit.goals


def test_a_plan_that_comes_in_on_a_day_off_keeps_its_place() -> None:
    """Sunday, day 6, could be spent outside; only for a plan that has it so is it tried."""
    check = visit("X", 2, 5, 14)
    base = stories.base(bays(1), check, working_weekdays=frozenset(range(5)))
    slots = find_slots(base, calendar_of(base))
    assert not {5, 6} & set(slots.candidates[0].courses.stays.in_day.tolist())
    every = find_slots(base, calendar_of(base), every_day=True)
    assert {5, 6} <= set(every.candidates[0].courses.stays.in_day.tolist())
    on_sunday = stories.base(bays(1), replace(check, earliest_in=day(6), latest_in=day(6)))
    plan = proven(on_sunday.replace(working_weekdays=base.working_weekdays)).plan
    stated = plan.by_check()
    own = find_slots(base, calendar_of(base), stated=stated)
    assert old_places(own, stated)[0] >= 0
