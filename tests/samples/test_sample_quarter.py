"""The invented quarter looks like a real one, and is none."""

from collections import Counter
from datetime import date, datetime, timedelta

import pytest

from capacity.facts import Base, Employment, Package, Status
from capacity.inputs import Book
from capacity.messages import Level

# Wingspans in metres, lower bound included, upper excluded.
# Source: ICAO Annex 14 as summarised by Skybrary.
CODE_LETTERS = {"B": (15, 24), "C": (24, 36), "E": (52, 65)}


def test_it_is_read_without_error_or_warning(quarter_book: Book) -> None:
    worse = [str(found) for found in quarter_book.messages if found.level is not Level.NOTE]
    assert worse == []
    assert quarter_book.base is not None


def test_it_is_a_quarter_from_a_monday_on(quarter: Base) -> None:
    assert (quarter.first_day, quarter.weeks) == (date(2027, 1, 4), 13)
    assert quarter.first_day.isoweekday() == 1


def test_fourteen_bays_in_three_hangars_one_for_paint_alone(quarter: Base) -> None:
    assert len(quarter.bays) == 14
    assert len({bay.hangar for bay in quarter.bays}) == 3
    # Regional, single-aisle, twin-aisle, and a wide one that takes two single-aisles instead.
    assert len({bay.max_span_m for bay in quarter.bays}) == 4
    assert [bay.name for bay in quarter.bays if bay.work == {"paint"}] == ["Paint 13"]
    assert all(closure.reason for closure in quarter.closures)


def test_some_forty_checks_of_every_status_and_of_own_and_other_fleets(quarter: Base) -> None:
    assert 40 <= len(quarter.checks) <= 42
    statuses = Counter(check.status for check in quarter.checks)
    assert 3 <= statuses[Status.OPTION] <= 4
    assert statuses[Status.FIXED] == 6
    assert all(check.price > 0 for check in quarter.checks if check.status is Status.OPTION)
    fixed_in = [check.fixed_in for check in quarter.checks if check.fixed_in is not None]
    assert sum(day < quarter.first_day for day in fixed_in) == 5
    assert max(fixed_in) < quarter.first_day + timedelta(weeks=1)
    assert any(check.remaining for check in quarter.checks)
    assert 10 <= sum(check.third_party for check in quarter.checks) <= 25


def test_seven_skills_each_with_crews_of_its_own_and_two_contract_crews(quarter: Base) -> None:
    assert len(quarter.skills) == 7
    assert {crew.skills[0] for crew in quarter.crews} == {skill.name for skill in quarter.skills}
    contract = [crew.name for crew in quarter.crews if crew.employment is Employment.CONTRACT]
    assert contract == ["Cabin guests", "Paint guests"]
    assert {absence.reason for absence in quarter.absences} >= {"leave around Easter"}


@pytest.mark.parametrize("skill", ["Airframe", "Avionics", "Structures", "Inspection"])
def test_somebody_is_there_at_every_hour(quarter: Base, skill: str) -> None:
    shifts = {shift.name: shift for shift in quarter.shifts}
    patterns = {pattern.name: pattern.cycle for pattern in quarter.patterns}
    unpaid_break = timedelta(hours=1)  # of a twelve-hour shift with eleven attended hours
    there: set[datetime] = set()
    for crew in quarter.crews:
        cycle = patterns[crew.pattern]
        for number in range(-1, 15):
            day = quarter.first_day + timedelta(days=number)
            shift = cycle[(day - crew.starts_cycle_on).days % len(cycle)]
            if shift is None or crew.skills != (skill,) or crew.pattern != "round the clock":
                continue
            starts = datetime.combine(day, shifts[shift].start)
            length = timedelta(hours=shifts[shift].hours) + unpaid_break
            there |= {starts + timedelta(hours=n) for n in range(int(length.seconds / 3600))}
    first = datetime.combine(quarter.first_day, shifts["D"].start)
    assert there >= {first + timedelta(hours=n) for n in range(24 * 14)}


@pytest.mark.parametrize(("family", "letter"), [("Alder", "B"), ("Linden", "C"), ("Redwood", "E")])
def test_types_lie_in_the_band_of_their_code_letter(
    quarter: Base, family: str, letter: str
) -> None:
    spans = [kind.span_m for kind in quarter.types if kind.name.startswith(family)]
    lower, upper = CODE_LETTERS[letter]
    assert spans
    assert all(lower <= span < upper for span in spans)


def test_registrations_are_no_states(quarter: Base) -> None:
    # From memory: the ITU allots no series of call signs that begins with Q.
    marks = [check.aircraft for check in quarter.checks]
    assert len(set(marks)) == len(marks)
    assert all(mark.startswith("Q-") for mark in marks)
    assert "invented" in quarter.name


def test_an_aircraft_has_a_package_of_its_own_size(quarter: Base) -> None:
    sizes = {"Alder": "Regional", "Linden": "Single-aisle", "Redwood": "Twin-aisle"}
    for check in quarter.checks:
        assert check.package.split()[0] == sizes[check.type.split()[0]], check.name


def package(base: Base, name: str) -> Package:
    return next(package for package in base.packages if package.name == name)


def worked_days(package: Package) -> int:
    """Return the longest way through the stages, in worked days."""
    stages = {stage.name: stage for stage in package.stages}

    def ends(name: str) -> int:
        stage = stages[name]
        return stage.days + max((ends(before) for before in stage.after), default=0)

    return max(map(ends, stages))


def test_strip_and_repaint_of_a_large_twin_aisle_takes_eleven_days(quarter: Base) -> None:
    # Common practice, no source.
    assert worked_days(package(quarter, "Twin-aisle strip and repaint")) == 11


def test_fourteen_premium_seats_go_through_the_seat_shop_one_a_day(quarter: Base) -> None:
    # Common practice, no source: a premium cabin of 14 seats, one a day, takes 14 days.
    loop = next(loop for loop in quarter.shop_loops if loop.shop == "Seat shop")
    rate = next(shop.items_per_day for shop in quarter.shops if shop.name == loop.shop)
    assert (loop.items, loop.items / rate) == (14, 14)
    refit = package(quarter, loop.package)
    beside = [stage for stage in refit.stages if stage.after == (loop.leave_at,)]
    assert beside, "other work goes on while the seats are away"


def test_two_propellers_of_a_regional_aircraft_go_through_their_shop(quarter: Base) -> None:
    # Common practice, no source: an aircraft with two engines has two propellers.
    loops = [loop for loop in quarter.shop_loops if loop.shop == "Propeller shop"]
    assert all(loop.package.startswith("Regional") for loop in loops)
    assert [loop.items for loop in loops] == [2, 2]


def test_return_to_service_takes_some_1500_man_hours_round_the_clock(quarter: Base) -> None:
    # Common practice, no source.
    last = package(quarter, "Twin-aisle structural check").stages[-1]
    assert last.name == "Return to service"
    assert sum(last.man_hours.values()) == pytest.approx(1500, rel=0.05)
    assert last.by_night


def test_a_whole_cabin_floor_is_out_for_more_than_a_month(quarter: Base) -> None:
    # Common practice, no source.
    floor = package(quarter, "Twin-aisle cabin floor renewal")
    days = {stage.name: stage.days for stage in floor.stages}
    out_to_in = days["Cabin floor out"] + days["Floor beams repaired"] + days["Cabin floor in"]
    assert out_to_in > 31


def test_heavier_packages_have_branches_that_run_beside_each_other(quarter: Base) -> None:
    for package in quarter.packages:
        in_a_row = sum(stage.days for stage in package.stages)
        assert worked_days(package) < in_a_row, package.name
