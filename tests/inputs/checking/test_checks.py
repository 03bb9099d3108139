"""Checks: windows, fit, fixed ones, figures without effect."""

from datetime import date

import pytest

from tests.inputs.books import change, errors, read, the_error, the_warning, valid


def day(text: str) -> date:
    """Return a day of January or later, 2027, from ``month-day``."""
    return date.fromisoformat(f"2027-{text}")


@pytest.mark.parametrize("heading", ["Earliest in", "Latest in"])
@pytest.mark.parametrize("check", ["C1", "C2"])
def test_a_check_to_be_placed_needs_its_window(tmp_path, check, heading):
    sheets = valid()
    where = change(sheets, "Checks", check, heading, None)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "is blank" in message.what


def test_the_blank_window_of_a_fixed_check_is_its_day(tmp_path):
    base = read(valid(), tmp_path).base
    assert base is not None
    assert base.checks[2].earliest_in == base.checks[2].latest_in == date(2026, 12, 31)


def test_a_window_upside_down_is_an_error(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C1", "Earliest in", day("01-13"))
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Checks!I2"
    assert message.what == "Latest in Tue 12 Jan 2027 is before Earliest in Wed 13 Jan 2027."


# The plan's days are 4 to 31 January; the longest delay of a booked check is 7 days.
@pytest.mark.parametrize(
    ("check", "earliest", "latest", "level"),
    [
        ("C1", "2027-01-31", "2027-03-01", "note"),
        ("C1", "2027-01-04", "2027-01-31", None),
        ("C1", "2027-02-01", "2027-03-01", "error"),
        ("C1", "2026-12-01", "2026-12-28", "warning"),
        ("C1", "2026-12-01", "2026-12-27", "error"),
        ("C2", "2026-12-01", "2027-01-04", "note"),
        ("C2", "2026-12-01", "2027-01-03", "error"),
    ],
)
def test_a_window_meets_the_weeks_of_the_plan(tmp_path, check, earliest, latest, level):
    sheets = valid()
    change(sheets, "Checks", check, "Earliest in", date.fromisoformat(earliest))
    change(sheets, "Checks", check, "Latest in", date.fromisoformat(latest))
    change(sheets, "Checks", check, "Agreed out", day("04-01"))
    found = read(sheets, tmp_path).messages
    assert [str(message.level) for message in found] == ([level] if level else [])


def test_a_window_that_the_planning_period_cuts_is_noted_with_the_setting_to_change(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C1", "Earliest in", date(2026, 12, 30))
    change(sheets, "Checks", "C1", "Latest in", date(2027, 2, 2))
    end, start = read(sheets, tmp_path).messages
    assert (str(end.level), end.where) == ("note", "Checks!I2")
    assert end.what == (
        "the window of 'C1', Wed 30 Dec 2026 to Tue 2 Feb 2027, is cut by the planning period, "
        "which ends "
        "on Sun 31 Jan 2027: 28 days of 35 are left."
    )
    assert end.remedy == "Raise Weeks (Base!B4) to plan with the whole window."
    assert (str(start.level), start.where) == ("note", "Checks!H2")
    assert "which begins on Mon 4 Jan 2027" in start.what
    assert "First day (Base!B3)" in start.remedy


def test_the_cells_of_a_stage_are_found_by_its_package_and_itself(tmp_path):
    book = read(valid(), tmp_path)
    assert book.where("Packages", "light: close", "Days") == "Packages!E4"
    assert book.where("Packages", "paint prep: wash", "Stage") == "Packages!B5"
    assert book.where("Packages", "light", "Days") == "Packages!E2"


@pytest.mark.parametrize(
    ("type_change", "why"),
    [
        ({"Span m": 41}, "'B1', where the span of 41 m exceeds 40 m"),
        ({"Length m": 46}, "'B1', where the length of 46 m exceeds 45 m"),
        ({"Tail m": 14.5}, "'B1', where the tail of 14.5 m exceeds 14 m"),
        (
            {"Span m": 41, "Tail m": 15},
            "the span of 41 m exceeds 40 m and the tail of 15 m exceeds 14 m",
        ),
    ],
)
def test_a_check_no_bay_can_hold_is_told_the_limits_of_the_nearest(tmp_path, type_change, why):
    sheets = valid()
    del sheets["Checks"][4]  # the fixed check of the same type has its own message
    for heading, value in type_change.items():
        change(sheets, "Aircraft types", "T40", heading, value)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Checks!C3"
    assert "no bay can hold the check 'C2'" in message.what
    assert why in message.what


def test_the_docking_that_the_nearest_bay_lacks_is_told(tmp_path):
    sheets = valid()
    sheets["Checks"] = sheets["Checks"][:2]
    change(sheets, "Aircraft types", "T30", "Docking", "wide")
    change(sheets, "Bays", "B1", "Docking", "tall")
    change(sheets, "Bays", "B1", "Max span m", 20)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Checks!C2"
    assert message.what.endswith("nearest is 'B2', where it has no docking 'wide'.")


def test_the_work_that_the_nearest_bay_lacks_is_told(tmp_path):
    sheets = valid()
    sheets["Checks"] = sheets["Checks"][:2]
    for heading, value in (("Work", "paint"), ("Max span m", 20), ("Max tail m", 5)):
        change(sheets, "Bays", "B1", heading, value)
    change(sheets, "Packages", 5, "Work", "paint")
    change(sheets, "Checks", "C1", "Package", "paint prep")
    message = next(f for f in errors(read(sheets, tmp_path)) if f.where == "Checks!C2")
    assert message.what.endswith("nearest is 'B2', where it does no 'paint'.")


def test_a_fixed_check_must_fit_its_own_bay(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C4", "Fixed bay", "B2")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "'B2' cannot hold the check 'C4': the span of 38 m exceeds 36 m" in message.what


@pytest.mark.parametrize("heading", ["Fixed bay", "Fixed in"])
def test_a_fixed_check_needs_bay_and_day(tmp_path, heading):
    sheets = valid()
    where = change(sheets, "Checks", "C4", heading, None)
    found = errors(read(sheets, tmp_path))
    assert any(f.where == where and f"{heading} of the fixed check" in f.what for f in found)


@pytest.mark.parametrize(
    ("first", "last", "clash"),
    [
        ("01-13", "01-13", False),  # C4 is out of B1 on the 13th
        ("01-12", "01-12", True),
        ("01-01", "01-12", True),
        ("01-01", "01-11", False),
    ],
)
def test_a_fixed_check_in_a_closed_bay_is_an_error(tmp_path, first, last, clash):
    sheets = valid()
    sheets["Bay closures"].append(["B1", day(first), day(last), "floor"])
    found = errors(read(sheets, tmp_path))
    assert [message.where for message in found] == (["Checks!O5"] if clash else [])


# C4 stands in B1 on 12 January, out on the 13th; a changeover of one day follows.
@pytest.mark.parametrize(
    ("in_day", "changeover", "clash"),
    [
        ("01-12", 1, True),
        ("01-13", 1, True),
        ("01-14", 1, False),
        ("01-13", 0, False),
        ("01-11", 1, True),  # out on the 12th, and then the changeover
        ("01-11", 0, False),
    ],
)
def test_two_fixed_checks_in_one_bay_at_a_time_are_an_error(tmp_path, in_day, changeover, clash):
    sheets = valid()
    change(sheets, "Bays", "B1", "Changeover days", changeover)
    other = list(sheets["Checks"][4])
    other[0] = "C5"
    sheets["Checks"].append(other)
    change(sheets, "Checks", "C5", "Fixed in", day(in_day))
    found = errors(read(sheets, tmp_path))
    assert len(found) == int(clash)
    if clash:
        assert "'B1'" in found[0].what
        assert "is there until its out day" in found[0].what
        assert "with 1 day of changeover after it" in found[0].what


def test_a_stay_counts_worked_days_and_the_work_that_is_left(tmp_path):
    """C3 comes in on Monday 4 January with half of 40 + 80.5 * 1.5 + 30 = 190.75 hours left.

    Done are 95.375: opening up (40) and 55.375 of the 120.75 of the inspection. Its other
    65.375 take ceil(3 * 65.375 / 120.75) = 2 days, and closing takes 1: out on Thursday.
    """
    for in_day, clash in (("01-06", True), ("01-07", False)):
        sheets = valid()
        other = list(sheets["Checks"][4])
        other[0], other[2] = "C5", "T30"
        sheets["Checks"].append(other)
        change(sheets, "Checks", "C5", "Fixed bay", "B2")
        change(sheets, "Checks", "C5", "Fixed in", day(in_day))
        found = errors(read(sheets, tmp_path))
        assert len(found) == int(clash)
        if clash:
            assert "until its out day Thu 7 Jan 2027" in found[0].what


def test_days_off_and_holidays_lengthen_a_stay(tmp_path):
    """Six worked days from Wednesday 20 January: 20 to 22, 25, 26 and 27; out on the 28th.

    With a holiday on Tuesday the 26th (the national day of Australia, from memory) on the 29th.
    """
    for place, closed, clash in (
        ("none", "01-27", True),
        ("none", "01-28", False),
        ("AU", "01-28", True),
        ("AU", "01-29", False),
    ):
        sheets = valid()
        sheets["Base"].append(["Holidays", place])
        change(sheets, "Checks", "C4", "Package", "light")
        change(sheets, "Checks", "C4", "Fixed in", day("01-20"))
        sheets["Bay closures"].append(["B1", day(closed), day(closed), None])
        assert len(errors(read(sheets, tmp_path))) == int(clash)


def test_a_fixed_day_outside_its_window_is_a_warning(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C4", "Latest in", day("01-10"))
    message = the_warning(read(sheets, tmp_path))
    assert "2 days past Latest in Sun 10 Jan 2027" in message.what
    change(sheets, "Checks", "C4", "Latest in", None)
    change(sheets, "Checks", "C4", "Earliest in", day("01-13"))
    change(sheets, "Checks", "C4", "Latest in", day("01-14"))
    assert "before Earliest in Wed 13 Jan 2027" in the_warning(read(sheets, tmp_path)).what


def test_a_fixed_check_after_the_weeks_of_the_plan_is_an_error(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C4", "Fixed in", day("01-31"))
    assert read(sheets, tmp_path).messages == ()
    where = change(sheets, "Checks", "C4", "Fixed in", day("02-01"))
    assert the_error(read(sheets, tmp_path)).where == where


def test_a_fixed_check_that_is_out_before_the_plan_is_a_warning(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C4", "Fixed in", date(2026, 12, 30))
    assert "is out on Thu 31 Dec 2026" in the_warning(read(sheets, tmp_path)).what


@pytest.mark.parametrize(
    ("heading", "value"),
    [("Fixed bay", "B1"), ("Fixed in", day("01-05")), ("Remaining %", 40), ("Price", 7000)],
)
def test_figures_without_effect_are_warnings(tmp_path, heading, value):
    sheets = valid()
    where = change(sheets, "Checks", "C1", heading, value)
    message = the_warning(read(sheets, tmp_path))
    assert message.where == where
    assert message.what.startswith(heading)


def test_a_late_cost_needs_an_agreed_out(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C2", "Late cost per day", 300)
    assert the_warning(read(sheets, tmp_path)).where == where


def test_going_home_before_coming_in_is_a_warning(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C1", "Agreed out", day("01-04"))
    assert the_warning(read(sheets, tmp_path)).where == where


def test_agreed_days_and_cost_from_wanted_in_are_read(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C2", "Agreed days", 12)
    change(sheets, "Checks", "C2", "Wanted in", date(2027, 1, 8))
    change(sheets, "Checks", "C2", "Cost per day from Wanted in", 150)
    book = read(sheets, tmp_path)
    check = book.base.check("C2")
    assert (check.agreed_days, check.wanted_cost_per_day) == (12, 150.0)
    assert check.agreed_out_from(date(2027, 1, 10)) == date(2027, 1, 22)
    assert not [m for m in book.messages if "Wanted in" in m.what]


def test_both_agreements_at_once_are_refused(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C1", "Agreed days", 12)
    error = the_error(read(sheets, tmp_path))
    assert error.where == where
    assert "Agreed days 12 and Agreed out Wed 20 Jan 2027" in error.what


def test_a_cost_without_the_day_that_it_is_for_is_told(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C2", "Cost per day from Wanted in", 150)
    assert the_warning(read(sheets, tmp_path)).where == where
