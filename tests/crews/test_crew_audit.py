"""Change one thing in a crew plan that stands: the audit says so."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_plan import Attendance, CrewPlan, Short, StageHours, StageMove
from capacity.crews.crew_settings import CrewSettings
from capacity.facts import Equipment, Pattern, Shop, ShopLoop
from capacity.plans.plan import Plan
from tests.crews.stories import (
    CERTIFIER,
    EARLY,
    LATE,
    MECHANIC,
    NIGHT,
    SETTINGS,
    base,
    crew,
    day,
    package,
    placed,
    staffed,
    stage,
)

ONE_DAY = day(1) - day(0)
HEAVY = package(
    stage("Open", 1, hours=30.0, by_night=False, max_heads=6),
    stage("Work", 2, "Open", man_hours={"Mechanic": 70.0, "Certifier": 8.0}, critical=True),
    stage("Swing", 1, "Open", hours=8.0, equipment=("Jacks",)),
    stage("Close", 1, "Work", "Swing", hours=70.0, alone=True),
)
LIGHT = package(
    stage("Long", 4),
    stage("Remove", 1, hours=4.0),
    stage("Refit", 1, "Remove", hours=4.0),
    stage("Hoist", 1, hours=4.0, equipment=("Jacks",)),
    name="Light",
)
BASE = base(
    [HEAVY, LIGHT],
    [
        crew("Mechanics", 4),
        crew("Certifiers", 2, skills=("Certifier",)),
        crew("Nights", 2, NIGHT.name),
        crew("Hired", 2, contract=True),
        crew("Mondays", 2, "Mondays"),
        crew("Of tankers", 2, types=frozenset({"Tanker"})),
    ],
    skills=(replace(MECHANIC, overtime_cap=0.05), CERTIFIER),
    patterns=(
        *(Pattern(shift.name, (shift.name,)) for shift in (EARLY, LATE, NIGHT)),
        Pattern("Mondays", ("Early", *[None] * 6)),
    ),
    equipment=(Equipment("Jacks", 1),),
    shops=(Shop("Wheels", 9.0),),
    shop_loops=(ShopLoop("Light", "Wheels", 9, "Remove", "Refit"),),
)
PLAN = Plan(
    (
        placed("C1", ("Open", 0, 1), ("Work", 1, 3), ("Swing", 1, 2), ("Close", 3, 4)),
        placed("C2", ("Long", 0, 4), ("Remove", 0, 1), ("Hoist", 0, 1), ("Refit", 2, 3)),
    )
)
RULE: CrewSettings = replace(
    SETTINGS, overtime_hours=2.0, call_in=True, contract_share="rule", seconds=30.0
)


@cache
def standing() -> CrewPlan:
    """Return a plan that stands; of C1's closing 70 h the shifts alone cannot give all."""
    settings = {"overtime_hours": 2.0, "call_in": True, "contract_share": "rule"}
    return staffed(BASE, *PLAN.placements, **settings).plan


def broken(made: CrewPlan, settings: CrewSettings = RULE) -> str:
    return "\n".join(audit_crews(made, PLAN, BASE, settings).broken)


Chosen = Callable[[Attendance], bool]


def attending(is_it: Chosen, **changes: object) -> CrewPlan:
    """Change the first row of attendance that is chosen."""
    made = standing()
    number = next(n for n, there in enumerate(made.attendance) if is_it(there))
    rows = list(made.attendance)
    rows[number] = replace(rows[number], **changes)
    return replace(made, attendance=tuple(rows))


def working(is_it: Callable[[StageHours], bool], **changes: object) -> CrewPlan:
    """Change the first row of work that is chosen."""
    made = standing()
    number = next(n for n, work in enumerate(made.work) if is_it(work))
    rows = list(made.work)
    rows[number] = replace(rows[number], **changes)
    return replace(made, work=tuple(rows))


