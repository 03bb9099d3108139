from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.facts import Check, Status
from capacity.slots.program.first_come import first_come
from tests.reference import stories
from tests.reference.random_bases import small_base
from tests.reference.stories import bays, day, visit
from tests.slots.building import built, keeps_rows


def in_days(*visits: Check, **changes: object) -> dict[str, int]:
    """Return the day on which each visit comes into the one bay."""
    made = built(stories.base(bays(1), *visits, **changes))
    chosen = first_come(made.program, made.slots)
    placements = made.audited(chosen).accounts
    return {account.check: (account.in_day - day(0)).days for account in placements}


def test_a_check_gets_the_day_it_wants() -> None:
    assert in_days(visit("A", 3, 0, 9, wanted_in=day(4))) == {"A": 4}


def test_without_a_wanted_day_it_comes_as_early_as_it_may() -> None:
    assert in_days(visit("A", 3, 2, 9)) == {"A": 2}


def test_the_one_with_the_earlier_latest_in_is_served_first() -> None:
    assert in_days(visit("A", 3, 0, 9), visit("B", 3, 0, 8)) == {"B": 0, "A": 3}


def test_a_taken_day_is_followed_by_the_first_free_one() -> None:
    first = visit("A", 5, 0, 4, wanted_in=day(4))
    assert in_days(first, visit("B", 3, 0, 9, wanted_in=day(5))) == {"A": 4, "B": 9}


def test_with_no_free_day_after_the_wanted_one_the_last_before_it_serves() -> None:
    # A stands on days 4 to 8; B may come in up to day 8 and needs three days before day 4.
    first = visit("A", 5, 0, 4, wanted_in=day(4))
    second = visit("B", 3, 0, 8, wanted_in=day(5))
    assert in_days(first, second, longest_delay_days=0) == {"A": 4, "B": 1}


def test_a_check_without_any_free_day_is_left_out() -> None:
    both = visit("A", 5, 0, 0), visit("B", 5, 1, 1)
    assert in_days(*both, longest_delay_days=0) == {"A": 0}


def test_options_stay_out() -> None:
    option = visit("O", 3, 0, 9, status=Status.OPTION, price=1e6)
    assert in_days(option, visit("A", 3, 0, 9)) == {"A": 0}


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=60)
def test_it_keeps_all_rows(rng: Random) -> None:
    made = built(small_base(rng))
    assert keeps_rows(made.program, first_come(made.program, made.slots))
