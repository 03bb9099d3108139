"""What makes a sheet and a line easy to read: heights, order, words."""

import io
from dataclasses import replace

import openpyxl
import pytest

from capacity.facts import Base
from capacity.messages import Level, Message
from capacity.plans.outcome import Planned
from capacity.reports.plan.wording import levels, remarks
from capacity.reports.plan.workbook import plan_workbook


def test_a_row_is_as_high_as_its_longest_text_and_the_gravest_message_is_on_top(
    planned: Planned, base: Base
) -> None:
    # The column What is 70 characters wide: 300 need five lines, and a line is 15 points.
    messages = (Message(Level.NOTE, "Crews", "x" * 300), Message(Level.ERROR, "Bays", "short"))
    content = plan_workbook(base, planned, messages)
    sheet = openpyxl.load_workbook(io.BytesIO(content))["Messages"]
    order = [row[0].value for row in sheet.iter_rows(min_row=2)]
    assert order[0] == "error"
    assert order == sorted(order, key=["error", "warning", "note"].index)
    (long,) = (row[2].row for row in sheet.iter_rows() if str(row[2].value).startswith("xxx"))
    assert sheet.row_dimensions[long].height == 5 * 15
    assert sheet.row_dimensions[2].height in (None, 15)


def test_levels_are_counted_gravest_first() -> None:
    notes = [Message(Level.NOTE, "Crews", "a"), Message(Level.NOTE, "Crews", "b")]
    assert levels([*notes, Message(Level.WARNING, "Bays", "c")]) == "1 warning, 2 notes"
    assert levels(()) == ""


@pytest.mark.parametrize(
    ("past", "late", "said"),
    [
        (0, 0, ""),
        (1, 0, "1 day past Latest in"),
        (0, 2, "2 days late out"),
        (3, 1, "3 days past Latest in; 1 day late out"),
    ],
)
def test_remarks_say_what_is_late(planned: Planned, past: int, late: int, said: str) -> None:
    account = replace(planned.audit.accounts[0], days_past_latest_in=past, late_days=late)
    assert remarks(account) == said
