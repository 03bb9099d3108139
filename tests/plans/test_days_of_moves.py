"""Aircraft that come in, move and leave on worked days only, by search and audit, by hand.

Day 5 is a Saturday, and the base works Monday to Friday. That aircraft do not move on days on which
nobody is there is common practice, no source.
"""

from dataclasses import replace

import numpy as np
import pytest

import capacity
from capacity.facts import Base, Check, Stage, Status
from capacity.labour.calendar import calendar_of
from capacity.plans.audit import audit
from capacity.plans.plan import Placement, StageDays
from capacity.questions.risk.settings import RiskSettings
from capacity.slots.candidates import find_slots
from tests.bases import BAY, day
from tests.plans.stories import MON_TO_FRI, base, check, package, placed, plan, stage

WEEK = package(stage("Work", 5))
ONE = check(package="Heavy", earliest_in=day(0), latest_in=day(9), late_cost_per_day=10.0)
HANGAR = base(ONE, packages=(WEEK,), working_weekdays=MON_TO_FRI)
WORKED_ONLY = HANGAR.replace(comes_in_on_days_off=False, leaves_on_days_off=False)


def in_and_out(of: Base) -> set[tuple[int, int]]:
    (candidates,) = find_slots(of, calendar_of(of), every_day=True).candidates
    stays = candidates.courses.stays
    return {(int(i), int(o)) for i, o in zip(stays.in_day, stays.out_day, strict=True)}


def test_work_that_ends_on_a_friday_leaves_on_monday() -> None:
    assert (0, 5) in in_and_out(HANGAR)
    found = in_and_out(WORKED_ONLY)
    assert (0, 7) in found
    assert (1, 8) in found
    assert not {i % 7 for i, _ in found} & {5, 6}
    assert not {o % 7 for _, o in found} & {5, 6}


def test_the_audit_lays_it_out_so_and_tells_a_plan_that_does_not() -> None:
    stays = placed("C1", 0, ("Work", 0, 5), out=7)
    assert not audit(WORKED_ONLY, plan(stays)).broken
    early = audit(WORKED_ONLY, plan(placed("C1", 0, ("Work", 0, 5))))
    assert "C1 leaves B1 on Sat 9 Jan 2027, a day off." in early.broken
    assert any("after its stages the first worked day is Mon 11 Jan" in b for b in early.broken)
    late = audit(HANGAR, plan(stays))
    assert late.broken == (
        "C1 is out on Mon 11 Jan 2027, but its stages run until Sat 9 Jan 2027.",
    )
    weekend = audit(WORKED_ONLY, plan(placed("C1", 5, ("Work", 7, 12), out=14)))
    assert "C1 comes into B1 on Sat 9 Jan 2027, a day off." in weekend.broken


def test_days_late_out_count_to_the_day_on_which_it_leaves() -> None:
    due = replace(ONE, agreed_out=day(5))
    of = WORKED_ONLY.replace(checks=(due,))
    account = audit(of, plan(placed("C1", 0, ("Work", 0, 5), out=7))).accounts[0]
    assert (account.late_days, account.late_money) == (2, 20.0)


def test_the_next_check_comes_in_when_the_bay_is_free() -> None:
    """Both could be in by day 7 if the first one left on Saturday: the second on Saturday too."""
    first = replace(ONE, latest_in=day(0))
    second = replace(ONE, name="C2", earliest_in=day(5), latest_in=day(6))
    of = base(first, second, packages=(WEEK,), working_weekdays=MON_TO_FRI)
    free = capacity.plan(of, capacity.Settings(seconds=5))
    assert isinstance(free, capacity.Planned)
    assert free.audit.goals.days_past_latest_in == 0
    of = of.replace(comes_in_on_days_off=False, leaves_on_days_off=False)
    held = capacity.plan(of, capacity.Settings(seconds=5))
    assert isinstance(held, capacity.Planned)
    assert held.audit.goals.days_past_latest_in == 1  # in on Monday, a day past Sunday
    assert not held.audit.broken


PAINT = replace(BAY, name="P1", work=frozenset({"paint"}))
MOVING = package(stage("Work", 5), Stage("Paint", "paint", 2, {}, ("Work",)))


