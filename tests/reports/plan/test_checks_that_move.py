"""A check that moves between bays has a row a bay: what hangs on a day stands where the day is."""

import io
from datetime import UTC, date, datetime

import openpyxl
import pytest
from icalendar import Calendar

from capacity.facts import AircraftType, Base, Bay, Check, Package, Stage, Status
from capacity.plans.audit import audit
from capacity.plans.outcome import Planned
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.questions.asking.as_outcome import as_outcome
from capacity.reports import describe
from capacity.reports.plan.calendar_feed import bay_calendar
from capacity.reports.plan.workbook import plan_workbook
from capacity.settings import Settings

JAN_4, JAN_9, JAN_12 = date(2027, 1, 4), date(2027, 1, 9), date(2027, 1, 12)


@pytest.fixture(scope="module")
def base() -> Base:
    """A check of five days' work and three of paint, in a day late, out four days late."""
    return Base(
        name="Two Halls",
        first_day=JAN_4,
        weeks=4,
        skills=(),
        bays=(
            Bay("M1", "North", 36.0, 45.0, 13.0, frozenset({"maintenance"})),
            Bay("P1", "Paint", 36.0, 45.0, 13.0, frozenset({"paint"})),
        ),
        types=(AircraftType("Narrow", 34.0, 38.0, 12.0),),
        packages=(
            Package(
                "Full",
                (Stage("Work", "maintenance", 5, {}), Stage("Paint", "paint", 3, {}, ("Work",))),
            ),
        ),
        checks=(
            Check(
                name="V1",
                aircraft="ZZ-A",
                type="Narrow",
                package="Full",
                status=Status.BOOKED,
                earliest_in=date(2027, 1, 1),
                latest_in=date(2027, 1, 3),
                wanted_in=date(2027, 1, 2),
                agreed_out=date(2027, 1, 8),
                late_cost_per_day=100.0,
            ),
        ),
        crews=(),
        patterns=(),
        shifts=(),
    )


@pytest.fixture(scope="module")
def planned(base: Base) -> Planned:
    """The check in M1 from 4 January, in P1 from 9 January, out on 12 January."""
    plan = Plan(
        (
            Placement("V1", "M1", "Work", JAN_4, JAN_9, (StageDays("Work", JAN_4, JAN_9),)),
            Placement("V1", "P1", "Paint", JAN_9, JAN_12, (StageDays("Paint", JAN_9, JAN_12),)),
        )
    )
    assert audit(base, plan).broken == ()
    return as_outcome(plan, base, Settings(), 1.0, "time")


def test_each_figure_stands_at_the_day_it_speaks_of(planned: Planned, base: Base) -> None:
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, planned, ())))
    headings, *rows = book["Slots"].iter_rows(values_only=True)
    first, second = (dict(zip(map(str, headings), row, strict=True)) for row in rows)
    after = "After Wanted in (days, - is before)"
    assert (first[after], second[after]) == (2, None)
    assert (first["Days past Latest in"], second["Days past Latest in"]) == (1, None)
    assert (first["Days late out"], second["Days late out"]) == (None, 4)
    assert (first["Late out (EUR)"], second["Late out (EUR)"]) == (None, 400)
    assert first["Remarks"] == "1 day past Latest in"
    assert second["Remarks"] == "goes on from Paint; 4 days late out"


def test_the_drawn_days_tell_how_late_it_is_once(planned: Planned, base: Base) -> None:
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, planned, ())))
    cells = [
        str(c.value) for row in book["Bay occupancy"].iter_rows(min_row=8) for c in row if c.value
    ]
    (first,) = (text for text in cells if text.startswith("late"))
    (second,) = (text for text in cells if "late 4 d" in text)
    assert first == "late", "one day of lateness lies here, four are told where it leaves"
    assert second.splitlines()[0] == "V1"
    assert second.splitlines()[-1] == "late 4 d"


def test_the_terminal_tells_each_lateness_at_its_bay(planned: Planned, base: Base) -> None:
    first, second = (
        line for line in describe(base, planned).splitlines() if line.startswith("  V1")
    )
    assert first.endswith("1 day past Latest in")
    assert second.endswith("goes on from Paint; 4 days late out")


def test_a_calendar_says_out_only_where_the_aircraft_leaves(planned: Planned, base: Base) -> None:
    feed = bay_calendar(planned.plan, base, stamp=datetime(2026, 12, 1, tzinfo=UTC))
    told = {
        str(event["summary"]).split(":")[0]: str(event["description"])
        for event in Calendar.from_ical(feed).walk("VEVENT")
    }
    assert "Moves to P1: Sat 9 Jan 2027" in told["M1"]
    assert "Out:" not in told["M1"]
    assert "Out: Tue 12 Jan 2027" in told["P1"]
