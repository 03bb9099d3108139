"""What fits the weeks but not their days is told wherever the plan is."""

import io
import json
from dataclasses import replace

import openpyxl

import capacity
from capacity.facts import Base
from capacity.messages import Level
from capacity.plans.day_by_day import DayShortage
from capacity.plans.outcome import Planned
from capacity.reports.plan.day_messages import day_lines, day_messages
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.summary import summary
from capacity.reports.plan.text import describe
from capacity.reports.plan.wording import COUNTED_BY_DAY
from capacity.reports.plan.workbook import plan_workbook
from tests.plans.stories import MECHANIC, PLENTY, base, check, day, package, stage


def small() -> Base:
    """Eight people give 48 h a day, and 330 h are asked in six: 42 h too many, 8.4 h bought."""
    return base(
        check(package="Heavy", earliest_in=day(0), latest_in=day(0)),
        packages=(package(stage("Work", 6, hours=330)),),
        crews=(replace(PLENTY, heads=8),),
        skills=(replace(MECHANIC, overtime_cap=0.025, contract_cap=0.0),),
        productivity=0.6,
        weeks=1,
    )


def outcome() -> Planned:
    """Plan it: there is one way only."""
    found = capacity.plan(small(), capacity.Settings(seconds=1))
    assert isinstance(found, Planned)
    return found


def test_a_plan_tells_what_its_days_cannot_take() -> None:
    made = outcome()
    assert made.audit.goals.overload_hours == 0
    told = [f for f in plan_messages(made, small()) if "Mechanic" in f.what]
    assert [(f.level, f.where) for f in told] == [
        (Level.WARNING, "Skills"),
        (Level.NOTE, "Skills"),
    ]
    assert "in 2027-W01, from Mon 4 Jan 2027, 34 h of Mechanic fit the week" in told[0].what
    assert "8.4 h more of Mechanic would have to be bought within the caps" in told[1].what
    assert "2027-W01 8.4 h" in told[1].what
    assert "504 EUR" in told[1].what
    assert all("capacity crews" in f.remedy for f in told)


def test_counted_by_days_the_plan_buys_it_and_tells_no_more() -> None:
    """8.4 h of overtime at 60 and 33.6 h of overload at 500: the same 42 h, in the cost."""
    by_day = small().replace(counts_days=True)
    made = capacity.plan(by_day, capacity.Settings(seconds=1))
    assert isinstance(made, Planned)
    assert abs(made.audit.goals.money - (8.4 * 60 + 33.6 * 500)) < 0.01
    assert not [f for f in plan_messages(made, by_day) if "would have to be bought" in f.what]
    assert COUNTED_BY_DAY in describe(by_day, made)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(by_day, made, ())))
    overview = [cell.value for row in book["Overview"].iter_rows() for cell in row]
    assert any(COUNTED_BY_DAY in str(value) for value in overview)
    settings = [[cell.value for cell in row[:2]] for row in book["Settings"].iter_rows()]
    assert ["Man-hours counted by", "day"] in settings


def test_summary_workbook_and_terminal_have_it() -> None:
    made = outcome()
    in_summary = json.dumps(summary(small(), made, ()))
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(small(), made, ())))
    in_book = [cell.value for row in book["Messages"].iter_rows() for cell in row]
    for message in plan_messages(made, small()):
        assert message.what in in_book
        assert json.dumps(message.what)[1:-1] in in_summary
    text = describe(small(), made)
    assert "Overload of single days that the weeks do not show" in text
    assert "2027-W01  Mechanic        34 h" in text
    assert "Day by day 8.4 h more would have to be bought" in text


def test_the_worst_weeks_are_named_and_the_others_counted() -> None:
    many = [DayShortage(f"2027-W0{n}", "Mechanic", 10.0 * n, 20.0 * n, 0, 6.0) for n in range(1, 6)]
    lines = list(day_lines(many))
    assert [line.split()[0] for line in lines[1:4]] == ["2027-W05", "2027-W04", "2027-W03"]
    assert lines[4] == "  and 2 more"
    *warnings, note = day_messages(many, small(), lambda *place: place[0])
    assert len(warnings) == 5
    assert "2027-W05 100 h, 2027-W04 80 h, 2027-W03 60 h and 2 more weeks" in note.what
    assert not list(day_lines([]))
    assert not list(day_messages([], small(), lambda *place: place[0]))


def test_what_daily_peaks_alone_make_short_is_told() -> None:
    """20 h bought and 10 h of overload, of which 5 and none are left on freer days."""
    short = DayShortage("2027-W01", "Mechanic", 10.0, 20.0, 0.0, 6.0, 0.0, 5.0)
    free = "if each stage could take its hours of a week on whichever of its days there people are"
    warning, note = (m.what for m in day_messages([short], small(), lambda *place: place[0]))
    assert f"It would be nothing {free}" in warning
    assert f"It would be 5.0 h {free}" in note
    *_, line = day_lines([short])
    assert f"It would be 5.0 h {free}" in line
