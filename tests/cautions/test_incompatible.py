"""Work that does not go together: what is told, and what is not.

The matrix is derived from the sources named in it; the cases here are worked out by hand.
"""

from dataclasses import replace

import pytest

from capacity.cautions.caution import SourceStatus
from capacity.cautions.incompatible import Conflict, incompatible_work
from capacity.cautions.matrix import MATRIX
from capacity.cautions.messages import conflict_messages
from capacity.facts import Base, Stage
from capacity.messages import Level
from capacity.plans.audit import audit
from capacity.plans.plan import Plan, WeekHours
from tests.bases import BAY
from tests.plans import stories
from tests.plans.stories import MON_TO_FRI, check, day, package, placed, plan, stage

PAINT_BAY = replace(BAY, name="B2", work=frozenset({"paint"}))
NEXT_BAY = replace(BAY, name="B3")


def beside(first: Stage, second: Stage) -> tuple[Conflict, ...]:
    """Two stages of one check that overlap on day 7 alone."""
    work = package(replace(first, days=3), replace(second, days=3))
    base = stories.base(replace(check(), package="Heavy"), packages=(work,))
    stays = placed("C1", 5, (first.name, 5, 8), (second.name, 7, 10))
    return incompatible_work(plan(stays), base)


@pytest.mark.parametrize(
    ("one", "other", "what"),
    [
        ("Fuel tank entry", "Welding of rib", "an open fuel tank and hot work"),
        ("Fuel tank entry", "Functional test", "an open fuel tank and electrical power on"),
        ("On jacks", "Engine change", "the aircraft on jacks and removal of a heavy component"),
        ("On jacks", "Wing docks", "the aircraft on jacks and work on the wings from docks"),
        ("Gear swing", "Wheel wells", "a gear swing and work in the gear wells"),
        (
            "Hydraulic power",
            "Flaps and slats",
            "hydraulic or flight-control power and hands in control surfaces",
        ),
    ],
)
def test_each_pair_on_one_aircraft_is_told_in_either_order(one, other, what):
    for first, second in ((one, other), (other, one)):
        (conflict,) = beside(stage(first, 1), stage(second, 1))
        assert (conflict.stage, conflict.other_stage) == (one, other)
        assert (conflict.check, conflict.other_check) == ("C1", "C1")
        assert conflict.what == f"{what} on one aircraft"
        assert conflict.days == (day(7),)
        assert conflict.is_guess
        assert conflict.source
        assert conflict.status is SourceStatus.DERIVED
        assert conflict.remedy.startswith("Put one After the other, or make it Alone; local rules")


def test_a_gear_swing_goes_with_no_other_work_at_all():
    (conflict,) = beside(stage("Gear swing", 1), stage("Cabin", 1))
    assert conflict.what == "a gear swing and any other work on one aircraft"
    assert conflict.status is SourceStatus.SEEN


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Inspection", "Cabin"),
        ("Fuel tank entry", "Cabin"),
        ("Welding", "Engine change"),
        ("On jacks", "Functional test"),
        ("Wing docks", "Engine change"),
        ("Life jackets", "Engine change"),
        ("Water tank", "Welding"),
    ],
)
def test_other_pairs_go_together(one, other):
    assert beside(stage(one, 1), stage(other, 1)) == ()


def test_two_stages_with_both_kinds_of_work_are_told_though_they_are_alike():
    found = beside(stage("Fuel tank welding", 1), stage("Welding in fuel tank", 1))
    assert len(found) == 2


def test_one_stage_is_in_no_conflict_with_itself():
    work = package(stage("Fuel tank welding", 3))
    base = stories.base(replace(check(), package="Heavy"), packages=(work,))
    found = incompatible_work(plan(placed("C1", 5, ("Fuel tank welding", 5, 8))), base)
    assert found == ()


def test_stages_one_after_the_other_go_together():
    work = package(stage("Fuel tank entry", 2), stage("Welding", 2, "Fuel tank entry"))
    base = stories.base(replace(check(), package="Heavy"), packages=(work,))
    stays = placed("C1", 5, ("Fuel tank entry", 5, 7), ("Welding", 7, 9))
    assert incompatible_work(plan(stays), base) == ()


def test_a_stage_is_told_on_the_float_days_on_which_its_hours_may_lie():
    """Tank entry ends on day 10; its float runs to day 21, past the welding of days 14 to 16.

    With hours in the third week, from day 14 on, it may be worked beside the welding; with all of
    them in the second week it is over by then.
    """
    tank = replace(stage("Fuel tank entry", 5, hours=50), daily_peak=2.0, into_float=True)
    work = package(
        tank, stage("Wait", 9, "-"), stage("Welding of rib", 3, "Wait"), stage("Cabin", 16)
    )
    work = replace(
        work,
        stages=tuple(
            replace(one, after=("Wait",) if one.name == "Welding of rib" else ())
            for one in work.stages
        ),
    )
    base = stories.base(replace(check(), package="Heavy"), packages=(work,))
    spans = (
        ("Fuel tank entry", 5, 10),
        ("Wait", 5, 14),
        ("Welding of rib", 14, 17),
        ("Cabin", 5, 21),
    )
    stays = placed("C1", 5, *spans)
    told = {}
    for name, hours in (("later", (20.0, 20.0, 10.0)), ("before", (20.0, 30.0, 0.0))):
        weeks = (f"2027-W0{n}" for n in (1, 2, 3))
        stated = tuple(
            WeekHours("Mechanic", week, amount)
            for week, amount in zip(weeks, hours, strict=True)
            if amount
        )
        levelled = replace(stays.stages[0], hours=stated)
        made = plan(replace(stays, stages=(levelled, *stays.stages[1:])))
        assert audit(base, made).broken == ()
        told[name] = [one.days for one in incompatible_work(made, base)]
    assert told == {"later": [(day(14), day(15), day(16))], "before": []}


