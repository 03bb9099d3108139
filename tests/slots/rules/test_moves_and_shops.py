"""Checks that move between bays and wait for shops, as the search sees them."""

from collections.abc import Iterable
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.random import default_rng

import capacity
from capacity.facts import Absence, Base, Bay, Package, Shop, ShopLoop, Stage
from capacity.labour.calendar import calendar_of
from capacity.plans.outcome import Impossible
from capacity.slots.candidates import find_slots, kinds_by_leg
from capacity.slots.candidates.paces_and_waits import count_of_waits, waits_of
from capacity.slots.candidates.work import Loop, StageWork
from capacity.slots.program.places import old_places
from capacity.slots.program.trimmed import Part
from tests.reference import stories
from tests.reference.stories import day, fixed, proven, visit
from tests.slots.building import built

MAINTENANCE, PAINT = "maintenance", "paint"


def bays_for(*works: Iterable[str]) -> tuple[Bay, ...]:
    plain = stories.bays(len(works))
    return tuple(replace(bay, work=frozenset(work)) for bay, work in zip(plain, works, strict=True))


PAINTED = Package(
    "painted",
    (
        Stage("Open", MAINTENANCE, 2),
        Stage("Paint", PAINT, 3, after=("Open",)),
        Stage("Close", MAINTENANCE, 1, after=("Paint",)),
    ),
)


def painted_base(bays: tuple[Bay, ...], *visits: capacity.facts.Check, **changes: object) -> Base:
    base = stories.base(bays, *visits, **changes)
    return base.replace(packages=(*base.packages, PAINTED))


def spans(outcome: capacity.Planned, check: str) -> list[tuple[str, int, int]]:
    """Return bay, in and out of each placement in day numbers."""
    return [
        (p.bay, (p.in_day - stories.FIRST_DAY).days, (p.out_day - stories.FIRST_DAY).days)
        for p in outcome.plan.placements
        if p.check == check
    ]


def test_a_check_moves_to_paint_and_back_and_gives_its_bay_to_another() -> None:
    moving = visit("A", 1, 0, 0, package="painted")
    base = painted_base(bays_for([MAINTENANCE], [PAINT]), moving, visit("B", 3, 2, 2))
    outcome = proven(base)
    assert spans(outcome, "A") == [("B1", 0, 2), ("B2", 2, 5), ("B1", 5, 6)]
    assert spans(outcome, "B") == [("B1", 2, 5)]
    assert outcome.audit.goals.days_past_latest_in == 0


def test_it_waits_for_paint_in_the_bay_it_stands_in() -> None:
    moving = [visit(name, 1, 0, 0, package="painted") for name in "AB"]
    bays = bays_for([MAINTENANCE], [MAINTENANCE], [PAINT])
    outcome = proven(painted_base(bays, *moving, longest_wait_days=3))
    first, second = sorted((spans(outcome, name) for name in "AB"), key=lambda s: s[1])
    assert first[1] == ("B3", 2, 5)
    assert second[1] == ("B3", 5, 8)
    assert second[0][2] == 5  # three days of waiting


def test_it_may_not_wait_a_day_longer() -> None:
    moving = [visit(name, 1, 0, 0, package="painted") for name in "AB"]
    bays = bays_for([MAINTENANCE], [MAINTENANCE], [PAINT])
    outcome = proven(painted_base(bays, *moving, longest_wait_days=2))
    assert outcome.audit.goals.days_past_latest_in == 1  # one comes in a day later instead


def test_waiting_costs_late_money_only_where_it_makes_a_check_late() -> None:
    dear = visit("A", 1, 0, 0, package="painted", agreed_out=day(6), late_cost_per_day=100.0)
    cheap = replace(dear, name="B", late_cost_per_day=10.0)
    bays = bays_for([MAINTENANCE], [MAINTENANCE], [PAINT])
    outcome = proven(painted_base(bays, dear, cheap))
    assert outcome.audit.goals.money == pytest.approx(3 * 10.0)


def test_a_bay_that_does_both_kinds_of_work_is_not_left() -> None:
    moving = visit("A", 1, 0, 0, package="painted")
    outcome = proven(painted_base(bays_for([MAINTENANCE, PAINT], [PAINT]), moving))
    assert spans(outcome, "A") == [("B1", 0, 6)]


def test_coming_back_into_its_own_bay_it_needs_no_changeover() -> None:
    bays = tuple(replace(bay, changeover_days=9) for bay in bays_for([MAINTENANCE], [PAINT]))
    outcome = proven(painted_base(bays, visit("A", 1, 0, 0, package="painted")))
    assert spans(outcome, "A") == [("B1", 0, 2), ("B2", 2, 5), ("B1", 5, 6)]


