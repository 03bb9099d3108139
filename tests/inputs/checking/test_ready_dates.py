"""What can be wrong with Ready dates, each with its cell and a remedy."""

from datetime import date

import pytest

from capacity.messages import Level
from tests.inputs.books import Sheets, change, errors, read, the_error, the_warning, valid

HEADINGS = ["Check", "Stage", "Not before", "Reason"]
WEDNESDAY = date(2027, 1, 6)


def with_ready(*rows: list[object]) -> Sheets:
    return {**valid(), "Ready dates": [HEADINGS, *rows]}


def test_what_is_read(tmp_path):
    book = read(with_ready(["C1", "inspect", WEDNESDAY, "part"]), tmp_path)
    assert book.messages == ()
    assert book.base is not None
    (ready,) = book.base.ready_dates
    assert (ready.check, ready.stage, ready.not_before, ready.reason) == (
        "C1",
        "inspect",
        WEDNESDAY,
        "part",
    )


@pytest.mark.parametrize(
    ("row", "where", "what", "remedy"),
    [
        (["C9", "open", WEDNESDAY, None], "A2", "'C9' is not in the sheet Checks", "Known are"),
        (["C1", "opne", WEDNESDAY, None], "B2", "not a stage of 'light'", "Did you mean 'open'?"),
        (["C1", None, WEDNESDAY, None], "B2", "Stage is blank", ""),
        (["C1", "open", None, "part"], "C2", "Not before is blank", ""),
        (["C1", "open", date(2029, 1, 6), None], "C2", "more than a year after", "the year"),
    ],
)
def test_each_wrong_thing_has_its_cell(tmp_path, row, where, what, remedy):
    message = the_error(read(with_ready(row), tmp_path))
    assert message.where == f"Ready dates!{where}"
    assert what in message.what
    assert remedy in message.remedy


def test_the_same_row_twice_is_an_error_and_two_reasons_are_none(tmp_path):
    row = ["C1", "open", WEDNESDAY, "part"]
    assert the_error(read(with_ready(row, row), tmp_path)).where == "Ready dates!A3"
    (tmp_path / "other").mkdir()
    assert not errors(read(with_ready(row, [*row[:3], "tool"]), tmp_path / "other"))


def test_a_stage_begun_or_done_ignores_it_with_a_warning(tmp_path):
    """Of C3 half is left: open is done, and inspect is begun."""
    for name, state in (("open", "is done"), ("inspect", "is begun")):
        (tmp_path / name).mkdir()
        message = the_warning(read(with_ready(["C3", name, WEDNESDAY, None]), tmp_path / name))
        assert message.where == "Ready dates!B2"
        assert state in message.what


def test_a_day_before_the_plan_is_noted(tmp_path):
    book = read(with_ready(["C1", "open", date(2027, 1, 4), None]), tmp_path)
    (note,) = book.messages
    assert (note.level, note.where) == (Level.NOTE, "Ready dates!C2")


def test_fixed_checks_that_wait_collide(tmp_path):
    """C3 is out on Saturday the 9th at the earliest; waiting with close, on Saturday the 16th."""
    sheets = with_ready(["C3", "close", date(2027, 1, 15), "approval"])
    change(sheets, "Checks", "C4", "Type", "T30")
    change(sheets, "Checks", "C4", "Fixed bay", "B2")
    assert "is there until its out day Sat 16 Jan" in the_error(read(sheets, tmp_path)).what
