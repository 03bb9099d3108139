"""Work left on a check against the days that it has been in, by hand.

The package ``light`` takes 2 + 3 + 1 = 6 worked days, one stage after the other, and the base
works from Monday to Friday. First day is Monday 4 January 2027.
"""

from datetime import date

import pytest

from capacity.inputs import read_book
from capacity.inputs.reading.as_of import AsOf
from capacity.messages import Level
from tests.inputs.books import change, read, the_warning, valid, write_workbook


@pytest.mark.parametrize(
    ("in_day", "remaining", "said"),
    [
        # Thursday and Friday are worked: 2 of 6, so 67 % would be left.
        (date(2026, 12, 31), 50, None),
        (date(2026, 12, 31), 100, None),  # a third behind is an ordinary overrun
        (date(2026, 12, 31), 30, "2 of its 6 days of work have passed since, so about 67 %"),
        # Monday to Wednesday, Thursday and Friday: 5 of 6.
        (date(2026, 12, 28), 100, "5 of its 6 days of work have passed since, so about 17 %"),
        (date(2026, 12, 28), 45, None),
        (date(2026, 12, 1), 70, "all 6 days of its work have passed since, so about 0 %"),
        # Not one day of work has passed: on the day it comes in, or before.
        (date(2027, 1, 4), 70, "no worked day has passed since, so about 100 %"),
        (date(2027, 1, 4), 100, None),
        (date(2027, 1, 2), 70, "no worked day has passed since, so about 100 %"),
        (date(2027, 1, 11), 70, "it only comes in on Mon 11 Jan 2027, so about 100 %"),
    ],
)
def test_a_share_that_the_days_contradict_is_a_warning(tmp_path, in_day, remaining, said):
    sheets = valid()
    sheets["Checks"] = [row for row in sheets["Checks"] if row[0] != "C4"]
    change(sheets, "Checks", "C3", "Fixed in", in_day)
    where = change(sheets, "Checks", "C3", "Remaining %", remaining)
    book = read(sheets, tmp_path)
    if said is None:
        assert book.messages == ()
        return
    message = the_warning(book)
    assert message.where == where
    assert said in message.what
    assert f"is {remaining} % on Mon 4 Jan 2027" in message.what


def test_in_a_re_plan_the_days_up_to_today_count(tmp_path):
    path = write_workbook(valid(), tmp_path / "book.xlsx")
    assert read_book(path, AsOf(date(2027, 1, 4))).messages == ()
    book = read_book(path, AsOf(date(2027, 1, 18)))
    assert "50 % on Mon 18 Jan 2027" in the_warning(book).what
    assert book.base is not None
    assert book.base.work_left_from == date(2027, 1, 18)


def test_a_booked_check_that_came_in_by_the_plan_before_is_looked_at_too(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C1", "Remaining %", 100)
    path = write_workbook(sheets, tmp_path / "book.xlsx")
    read = read_book(path, AsOf(date(2027, 1, 9), {"C1": date(2027, 1, 4)}))
    told = [f.what for f in read.messages if f.level is Level.WARNING and f.where == where]
    assert any("5 of its 6 days of work have passed" in what for what in told)
    assert len(told) == 1  # that it is booked is no fault: it is in


def test_days_of_a_fixed_check_count_from_today_where_it_could_collide(tmp_path):
    """C3 in B2 is out on 8 Jan counted from the first day, on 22 Jan from the 18th on."""
    sheets = valid()
    change(sheets, "Checks", "C4", "Type", "T30")
    change(sheets, "Checks", "C4", "Fixed bay", "B2")
    path = write_workbook(sheets, tmp_path / "book.xlsx")
    assert read_book(path).messages == ()
    found = read_book(path, AsOf(date(2027, 1, 18))).messages
    assert any("but 'C3' is there until" in message.what for message in found)


def test_a_check_that_is_in_is_not_overdue_however_long_ago_it_came(tmp_path):
    """C1 may come in until 12 January, 7 days later at the most; First day is the 25th."""
    sheets = valid()
    sheets["Checks"] = [row for row in sheets["Checks"] if row[0] in ("Check", "C1")]
    change(sheets, "Base", "First day", "Value", date(2027, 1, 25))
    path = write_workbook(sheets, tmp_path / "book.xlsx")
    assert read_book(path).base is None
    came = {"C1": date(2027, 1, 12)}
    assert read_book(path, AsOf(date(2027, 1, 25), came)).base is not None
    change(sheets, "Checks", "C1", "Earliest in", date(2027, 1, 12))
    did_not_come = {"C1": date(2027, 1, 11)}
    path = write_workbook(sheets, tmp_path / "slipped.xlsx")
    assert read_book(path, AsOf(date(2027, 1, 25), did_not_come)).base is None
