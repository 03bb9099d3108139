"""A crew plan on the page: its goals, its lists by day, shift and crew, and its calendars."""

import io
import zipfile
from datetime import date

import icalendar
import pytest

from capacity.crews.model.solve import GoalReached
from capacity.reports.crews.workbook import Line, ShiftList
from ui.manager.crew_calendars import calendars_archive
from ui.manager.crew_rows import Wanted, goal_rows, line_rows


def line(crew: str, check: str, **more) -> Line:
    facts = {"people": 1.5, "hours": 9.0, "overtime": 0.0, "remarks": "night: rest and handover"}
    return Line("B1", "ZZ-A", check, "Opening", "Airframe", crew, **{**facts, **more})


LISTS = (
    ShiftList(date(2027, 1, 4), "D", "06:00", (line("red", "C1"), line("blue", "C2"))),
    ShiftList(date(2027, 1, 4), "N", "18:00", (line("red", "C2", overtime=1.25),)),
)


def test_goals_are_told_in_their_units_with_what_is_proven():
    goals = [GoalReached("overload", 1300, 1300, 1.0), GoalReached("crew-aircraft pairs", 9, 7, 2)]
    overload, pairs = goal_rows(goals)
    assert (overload["Reached"], overload["Proven"]) == ("13 h", "proven minimum")
    assert (pairs["Reached"], pairs["Proven"]) == ("9", "at least 7")


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        (Wanted(), ["red C1", "blue C2", "red C2"]),
        (Wanted(shift="N"), ["red C2"]),
        (Wanted(crew="red"), ["red C1", "red C2"]),
        (Wanted(crew="red", check="C2"), ["red C2"]),
    ],
)
def test_lines_are_those_of_the_shift_crew_and_check_asked_for(wanted, found):
    rows = line_rows(LISTS, wanted)
    assert [f"{row['Crew']} {row['Check'].split()[0]}" for row in rows] == found
    assert all(row["Remarks and cautions"] == "night: rest and handover" for row in rows)


def test_every_crew_has_a_feed_in_the_archive(monkeypatch):
    names = ["01-red.ics", "02-blue.ics"]
    feed = icalendar.Calendar()
    monkeypatch.setattr(
        "ui.manager.crew_calendars.crew_calendars",
        lambda staffed, base, stamp: [(name, feed.to_ical()) for name in names],
    )
    with zipfile.ZipFile(io.BytesIO(calendars_archive(None, None))) as archive:
        assert archive.namelist() == names
        assert archive.testzip() is None
