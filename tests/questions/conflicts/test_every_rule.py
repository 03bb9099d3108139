"""For every rule there is a base in which it alone is in the way, and the explanation names it.

No other test would notice a new rule that the explanation has never heard of: here every family
of rows, and every field of the facts, is looked up in a list of examples.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cache

import pytest

import capacity
from capacity.facts import (
    AircraftType,
    Base,
    Bay,
    Check,
    Closure,
    Equipment,
    EquipmentOutage,
    Package,
    ReadyDate,
    Shop,
    ShopLoop,
    Stage,
)
from capacity.plans.plan import Plan
from capacity.questions.conflicts.confirmed import UNKNOWN
from capacity.questions.why.explain import Explanation, explain
from capacity.questions.why.wording import why_sentences
from capacity.settings import Settings
from capacity.slots.rules.alone_stages import ALONE
from capacity.slots.rules.bay_days import CHANGEOVER, ONE_AT_A_TIME, SHORTER_CHANGEOVER
from capacity.slots.rules.changes import Change
from capacity.slots.rules.closures import CLOSURE, OPEN_AGAIN
from capacity.slots.rules.days_off import DAYS_OFF
from capacity.slots.rules.equipment import EQUIPMENT, IN_USE_AGAIN, MORE_EQUIPMENT, OUTAGE
from capacity.slots.rules.families import kinds
from capacity.slots.rules.floor_shared import FLOOR
from capacity.slots.rules.held import HELD, LET_GO
from capacity.slots.rules.longest_wait import LONGER_WAIT, WAIT
from capacity.slots.rules.moves_on_days_off import DAY_OFF_IN, DAY_OFF_OUT, MOVES_ALLOWED
from capacity.slots.rules.period import MORE_WEEKS, PERIOD
from capacity.slots.rules.ready_dates import PART_EARLIER, READY
from capacity.slots.rules.rule import RuleKind
from capacity.slots.rules.shop_windows import FASTER_SHOP, SHOP
from capacity.slots.rules.ways_clear import WAY
from capacity.slots.rules.windows import EXTENDED, FIXED_PLACE, LATER, LATEST_IN, OTHER_DAY, WINDOW
from tests.questions.conflicts.test_smallest_conflicts import with_wheels
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit

WEEKDAYS = frozenset(range(5))


@dataclass(frozen=True)
class Example:
    """A base with one thing in the way of check ``of``, and how that is told.

    ``conflict`` is in the answer for the whole plan, ``told`` in the one for the check.
    """

    make: Callable[[], Base]
    of: str
    kind: RuleKind
    conflict: str
    told: str
    change: Change | None = None


def one_at_a_time() -> Base:
    return stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 2, 2))


def changeover() -> Base:
    return stories.base(bays(1, changeover_days=2), visit("A", 5, 0, 0), visit("B", 5, 5, 5))


def closed() -> Base:
    return stories.base(bays(1), visit("B", 5, 2, 2), closures=(Closure("B1", day(3), day(4)),))


def wide_and_inner(span_m: float) -> tuple[Bay, ...]:
    outer, inner = bays(2)
    return outer, replace(inner, reached_through="B1", max_span_m=span_m)


def way() -> Base:
    wide = AircraftType("Wide", 45.0, 38.0, 12.0)
    base = stories.base(
        wide_and_inner(50.0), fixed("A", 5, 0, "B1"), visit("B", 5, 2, 2, type="Wide")
    )
    return base.replace(types=(*base.types, wide))


def floor() -> Base:
    one, two = bays(2)
    return stories.base(
        (one, replace(two, shares_floor_with=frozenset({"B1"}))),
        fixed("A", 5, 0, "B1"),
        visit("B", 5, 2, 2),
        closures=(Closure("B1", day(5), day(60)),),
    )


def jacked(number: int, *outages: EquipmentOutage, checks: tuple[Check, ...]) -> Base:
    held = Package("5 days", (Stage("Work", "maintenance", 5, equipment=("Jack set",)),))
    return stories.base(bays(2), *checks).replace(
        packages=(held,), equipment=(Equipment("Jack set", number),), equipment_outages=outages
    )


def equipment_held() -> Base:
    return jacked(1, checks=(visit("A", 5, 0, 0), visit("B", 5, 2, 2)))


def equipment_out() -> Base:
    return jacked(1, EquipmentOutage("Jack set", day(2), day(3), 1), checks=(visit("B", 5, 2, 2),))


def busy_shop() -> Base:
    return with_wheels(stories.base(bays(2), visit("A", 9, 0, 0), visit("B", 9, 0, 0)), 1.0)


def slow_shop() -> Base:
    base = stories.base(bays(1), visit("A", 9, 0, 0), visit("B", 5, 5, 5), packages=())
    base = with_wheels(base, 0.5)  # three wheels take six days: A is out on day 8, not on day 5
    return base.replace(packages=(*base.packages, *stories.base(()).packages[:5]))


def alone() -> Base:
    stages = (
        Stage("Inspect", "maintenance", 3),
        Stage("Swing", "maintenance", 2, alone=True),
    )
    base = stories.base(bays(1), visit("A", 9, 0, 0), visit("B", 5, 3, 3))
    others = base.packages[:5]
    return base.replace(packages=(Package("9 days", stages), *others))


def part_is_late() -> Base:
    """A waits four days for a part and is out on day 9; B is to come in by day 5."""
    base = stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 5, 5))
    return base.replace(ready_dates=(ReadyDate("A", "Work", day(4), "part"),))


def days_off() -> Base:
    # A works Thu Fri Mon Tue Wed: it is out on day 10; B is to come in on Wednesday, day 9.
    checks = (visit("A", 5, 3, 3), visit("B", 2, 9, 9))
    return stories.base(bays(1), *checks, working_weekdays=WEEKDAYS)


def in_on_a_day_off() -> Base:
    """B may come in on Saturday alone."""
    base = stories.base(bays(1), visit("B", 2, 5, 5), working_weekdays=WEEKDAYS)
    return base.replace(comes_in_on_days_off=False, leaves_on_days_off=False)


def out_on_a_day_off() -> Base:
    """A has done its work on Friday and keeps the bay until Monday; B is to come in on Saturday."""
    checks = (visit("A", 5, 0, 0), visit("B", 2, 5, 5))
    base = stories.base(bays(1), *checks, working_weekdays=WEEKDAYS)
    return base.replace(leaves_on_days_off=False)


def held_day() -> Base:
    """A keeps the bay until day 5; B is held to come in on day 2."""
    return stories.base(bays(1), fixed("A", 5, 0, "B1"), visit("B", 5, 2, 9, held_in=day(2)))


def held_bay() -> Base:
    """A keeps the first bay, in which B is held; the second one is free."""
    return stories.base(bays(2), fixed("A", 30, 0, "B1"), visit("B", 5, 2, 9, held_bay="B1"))


def wait() -> Base:
    hangar, paint = bays(2)
    paint = replace(paint, name="P1", work=frozenset({"paint"}))
    base = stories.base((hangar, paint), fixed("A", 10, 0, "P1"), visit("B", 9, 0, 0))
    stages = (Stage("Open", "maintenance", 3), Stage("Paint", "paint", 2, after=("Open",)))
    only = Package("10 days", (Stage("Paint", "paint", 10),))
    return base.replace(packages=(Package("9 days", stages), only))


def period() -> Base:
    """A keeps the bay until day 8, a day after the only week that is planned."""
    return stories.base(bays(1), fixed("A", 8, 0, "B1"), visit("B", 5, 2, 9), weeks=1)


def too_wide() -> Base:
    base = stories.base(bays(1), visit("B", 5, 0, 0))
    return base.replace(types=(replace(base.types[0], span_m=60.0),))


def too_long() -> Base:
    base = stories.base(bays(1), visit("B", 5, 0, 0))
    return base.replace(types=(replace(base.types[0], length_m=60.0),))


def too_high() -> Base:
    base = stories.base(bays(1), visit("B", 5, 0, 0))
    return base.replace(types=(replace(base.types[0], tail_m=20.0),))


def no_docking() -> Base:
    (bay,) = bays(1)
    base = stories.base((replace(bay, docking=frozenset({"left"})),), visit("B", 5, 0, 0))
    return base.replace(types=(replace(base.types[0], docking="right"),))


def no_such_work() -> Base:
    (bay,) = bays(1)
    return stories.base((replace(bay, work=frozenset({"paint"})),), visit("B", 5, 0, 0))


def fixed_past_its_date() -> Base:
    return stories.base(bays(1), fixed("B", 5, 3, "B1", latest_in=day(1)))


def fixed_together() -> Base:
    return stories.base(bays(1), fixed("A", 5, 0, "B1"), fixed("B", 5, 2, "B1"))


def window_over() -> Base:
    """Latest in was before the plan begins: it can only come in late."""
    return stories.base(bays(1), visit("B", 5, -9, -1))


def longest_delay() -> Base:
    return stories.base(bays(1), fixed("A", 30, 0, "B1"), visit("B", 5, 2, 2))


EXAMPLES = {
    "one at a time": Example(
        one_at_a_time, "B", ONE_AT_A_TIME, "one aircraft at a time in B1", "taken by A"
    ),
    "changeover": Example(
        changeover,
        "B",
        CHANGEOVER,
        "2 days between two aircraft in B1",
        "no time for the changeover next to A",
        SHORTER_CHANGEOVER,
    ),
    "closure": Example(closed, "B", CLOSURE, "the closure of B1", "B1 is closed", OPEN_AGAIN),
    "way": Example(way, "B", WAY, "B2 is reached through B1", "the way into or out of B2"),
    "floor": Example(floor, "B", FLOOR, "B1 and B2 share floor", "its floor is taken by A"),
    "equipment": Example(
        equipment_held,
        "B",
        EQUIPMENT,
        "1 x Jack set",
        "Jack set (Equipment) is held by A",
        MORE_EQUIPMENT,
    ),
    "outage": Example(
        equipment_out,
        "B",
        OUTAGE,
        "1 x Jack set out of use",
        "Jack set is out of use",
        IN_USE_AGAIN,
    ),
    "shop": Example(
        busy_shop,
        "B",
        SHOP,
        "1 items a day in Wheels",
        "Wheels (Shops) is too slow with A there too",
        FASTER_SHOP,
    ),
    "slow shop": Example(
        slow_shop,
        "B",
        SHOP,
        "0.5 items a day in Wheels",
        "taken by A",
        FASTER_SHOP,
    ),
    "alone": Example(alone, "B", ALONE, "'Swing' of 9 days is done alone", "taken by A"),
    "ready date": Example(
        part_is_late,
        "B",
        READY,
        "'Work' of A not before Fri 8 Jan 2027 (part)",
        "taken by A",
        PART_EARLIER,
    ),
    "days off": Example(days_off, "B", DAYS_OFF, "the base does not work every day", "taken by A"),
    "in on a day off": Example(
        in_on_a_day_off,
        "B",
        DAY_OFF_IN,
        "no aircraft comes in on a day off (Base)",
        "a day off, on which no aircraft comes in (Base)",
        MOVES_ALLOWED,
    ),
    "out on a day off": Example(
        out_on_a_day_off,
        "B",
        DAY_OFF_OUT,
        "an aircraft keeps its bay over days off, until the next worked day (Base)",
        "taken by A",
        MOVES_ALLOWED,
    ),
    "held day": Example(
        held_day, "B", HELD, "B is held on Wed 6 Jan 2027", "not where B is held", LET_GO
    ),
    "held bay": Example(held_bay, "B", HELD, "B is held in B1", "not where B is held", LET_GO),
    "wait": Example(
        wait,
        "B",
        WAIT,
        "an aircraft waits up to 3 days",
        "If aircraft could wait longer it could be in on time, but an aircraft waits up to 3 days",
        LONGER_WAIT,
    ),
    "period": Example(
        period,
        "B",
        PERIOD,
        "no check comes in after Sun 10 Jan 2027, the end of the 1 week planned",
        "after the planning period",
        MORE_WEEKS,
    ),
    "span": Example(too_wide, "B", WINDOW, *2 * ("B1: the span of 60 m exceeds 36 m",)),
    "length": Example(too_long, "B", WINDOW, *2 * ("B1: the length of 60 m exceeds 40 m",)),
    "tail": Example(too_high, "B", WINDOW, *2 * ("B1: the tail of 20 m exceeds 13 m",)),
    "docking": Example(no_docking, "B", WINDOW, *2 * ("B1: it has no docking 'right'",)),
    "work": Example(no_such_work, "B", WINDOW, *2 * ("B1: it does no 'maintenance'",)),
    "latest in": Example(
        fixed_past_its_date,
        "B",
        LATEST_IN,
        "the Latest in of B, Tue 5 Jan 2027",
        "2 days past its Latest in",
        EXTENDED,
    ),
    "fixed": Example(
        fixed_together,
        "B",
        FIXED_PLACE,
        "the fixed bay and day of B, B1 on Wed 6 Jan 2027",
        "",
        OTHER_DAY,
    ),
    "window": Example(
        window_over,
        "B",
        WINDOW,
        "which ends before the plan begins",
        "past its Latest in",
        LATER,
    ),
    "longest delay": Example(
        longest_delay,
        "B",
        WINDOW,
        "the window of B",
        "for 7 days past it, the longest delay (Base)",
    ),
}

NEVER = "never in the way: "
WORDS, LABOUR = f"{NEVER}a name or a label", f"{NEVER}man-hours that are short are bought"
MONEY, TIME = f"{NEVER}money", f"{NEVER}the crew plan's"

WHERE_TOLD: dict[type, dict[str, str]] = {
    Base: {
        "name": WORDS,
        "first_day": "window",
        "weeks": "period",
        "skills": LABOUR,
        "bays": "one at a time",
        "types": "span",
        "packages": "one at a time",
        "checks": "one at a time",
        "crews": LABOUR,
        "patterns": LABOUR,
        "shifts": LABOUR,
        "closures": "closure",
        "absences": LABOUR,
        "equipment": "equipment",
        "equipment_outages": "outage",
        "shops": "shop",
        "shop_loops": "shop",
        "progress": "one at a time",
        "extra_work": "one at a time",
        "delivered": f"{NEVER}it is a record of what is over",
        "ready_dates": "ready date",
        "currency": WORDS,
        "working_weekdays": "days off",
        "holidays": "days off",
        "calendar_days": "days off",
        "licences": LABOUR,
        "comes_in_on_days_off": "in on a day off",
        "leaves_on_days_off": "out on a day off",
        "counts_days": LABOUR,
        "productivity": LABOUR,
        "longest_delay_days": "longest delay",
        "longest_wait_days": "wait",
        "overload_cost": MONEY,
        "labour_rate": MONEY,
        "working_time_rules": TIME,
        "working_time_mode": TIME,
        "functions": LABOUR,
        "function_absences": LABOUR,
        "man_hour_plan_name": WORDS,
        "plan_date": WORDS,
        "own_staff_share_rule": TIME,
        "work_counts_from": f"{NEVER}it only says from when the work left counts",
        "work_done": LABOUR,
    },
    Bay: {
        "name": WORDS,
        "hangar": WORDS,
        "max_span_m": "span",
        "max_length_m": "length",
        "max_tail_m": "tail",
        "work": "work",
        "docking": "docking",
        "reached_through": "way",
        "shares_floor_with": "floor",
        "changeover_days": "changeover",
    },
    AircraftType: {
        "name": WORDS,
        "span_m": "span",
        "length_m": "length",
        "tail_m": "tail",
        "docking": "docking",
    },
    Closure: {"bay": "closure", "first": "closure", "last": "closure", "reason": WORDS},
    Package: {
        "name": WORDS,
        "stages": "one at a time",
        "types": f"{NEVER}a check of another type is an error of the workbook",
        "material_cost": MONEY,
    },
    Stage: {
        "name": WORDS,
        "work": "work",
        "days": "one at a time",
        "man_hours": LABOUR,
        "after": "slow shop",
        "findings": LABOUR,
        "findings_spread": LABOUR,
        "shortest_days": f"{NEVER}a choice of the plan",
        "longest_days": f"{NEVER}a choice of the plan",
        "equipment": "equipment",
        "max_heads": TIME,
        "alone": "alone",
        "critical": TIME,
        "by_night": TIME,
        "daily_peak": LABOUR,
        "into_float": LABOUR,
        "extra_hours": LABOUR,
        "is_extra": f"{NEVER}it says whose stage it is",
    },
    Check: {
        "name": WORDS,
        "aircraft": WORDS,
        "type": "span",
        "package": "one at a time",
        "status": "fixed",
        "earliest_in": "window",
        "latest_in": "window",
        "customer": WORDS,
        "third_party": WORDS,
        "wanted_in": WORDS,
        "agreed_out": MONEY,
        "agreed_days": MONEY,
        "decide_by": f"{NEVER}an option need not come in",
        "held_in": "held day",
        "held_bay": "held bay",
        "wanted_cost_per_day": MONEY,
        "early_cost_per_day": MONEY,
        "late_cost_per_day": MONEY,
        "price": MONEY,
        "findings_factor": LABOUR,
        "fixed_bay": "fixed",
        "fixed_in": "fixed",
        "remaining": f"{NEVER}it only leaves work out",
    },
    Equipment: {"name": WORDS, "number": "equipment"},
    EquipmentOutage: dict.fromkeys(("equipment", "first", "last", "number"), "outage")
    | {"reason": WORDS},
    Shop: {"name": WORDS, "items_per_day": "shop"},
    ReadyDate: dict.fromkeys(("check", "stage", "not_before"), "ready date") | {"reason": WORDS},
    ShopLoop: dict.fromkeys(("package", "shop", "items", "leave_at", "back_for"), "shop"),
}


@pytest.mark.parametrize("facts", WHERE_TOLD, ids=lambda facts: facts.__name__)
def test_every_fact_has_an_example_of_how_it_is_in_the_way(facts: type) -> None:
    """A new column has one, or a reason why it keeps no check from any place."""
    told = WHERE_TOLD[facts]
    assert {field.name for field in fields(facts)} == set(told)
    assert {name for name in told.values() if not name.startswith(NEVER)} <= set(EXAMPLES)


def test_every_kind_of_rule_has_an_example() -> None:
    assert {example.kind for example in EXAMPLES.values()} == kinds()


@cache
def answered(name: str) -> tuple[Base, Plan | None, Explanation]:
    base = EXAMPLES[name].make()
    outcome = capacity.plan(base, capacity.Settings(seconds=4))
    plan = outcome.plan if isinstance(outcome, capacity.Planned) else None
    return base, plan, explain(base, plan, Settings())


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_rule_is_named_with_what_would_help(name: str) -> None:
    example, (_, _, found) = EXAMPLES[name], answered(name)
    assert found.conflicts is not None
    assert found.conflicts.possible is False
    (conflict,) = found.conflicts.conflicts
    assert example.kind in {rule.kind for rule in conflict.rules}
    assert UNKNOWN.kind not in {rule.kind for rule in conflict.rules}
    assert found.conflicts.left_out == ()
    text = "\n".join(found.sentences)
    assert example.conflict in text
    assert "search longer" not in text
    assert "All is possible" not in text
    if example.change is not None:
        ways = {way.change: way for way in conflict.ways_out}
        assert example.change in ways


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_check_is_told_what_keeps_it_out(name: str) -> None:
    example, (base, plan, _) = EXAMPLES[name], answered(name)
    if plan is None:
        return  # fixed checks that cannot stand together: there is no plan to ask about
    found = explain(base, plan, check=example.of)
    text = "\n".join(found.sentences)
    assert example.told in text
    assert "search longer" not in text
    assert "does not know" not in text
    assert all(not why.dearer for why in found.whys)
    assert list(found.sentences) == [s for why in found.whys for s in why_sentences(why, base)]
