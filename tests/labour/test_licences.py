"""People whose licence or authorisation ends, by both counts of hours, by hand.

Four people work ten hours on each of seven days: 280 h a week, 40 a day. What happens to hours when
a licence ends is common practice, no source.
"""

from dataclasses import replace

import pytest

import capacity
from capacity.cautions.two_people import critical_shifts
from capacity.facts import Base, Licence, Stage
from capacity.labour.available import available_hours, team_hours
from capacity.labour.calendar import calendar_of
from capacity.labour.licences_ending import licences_ending
from capacity.labour.sharing import share_out
from capacity.plans.audit import audit
from capacity.plans.licences import crew_of
from capacity.plans.man_hours import GivenHours
from capacity.plans.worked_days import WorkedDays
from capacity.reports.plan.messages import plan_messages
from tests.bases import TWIN, day
from tests.labour.test_available import MECHANIC, PAINTER, WIDE
from tests.plans.stories import PLENTY, base, check, package, placed, plan, stage

BOTH = replace(PLENTY, name="Four", heads=4, skills=("Mechanic", "Painter"))


def hangar(*rows: Licence, **changes: object) -> Base:
    usual = base(check(), skills=(MECHANIC, PAINTER), types=(TWIN, WIDE), crews=(BOTH,))
    return usual.replace(licences=rows, **changes)


def on_day(of: Base, number: int) -> dict[tuple[tuple[str, ...], tuple[str, ...]], float]:
    """Return the hours of a day by skills and types, which both counts must agree on."""
    given = GivenHours(of, WorkedDays(of))
    known = {part.name: part for part in given.licensed.crews}
    audited = {
        (known[name].skills, tuple(sorted(known[name].types))): hours
        for name, hours in given.on_day(day(number)).items()
        if hours > 0
    }
    searched = [float(hours[number]) for hours in team_hours(of, calendar_of(of)).values()]
    assert sorted(h for h in searched if h > 0) == pytest.approx(sorted(audited.values()))
    assert {crew_of(name) for name in known} <= {crew.name for crew in of.crews}
    return audited


def test_the_last_day_is_the_last_on_which_they_have_it() -> None:
    of = hangar(Licence("Four", "Painter", 1, day(2)))
    both, mechanics = (("Mechanic", "Painter"), ()), (("Mechanic",), ())
    assert on_day(of, 2) == {both: 40.0}
    assert on_day(of, 3) == {both: 30.0, mechanics: 10.0}


def test_rows_of_one_skill_add_up_and_others_are_of_the_same_people() -> None:
    """Three lose the paint, of whom one loses the wide type too; nobody else does."""
    of = hangar(
        Licence("Four", "Painter", 1, day(0)),
        Licence("Four", "Painter", 2, day(1)),
        Licence("Four", "Wide", 1, day(2)),
    )
    both, mechanics = (("Mechanic", "Painter"), ()), (("Mechanic",), ())
    assert on_day(of, 1) == {both: 30.0, mechanics: 10.0}
    assert on_day(of, 2) == {both: 10.0, mechanics: 30.0}
    assert on_day(of, 3) == {both: 10.0, mechanics: 20.0, (("Mechanic",), ("Twin",)): 10.0}


def test_whoever_can_do_nothing_any_more_gives_no_hours() -> None:
    of = hangar(Licence("Four", "Painter", 2, day(0)), Licence("Four", "Mechanic", 1, day(0)))
    assert on_day(of, 1) == {(("Mechanic", "Painter"), ()): 20.0, (("Mechanic",), ()): 10.0}
    all_types = hangar(Licence("Four", "Twin", 4, day(0)), Licence("Four", "Wide", 3, day(0)))
    assert on_day(all_types, 1) == {(("Mechanic", "Painter"), ("Wide",)): 10.0}


def test_those_without_a_licence_are_there_before_the_others() -> None:
    """Two of four are away: of the two who are there, one has lost the paint."""
    away = capacity.facts.Absence("Four", day(1), day(1), 2)
    of = hangar(Licence("Four", "Painter", 1, day(0)), absences=(away,))
    assert on_day(of, 1) == {(("Mechanic", "Painter"), ()): 10.0, (("Mechanic",), ()): 10.0}
    of = of.replace(absences=(replace(away, heads=3.5),))
    assert on_day(of, 1) == {(("Mechanic",), ()): 5.0}


