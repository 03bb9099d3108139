"""Crew plans of checks in work: what is left, equipment that stays, parts that are not there."""

from dataclasses import replace

import pytest

import capacity
from capacity.crews.crew_audit import audit_crews
from capacity.crews.tasks_of_plan import tasks_of
from capacity.facts import Base, Equipment, ReadyDate
from capacity.plans.plan import Plan
from tests.bases import FIRST_DAY
from tests.plans.stories import day
from tests.plans.test_progress_left import HEAVY, row, told

SETTINGS = capacity.CrewSettings(weeks=2, seconds=5)


def planned(base: Base) -> Plan:
    outcome = capacity.plan(base, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    return outcome.plan


@pytest.fixture(scope="module")
def in_work() -> Base:
    """Wash is in work on jacks for 1 day more; inspect, not begun, takes 4; close waits for it."""
    jacked = replace(HEAVY.stages[2], equipment=("jacks",))
    heavy = replace(HEAVY, stages=(*HEAVY.stages[:2], jacked, HEAVY.stages[3]))
    return told(row("wash", done=0.7), heavy=heavy, equipment=(Equipment("jacks", 1),))


def test_a_stage_in_work_with_equipment_stays_where_it_is(in_work):
    tasks = {t.stage: t for t in tasks_of(planned(in_work), in_work, FIRST_DAY, 14)}
    assert len(tasks["wash"].spans) == 1
    without = in_work.replace(packages=(HEAVY,))
    free = {t.stage: t for t in tasks_of(planned(without), without, FIRST_DAY, 14)}
    assert len(free["wash"].spans) == 4  # on any of the four days of inspect
    assert tasks["wash"].hundredths == {"Mechanic": 900}


def test_a_stage_is_not_moved_to_before_its_ready_date(in_work):
    world = in_work.replace(
        packages=(HEAVY,),
        progress=(row("open", done=1.0),),
        ready_dates=(ReadyDate("C1", "wash", day(1)),),
    )
    tasks = {t.stage: t for t in tasks_of(planned(world), world, FIRST_DAY, 14)}
    # Inspect runs on days 0 to 3, so wash of three days could begin on day 0 or 1.
    assert [span.first for span in tasks["wash"].spans] == [1]


def test_the_audit_tells_a_crew_plan_that_moves_them(in_work):
    plan = planned(in_work)
    staffed = capacity.assign_crews(in_work, plan, SETTINGS)
    assert not audit_crews(staffed.plan, plan, in_work, SETTINGS).broken
    moved = tuple(
        replace(s, first=day(1), until=day(2)) if s.stage == "wash" else s
        for s in staffed.plan.stages
    )
    broken = audit_crews(replace(staffed.plan, stages=moved), plan, in_work, SETTINGS).broken
    assert any("is in work and keeps its equipment" in said for said in broken)
    late = in_work.replace(ready_dates=(ReadyDate("C1", "close", day(5)),))
    waits = audit_crews(staffed.plan, plan, late, SETTINGS).broken
    assert any("close starts before its Ready date" in said for said in waits)
