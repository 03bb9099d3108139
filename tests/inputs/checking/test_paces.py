"""How fast stages can run: shortest and longest days, heads on the aircraft."""

from datetime import time

import pytest

from tests.inputs.books import change, read, the_error, valid


def test_paces_reach_the_facts(tmp_path):
    sheets = valid()
    for heading, value in (
        ("Shortest days", 2),
        ("Longest days", 5),
        ("Alone", "yes"),
        ("Max heads", 11),
    ):
        change(sheets, "Packages", 3, heading, value)
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    stage = book.base.packages[0].stages[1]
    assert (stage.shortest_days, stage.longest_days) == (2, 5)
    assert (stage.alone, stage.max_heads) == (True, 11)


@pytest.mark.parametrize(
    ("heading", "days", "what"),
    [
        ("Shortest days", 4, "Shortest days 4 is above Days 3."),
        ("Shortest days", 3, None),
        ("Longest days", 2, "Longest days 2 is below Days 3."),
        ("Longest days", 3, None),
    ],
)
def test_paces_lie_around_the_days(tmp_path, heading, days, what):
    sheets = valid()
    where = change(sheets, "Packages", 3, heading, days)
    book = read(sheets, tmp_path)
    if what is None:
        assert book.messages == ()
    else:
        message = the_error(book)
        assert (message.where, message.what) == (where, what)


def test_a_package_too_long_at_its_slowest_is_an_error(tmp_path):
    sheets = valid()
    for row in (2, 3, 4):
        change(sheets, "Packages", row, "Longest days", 700)
    assert "2,100 days" in the_error(read(sheets, tmp_path)).what


# The inspection takes 3 days for 60 + 20.5 man-hours and half of that again as findings:
# 120.75, or 40.25 a day. A head does 7.5 hours * 80 % = 6 of them: 6.7 heads for 3 days,
# 10.06 for 2.
@pytest.mark.parametrize(
    ("heads", "shortest", "remedy"),
    [
        (7, None, None),
        (6, None, "4 days would do in Days, or 7 heads."),
        (11, 2, None),
        (10, 2, "3 days would do in Shortest days, or 11 heads."),
        (1, 2, "21 days would do in Shortest days and Days, or 11 heads."),
    ],
)
def test_too_few_heads_on_the_aircraft_are_an_error(tmp_path, heads, shortest, remedy):
    sheets = valid()
    change(sheets, "Packages", 3, "Shortest days", shortest)
    where = change(sheets, "Packages", 3, "Max heads", heads)
    book = read(sheets, tmp_path)
    if remedy is None:
        assert book.messages == ()
    else:
        message = the_error(book)
        assert (message.where, message.remedy) == (where, remedy)


def test_the_days_that_would_do_do(tmp_path):
    """120.75 man-hours at 6 a head and day: 5 heads need 4.03 days, so 5."""
    sheets = valid()
    change(sheets, "Packages", 3, "Max heads", 5)
    assert the_error(read(sheets, tmp_path)).remedy.startswith("5 days would do")
    change(sheets, "Packages", 3, "Days", 5)
    assert read(sheets, tmp_path).messages == ()


def test_the_oldest_aircraft_asks_for_the_most_heads(tmp_path):
    """80.5 * (1 + 0.5 * 2) = 161 man-hours on 3 days of 6 a head: 8.9 heads."""
    sheets = valid()
    change(sheets, "Packages", 3, "Max heads", 8)
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Checks", "C2", "Findings factor", 2)
    assert the_error(read(sheets, tmp_path)).remedy.endswith("or 9 heads.")


def with_nights(hours: float):
    """Return sheets with a night shift that one crew works and a spare one that none does."""
    sheets = valid()
    sheets["Shifts"] += [["N", time(22, 0), hours, "yes"], ["S", time(14, 0), 8, "no"]]
    sheets["Shift patterns"] += [["nights", "N N D - -"], ["spare", "S S"]]
    change(sheets, "Crews", "blue", "Pattern", "nights")
    return sheets


@pytest.mark.parametrize(
    ("hours", "by_night", "heads"),
    [
        (7.5, "yes", 4),  # 40.25 man-hours on 15 * 80 % = 12 a head
        (7.5, "no", 7),
        (20, "yes", 3),  # a day has 24 hours: 19.2 a head
    ],
)
def test_heads_work_in_every_shift_of_the_crews(tmp_path, hours, by_night, heads):
    sheets = with_nights(hours)
    change(sheets, "Packages", 3, "By night", by_night)
    change(sheets, "Packages", 3, "Max heads", heads - 1)
    message = the_error(read(sheets, tmp_path))
    assert message.remedy.endswith(f"or {heads} heads.")
    change(sheets, "Packages", 3, "Max heads", heads)
    assert read(sheets, tmp_path).base is not None


def test_a_stage_by_day_needs_a_shift_by_day(tmp_path):
    sheets = valid()
    change(sheets, "Shifts", "D", "Night", "yes")
    change(sheets, "Packages", 3, "By night", "no")
    where = change(sheets, "Packages", 3, "Max heads", 10)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "no crew has a shift by day" in message.what
