from collections.abc import Iterable
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.errors import EngineError
from capacity.facts import Base, Check, Closure, Status
from capacity.slots.candidates import BayGroup
from capacity.slots.candidates.bay_groups import BayUse, group_bays
from capacity.slots.program.plan_of import plan_of
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit
from tests.slots.building import Built, built, nothing, some_choice

DAYS = 30
NONE: tuple[int, ...] = ()


def use(
    name: str,
    shut: Iterable[int] = NONE,
    taken: Iterable[int] = NONE,
    fits: Iterable[str] = ("A", "B"),
    changeover_days: int = 0,
) -> BayUse:
    """A bay over thirty days, closed or taken on some of them."""
    masks = np.zeros((2, DAYS), dtype=np.bool_)
    masks[0, list(shut)] = True
    masks[1, list(taken)] = True
    none = np.zeros_like(masks[0])
    return BayUse(name, frozenset(fits), changeover_days, masks[0], masks[1], none, none)


def grouped(*uses: BayUse, shortest: int = 3) -> list[BayGroup]:
    return group_bays(list(uses), first_day=0, shortest_stay_days=shortest)


def names(*uses: BayUse, shortest: int = 3) -> list[tuple[str, ...]]:
    return [group.bays for group in grouped(*uses, shortest=shortest)]


def test_bays_that_take_the_same_checks_at_any_time_are_one_group() -> None:
    (group,) = grouped(use("B1"), use("B2"), use("B3"))
    assert group.title == "B1, B2, B3"
    assert group.usable.tolist() == [3] * DAYS


@pytest.mark.parametrize(
    "other",
    [use("B2", fits="A"), use("B2", changeover_days=1), use("B2", shut=[9]), use("B2", taken=[9])],
    ids=["fits fewer", "changeover", "closed later", "taken later"],
)
def test_bays_that_differ_later_on_are_two(other: BayUse) -> None:
    assert names(use("B1"), other) == [("B1",), ("B2",)]


def test_bays_that_open_one_after_the_other_are_one_group_with_growing_room() -> None:
    # B2 is taken until day 4, B3 closed on days 0 to 6.
    (group,) = grouped(use("B1"), use("B2", taken=range(4)), use("B3", shut=range(7)))
    assert group.opens == (0, 4, 7)
    assert group.usable.tolist() == [1] * 4 + [2] * 3 + [3] * 23


def test_a_gap_too_short_for_any_stay_opens_nothing() -> None:
    # Open on days 2 and 3 only before day 6.
    gapped = use("B2", shut=[0, 1, 4, 5])
    assert grouped(gapped, shortest=3)[0].opens == (6,)
    assert grouped(gapped, shortest=2)[0].opens == (2,)


def test_closed_days_that_all_share_leave_no_room() -> None:
    (group,) = grouped(use("B1", shut=[8, 9]), use("B2", shut=[8, 9]))
    assert group.usable.tolist() == [2] * 8 + [0] * 2 + [2] * 20


def alike_base(rng: Random) -> Base:
    """Bays alike that open one by one, shut together for a while, and many short visits."""
    count = rng.randint(2, 4)
    alike = bays(count, changeover_days=rng.randint(0, 2))
    already_in: list[Check] = []
    closures = []
    shut_from, shut_days = rng.randint(12, 20), rng.randint(0, 3)
    for number, bay in enumerate(alike):
        until = rng.choice([0, 0, 2, 5, 9])
        if until and rng.random() < 0.5:
            closures.append(Closure(bay.name, day(-1), day(until - 1)))
        elif until:
            already_in.append(fixed(f"F{number}", until, 0, bay.name))
        if shut_days:
            closures.append(Closure(bay.name, day(shut_from), day(shut_from + shut_days - 1)))
    visits = []
    for number in range(rng.randint(3, 9)):
        first = rng.randint(0, 20)
        visits.append(visit(f"V{number}", rng.randint(1, 6), first, first + rng.randint(0, 6)))
    return stories.base(alike, *already_in, *visits, closures=tuple(closures))


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=150)
def test_whatever_keeps_the_count_can_be_given_bays_one_by_one(rng: Random) -> None:
    made = built(alike_base(rng))
    chosen = some_choice(made.program, rng)
    # The audit knows no groups: it looks at each bay by itself.
    assert made.audited(chosen).broken == ()


def test_bays_that_open_one_by_one_do_share_a_group_here() -> None:
    base = stories.base(bays(2), fixed("F", 5, 0, "B2"), visit("V", 3, 0, 9))
    slots = built(base).slots
    assert [group.bays for group in slots.groups] == [("B1", "B2")]
    assert slots.groups[0].opens == (0, 5)


def two_in_one_bay() -> Built:
    return built(stories.base(bays(1), visit("A", 5, 0, 9), visit("B", 5, 0, 9)))


def test_the_bay_that_is_free_first_is_given_first() -> None:
    made = built(stories.base(bays(2), visit("A", 5, 0, 0), visit("B", 5, 5, 5)))
    plan = plan_of(made.program.first_column[:2].copy(), made.program, made.slots)
    assert [(p.check, p.bay) for p in plan.placements] == [("A", "B1"), ("B", "B1")]


def test_a_choice_that_breaks_the_count_is_refused() -> None:
    made = two_in_one_bay()
    with pytest.raises(EngineError, match="finds no bay among B1"):
        plan_of(made.program.first_column[:2].copy(), made.program, made.slots)


def test_checks_left_out_are_told_apart_from_options_refused() -> None:
    option = visit("O", 3, 0, 9, status=Status.OPTION, price=1.0)
    made = built(stories.base(bays(1), visit("A", 5, 0, 9), option))
    plan = plan_of(nothing(made.program), made.program, made.slots)
    assert (plan.not_placed, plan.refused) == (("A",), ("O",))