def moved(name: str, first: int, until: int, check: str = "C1") -> CrewPlan:
    """Run a stage elsewhere, and its hours with it, on its first day there."""
    made = standing()
    stages = [
        replace(s, first=day(first), until=day(until)) if (s.check, s.stage) == (check, name) else s
        for s in made.stages
    ]
    work = [
        replace(w, day=day(first)) if (w.check, w.stage) == (check, name) else w for w in made.work
    ]
    return replace(made, stages=tuple(stages), work=tuple(work))


def more(*rows: Attendance) -> CrewPlan:
    return replace(standing(), attendance=(*standing().attendance, *rows))


def of(name: str, check: str = "C1") -> Chosen:
    return lambda there: (there.crew, there.check) == (name, check)


def test_the_plan_stands_before_it_is_changed() -> None:
    assert broken(standing()) == ""
    audit = audit_crews(standing(), PLAN, BASE, RULE)
    assert audit.short == 0.0
    assert audit.overtime > 0.0
    assert audit.asked == pytest.approx(198.0)
    assert audit.given == pytest.approx(198.0)
    crews = {there.crew for there in standing().attendance}
    assert {"Mechanics", "Certifiers", "Nights", "Hired"} <= crews


MONDAY = day(0)
EXTRA = Attendance(MONDAY, "Early", "Mechanics", "C1", "Mechanic", 1.0)
MUTATIONS: dict[str, tuple[Callable[[], CrewPlan], str]] = {
    "more heads than the crew has": (
        lambda: attending(of("Mechanics"), heads=5.0),
        "Mechanics on 2027-01-04: ",
    ),
    "half a head in whole shifts": (
        lambda: attending(of("Mechanics"), heads=1.5),
        "1.5 people are no whole parts of a shift",
    ),
    "the wrong shift": (
        lambda: attending(of("Mechanics"), shift="Late"),
        "it works shift Early, not Late",
    ),
    "hours in another shift than the people": (
        lambda: working(lambda w: w.crew == "Mechanics", shift="Late"),
        "Mechanics on ",
    ),
    "hours of people who are not there": (
        lambda: replace(
            standing(),
            attendance=tuple(a for a in standing().attendance if a.crew != "Nights"),
        ),
        "able 0.00 h",
    ),
    "hours by people on another aircraft": (
        lambda: attending(lambda a: of("Mechanics")(a) and a.heads > 1, check="C2"),
        " h on C1, able ",
    ),
    "more hours than the people give": (
        lambda: working(lambda w: w.crew == "Nights" and w.hours > 1, hours=99.0),
        "able ",
    ),
    "a day out of the weeks": (
        lambda: more(replace(EXTRA, day=day(-1))),
        "Mechanics on 2027-01-03: it is no day of the weeks staffed",
    ),
    "hours out of the weeks": (
        lambda: working(lambda w: w.crew == "Mechanics", day=day(7)),
        "Mechanics on 2027-01-11: it is no day of the weeks staffed",
    ),
    "people of another type": (
        lambda: more(replace(EXTRA, crew="Of tankers")),
        "it is not authorised on C1",
    ),
    "people without the skill": (
        lambda: more(replace(EXTRA, crew="Mondays", skill="Certifier")),
        "it has no Certifier",
    ),
    "no licence on one shift": (
        lambda: replace(
            standing(),
            attendance=tuple(a for a in standing().attendance if a.skill != "Certifier"),
        ),
        "nobody of B1 in shift",
    ),
    "one for critical work": (
        lambda: attending(of("Certifiers"), heads=1.0),
        "fewer than two people for Work",
    ),
    "by day only, worked by night": (
        lambda: working(lambda w: w.stage == "Open", shift="Night", crew="Nights"),
        "Open is worked on in night shift Night",
    ),
    "too many on a stage": (
        lambda: working(lambda w: w.stage == "Open", hours=49.0),
        "more than 6 people on Open",
    ),
    "more overtime than a head may work": (
        lambda: attending(lambda a: a.overtime_hours > 0, overtime_hours=99.0),
        "h overtime, ",
    ),
    "more overtime than the week may have": (
        lambda: more(
            *(
                replace(EXTRA, day=day(n), heads=4.0, overtime_hours=8.0, check="C2")
                for n in range(4, 7)
            )
        ),
        "above the cap of ",
    ),
    "contract people beyond half": (
        lambda: more(replace(EXTRA, day=day(6), crew="Hired")),
        "more than half",
    ),
    "called in twice in a week": (
        lambda: more(
            *(replace(EXTRA, day=day(n), crew="Mondays", heads=2.0) for n in (4, 6)),
        ),
        "more people are called in within a week of 2027-01-08 than it has",
    ),
    "a stage missing": (
        lambda: replace(standing(), stages=standing().stages[1:]),
        "Open is missing",
    ),
    "a stage twice": (
        lambda: replace(standing(), stages=(*standing().stages, standing().stages[-1])),
        "is listed twice",
    ),
    "a crew that there is not": (
        lambda: attending(of("Mechanics"), crew="Nobody"),
        "the base has no crew Nobody",
    ),
    "a shift that there is not": (
        lambda: working(lambda w: w.stage == "Open", shift="Lunch"),
        "the base has no shift Lunch",
    ),
    "a skill that there is not": (
        lambda: replace(standing(), short=(Short("C1", "Open", "Welder", 1.0),)),
        "C1: the base has no skill Welder",
    ),
    "an aircraft that is not there": (
        lambda: more(replace(EXTRA, check="C9")),
        "C9 is not in the slot plan",
    ),
    "a stage that is not in the slot plan": (
        lambda: replace(
            standing(), stages=(*standing().stages, StageMove("C1", "Wash", MONDAY, day(1), MONDAY))
        ),
        "Wash is not in the slot plan",
    ),
    "hours of a stage that is not in the slot plan": (
        lambda: working(lambda w: w.stage == "Open", stage="Wash"),
        "Wash of C1 is not in the slot plan",
    ),
    "a stage before the aircraft is in": (lambda: moved("Open", -1, 0), "leaves its days"),
    "a stage after the aircraft is out": (lambda: moved("Close", 4, 5), "leaves its days"),
    "a stage before the one it waits for": (
        lambda: moved("Swing", 0, 1),
        "Swing starts before Open has ended",
    ),
    "a stage beside one that is alone": (
        lambda: moved("Swing", 3, 4),
        "which is done alone",
    ),
    "a stage on fewer days": (lambda: moved("Work", 1, 2), "takes other worked days"),
    "a stage on more days": (lambda: moved("Swing", 1, 3), "takes other worked days"),
    "equipment held twice": (lambda: moved("Hoist", 2, 3, "C2"), "Jacks: 2 stages hold a piece"),
    "a stage that sends items to a shop, moved": (
        lambda: moved("Remove", 1, 2, "C2"),
        "Remove is moved, but its items leave for a shop",
    ),
    "a stage that waits for items of a shop, moved": (
        lambda: moved("Refit", 3, 4, "C2"),
        "Refit is moved, but its items leave for a shop",
    ),
    "hours on a day on which the stage is not run": (
        lambda: working(lambda w: w.stage == "Close", day=day(2)),
        "Close is not run on 2027-01-06",
    ),
    "fewer hours than asked": (
        lambda: working(lambda w: w.stage == "Swing", hours=1.0),
        "asks 8.00 h of Mechanic and is accounted for",
    ),
    "short of hours that are given": (
        lambda: replace(standing(), short=(Short("C1", "Swing", "Mechanic", 2.0),)),
        "is accounted for 10.00 h",
    ),
    "hours of a skill that is not asked": (
        lambda: working(lambda w: w.stage == "Swing", skill="Certifier"),
        "Swing asks 0.00 h of Certifier",
    ),
    "hours given by contract that were not bought": (
        lambda: replace(standing(), bought=(Short("C1", "Swing", "Mechanic", 2.0),)),
        "more than the slot plan buys",
    ),
    "hours taken back": (
        lambda: replace(
            standing(),
            work=(
                *standing().work,
                StageHours(day(1), "Early", "Mechanics", "C1", "Swing", "Mechanic", -2.0),
                StageHours(day(1), "Early", "Mechanics", "C1", "Swing", "Mechanic", 2.0),
            ),
        ),
        "-2.00 h",
    ),
    "people taken back": (
        lambda: more(replace(EXTRA, heads=5.0), replace(EXTRA, check="C2", heads=-5.0)),
        "Mechanics on 2027-01-04: -5 people",
    ),
    "overtime taken back": (
        lambda: attending(of("Nights"), overtime_hours=-1.0),
        "-1.00 h overtime",
    ),
}


