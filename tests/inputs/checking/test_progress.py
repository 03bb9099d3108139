"""What can be wrong with progress, each with its cell and a remedy; and what is read of it.

The package ``light`` is open (40 h, 2 d), inspect (60 + 20.5 h and half of it findings: 120.75 h,
3 d) and close (30 h, 1 d). C3 is fixed and in since 31 December; the first day is 4 January.
"""

from datetime import date

import pytest

from capacity.inputs import read_book
from capacity.inputs.reading.as_of import AsOf
from capacity.messages import Level
from capacity.words import hours
from tests.inputs.books import Sheets, change, errors, read, the_error, valid, write_workbook

HEADINGS = ["Check", "Stage", "As of", "Done %", "Hours booked", "Hours to go", "Finished"]
LETTERS = dict(zip(HEADINGS, "ABCDEFG", strict=True))
FIRST = date(2027, 1, 4)


def with_progress(*rows: list[object]) -> Sheets:
    """Return valid sheets in which C3 has no share left but these rows of progress."""
    sheets = valid()
    change(sheets, "Checks", "C3", "Remaining %", None)
    sheets["Progress"] = [HEADINGS, *rows]
    return sheets


def a_row(**said: object) -> list[object]:
    told = {"Check": "C3", "Stage": "open", "As of": FIRST, "Done %": 50, **said}
    return [told.get(heading) for heading in HEADINGS]


def other(**said: object) -> list[object]:
    return a_row(
        **{key.replace("_", " ").replace("pct", "%"): value for key, value in said.items()}
    )


def test_what_is_read(tmp_path):
    book = read(with_progress(other(Hours_booked=25), other(Stage=None, Done_pct=20)), tmp_path)
    assert book.base is not None, book.messages
    assert book.messages == ()
    stage, whole = book.base.progress
    assert (stage.check, stage.stage, stage.as_of, stage.done) == ("C3", "open", FIRST, 0.5)
    assert (stage.hours_booked, stage.hours_to_go, stage.finished) == (25, None, None)
    assert (whole.stage, whole.done) == (None, 0.2)


@pytest.mark.parametrize("rows", [None, []])
def test_a_missing_or_empty_sheet_changes_nothing(tmp_path, rows):
    plain, sheets = valid(), valid()
    if rows is not None:
        sheets["Progress"] = [HEADINGS, *rows]
    (tmp_path / "plain").mkdir()
    assert read(sheets, tmp_path).base == read(plain, tmp_path / "plain").base


@pytest.mark.parametrize(
    ("said", "heading", "what", "remedy"),
    [
        ({"Check": "C9"}, "Check", "'C9' is not in the sheet Checks", "C3"),
        ({"Stage": "opne"}, "Stage", "not a stage of 'light'", "Did you mean 'open'?"),
        ({"Done_pct": 101}, "Done %", "is 101%", "at most 100"),
        ({"Done_pct": -1}, "Done %", "is -1%", "at least 0"),
        ({"Hours_booked": -3}, "Hours booked", "is -3", "at least 0"),
        ({"Hours_to_go": -3}, "Hours to go", "is -3", "at least 0"),
        ({"Check": "C1"}, "Check", "'C1' is booked and not in work", "Make it fixed"),
        ({"Check": "C4", "Stage": None}, "As of", "'C4' only comes in on Tue 12 Jan", "Correct"),
        (
            {"As_of": date(2027, 1, 5)},
            "As of",
            "Tue 5 Jan 2027 is after the First day Mon 4 Jan 2027",
            "Re-plan with --today (give --today to verify and learn too), or put First day",
        ),
        ({"As_of": None}, "As of", "is blank", ""),
        ({"Done_pct": None}, "Done %", "does not say what is left", "Hours to go or Finished"),
        (
            {"Finished": date(2027, 1, 5), "Done_pct": None},
            "Finished",
            "after As of Mon 4 Jan",
            "Clear it",
        ),
        ({"Finished": FIRST}, "Finished", "but Done % is 50", "Clear Finished, or Done %"),
        (
            {"Finished": FIRST, "Done_pct": None, "Hours_to_go": 3},
            "Finished",
            "h are to go",
            "Clear Finished, or Hours to go",
        ),
        (
            {"Finished": date(2026, 12, 30), "Done_pct": None},
            "Finished",
            "before it came in on Thu 31 Dec 2026",
            "Correct one",
        ),
        ({"Hours_to_go": 401}, "Hours to go", "more than 10 times the 40 h", "Package hours"),
        ({"Hours_to_go": 999_999}, "Hours to go", "more than 10 times the 40 h", "Package hours"),
    ],
)  # fmt: skip
def test_each_wrong_thing_has_its_cell_and_remedy(tmp_path, said, heading, what, remedy):
    message = the_error(read(with_progress(other(**said)), tmp_path))
    assert message.where == f"Progress!{LETTERS[heading]}2"
    assert what in message.what
    assert remedy in message.remedy


