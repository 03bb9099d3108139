"""What the plan workbook, its lines and its messages tell of agreements, by a plan made here."""

import io
from dataclasses import replace

import openpyxl
import pytest

import capacity
from capacity.facts import Base, CalendarDays, Employment, Status
from capacity.plans.outcome import Planned
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.text import describe
from capacity.reports.plan.workbook import plan_workbook
from tests.bases import day
from tests.plans.stories import PLENTY, base, check, package, stage

ONE = check(
    package="Heavy",
    earliest_in=day(0),
    latest_in=day(4),
    agreed_days=3,
    late_cost_per_day=10.0,
    wanted_in=day(3),
    wanted_cost_per_day=7.0,
    held_in=day(1),
    held_bay="B1",
)
LAPSED = replace(
    ONE,
    name="C2",
    status=Status.OPTION,
    price=5000.0,
    held_in=None,
    held_bay=None,
    decide_by=day(-1),
    agreed_days=None,
    wanted_in=None,
)
SOON = replace(LAPSED, name="C3", decide_by=day(14), earliest_in=day(9), latest_in=day(12))
TEAM = replace(PLENTY, name="Team", heads=2, employment=Employment.CONTRACT, guaranteed_hours=70.0)


@pytest.fixture(scope="module")
def told() -> tuple[Base, Planned, openpyxl.Workbook]:
    """Four days of 20 h by a team of two; in on Tuesday, out on the Monday after a weekend.

    70 of its hours are within the guarantee. C3 comes in on Thursday of the second week: 40 more.
    """
    of = base(
        ONE,
        LAPSED,
        SOON,
        packages=(package(stage("Work", 4, hours=80.0)),),
        crews=(TEAM,),
        weeks=2,
        working_weekdays=frozenset(range(5)),
        comes_in_on_days_off=False,
        leaves_on_days_off=False,
        calendar_days=(CalendarDays(day(9), day(9), worked=False, reason="audit"),),
    )
    outcome = capacity.plan(of, capacity.Settings(seconds=5))
    assert isinstance(outcome, Planned)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(of, outcome, ())))
    return of, outcome, book


def rows(book: openpyxl.Workbook, sheet: str) -> list[list[object]]:
    found = book[sheet].iter_rows(values_only=True)
    return [[cell for cell in row if cell is not None] for row in found if any(row)]


def test_a_slot_tells_what_is_held_agreed_and_wanted(told) -> None:
    _, _, book = told
    headings, *slots = book["Slots"].iter_rows(values_only=True)
    (slot,) = (dict(zip(headings, row, strict=True)) for row in slots if row[0] == "C1")
    assert slot["Remarks"].startswith("held in its day and its bay; 3 days late out")
    assert slot["Out (bay free from this day)"].date() == day(7)
    assert slot["Agreed out"].date() == day(4)
    assert (slot["Days late out"], slot["Late out (EUR)"]) == (3, 30.0)
    assert slot["Away from Wanted in (EUR)"] == 14.0


def test_the_cost_has_a_line_for_each_and_adds_up(told) -> None:
    _, outcome, book = told
    lines = {row[0]: row for row in rows(book, "Overview")}
    assert lines["Guaranteed hours of contract teams (amount: used)"][1:] == [
        pytest.approx(110.0),
        "man-hours",
        pytest.approx(2 * 70 * 80),
    ]
    assert lines["Contract labour"][3] == pytest.approx(outcome.audit.contract_money)
    assert lines["Away from Wanted in"][1:] == [2, "days", 14.0]
    assert lines["Cost of the plan"][-1] == pytest.approx(outcome.audit.goals.money)
    assert any("Options lapsed" in str(row[0]) for row in rows(book, "Overview"))


def test_settings_tell_days_off_and_the_base_s_own_days(told) -> None:
    _, _, book = told
    settings = [row[:2] for row in rows(book, "Settings")]
    assert ["Moves on days off", "no"] in settings
    assert ["Base calendar", "Wed 13 Jan 2027: closed (audit)"] in settings


def test_lines_and_messages_name_options_that_lapsed_or_will(told) -> None:
    of, outcome, _ = told
    assert "C2" in outcome.plan.refused
    lines = describe(of, outcome, ()).splitlines()
    assert "Options lapsed: C2 (Aircraft C1)" in lines
    said = [message.what for message in plan_messages(outcome, of)]
    assert "the option 'C3' lapses after Mon 18 Jan 2027, in 14 days." in said
    assert not any("'C2' is not taken" in what for what in said)


def test_without_any_of_it_nothing_more_is_told(told) -> None:
    of, _, _ = told
    plain = replace(ONE, agreed_days=None, wanted_in=None, wanted_cost_per_day=0.0)
    plain = replace(plain, held_in=None, held_bay=None)
    bare = base(plain, packages=of.packages, crews=(PLENTY,), weeks=2)
    outcome = capacity.plan(bare, capacity.Settings(seconds=5))
    assert isinstance(outcome, Planned)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(bare, outcome, ())))
    kinds = {row[0] for row in rows(book, "Overview")}
    assert not kinds & {"Away from Wanted in", "Guaranteed hours of contract teams (amount: used)"}
    assert "Away from Wanted in (EUR)" not in next(book["Slots"].iter_rows(values_only=True))