def test_fixed_checks_that_cannot_all_move_on_are_impossible() -> None:
    stuck = [fixed(name, 1, 0, bay, package="painted") for name, bay in (("A", "B1"), ("B", "B2"))]
    bays = bays_for([MAINTENANCE], [MAINTENANCE], [PAINT])
    just = painted_base(bays, *stuck, longest_wait_days=3)
    assert isinstance(capacity.plan(just, capacity.Settings(seconds=10)), capacity.Planned)
    outcome = capacity.plan(just.replace(longest_wait_days=2), capacity.Settings(seconds=10))
    assert isinstance(outcome, Impossible)
    assert "finds no way on" in outcome.why[0]


SENT = Package(
    "sent",
    (Stage("Open", MAINTENANCE, 1), Stage("Close", MAINTENANCE, 1, after=("Open",))),
)


def shop_base(*visits: capacity.facts.Check, items: int, rate: float, wait: int) -> Base:
    base = stories.base(stories.bays(len(visits)), *visits, longest_wait_days=wait)
    return base.replace(
        packages=(*base.packages, SENT),
        shops=(Shop("Wheels", rate),),
        shop_loops=(ShopLoop("sent", "Wheels", items, "Open", "Close"),),
    )


def late(name: str) -> capacity.facts.Check:
    return visit(name, 1, 0, 0, package="sent", agreed_out=day(0), late_cost_per_day=1.0)


@pytest.mark.parametrize(
    ("items", "rate", "out_days"),
    [
        (10, 5.0, [4, 6]),  # back after two days; the other's ten take the next two
        (3, 2.0, [4, 5]),  # six items at two a day: three days, the first back within two
        (1, 10.0, [3, 3]),  # both on the first day
    ],
)
def test_a_shop_shares_its_rate(items: int, rate: float, out_days: list[int]) -> None:
    outcome = proven(shop_base(late("A"), late("B"), items=items, rate=rate, wait=3))
    outs = sorted((p.out_day - stories.FIRST_DAY).days for p in outcome.plan.placements)
    assert outs == out_days
    assert outcome.audit.goals.money == pytest.approx(sum(out_days))


def test_whoever_may_not_wait_for_its_turn_comes_in_later() -> None:
    outcome = proven(shop_base(late("A"), late("B"), items=10, rate=5.0, wait=1))
    assert outcome.audit.goals.days_past_latest_in == 1


def dear_sunday(*visits: capacity.facts.Check) -> Base:
    """Nobody is there on Sunday, day 6, and 10 h a day on all days after it.

    Work on A opens on day 4; its one item is back on day 6. Closing takes a day and 4 h: at
    500 each on day 6, at nothing on day 7, from which on a day late costs 100.
    """
    closed = replace(SENT.stages[1], man_hours={"Mechanic": 4.0})
    base = shop_base(*visits, items=1, rate=1.0, wait=3)
    return base.replace(
        packages=(*stories.base(()).packages, replace(SENT, stages=(SENT.stages[0], closed))),
        absences=(Absence("Day crew", day(0), day(6), 1.0),),
    )


ALONE_AT_THE_SHOP = visit("A", 1, 4, 4, package="sent", agreed_out=day(7), late_cost_per_day=100.0)


def test_a_stage_may_wait_for_a_shop_that_nobody_else_wants() -> None:
    """By hand: closing on day 6 costs 4 x 500 = 2,000; waiting a day costs 100 for the late day.

    With a check that uses the shop a month later the plan is the same one.
    """
    outcome = proven(dear_sunday(ALONE_AT_THE_SHOP))
    assert outcome.audit.goals.money == pytest.approx(100.0)
    assert outcome.bound == pytest.approx(100.0)
    (placement,) = outcome.plan.placements
    assert [(s.first, s.until) for s in placement.stages] == [(day(4), day(5)), (day(7), day(8))]
    later = visit("B", 1, 34, 34, package="sent")
    assert proven(dear_sunday(ALONE_AT_THE_SHOP, later)).audit.goals.money == pytest.approx(100.0)


def test_a_plan_that_waits_is_among_the_places_of_its_check() -> None:
    """So a search that goes on from it never comes to a dearer one."""
    base = dear_sunday(ALONE_AT_THE_SHOP)
    outcome = proven(base)
    made = built(base)
    (place,) = old_places(made.slots, outcome.plan.by_check())
    assert place >= 0
    again = capacity.plan(base, capacity.Settings(seconds=10), begin=outcome.plan)
    assert isinstance(again, capacity.Planned)
    assert again.audit.goals == outcome.audit.goals


