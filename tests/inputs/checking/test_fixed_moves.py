"""Fixed checks that move or wait for a shop: only what no choice can avoid is told.

F1 comes into the bay A on 10 January for five days of maintenance, every day worked; then it
is painted for three, in the bay D.
"""

from datetime import date

import pytest

from capacity.words import day
from capacity.words import day as as_day
from tests.inputs.books import Sheets, change, errors, read, the_error, with_equipment, with_fixed


def with_painted(*others: tuple[str, int, int], wait: int = 3) -> Sheets:
    """Return sheets with F1 as above, and other checks fixed in bays."""
    sheets = with_fixed(("A", 10, 5), *others)
    sheets["Packages"].append(["work 1", "livery", None, "paint", 3, 0])
    change(sheets, "Bays", "D", "Work", "paint")
    sheets["Base"].append(["Longest wait days", wait])
    return sheets


def with_seats(*others: tuple[str, int, int], wait: int = 3) -> Sheets:
    """Return sheets in which F1 has no paint, but cabin work for two days after the five.

    Its four seats, at a shop that turns two a day, leave at the end of the five, on the 15th,
    and are back on the 17th at the earliest: the aircraft is in A until the 19th at least.
    """
    sheets = with_fixed(("A", 10, 5), *others)
    sheets["Packages"].append(["work 1", "cabin", None, "maintenance", 2, 0])
    sheets["Shops"] = [["Shop", "Items per day"], ["cabin shop", 2]]
    sheets["Shop loops"] = [
        ["Package", "Shop", "Items", "Leave at", "Back for"],
        ["work 1", "cabin shop", 4, "all", "cabin"],
    ]
    sheets["Base"].append(["Longest wait days", wait])
    return sheets


def after_f1(bay: str, in_day: int, made, wait: int = 3) -> Sheets:
    """Return the sheets with F2 in a bay for a day, without a changeover."""
    sheets = made((bay, in_day, 1), wait=wait)
    change(sheets, "Bays", "A", "Changeover days", 0)
    return sheets


@pytest.mark.parametrize(
    ("made", "wait", "in_day", "until"),
    [
        (with_painted, 3, 14, "Fri 15 Jan 2027 at the earliest."),
        (with_painted, 3, 15, None),  # by then it can have moved
        (with_painted, 0, 14, "Fri 15 Jan 2027."),
        (with_painted, 0, 15, None),
        (with_seats, 3, 18, "Tue 19 Jan 2027 at the earliest."),
        (with_seats, 3, 19, None),  # by then it can be out
        (with_seats, 0, 18, "its out day Tue 19 Jan 2027."),
        (with_seats, 0, 19, None),
    ],
)
def test_a_fixed_check_keeps_its_bay_until_the_earliest_end(tmp_path, made, wait, in_day, until):
    book = read(after_f1("A", in_day, made, wait), tmp_path)
    if until is None:
        assert book.messages == ()
        return
    message = the_error(book)
    assert message.where == "Checks!O3"  # Fixed in of F2
    assert message.what == (
        f"the fixed check 'F2' comes into 'A' on {day(date(2027, 1, in_day))}, but 'F1' is there "
        f"until {until}"
    )


def test_a_changeover_follows_the_earliest_end(tmp_path):
    sheets = after_f1("A", 16, with_painted)
    change(sheets, "Bays", "A", "Changeover days", 2)
    message = the_error(read(sheets, tmp_path))
    assert "Fri 15 Jan 2027 at the earliest, with 2 days of changeover after it." in message.what
    change(sheets, "Checks", "F2", "Fixed in", date(2027, 1, 17))
    assert read(sheets, tmp_path).messages == ()


@pytest.mark.parametrize(("in_day", "clash"), [(17, True), (18, False)])
def test_where_the_bay_does_the_paint_too_the_aircraft_stays(tmp_path, in_day, clash):
    sheets = after_f1("A", in_day, with_painted)
    change(sheets, "Bays", "A", "Work", "maintenance, paint")
    book = read(sheets, tmp_path)
    if clash:
        assert the_error(book).what.endswith("is there until its out day Mon 18 Jan 2027.")
    else:
        assert book.messages == ()


@pytest.mark.parametrize(
    ("first", "last", "until"),
    [(14, 14, "Fri 15 Jan 2027 at the earliest"), (15, 20, None), (1, 9, None)],
)
def test_a_closure_after_the_earliest_move_is_no_error(tmp_path, first, last, until):
    sheets = with_painted()
    sheets["Bay closures"].append(["A", date(2027, 1, first), date(2027, 1, last), "floor"])
    book = read(sheets, tmp_path)
    if until is None:
        assert book.messages == ()
    else:
        assert f"until {until}, but the bay is closed" in the_error(book).what