@pytest.mark.parametrize("name", MUTATIONS)
def test_a_change_is_told(name: str) -> None:
    change, sentence = MUTATIONS[name]
    assert sentence in broken(change())


def test_a_day_off_counts_where_nobody_is_called_in() -> None:
    called = more(replace(EXTRA, day=day(3), crew="Mondays", overtime_hours=0.0))
    assert broken(called) == ""
    assert "Mondays on 2027-01-07: it has a day off" in broken(called, replace(RULE, call_in=False))


def test_the_half_is_a_warning_where_it_is_no_rule() -> None:
    made = more(replace(EXTRA, day=day(6), crew="Hired"))
    told = audit_crews(made, PLAN, BASE, replace(RULE, contract_share="warn"))
    assert (told.broken, len(told.warnings)) == ((), 1)
    silent = audit_crews(made, PLAN, BASE, replace(RULE, contract_share="off"))
    assert (silent.broken, silent.warnings) == ((), ())


def test_a_stage_is_not_moved_before_the_end_of_the_leg_before() -> None:
    """Paint starts where all maintenance has ended, though no stage of it says so."""
    legs = package(stage("Long", 2), stage("Mask", 1, work="paint"), stage("Coat", 2, work="paint"))
    base_ = base([legs], [crew("Mechanics", 1)])
    stay = placed("C1", ("Long", 0, 2), ("Mask", 2, 3), ("Coat", 2, 4))
    made = staffed(base_, stay).plan
    early = tuple(
        replace(s, first=day(1), until=day(2)) if s.stage == "Mask" else s for s in made.stages
    )
    found = audit_crews(replace(made, stages=early), Plan((stay,)), base_, SETTINGS).broken
    assert found == ("C1: Mask starts before Long has ended.",)