def test_a_check_may_wait_for_a_bay_that_nobody_else_wants() -> None:
    """Paint on day 6 would cost 2,000, a day later 100."""
    painted = Package(
        "painted",
        (
            Stage("Open", MAINTENANCE, 2),
            Stage("Paint", PAINT, 1, {"Mechanic": 4.0}, after=("Open",)),
        ),
    )
    moving = replace(ALONE_AT_THE_SHOP, package="painted")
    base = stories.base(bays_for([MAINTENANCE], [PAINT]), moving)
    base = base.replace(
        packages=(*base.packages, painted),
        absences=(Absence("Day crew", day(0), day(6), 1.0),),
    )
    assert proven(base).audit.goals.money == pytest.approx(100.0)


@given(seed=st.integers(0, 10_000))
@settings(deadline=None, max_examples=40)
def test_a_choice_keeps_the_windows_when_some_order_of_work_is_in_time(seed: int) -> None:
    """Against all orders of work, each done item by item as early as the shop can."""
    rng = default_rng(seed)
    names = "ABC"[: rng.integers(2, 4)]
    checks = [visit(name, 1, 0, int(rng.integers(0, 4)), package="sent") for name in names]
    items, rate = int(rng.integers(1, 5)), float(rng.integers(1, 4))
    made = built(shop_base(*checks, items=items, rate=rate, wait=2))
    program, slots = made.program, made.slots
    chosen = rng.integers(program.first_column[:-1], program.first_column[1:])
    jobs = []
    for number, column in enumerate(chosen):
        courses = slots.candidates[number].courses
        course = slots.candidates[number].course[column - program.first_column[number]]
        jobs.append((int(courses.stays.ends[course, 0]), int(courses.stays.starts[course, 1])))
    assert program.holds(chosen) == any(in_time(order, items, rate) for order in permutations(jobs))


def in_time(order: tuple[tuple[int, int], ...], items: int, rate: float) -> bool:
    """Give each job in turn what is left of the days from its leaving on."""
    left = np.full(60, rate)
    for leave, back in order:
        wanted = float(items)
        for number in range(leave, back):
            done = min(wanted, left[number])
            left[number] -= done
            wanted -= done
        if wanted > 1e-9:
            return False
    return True


def work(name: str, kind: str, *loops: Loop) -> StageWork:
    return StageWork(name, kind, 1, np.zeros(1), (), 1, 1, loops=loops)


def test_legs_are_runs_of_one_kind() -> None:
    stages = tuple(work(str(n), kind) for n, kind in enumerate("mmppm"))
    assert kinds_by_leg(stages) == ("m", "p", "m")
    assert kinds_by_leg(()) == ("",)


def test_not_waiting_at_all_comes_first_and_each_wait_goes_to_the_longest() -> None:
    ways = waits_of((work("a", "m"), work("b", "p")), 2)
    assert [way.moves for way in ways] == [(0,), (1,), (2,)]


def test_stages_with_items_at_a_shop_wait_and_no_others() -> None:
    stages = work("a", "m"), work("b", "m", Loop("Wheels", 3, 0))
    assert [way.turns for way in waits_of(stages, 1)] == [(0, 0), (0, 1)]
    assert count_of_waits(stages, 1) == 2


def test_many_places_to_wait_may_share_the_longest_wait() -> None:
    stages = tuple(work(str(n), "mp"[n % 2]) for n in range(5))
    every = list(waits_of(stages, 3))
    assert len(set(every)) == len(every) == count_of_waits(stages, 3) == 4**4
    ways = list(waits_of(stages, 3, in_all=3))
    assert max(sum(way.moves) for way in ways) == 3
    assert len(set(ways)) == len(ways) == 35  # whole numbers with a sum of three at the most


def test_what_is_proven_of_a_part_holds_for_few_days_only() -> None:
    from capacity.slots.line.reports import DaysBound, MoneyBound

    program = built(stories.base(stories.bays(1), visit("A", 3, 0, 0))).program
    part = Part(program.restricted_to(program.past <= 2), most_days=2)
    assert part.to_whole(DaysBound(9)) == DaysBound(3)
    assert part.to_whole(MoneyBound(2, 10.0)) == MoneyBound(2, 10.0)
    assert part.to_whole(MoneyBound(3, 10.0)) is None
    assert part.to_part(np.array([5])).tolist() == [-1]
    assert part.to_part(np.array([1])).tolist() == [1]


def test_candidates_of_a_moving_check_name_a_group_a_leg() -> None:
    base = painted_base(bays_for([MAINTENANCE], [PAINT]), visit("A", 1, 0, 0, package="painted"))
    (candidates,) = find_slots(base, calendar_of(base)).candidates
    assert candidates.groups.shape[1] == 3
    assert {tuple(row) for row in candidates.groups.tolist()} == {(0, 1, 0)}
