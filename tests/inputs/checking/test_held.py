"""Checks that are held, days to decide by, and fixed days on days off."""

from datetime import date

import pytest

from capacity.messages import Level
from tests.inputs.books import change, read, the_error, valid, warnings


def with_cells(check, **cells):
    sheets = valid()
    where = {}
    for heading, value in cells.items():
        heading = heading.replace("_", " ").capitalize()
        where[heading] = change(sheets, "Checks", check, heading, value)
    return sheets, where


def test_what_is_held_is_read(tmp_path):
    cells = {"fixed_bay": "B2", "fixed_in": date(2027, 1, 6)}
    for held, expected in (
        ("in day", (date(2027, 1, 6), None)),
        ("bay", (None, "B2")),
        ("both", (date(2027, 1, 6), "B2")),
    ):
        sheets, _ = with_cells("C1", held=held, **cells)
        book = read(sheets, tmp_path)
        check = book.base.check("C1")
        assert (check.held_in, check.held_bay) == expected
        assert (check.fixed_in, check.fixed_bay) == (None, None)
        idle = {"in day": 1, "bay": 1, "both": 0}[held]  # the cell that is not held is told
        assert len(warnings(book)) == idle


@pytest.mark.parametrize(
    ("check", "cells", "at", "what"),
    [
        ("C3", {"held": "both"}, "Held", "is fixed, and so held"),
        ("C1", {"held": "bay"}, "Fixed bay", "held in its bay, but Fixed bay is blank"),
        ("C1", {"held": "in day"}, "Fixed in", "held in its in day, but Fixed in is blank"),
        ("C1", {"held": "bay", "fixed_bay": "B9"}, "Fixed bay", "'B9' is not in the sheet Bays"),
        ("C2", {"held": "bay", "fixed_bay": "B2"}, "Fixed bay", "'B2' cannot hold the check"),
        ("C1", {"held": "in day", "fixed_in": date(2027, 1, 3)}, "Fixed in", "may come in from"),
        ("C1", {"held": "in day", "fixed_in": date(2027, 1, 20)}, "Fixed in", "may come in from"),
        ("C2", {"held": "in day", "fixed_in": date(2027, 1, 21)}, "Fixed in", "may come in from"),
        ("C1", {"held": "maybe"}, "Held", "holds 'maybe'"),
        ("C1", {"decide_by": date(2027, 1, 6)}, "Decide by", "is for options, and 'C1' is booked"),
    ],
)
def test_contradictions_are_errors_with_their_cell(tmp_path, check, cells, at, what):
    sheets, where = with_cells(check, **cells)
    where.setdefault("Fixed bay", {"C1": "Checks!N2"}.get(check))
    where.setdefault("Fixed in", {"C1": "Checks!O2"}.get(check))
    error = the_error(read(sheets, tmp_path))
    assert error.where == where[at]
    assert what in error.what
    assert error.remedy


@pytest.mark.parametrize(
    ("by", "what"),
    [
        (date(2027, 1, 3), "has lapsed and is not taken: Decide by Sun 3 Jan 2027 is before Mon 4"),
        (date(2027, 1, 21), "after Latest in Wed 20 Jan 2027"),
        (date(2027, 1, 4), ""),
    ],
)
def test_a_day_to_decide_by_is_told_where_it_is_too_early_or_late(tmp_path, by, what):
    sheets, where = with_cells("C2", decide_by=by)
    book = read(sheets, tmp_path)
    assert book.base.check("C2").decide_by == by
    told = [m for m in warnings(book) if m.where == where["Decide by"]]
    assert [what in m.what for m in told] == ([True] if what else [])


def test_a_held_day_past_latest_in_is_a_warning(tmp_path):
    sheets, where = with_cells("C1", held="in day", fixed_in=date(2027, 1, 14))
    (warning,) = warnings(read(sheets, tmp_path))
    assert warning.where == where["Fixed in"]
    assert "past its Latest in" in warning.what


def test_no_fixed_or_held_day_is_a_day_off_where_aircraft_do_not_move_then(tmp_path):
    sheets, where = with_cells("C4", fixed_in=date(2027, 1, 16))
    assert not warnings(read(sheets, tmp_path))
    sheets["Base"].append(["Moves on days off", "no"])
    error = the_error(read(sheets, tmp_path))
    assert error.level is Level.ERROR
    assert error.where == where["Fixed in"]
    assert "Sat 16 Jan 2027 of 'C4' is a day off" in error.what
    assert "Base!B8" in error.what
    sheets["Base calendar"] = [
        ["From", "To", "Worked"],
        [date(2027, 1, 16), date(2027, 1, 16), "yes"],
    ]
    assert read(sheets, tmp_path).base.comes_in_on_days_off is False
    sheets, where = with_cells("C1", held="in day", fixed_in=date(2027, 1, 9))
    sheets["Base"].append(["Moves on days off", "no"])
    assert the_error(read(sheets, tmp_path)).where == where["Fixed in"]


def test_fixed_checks_that_meet_over_the_days_off_collide(tmp_path):
    """C3 has a day and a half left from Monday; with a week of work it is out on Monday after."""
    sheets, _ = with_cells("C3", fixed_in=date(2027, 1, 1), remaining_pct=None)
    change(sheets, "Checks", "C3", "Remaining %", None)
    change(sheets, "Checks", "C4", "Fixed bay", "B2")
    change(sheets, "Checks", "C4", "Type", "T30")
    change(sheets, "Checks", "C4", "Fixed in", date(2027, 1, 9))
    assert not [m for m in read(sheets, tmp_path).messages if m.level is Level.ERROR]


def test_blank_columns_and_settings_change_nothing(tmp_path):
    sheets = valid()
    for heading in ("Held", "Decide by", "Agreed days", "Cost per day from Wanted in"):
        change(sheets, "Checks", "C1", heading, None)
    for heading in ("From", "To", "Guaranteed hours a week"):
        change(sheets, "Crews", "red", heading, None)
    sheets["Base"].append(["Moves on days off", None])
    sheets["Base calendar"] = [["From", "To", "Worked", "Hours %", "Reason"]]
    sheets["Licences"] = [["Crew", "Skill or type", "People", "Until"]]
    book, before = read(sheets, tmp_path), read(valid(), tmp_path)
    assert book.base == before.base
    assert book.messages == before.messages
