"""Every check is named once and where it belongs: each slip gives exactly its sentence."""

import pytest

from capacity.facts import Status
from capacity.plans.audit import audit
from capacity.plans.plan import Plan

from .stories import base, check, placed, plan

OPTION = check(status=Status.OPTION)


def test_each_check_in_its_right_place_breaks_nothing() -> None:
    """A booked check stands, another has no place, one option is refused."""
    three = base(check("C1"), check("C2"), check("C3", status=Status.OPTION))
    result = audit(three, plan(placed("C1", 5), not_placed=("C2",), refused=("C3",)))
    assert result.broken == ()


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (
            plan(),
            "C1 is a booked check, but it neither has a slot nor is listed as without a slot.",
        ),
        (plan(refused=("C1",)), "C1 is a booked check, but it is listed as not taken."),
        (plan(not_placed=("C1", "C1")), "C1 is listed as without a slot 2 times."),
        (
            plan(placed("C1", 5), not_placed=("C1",)),
            "C1 has a slot, but it is also listed as without a slot.",
        ),
        (
            plan(placed("C1", 5), refused=("C1",)),
            "C1 has a slot, but it is also listed as not taken.",
        ),
        (plan(placed("C1", 5), placed("C1", 30)), "C1 has 2 slots, but needs no more than 1."),
        (
            plan(placed("C1", 5), placed("C9", 30)),
            "C9 is in the plan, but the base has no check of that name.",
        ),
        (
            plan(placed("C1", 5), not_placed=("C9",)),
            "C9 is in the plan, but the base has no check of that name.",
        ),
    ],
)
def test_a_booked_check_is_placed_or_not_placed(told: Plan, sentence: str) -> None:
    """One base with the booked check C1 alone."""
    assert audit(base(), told).broken == (sentence,)


def test_a_fixed_check_is_not_forgotten_either() -> None:
    """Fixed and booked checks are held alike to being placed or listed."""
    fixed = base(check(status=Status.FIXED))
    sentence = "C1 is a fixed check, but it neither has a slot nor is listed as without a slot."
    assert audit(fixed, plan()).broken == (sentence,)


@pytest.mark.parametrize(
    ("told", "sentence"),
    [
        (plan(), "C1 is an option, but it neither has a slot nor is listed as not taken."),
        (plan(not_placed=("C1",)), "C1 is an option, but it is listed as without a slot."),
        (
            plan(placed("C1", 5), refused=("C1",)),
            "C1 has a slot, but it is also listed as not taken.",
        ),
    ],
)
def test_an_option_is_placed_or_refused(told: Plan, sentence: str) -> None:
    """The same base, where C1 is an option."""
    assert audit(base(OPTION), told).broken == (sentence,)


def test_a_second_placement_and_an_unknown_check_count_in_no_figure() -> None:
    """C1 comes in on its Latest in, day 10; the copy on day 30 and C9 cost nothing."""
    costly = base(check(early_cost_per_day=7.0, late_cost_per_day=9.0))
    told = plan(placed("C1", 10), placed("C1", 30), placed("C9", 45))
    result = audit(costly, told)
    assert [account.check for account in result.accounts] == ["C1"]
    assert result.goals.money == 0