def test_a_stage_that_reaches_out_of_the_weeks_is_not_moved() -> None:
    base_ = base([package(stage("Long", 4, hours=8.0), stage("Short", 1))], [crew("Mechanics", 1)])
    stay = placed("C1", ("Long", 5, 9), ("Short", 5, 6))
    made = staffed(base_, stay).plan
    late = tuple(
        replace(s, first=day(7), until=day(8)) if s.stage == "Short" else s for s in made.stages
    )
    found = audit_crews(replace(made, stages=late), Plan((stay,)), base_, SETTINGS).broken
    assert found == ("C1: Short is moved, but reaches out of the weeks staffed.",)


def test_one_person_in_two_rows_is_one_person() -> None:
    """The two rows of one certifier are no second one; nor are those of a mechanic."""
    made = standing()
    rows = []
    for there in made.attendance:
        if of("Certifiers")(there):
            rows.append(replace(there, heads=1.0))
        else:
            rows.append(there)
    away = BASE.replace(
        crews=tuple(replace(c, heads=1) if c.name == "Certifiers" else c for c in BASE.crews)
    )
    quarters = replace(RULE, parts=4)
    split = [replace(r, heads=r.heads / 2) for r in rows if of("Certifiers")(r) for _ in range(2)]
    rest = [r for r in rows if not of("Certifiers")(r)]
    found = audit_crews(replace(made, attendance=(*rest, *split)), PLAN, away, quarters).broken
    assert any("fewer than two people for Work" in sentence for sentence in found)
