"""Ways out of conflicts that can be worked out on paper; each plan with one is audited."""

import pytest

from capacity.facts import Base, Closure, Equipment, EquipmentOutage, Package, Stage
from capacity.plans.audit import audit
from capacity.questions.conflicts.case import _first
from capacity.questions.conflicts.explaining import conflicts_of
from capacity.questions.conflicts.values import Conflicts, FewestDays
from capacity.slots.rules.bay_days import FURTHER_BAY, SHORTER_CHANGEOVER
from capacity.slots.rules.changes import Change
from capacity.slots.rules.closures import CLOSES_LATER, OPEN_AGAIN, OPENS_SOONER
from capacity.slots.rules.equipment import IN_USE_AGAIN, MORE_EQUIPMENT
from capacity.slots.rules.shop_windows import FASTER_SHOP
from capacity.slots.rules.windows import EARLIER, EXTENDED, GIVEN_UP, LATER, OTHER_BAY, OTHER_DAY
from tests.questions.conflicts.test_smallest_conflicts import with_wheels
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit


def told(found: Conflicts) -> dict[tuple[Change, str], int]:
    """Return the amounts of the ways out of the only conflict, every plan being audited."""
    (conflict,) = found.conflicts
    for way in conflict.ways_out:
        result = audit(way.base, way.plan)
        assert result.broken == ()
        assert result.goals.days_past_latest_in == way.days_past
        assert result.goals.money == pytest.approx(way.money)
        assert way.is_least
    assert list(conflict.ways_out) == sorted(conflict.ways_out, key=lambda way: way.rank)
    assert conflict.not_tried == ()
    return {(way.change, way.rule.of): way.amount for way in conflict.ways_out}


def test_a_check_comes_later_or_earlier_or_not_at_all_or_there_is_a_further_bay() -> None:
    # A comes in on day 6, B on day 8 or 9; each stays five days.
    base = stories.base(bays(1), visit("A", 5, 6, 6), visit("B", 5, 8, 9))
    found = conflicts_of(base, 20)
    assert told(found) == {
        (LATER, "A"): 7,  # in on day 13, behind B
        (LATER, "B"): 2,  # in on day 11, behind A
        (EARLIER, "A"): 2,  # in on day 4, before B on day 9
        (EARLIER, "B"): 7,  # in on day 1, before A
        (GIVEN_UP, "A"): 1,
        (GIVEN_UP, "B"): 1,
        (FURTHER_BAY, "B1"): 1,
    }
    assert found.fewest_days == FewestDays(2, 2, (("B", 2),), ())


def test_a_way_out_must_help_all_other_checks_too() -> None:
    # B alone could come in on day 11, but then it would meet C, which comes in on day 14.
    base = stories.base(bays(1), visit("A", 5, 6, 6), visit("B", 5, 8, 9), visit("C", 5, 14, 14))
    (conflict,) = conflicts_of(base, 30).conflicts
    assert {rule.of for rule in conflict.rules} == {"A", "B", "B1"}
    ways = {(way.change, way.rule.of): way.amount for way in conflict.ways_out}
    assert (LATER, "B") not in ways
    assert ways[EARLIER, "B"] == 7
    assert (LATER, "A") not in ways


def test_a_later_day_than_helps_the_two_alone_is_found_when_it_helps_all() -> None:
    # Behind A on day 11 is room for B only until day 12, when C comes; behind C on day 15.
    base = stories.base(bays(1), visit("A", 5, 6, 6), visit("B", 5, 8, 9), visit("C", 3, 12, 12))
    (conflict,) = conflicts_of(base, 30).conflicts
    ways = {(way.change, way.rule.of): way for way in conflict.ways_out}
    names = {rule.of for rule in conflict.rules}
    assert names in ({"A", "B", "B1"}, {"B", "C", "B1"})  # B meets either of them
    later = ways[LATER, "B"]
    assert (later.amount, later.is_least) == (6, True)


def test_other_checks_that_come_in_late_anyhow_are_no_matter_of_a_conflict() -> None:
    base = stories.base(
        bays(1),
        *(visit(name, 5, 10, 10) for name in ("A", "B")),
        *(visit(name, 5, 40, 40) for name in ("C", "D")),
    )
    found = conflicts_of(base, 40)
    assert len(found.conflicts) == 2
    for conflict in found.conflicts:
        later = [way for way in conflict.ways_out if way.change == LATER]
        # The other conflict's five days are still there.
        assert [(way.amount, way.days_past) for way in later] == [(5, 10), (5, 10)]
    assert found.fewest_days is not None
    assert (found.fewest_days.days, found.fewest_days.bound) == (10, 10)


