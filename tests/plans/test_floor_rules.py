"""Bays that share floor: one wide position drawn over two narrow ones."""

from dataclasses import replace

import pytest

from capacity.facts import Bay
from capacity.plans.audit import audit
from tests.bases import BAY

from .stories import TEN_DAYS, base, check, day, package, placed, plan, stage

LEFT, RIGHT = replace(BAY, name="Left"), replace(BAY, name="Right")
WIDE = replace(BAY, name="Wide", shares_floor_with=frozenset({"Left", "Right"}))
BAYS = (LEFT, RIGHT, WIDE)
TWO = (check("C1"), check("C2", latest_in=day(40)))


def broken(first_bay: str, then_bay: str, then_in: int, *bays: Bay) -> tuple[str, ...]:
    """C1 stands in its bay on days 5 to 14; C2 comes into another on ``then_in``."""
    told = plan(placed("C2", then_in, bay=then_bay), placed("C1", 5, bay=first_bay))
    return audit(base(*TWO, bays=bays or BAYS), told).broken


@pytest.mark.parametrize(("one", "other"), [("Left", "Wide"), ("Wide", "Left")])
def test_the_floor_is_free_from_the_out_day_on(one: str, other: str) -> None:
    """[5, 15) and [15, 25) are fine; [5, 15) and [14, 24) share day 14. Only Wide names Left."""
    assert broken(one, other, 15) == ()
    assert broken(one, other, 14) == (
        f"C1 in bay {one} and C2 in bay {other} are on the same floor "
        "from Mon 18 Jan 2027 until Tue 19 Jan 2027.",
    )


def test_the_narrow_bays_are_apart() -> None:
    """Left and Right share floor with Wide and not with each other."""
    assert broken("Left", "Right", 5) == ()


def test_a_short_stay_within_a_long_one() -> None:
    """C1 is in on [5, 15), C2 for three days on [8, 11)."""
    short = package(stage("Work", 3))
    two = base(check("C1"), check("C2", package="Heavy"), packages=(TEN_DAYS, short), bays=BAYS)
    told = plan(placed("C1", 5, bay="Wide"), placed("C2", 8, ("Work", 8, 11), bay="Left"))
    assert audit(two, told).broken == (
        "C1 in bay Wide and C2 in bay Left are on the same floor "
        "from Tue 12 Jan 2027 until Fri 15 Jan 2027.",
    )


def test_both_may_name_each_other() -> None:
    """One sentence all the same."""
    both = replace(LEFT, shares_floor_with=frozenset({"Wide"}))
    assert len(broken("Left", "Wide", 8, both, WIDE)) == 1


def test_changeover_belongs_to_the_bay_and_not_to_the_floor() -> None:
    """Both bays need two days between their own aircraft; the floor is free on day 15."""
    slow = tuple(replace(bay, changeover_days=2) for bay in BAYS)
    assert broken("Left", "Wide", 15, *slow) == ()


def test_a_bay_that_names_itself_or_none_of_the_base() -> None:
    """One bay has one sentence for two aircraft on one day; an unknown bay has its own."""
    itself = replace(BAY, shares_floor_with=frozenset({"B1", "B9"}))
    assert broken("B1", "B1", 14, itself) == ("C1 and C2 are both in bay B1 on Mon 18 Jan 2027.",)
    assert broken("B1", "B9", 14, itself) == ("C2 is in bay B9, which the base does not have.",)