def test_days_that_the_base_does_not_work_are_no_overlap():
    # Day 5 is a Saturday: one stage ends on Monday, the other starts on it, or the day after.
    work = package(stage("Fuel tank entry", 2), stage("Welding", 2))
    base = stories.base(
        replace(check(), package="Heavy"), packages=(work,), working_weekdays=MON_TO_FRI
    )
    on_friday = placed("C1", 3, ("Fuel tank entry", 3, 5), ("Welding", 5, 9))
    assert incompatible_work(plan(on_friday), base) == ()
    over_monday = placed("C1", 3, ("Fuel tank entry", 4, 8), ("Welding", 5, 9))
    (conflict,) = incompatible_work(plan(over_monday), base)
    assert conflict.days == (day(7),)


def two_checks(first: Stage, second: Stage, **changes: object) -> tuple[Base, Plan]:
    """One check in the bay B1 from day 5 to 8, another in B3 from day 7 to 10."""
    packages = (package(first, name="One"), package(second, name="Other"))
    base = stories.base(
        replace(check("C1"), package="One"),
        replace(check("C2"), package="Other"),
        packages=packages,
        **{"bays": (BAY, NEXT_BAY), **changes},
    )
    stays = (
        placed("C1", 5, (first.name, 5, 8)),
        placed("C2", 7, (second.name, 7, 10), bay="B3"),
    )
    return base, plan(*stays)


def sharing(*with_whom: tuple[str, frozenset[str]]) -> tuple[object, ...]:
    """Bays B1, B3 and a wide one, W, that share floor with those named."""
    named = dict(with_whom)
    return tuple(
        replace(BAY, name=name, shares_floor_with=named.get(name, frozenset()))
        for name in ("B1", "B3", "W")
    )


FLOORS = [
    sharing(("B1", frozenset({"B3"}))),
    sharing(("B3", frozenset({"B1"}))),
    sharing(("W", frozenset({"B1", "B3"}))),
    sharing(("B1", frozenset({"W"})), ("B3", frozenset({"W"}))),
]


@pytest.mark.parametrize("bays", FLOORS, ids=["names", "is named", "wide names", "name the wide"])
@pytest.mark.parametrize("name", ["Paint touch-up", "X-ray of frames"])
def test_painting_and_radiography_reach_all_the_floor(bays, name):
    base, two = two_checks(stage(name, 3), stage("Cabin", 3), bays=bays)
    (conflict,) = incompatible_work(two, base)
    assert (conflict.check, conflict.stage) == ("C1", name)
    assert (conflict.other_check, conflict.other_stage) == ("C2", "Cabin")
    assert conflict.what.endswith("any other work in the same bay or on the same floor")
    assert conflict.days == (day(7),)
    assert conflict.remedy.startswith("Move one of the checks to other days")


def test_it_reaches_no_other_floor():
    base, two = two_checks(stage("Paint touch-up", 3), stage("Cabin", 3))
    assert incompatible_work(two, base) == ()


@pytest.mark.parametrize("bays", FLOORS)
def test_what_holds_for_one_aircraft_does_not_reach_the_next(bays):
    for one, other in (("Fuel tank entry", "Welding"), ("Gear swing", "Wheel wells")):
        base, two = two_checks(stage(one, 3), stage(other, 3), bays=bays)
        assert incompatible_work(two, base) == ()


def test_other_work_beside_painting_on_one_aircraft_is_told_from_what_the_workbook_says():
    (conflict,) = beside(replace(stage("Livery", 1), work="paint"), stage("Cabin", 1))
    assert conflict.what.startswith("painting and any other work")
    assert not conflict.is_guess
    assert conflict.signs == ("the workbook says: Work is 'paint' ('paint')",)


def test_two_stages_of_painting_go_together():
    paint = replace(stage("Primer", 1), work="paint")
    assert beside(paint, replace(paint, name="Top coat")) == ()


def test_each_kind_of_work_of_a_stage_is_told_for_itself():
    jacked_swing = replace(stage("Gear swing", 1), equipment=("Jack set",))
    found = beside(jacked_swing, stage("Engine change", 1))
    assert [conflict.what for conflict in found] == [
        "the aircraft on jacks and removal of a heavy component on one aircraft",
        "a gear swing and any other work on one aircraft",
    ]


def test_particular_pairs_stand_before_any_other_work():
    general = set()
    for pair in MATRIX:
        assert pair.one not in general, pair
        if pair.other is None:
            general.add(pair.one)


def test_a_message_names_stages_days_source_and_remedy():
    found = beside(stage("Fuel tank entry", 1), stage("Welding", 1))
    (message,) = conflict_messages(found)
    assert message.level is Level.WARNING
    assert "'Fuel tank entry' and 'Welding' of C1 overlap on Mon 11 Jan 2027" in message.what
    assert "the stage's name or equipment suggests it: 'fuel tank'" in message.what
    assert "Source: 29 CFR 1910.252(a)(2)" in message.what
    assert "local rules and licensed staff decide" in message.remedy


def test_a_message_of_two_checks_names_both():
    base, two = two_checks(stage("X-ray", 3), stage("Cabin", 3), bays=FLOORS[0])
    (message,) = conflict_messages(incompatible_work(two, base))
    assert "the stage 'X-ray' of C1 and 'Cabin' of C2 overlap on Mon 11 Jan 2027" in message.what