@pytest.mark.parametrize(
    ("closure", "expected"),
    [
        (Closure("B1", day(0), day(6)), {(OPENS_SOONER, "B1"): 3, (LATER, "A"): 3}),
        (
            Closure("B1", day(8), day(12)),
            {(CLOSES_LATER, "B1"): 1, (EARLIER, "A"): 1},
        ),
        (Closure("B1", day(5), day(5)), {(OPEN_AGAIN, "B1"): 1, (LATER, "A"): 2}),
    ],
)
def test_a_closure_is_shortened_by_as_few_days_as_help(
    closure: Closure, expected: dict[tuple[Change, str], int]
) -> None:
    base = stories.base(bays(1), visit("A", 5, 4, 4), closures=(closure,))
    ways = told(conflicts_of(base, 20))
    always = {(GIVEN_UP, "A"): 1, (FURTHER_BAY, "B1"): 1}
    assert {**expected, **always}.items() <= ways.items()
    closing = {OPENS_SOONER, CLOSES_LATER, OPEN_AGAIN}
    assert {c for c, _ in ways if c in closing} == {c for c, _ in expected if c in closing}


def test_a_bay_is_turned_round_in_less_time() -> None:
    base = stories.base(bays(1, changeover_days=3), visit("A", 5, 0, 0), visit("B", 5, 6, 6))
    ways = told(conflicts_of(base, 20))
    assert ways[SHORTER_CHANGEOVER, "B1"] == 2
    assert ways[LATER, "B"] == 2


def test_fixed_checks_move_to_another_day_or_bay() -> None:
    base = stories.base(
        bays(2),
        fixed("F", 5, 3, "B1", latest_in=day(9)),
        fixed("G", 5, 6, "B1"),
        visit("X", 3, 0, 0),
    )
    found = conflicts_of(base, 20)
    assert found.fixed_only
    assert told(found) == {
        (OTHER_DAY, "F"): -2,
        (OTHER_DAY, "G"): 2,
        (OTHER_BAY, "F"): 1,
        (OTHER_BAY, "G"): 1,
        (GIVEN_UP, "F"): 1,
        (GIVEN_UP, "G"): 1,
    }


def test_a_check_that_is_in_already_is_not_told_to_go_elsewhere() -> None:
    base = stories.base(bays(2), fixed("F", 9, -5, "B1"), fixed("G", 5, 2, "B1"))
    ways = told(conflicts_of(base, 20))
    assert {change for change, name in ways if name == "F"} == {GIVEN_UP}
    assert ways[OTHER_DAY, "G"] == 2
    assert ways[OTHER_BAY, "G"] == 1


def test_a_fixed_check_past_latest_in_is_brought_forward_or_its_date_extended() -> None:
    base = stories.base(bays(1), fixed("F", 5, 3, "B1", latest_in=day(1)))
    assert told(conflicts_of(base, 20)) == {
        (OTHER_DAY, "F"): -2,
        (EXTENDED, "F"): 2,
        (GIVEN_UP, "F"): 1,
    }


def jacked(number: int, *outages: EquipmentOutage) -> Base:
    """Two checks in two bays that both want a jack set over days 0 to 5."""
    stages = (Stage("Work", "maintenance", 5, equipment=("Jack set",)),)
    return stories.base(bays(2), visit("A", 5, 0, 0), visit("B", 5, 0, 0)).replace(
        packages=(Package("5 days", stages),),
        equipment=(Equipment("Jack set", number),),
        equipment_outages=outages,
    )


def test_equipment_is_bought_or_its_outage_put_off() -> None:
    assert told(conflicts_of(jacked(1), 20))[MORE_EQUIPMENT, "Jack set"] == 1
    ways = told(conflicts_of(jacked(2, EquipmentOutage("Jack set", day(2), day(3), 1)), 20))
    assert ways[IN_USE_AGAIN, "Jack set"] == 1
    assert ways[LATER, "A"] == ways[LATER, "B"] == 4


def test_a_shop_works_faster() -> None:
    base = with_wheels(stories.base(bays(2), visit("A", 9, 0, 0), visit("B", 9, 0, 0)), 1.0)
    # Six wheels within three days are two a day.
    assert told(conflicts_of(base, 20))[FASTER_SHOP, "Wheels"] == 1


def test_what_there_was_no_time_for_is_told() -> None:
    base = stories.base(bays(1), visit("A", 5, 6, 6), visit("B", 5, 8, 9))
    found = conflicts_of(base, 0.0)
    assert (found.possible, found.conflicts) == (None, ())


def test_where_everything_is_possible_nothing_conflicts() -> None:
    found = conflicts_of(stories.base(bays(1), visit("A", 5, 6, 6), fixed("F", 5, 1, "B1")), 10)
    assert (found.possible, found.conflicts, found.fewest_days) == (True, (), None)


def test_the_first_number_that_holds_is_told_with_its_proof() -> None:
    assert _first(1, 9, lambda n: n >= 4) == (4, True)
    assert _first(1, 9, lambda n: n >= 9) == (9, True)
    assert _first(1, 1, lambda n: True) == (1, True)
    assert _first(2, 1, lambda n: True) is False
    assert _first(1, 9, lambda n: False) is False
    assert _first(1, 9, lambda n: None) is None
    assert _first(1, 9, lambda n: None if n < 7 else True) == (7, False)
