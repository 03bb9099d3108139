from random import Random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from capacity.facts import Base, Closure, Package, Skill, Stage, Status
from tests.reference import stories
from tests.reference.plain_dates import Way, value, ways_of
from tests.reference.random_bases import small_base
from tests.reference.second_solutions import clash_of_fixed
from tests.reference.stories import bays, day, fixed, visit
from tests.slots.building import Built, Choice, built, keeps_rows, nothing, some_choice


def two_visits(**changes: object) -> Built:
    """Two visits of three days in one bay, each within days 0 to 2 or a day late."""
    both = visit("A", 3, 0, 2), visit("B", 3, 0, 2)
    return built(stories.base(bays(1), *both, longest_delay_days=1, **changes))


def test_columns_stand_check_by_check_and_day_by_day() -> None:
    program = two_visits().program
    assert program.checks == ("A", "B")
    assert program.first_column.tolist() == [0, 4, 8]
    assert program.check_of.tolist() == [0] * 4 + [1] * 4
    assert program.past.tolist() == [0, 0, 0, 1] * 2


def test_two_visits_stand_in_one_bay_when_one_is_out_as_the_other_comes_in() -> None:
    program = two_visits().program
    assert keeps_rows(program, np.array([0, 7]))  # days 0 to 2 and 3 to 5
    assert not keeps_rows(program, np.array([0, 6]))  # days 0 to 2 and 2 to 4


def test_rows_are_named_by_bays_and_day() -> None:
    program = two_visits().program
    assert program.row_names[0] == f"bays B1 on {day(2)}"
    assert set(program.capacity) == {1.0}


def test_there_are_rows_only_for_days_that_bind() -> None:
    # Stays end on days 3 to 6, the first arrivals being on days 0 to 3: only days 2 and 3.
    rows = two_visits().program.row_names
    assert rows == (f"bays B1 on {day(2)}", f"bays B1 on {day(3)}")


def test_days_past_count_late_days_and_checks_left_out() -> None:
    program = two_visits().program
    assert program.days_past(np.array([0, 7])) == 1
    assert program.days_past(np.array([0, -1])) == 2  # Longest delay days + 1
    assert program.days_past(nothing(program)) == 4


def test_an_option_left_out_costs_no_days() -> None:
    option = visit("O", 3, 0, 2, status=Status.OPTION, price=70.0)
    program = built(stories.base(bays(1), option)).program
    assert program.cost(nothing(program)) == (0, 0.0)
    assert program.cost(np.array([0])) == (0, -70.0)


def overtime_base() -> Base:
    """100 hours in a week: 70 regular, 14 of overtime at 50, 7 of contract at 70, 9 at 500."""
    work = Package("Week", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))
    return stories.base(
        bays(1),
        visit("A", 7, 0, 0, package="Week"),
        packages=(work,),
        skills=(Skill("Mechanic", 50.0, 0.2, 70.0, 0.1),),
        longest_delay_days=0,
    )


def test_labour_is_bought_tier_by_tier() -> None:
    program = built(overtime_base()).program
    assert program.cost(np.array([0])) == (0, pytest.approx(14 * 50 + 7 * 70 + 9 * 500))
    assert program.load(np.array([0]))[0] == pytest.approx(100.0)
    assert program.cost(nothing(program))[1] == 0.0


def test_what_is_settled_counts_in_every_choice() -> None:
    # Fixed two days past its Latest in and a day late; its 100 hours cost 5,690 as above.
    late = fixed(
        "A",
        7,
        0,
        "B1",
        package="Week",
        latest_in=day(-2),
        agreed_out=day(6),
        late_cost_per_day=11.0,
    )
    program = built(overtime_base().replace(checks=(late,))).program
    assert program.cost(nothing(program)) == (2, pytest.approx(11 + 5690))


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=60)
def test_a_choice_costs_what_plain_dates_and_the_audit_make_of_it(rng: Random) -> None:
    base = small_base(rng)
    assume(not clash_of_fixed(base))
    made = built(base)
    chosen = some_choice(made.program, rng)
    days, money = made.program.cost(chosen)
    assert value(base, ways_chosen(made, chosen)) == (days, pytest.approx(money))
    audited = made.audited(chosen)
    assert audited.broken == ()
    assert audited.goals.days_past_latest_in == days
    assert audited.goals.money == pytest.approx(money)


def ways_chosen(made: Built, chosen: Choice) -> list[Way]:
    """Find the ways in plain dates that a choice stands for, the fixed ones among them."""
    ways = [ways_of(made.base, c)[0] for c in made.base.checks if c.status is Status.FIXED]
    for number, candidates in enumerate(made.slots.candidates):
        if chosen[number] >= 0:
            course = candidates.course[chosen[number] - made.program.first_column[number]]
            in_day = made.slots.calendar.date(candidates.courses.stays.in_day[course])
            all_ways = ways_of(made.base, candidates.courses.check)
            ways.append(next(way for way in all_ways if way.first == in_day))
    return ways


@given(rng=st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=30)
def test_fewer_columns_cost_the_same_under_other_numbers(rng: Random) -> None:
    program = built(small_base(rng)).program
    chosen = some_choice(program, rng)
    restricted = program.within_days(program.days_past(chosen))
    mine = restricted.from_whole(chosen)
    assert mine is not None
    assert restricted.to_whole(mine).tolist() == chosen.tolist()
    assert restricted.program.cost(mine) == (
        program.cost(chosen)[0],
        pytest.approx(program.cost(chosen)[1]),
    )
    assert keeps_rows(restricted.program, mine)


def test_a_column_that_is_gone_has_no_number() -> None:
    program = two_visits().program
    restricted = program.within_days(0)
    assert restricted.number.tolist() == [0, 1, 2, 4, 5, 6]
    assert restricted.from_whole(np.array([0, 7])) is None
    assert restricted.from_whole(np.array([0, -1])).tolist() == [0, -1]


def test_a_closed_day_stands_in_no_row() -> None:
    program = two_visits(closures=(Closure("B1", day(3), day(4)),)).program
    # Only stays out by day 3 are left: in on day 0.
    assert program.size == 2
    assert program.row_names == (f"bays B1 on {day(2)}",)
