"""What a plan says of checks in work: sheet, messages and terminal, against figures by hand."""

import io
from dataclasses import replace

import openpyxl
import pytest

import capacity
from capacity.facts import Base
from capacity.messages import Level
from capacity.reports import describe
from capacity.reports.plan.messages import plan_messages
from capacity.reports.plan.workbook import plan_workbook
from tests.bases import day
from tests.plans.test_progress_left import row, told


def planned(base: Base):
    outcome = capacity.plan(base, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    return outcome


@pytest.fixture(scope="module")
def in_work() -> Base:
    """Open took 25 h instead of 20; half of inspect is done (20 of 40 h) with 40 h booked."""
    return told(
        row("open", finished=day(-2), hours_booked=25),
        row("inspect", done=0.5, hours_booked=40),
    )


def test_the_sheet_has_a_line_a_stage_and_one_of_the_check(in_work):
    content = plan_workbook(in_work, planned(in_work), ())
    book = openpyxl.load_workbook(io.BytesIO(content))
    headings, *lines = book["Progress"].iter_rows(values_only=True)
    rows = [dict(zip(headings, line, strict=True)) for line in lines]
    assert [line["Stage"] for line in rows] == [
        "open",
        "inspect",
        "wash",
        "close",
        "the check as a whole",
    ]
    inspect, whole = rows[1], rows[4]
    factor = "Performance factor (earned / booked)"
    assert [inspect[h] for h in ("Planned (h)", "Booked (h)", "Earned (h)", "To go (h)")] == [
        40,
        40,
        20,
        20,
    ]
    assert (inspect[factor], inspect["Estimate at completion (h)"]) == (0.5, 80)
    assert inspect["More than planned (h)"] == 40
    assert "at this factor 40 h are to go" in str(inspect["What it says"])
    assert rows[2][factor] is None
    assert whole["Estimate at completion (h)"] == 25 + 80 + 30 + 10
    contents = {line[0] for line in book["Overview"].iter_rows(values_only=True)}
    assert "Progress" in contents


def test_messages_tell_each_check_and_warn_where_the_plan_counts_too_little(in_work):
    said = plan_messages(planned(in_work), in_work)
    of_progress = [message for message in said if message.where == "Progress"]
    warning, note = of_progress
    assert warning.level is Level.WARNING
    assert "inspect of C1: at the factor of 0.50 until now 40 h are to go" in warning.what
    assert "Hours to go" in warning.remedy
    assert note.what == (
        "C1 as of Mon 4 Jan 2027: 40 h of 100 h are done, with 65 h booked (performance factor "
        "0.62); 60 h to go, 145 h at completion, 45 h more than planned."
    )
    estimated = in_work.replace(
        progress=(in_work.progress[0], replace(in_work.progress[1], hours_to_go=40.0))
    )
    levels = [
        m.level for m in plan_messages(planned(estimated), estimated) if m.where == "Progress"
    ]
    assert levels == [Level.NOTE]


def test_the_terminal_says_from_when_work_left_counts(in_work):
    text = describe(in_work, planned(in_work))
    assert "The work left on 1 check (Progress) counts from the day As of" in text
    assert "Remaining" not in text


def test_without_progress_nothing_is_said_of_it():
    base = told()
    outcome = planned(base)
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(base, outcome, ())))
    assert "Progress" not in book.sheetnames
    assert not any("progress" in str(c.value).casefold() for r in book["Overview"] for c in r)
    assert "Progress" not in describe(base, outcome)