@pytest.mark.parametrize("made", [with_painted, with_seats])
@pytest.mark.parametrize("wait", [0, 3])
def test_a_way_out_on_a_day_that_can_be_chosen_is_not_told(tmp_path, made, wait):
    """A is reached through B, where F2 stands when F1 leaves at the earliest, and later."""
    leaves = 15 if made is with_painted else 19
    sheets = made(("B", leaves - 1, 3), wait=wait)
    change(sheets, "Bays", "A", "Reached through", "B")
    book = read(sheets, tmp_path)
    if wait:
        assert book.messages == ()
    else:
        message = the_error(book)
        assert message.where == "Checks!O2"
        assert f"'F1' leaves 'A' on {day(date(2027, 1, leaves))} by way of 'B'" in message.what


@pytest.mark.parametrize(("in_day", "clash"), [(14, True), (15, False)])
def test_a_check_on_the_way_is_there_until_the_earliest_end(tmp_path, in_day, clash):
    sheets = with_painted(("B", in_day, 9))
    change(sheets, "Bays", "B", "Reached through", "A")
    book = read(sheets, tmp_path)
    if clash:
        assert (
            "'F1' is from Sun 10 Jan 2027 until Fri 15 Jan 2027 at the earliest"
            in the_error(book).what
        )
    else:
        assert book.messages == ()


@pytest.mark.parametrize(("in_day", "clash"), [(14, True), (15, False)])
def test_floor_is_taken_until_the_earliest_end(tmp_path, in_day, clash):
    sheets = with_painted(("B", in_day, 9))
    change(sheets, "Bays", "B", "Shares floor with", "A")
    book = read(sheets, tmp_path)
    if clash:
        assert "on the same floor until Fri 15 Jan 2027 at the earliest" in the_error(book).what
    else:
        assert book.messages == ()


@pytest.mark.parametrize("made", [with_painted, with_seats])
@pytest.mark.parametrize(
    ("in_day", "wait", "day"),
    [
        (13, 3, 13),  # the five days stand
        (17, 0, 17),  # so do those of paint or cabin work, when it cannot wait
        (17, 3, None),
    ],
)
def test_equipment_is_held_on_days_that_stand(tmp_path, made, in_day, wait, day):
    """Both stages of F1 hold the only jack set: [10, 15), then [15, 18) or [17, 19)."""
    sheets = with_equipment(made(("B", in_day, 1), wait=wait))
    sheets["Equipment outages"] = sheets["Equipment outages"][:1]
    change(sheets, "Equipment", "jack set", "Number", 1)
    for row in range(6, 9):
        change(sheets, "Packages", row, "Equipment", "jack set")
    book = read(sheets, tmp_path)
    if day is None:
        assert book.messages == ()
    else:
        message = the_error(book)
        assert message.where in ("Checks!O2", "Checks!O3")
        assert f"on {as_day(date(2027, 1, day))}" in message.what


@pytest.mark.parametrize(
    ("made", "wait", "out"),
    [
        (with_painted, 3, None),
        (with_painted, 0, "Wed 30 Dec 2026"),
        (with_seats, 3, None),
        (with_seats, 0, "Thu 31 Dec 2026"),
    ],
)
def test_a_check_that_may_be_there_still_is_not_said_to_be_out(tmp_path, made, wait, out):
    sheets = made(wait=wait)
    change(sheets, "Checks", "F1", "Fixed in", date(2026, 12, 22))
    found = read(sheets, tmp_path).messages
    assert [str(message.level) for message in found] == (["warning"] if out else [])
    assert out is None or f"is out on {out}, before the plan" in found[0].what


def test_of_the_work_left_the_first_leg_is_what_stands(tmp_path):
    """F1 has a tenth of its 12 man-hours left: 1.2 of the 2 of paint, in D from the 10th on."""
    sheets = with_painted(("D", 10, 1))
    change(sheets, "Checks", "F1", "Fixed bay", "D")
    change(sheets, "Checks", "F1", "Remaining %", 10)
    sheets["Package hours"].append(["work 1", "livery", "mechanic", 2])
    change(sheets, "Packages", 7, "Work", "paint")
    found = errors(read(sheets, tmp_path))
    assert [message.where for message in found] == ["Checks!O3"]
    assert "'F1' is there until its out day Tue 12 Jan 2027, with" in found[0].what


def test_in_a_bay_for_other_work_a_check_is_in_the_way_all_the_same(tmp_path):
    sheets = with_painted(("A", 14, 1))
    change(sheets, "Bays", "A", "Work", "paint")
    change(sheets, "Packages", 7, "Work", "paint")
    found = errors(read(sheets, tmp_path))
    assert [message.where for message in found] == ["Checks!N2", "Checks!O3"]
    assert "it does no 'maintenance'" in found[0].what
    assert "'F1' is there until" in found[1].what


def test_loops_with_a_fault_are_held_against_nobody(tmp_path):
    """Without its loop F1 would be out of A on the 17th for sure, and F2 be in the way."""
    for heading, value in (("Shop", "cabinshop"), ("Items", 0), ("Back for", "all")):
        sheets = with_seats(("B", 16, 3))
        change(sheets, "Bays", "A", "Reached through", "B")
        where = change(sheets, "Shop loops", 2, heading, value)
        assert the_error(read(sheets, tmp_path)).where == where