def test_progress_and_a_share_that_remains_contradict(tmp_path):
    sheets = with_progress(a_row())
    where = change(sheets, "Checks", "C3", "Remaining %", 50)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Progress!A2"
    assert where in message.remedy


def test_the_same_thing_twice(tmp_path):
    message = the_error(read(with_progress(a_row(), other(Done_pct=60)), tmp_path))
    assert message.where == "Progress!A3"
    assert "here and in row 2" in message.what


def test_of_two_days_the_later_counts_with_a_note(tmp_path):
    rows = a_row(), other(As_of=date(2027, 1, 1), Done_pct=20)
    book = read(with_progress(*rows), tmp_path)
    assert book.base is not None
    (note,) = book.messages
    assert (note.level, note.where) == (Level.NOTE, "Progress!C3")
    assert "in row 2" in note.what


def test_a_stage_told_of_an_earlier_day_than_another_is_a_warning(tmp_path):
    rows = other(As_of=date(2027, 1, 1), Done_pct=90), other(Stage="inspect", Done_pct=10)
    (told, out_of_turn) = read(with_progress(*rows), tmp_path).messages
    assert (told.level, told.where) == (Level.WARNING, "Progress!C2")
    assert "counts from Mon 4 Jan 2027" in told.what
    assert (out_of_turn.level, out_of_turn.where) == (Level.WARNING, "Progress!B3")
    assert "'inspect' of 'C3' is in work, but open, for which it waits, is not" in out_of_turn.what


def test_a_check_finished_as_a_whole_has_no_open_stage(tmp_path):
    rows = other(Stage=None, Done_pct=None, Finished=FIRST), a_row()
    message = the_error(read(with_progress(*rows), tmp_path))
    assert message.where == "Progress!G2"
    assert "but open not" in message.what


@pytest.mark.parametrize(
    ("done", "booked", "is_told"),
    [
        (50, 20, False),
        (50, 40, False),  # twice: not more
        (50, 41, True),
        (50, 10, False),
        (50, 9, True),
        (10, 11, False),  # 4 h against 11: less than 8 h apart
        (10, 13, True),
    ],
)
def test_an_estimate_that_the_booked_hours_contradict_is_a_warning(tmp_path, done, booked, is_told):
    book = read(with_progress(other(Done_pct=done, Hours_booked=booked)), tmp_path)
    assert not errors(book)
    assert bool(book.messages) == is_told
    for message in book.messages:
        assert (message.level, message.where) == (Level.WARNING, "Progress!D2")
        assert f"but {hours(booked)} are booked" in message.what
        assert "Hours to go" in message.remedy


def test_in_a_re_plan_progress_may_be_as_of_today_of_whoever_is_in_by_the_plan(tmp_path):
    sheets = with_progress(other(As_of=date(2027, 1, 7)), other(Check="C1", As_of=date(2027, 1, 7)))
    path = write_workbook(sheets, tmp_path / "book.xlsx")
    assert read_book(path, AsOf(date(2027, 1, 7), {"C1": date(2027, 1, 5)})).messages == ()
    late = read_book(path, AsOf(date(2027, 1, 6), {"C1": date(2027, 1, 5)}))
    assert ["after today, Wed 6 Jan 2027" in m.what for m in errors(late)] == [True, True]
    (absent,) = errors(read_book(path, AsOf(date(2027, 1, 7))))
    assert absent.where == "Progress!A3"


def test_fixed_checks_behind_work_left_collide_by_the_day_told(tmp_path):
    """Half of open and the rest need 1 + 3 + 1 days from Monday: out on Saturday the 9th."""
    sheets = with_progress(a_row())
    change(sheets, "Checks", "C4", "Type", "T30")
    change(sheets, "Checks", "C4", "Fixed bay", "B2")
    change(sheets, "Checks", "C4", "Fixed in", date(2027, 1, 8))
    assert "is there until its out day Sat 9 Jan" in the_error(read(sheets, tmp_path)).what
    change(sheets, "Checks", "C4", "Fixed in", date(2027, 1, 9))
    assert not errors(read(sheets, tmp_path))