def test_their_own_skill_is_the_first_that_they_still_have() -> None:
    """From day 7 on: 210 h of mechanics and 70 of painters are the base of the caps."""
    of = hangar(Licence("Four", "Mechanic", 1, day(6)))
    supply = available_hours(of, calendar_of(of))
    assert supply.overtime_cap[0].tolist() == pytest.approx([0.2 * 280, 0.0])
    assert supply.overtime_cap[1].tolist() == pytest.approx([0.2 * 210, 0.1 * 70])
    weeks = {(w.week, w.skill): w for w in audit(of, plan(not_placed=("C1",))).weeks}
    assert weeks["2027-W02", "Mechanic"].regular == pytest.approx(210.0)
    assert weeks["2027-W02", "Painter"].regular == pytest.approx(70.0)


PAINTED = package(Stage("Work", "maintenance", 7, {"Painter": 280.0}))
DUE = check(package="Heavy", earliest_in=day(7), latest_in=day(7))


def test_both_price_what_is_short_the_same() -> None:
    """Of 280 h of paint three people give 210: 21 of overtime at 50, 105 of contract at 40."""
    of = hangar(Licence("Four", "Painter", 1, day(6))).replace(checks=(DUE,), packages=(PAINTED,))
    found = audit(of, plan(placed("C1", 7, ("Work", 7, 14))))
    assert not found.broken
    supply = available_hours(of, calendar_of(of))
    excess = supply.regular * 0.0
    kind = int(supply.skill_of.tolist().index(1))
    excess[1, kind] = 280.0 - supply.regular[1, kind]
    hours = share_out(supply, excess)[:, 1, kind]
    price = supply.pool_price[:, kind]
    assert float(hours[hours > 0] @ price[hours > 0]) == pytest.approx(found.goals.money)
    assert found.goals.money == pytest.approx(70 * 500.0)  # no own painter: no cap to buy within
    given = {(g.crew, g.skill): g.hours for g in found.crew_hours if g.week == "2027-W02"}
    assert given == {("Four", "Painter"): pytest.approx(210.0)}
    outcome = capacity.plan(of, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    assert outcome.audit.goals.money == pytest.approx(35_000.0)
    assert not outcome.day_shortages or outcome.day_shortages[0].overload < 1e-6


def test_an_end_within_the_plan_is_noted_with_its_hours() -> None:
    """One person for the two days from Saturday on of one week: 20 h."""
    rows = (
        Licence("Four", "Painter", 1, day(4)),
        Licence("Four", "Wide", 2, day(4)),
        Licence("Four", "Painter", 1, day(-1)),
        Licence("Four", "Painter", 1, day(6)),
    )
    of = hangar(*rows, weeks=1)
    assert [(e.row, e.hours) for e in licences_ending(of)] == [(0, 20.0), (1, 40.0)]
    outcome = capacity.plan(of, capacity.Settings(seconds=3))
    told = [m for m in plan_messages(outcome, of) if m.where == "Licences"]
    assert [m.what for m in told] == [
        "the licence for 'Painter' of 1 person of 'Four' ends with Fri 8 Jan 2027: 20 h less in it "
        "until Sun 10 Jan 2027.",
        "the authorisation for the type 'Wide' of 2 people of 'Four' ends with Fri 8 Jan 2027: "
        "40 h less in it until Sun 10 Jan 2027.",
    ]


@pytest.mark.parametrize(("row", "people"), [("Painter", 4), ("Mechanic", 3), ("Twin", 3)])
def test_critical_work_counts_those_who_still_may(row: str, people: int) -> None:
    """The stage asks for mechanics; one of the four loses something on day 6."""
    work = package(replace(stage("Work", 2, hours=10.0), critical=True))
    of = hangar(Licence("Four", row, 1, day(6))).replace(checks=(DUE,), packages=(work,))
    shifts = critical_shifts(plan(placed("C1", 6, ("Work", 6, 8))), of)
    assert [shift.people for shift in shifts] == [4, people]
