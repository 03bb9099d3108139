"""Change who is where in a crew plan that stands: the audit says so."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_plan import CrewPlan
from tests.crews.standing_plan import (
    BASE,
    EXTRA,
    PLAN,
    RULE,
    attending,
    broken,
    more,
    of,
    standing,
    working,
)
from tests.crews.stories import day


def test_the_plan_stands_before_it_is_changed() -> None:
    assert broken(standing()) == ""
    audit = audit_crews(standing(), PLAN, BASE, RULE)
    assert audit.short == 0.0
    assert audit.overtime > 0.0
    assert audit.asked == pytest.approx(198.0)
    assert audit.given == pytest.approx(198.0)
    crews = {there.crew for there in standing().attendance}
    assert {"Mechanics", "Certifiers", "Nights", "Hired"} <= crews


MUTATIONS: dict[str, tuple[Callable[[], CrewPlan], str]] = {
    "more heads than the crew has": (
        lambda: attending(of("Mechanics"), heads=5.0),
        "people at work, 4 present",
    ),
    "half a head in whole shifts": (
        lambda: attending(of("Mechanics"), heads=1.5),
        "1.5 people are not whole parts of a shift",
    ),
    "the wrong shift": (
        lambda: attending(of("Mechanics"), shift="Late"),
        "it works shift Early, not Late",
    ),
    "hours in another shift than the people": (
        lambda: working(lambda w: w.crew == "Mechanics", shift="Late"),
        " h on C1, 0.00 h available",
    ),
    "hours of people who are not there": (
        lambda: replace(
            standing(),
            attendance=tuple(a for a in standing().attendance if a.crew != "Nights"),
        ),
        "0.00 h available",
    ),
    "hours by people on another aircraft": (
        lambda: attending(lambda a: of("Mechanics")(a) and a.heads > 1, check="C2"),
        " h on C1, 0.00 h available",
    ),
    "more hours than the people give": (
        lambda: working(lambda w: w.crew == "Nights" and w.hours > 1, hours=99.0),
        " h available",
    ),
    "a day out of the weeks": (
        lambda: more(replace(EXTRA, day=day(-1))),
        "Mechanics on Sun 3 Jan 2027: the day is not in the weeks staffed",
    ),
    "hours out of the weeks": (
        lambda: working(lambda w: w.crew == "Mechanics", day=day(7)),
        "Mechanics on Mon 11 Jan 2027: the day is not in the weeks staffed",
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
        "nobody with licence B1 for",
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
        "h of overtime, ",
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
        "more people are called in within a week of Fri 8 Jan 2027 than it has",
    ),
    "a crew that there is not": (
        lambda: attending(of("Mechanics"), crew="Nobody"),
        "the base has no crew Nobody",
    ),
    "an aircraft that is not there": (
        lambda: more(replace(EXTRA, check="C9")),
        "C9 is not in the slot plan",
    ),
    "people taken back": (
        lambda: more(replace(EXTRA, heads=5.0), replace(EXTRA, check="C2", heads=-5.0)),
        "Mechanics on Mon 4 Jan 2027: -5 people",
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
    told = broken(called, replace(RULE, call_in=False))
    assert "Mondays on Thu 7 Jan 2027: it has a day off" in told


def test_the_half_is_a_warning_where_it_is_no_rule() -> None:
    made = more(replace(EXTRA, day=day(6), crew="Hired"))
    told = audit_crews(made, PLAN, BASE, replace(RULE, own_staff_share="warn"))
    assert (told.broken, len(told.warnings)) == ((), 1)
    silent = audit_crews(made, PLAN, BASE, replace(RULE, own_staff_share="off"))
    assert (silent.broken, silent.warnings) == ((), ())


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
