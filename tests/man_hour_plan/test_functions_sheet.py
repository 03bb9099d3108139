"""The sheets and settings of the man-hour plan, read from a workbook."""

from datetime import date

import pytest

from capacity.facts import Function, FunctionAbsence, FunctionStaff
from capacity.messages import Level
from tests.inputs.books import FIRST_DAY, change, errors, read, the_error, the_warning, valid

HEADINGS = ["Function", "Skill", "Heads", "Hours per head and month", "Needed per 100 man-hours"]


def with_functions(*rows: list[object]):
    """Return valid sheets with rows of the sheet ``Functions``."""
    sheets = valid()
    sheets["Functions"] = [HEADINGS, *rows]
    return sheets


def test_without_the_sheets_nothing_is_told(tmp_path):
    base = read(valid(), tmp_path).base
    assert base is not None
    assert (base.functions, base.function_absences, base.plan_date) == ((), (), None)
    assert (base.man_hour_plan_name, base.own_staff_share_rule) == ("Man-hour plan", True)
    assert {crew.area for crew in base.crews} == {""}


def test_functions_absences_and_settings_reach_the_facts(tmp_path):
    sheets = with_functions(
        ["Plan", None, 2.5, 140, 6], ["inspect", "sheet metal", None, None, None]
    )
    sheets["Function absence"] = [
        ["Function", "From", "To", "Heads", "Reason"],
        ["plan", date(2027, 1, 11), date(2027, 1, 15), 1, "leave"],
    ]
    sheets["Base"] += [
        ["Man-hour plan name", "Maintenance resource plan"],
        ["Plan date", date(2026, 12, 15)],
        ["Own-staff share rule", "off"],
    ]
    change(sheets, "Crews", "red", "Area", "North")
    book = read(sheets, tmp_path)
    assert [str(f) for f in book.messages] == []
    base = book.base
    assert base is not None
    assert base.functions == (
        FunctionStaff(Function.PLAN, None, 2.5, 140, 0.06),
        FunctionStaff(Function.INSPECT, "sheet metal"),
    )
    assert base.function_absences == (
        FunctionAbsence(Function.PLAN, date(2027, 1, 11), date(2027, 1, 15), 1, "leave"),
    )
    assert base.man_hour_plan_name == "Maintenance resource plan"
    assert (base.plan_date, base.own_staff_share_rule) == (date(2026, 12, 15), False)
    assert [crew.area for crew in base.crews] == ["North", ""]


def test_an_unknown_function_is_an_error_that_lists_them_all(tmp_path):
    message = the_error(read(with_functions(["quality", None, 1, 140, None]), tmp_path))
    assert message.where == "Functions!A2"
    assert "plan, perform, supervise, inspect, monitor quality" in message.remedy


@pytest.mark.parametrize(
    ("row", "where", "part"),
    [
        (["plan", None, 2, None, None], "Functions!C2", "no Hours per head and month"),
        (["plan", None, None, 140, None], "Functions!D2", "no Heads"),
        (["inspect", "sheet metl", None, None, None], "Functions!B2", "not in the sheet Skills"),
        (["perform", None, None, None, 5], "Functions!E2", "the need of 'perform'"),
        (["plan", None, 0, 140, None], "Functions!C2", "is 0"),
        (["plan", None, 1, 800, None], "Functions!D2", "is 800"),
    ],
)
def test_a_row_that_cannot_be_meant_is_an_error(tmp_path, row, where, part):
    message = the_error(read(with_functions(row), tmp_path))
    assert message.where == where
    assert part in message.what


def test_a_skill_of_two_functions_would_count_twice(tmp_path):
    rows = (["inspect", "mechanic", None, None, None], ["plan", "mechanic", None, None, None])
    message = the_error(read(with_functions(*rows), tmp_path))
    assert message.where == "Functions!B3"
    assert "in row 2" in message.what


def test_the_need_of_a_function_is_given_once(tmp_path):
    rows = (["plan", None, 1, 140, 5], ["plan", None, 2, 70, 5])
    assert the_error(read(with_functions(*rows), tmp_path)).where == "Functions!E3"


def test_a_row_that_says_nothing_is_a_warning(tmp_path):
    message = the_warning(read(with_functions(["supervise", None, None, None, None]), tmp_path))
    assert message.where == "Functions!A2"


@pytest.mark.parametrize(
    ("heads", "level"), [(3, Level.WARNING), (2, None)], ids=["more than there are", "all"]
)
def test_more_away_than_there_are_is_a_warning(tmp_path, heads, level):
    sheets = with_functions(["plan", None, 2, 140, None])
    sheets["Function absence"] = [
        ["Function", "From", "To", "Heads"],
        ["plan", FIRST_DAY, FIRST_DAY, heads],
    ]
    book = read(sheets, tmp_path)
    assert [message.level for message in book.messages] == ([level] if level else [])


def test_absence_without_heads_and_a_range_that_runs_backward_are_errors(tmp_path):
    sheets = with_functions(["inspect", "mechanic", None, None, None])
    sheets["Function absence"] = [
        ["Function", "From", "To", "Heads"],
        ["inspect", date(2027, 1, 9), date(2027, 1, 8), 1],
    ]
    found = errors(read(sheets, tmp_path))
    assert {message.where for message in found} == {"Function absence!A2", "Function absence!B2"}


def test_an_area_written_in_another_case_than_its_hangar_is_a_warning(tmp_path):
    sheets = valid()
    where = change(sheets, "Crews", "red", "Area", "north")
    assert the_warning(read(sheets, tmp_path)).where == where
    change(sheets, "Crews", "red", "Area", "Wheel shop")
    assert read(sheets, tmp_path).messages == ()