@pytest.mark.parametrize("wait", [0, 1, 2, 3])
def test_a_move_to_paint_waits_for_monday(wait: int) -> None:
    """Five days of work from Monday on: the move is on Monday, or Tuesday after three days."""
    of = base(
        ONE,
        packages=(MOVING,),
        bays=(BAY, PAINT),
        working_weekdays=MON_TO_FRI,
        longest_wait_days=wait,
        comes_in_on_days_off=False,
        leaves_on_days_off=False,
    )
    (candidates,) = find_slots(of, calendar_of(of)).candidates
    stays = candidates.courses.stays
    edges = stays.edges[stays.in_day == 0]
    assert sorted(set(edges[:, 1].tolist())) == ([7, 8] if wait == 3 else [7])
    assert set(edges[edges[:, 1] == 7, 2].tolist()) == {9}
    for move, out in ((7, 9), (8, 10)):
        told = audit(of, plan(*moving(move, out))).broken
        assert bool(told) == (move == 8 and wait < 3), (move, told)
    assert any("a day off" in text for text in audit(of, plan(*moving(5, 9))).broken)


def moving(move: int, out: int) -> tuple[Placement, Placement]:
    paint = max(move, 7)
    return (
        Placement("C1", "B1", "Work", day(0), day(move), (StageDays("Work", day(0), day(5)),)),
        Placement(
            "C1", "P1", "Paint", day(move), day(out), (StageDays("Paint", day(paint), day(out)),)
        ),
    )


def test_a_fixed_check_leaves_on_a_worked_day_and_days_gone_by_stand() -> None:
    """Fixed in on a Sunday before the first day, with five days of work: out on Monday, day 7."""
    fixed = replace(ONE, status=Status.FIXED, fixed_bay="B1", fixed_in=day(-1))
    of = WORKED_ONLY.replace(checks=(fixed,))
    outcome = capacity.plan(of, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    (placement,) = outcome.plan.placements
    assert (placement.in_day, placement.out_day) == (day(-1), day(7))
    assert not outcome.audit.broken
    to_come = WORKED_ONLY.replace(checks=(replace(fixed, fixed_in=day(6)),))
    assert isinstance(capacity.plan(to_come, capacity.Settings(seconds=5)), capacity.Impossible)


def test_simulations_without_findings_leave_on_the_planned_day() -> None:
    outcome = capacity.plan(WORKED_ONLY, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    risk = capacity.risk_of(WORKED_ONLY, outcome.plan, RiskSettings(draws=5))
    assert [one.out_safe for one in risk.checks] == [p.out_day for p in outcome.plan.placements]


def drawn(of: Check) -> Base:
    return WORKED_ONLY.replace(checks=(of,))


@pytest.mark.parametrize(
    ("held", "in_days"),
    [
        ({}, {0, 1, 2, 3, 4, 7, 8, 9}),
        ({"held_in": day(8)}, {8}),
        ({"held_in": day(5)}, set()),
        ({"held_bay": "B2"}, {0, 1, 2, 3, 4, 7, 8, 9}),
    ],
)
def test_a_check_that_is_held_has_its_day_and_its_bay_only(held, in_days) -> None:
    of = drawn(replace(ONE, **held)).replace(
        bays=(BAY, replace(BAY, name="B2")), longest_delay_days=0
    )
    slots = find_slots(of, calendar_of(of))
    (candidates,) = slots.candidates
    found = candidates.courses.stays.in_day[candidates.course]
    assert {int(n) for n in np.unique(found)} == in_days
    bays = {bay for group in np.unique(candidates.groups) for bay in slots.groups[group].bays}
    if in_days:
        assert bays == ({"B2"} if "held_bay" in held else {"B1", "B2"})
    told = audit(of, plan(placed("C1", 1, ("Work", 1, 8)))).broken
    assert bool(told) == bool(held)


@pytest.mark.parametrize(("decide_by", "lapsed"), [(-1, True), (0, False), (3, False)])
def test_an_option_lapses_after_its_day(decide_by: int, lapsed: bool) -> None:
    option = replace(ONE, status=Status.OPTION, price=9000.0, decide_by=day(decide_by))
    outcome = capacity.plan(drawn(option), capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    assert (outcome.plan.refused == ("C1",)) is lapsed
    told = audit(drawn(option), plan(placed("C1", 1, ("Work", 1, 8)))).broken
    assert bool(told) is lapsed
    assert not lapsed or told == ("C1 lapsed after Sun 3 Jan 2027, its Decide by.",)
    later = drawn(option).replace(work_counts_from=day(4))
    assert later.has_lapsed(option)
