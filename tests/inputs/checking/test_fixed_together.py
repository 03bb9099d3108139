"""Fixed checks in different bays that stand in each other's way."""

from datetime import date

import pytest

from tests.inputs.books import change, errors, read, the_error, with_equipment, with_fixed


# F1 stands in A over [10, 15); F2 in C, behind B, behind A, comes in and leaves as given.
@pytest.mark.parametrize(
    ("in_day", "days", "move"),
    [
        (8, 2, None),  # leaves on the day F1 comes in
        (8, 3, "leaves 'C' on Mon 11 Jan 2027"),
        (10, 5, None),
        (11, 4, "comes into 'C' on Mon 11 Jan 2027"),
        (14, 3, "comes into 'C' on Thu 14 Jan 2027"),
        (15, 3, None),
        (8, 9, None),  # in before and out after
    ],
)
def test_a_fixed_check_does_not_stand_in_the_way_of_another(tmp_path, in_day, days, move):
    sheets = with_fixed(("A", 10, 5), ("C", in_day, days), ("D", 11, 2))
    change(sheets, "Bays", "C", "Reached through", "B")
    change(sheets, "Bays", "B", "Reached through", "A")
    book = read(sheets, tmp_path)
    if move is None:
        assert book.messages == ()
    else:
        message = the_error(book)
        assert message.where == "Checks!O3"  # Fixed in of F2
        assert message.what == (
            f"the fixed check 'F2' {move} by way of 'A', where 'F1' is from Sun 10 Jan 2027 until "
            "its out day Fri 15 Jan 2027."
        )


def test_a_short_stay_after_a_long_one_hides_it_not(tmp_path):
    """F1 is on the way until the 25th, F2 in the same bay for a day: an error of its own."""
    sheets = with_fixed(("A", 10, 15), ("A", 12, 1), ("B", 20, 2))
    change(sheets, "Bays", "B", "Reached through", "A")
    assert [f.where for f in errors(read(sheets, tmp_path))] == [
        "Checks!O3",
        "Checks!O4",
        "Checks!O4",
    ]


@pytest.mark.parametrize("bay", ["A", "B"])
@pytest.mark.parametrize(
    ("in_day", "days", "clash"),
    [(8, 2, None), (8, 3, "F1"), (10, 1, "F2"), (12, 9, "F2"), (15, 1, None)],
)
def test_fixed_checks_do_not_share_floor(tmp_path, bay, in_day, days, clash):
    """F1 stands in A over [10, 15); whoever comes in second is told."""
    sheets = with_fixed(("A", 10, 5), ("B", in_day, days), ("C", 11, 2))
    change(sheets, "Bays", bay, "Shares floor with", "B" if bay == "A" else "A")
    book = read(sheets, tmp_path)
    if clash is None:
        assert book.messages == ()
    else:
        message = the_error(book)
        assert message.where == f"Checks!O{int(clash[1]) + 1}"
        assert f"the fixed check '{clash}' comes into" in message.what
        assert "on the same floor" in message.what


def test_fixed_checks_that_follow_each_other_at_a_shorter_pace_only_are_no_error(tmp_path):
    """F1 comes into A on the 10th for five days, three at the shortest.

    A day of changeover follows, and F2 comes in on the 14th.
    """
    sheets = with_fixed(("A", 10, 5), ("A", 14, 2))
    assert "F1" in the_error(read(sheets, tmp_path)).what
    change(sheets, "Packages", 6, "Shortest days", 3)
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Packages", 6, "Shortest days", 4)
    assert "14 Jan 2027 at the earliest" in the_error(read(sheets, tmp_path)).what


def test_floor_named_from_both_sides_is_told_once(tmp_path):
    sheets = with_fixed(("A", 10, 5), ("B", 11, 2))
    change(sheets, "Bays", "A", "Shares floor with", "B, C")
    change(sheets, "Bays", "B", "Shares floor with", "A")
    assert the_error(read(sheets, tmp_path)).where == "Checks!O3"


# One of two jack sets is out on 6 and 7 January.
@pytest.mark.parametrize(
    ("stays", "clash"),
    [
        ([("A", 4, 2), ("B", 4, 2)], None),
        ([("A", 4, 3), ("B", 4, 2)], None),
        ([("A", 4, 3), ("B", 5, 2)], ("F2", "Wed 6 Jan 2027", "need 2 of them", "1 of 2")),
        ([("A", 8, 5), ("B", 8, 5), ("C", 13, 1)], None),
        (
            [("A", 8, 5), ("B", 8, 5), ("C", 12, 1)],
            ("F3", "Tue 12 Jan 2027", "need 3 of them", "2 of 2"),
        ),
    ],
)
def test_fixed_checks_find_enough_equipment(tmp_path, stays, clash):
    sheets = with_equipment(with_fixed(*stays))
    for number in range(len(stays)):
        change(sheets, "Packages", 6 + number, "Equipment", "jack set")
    book = read(sheets, tmp_path)
    if clash is None:
        assert book.messages == ()
    else:
        check, *parts = clash
        message = the_error(book)
        assert message.where == f"Checks!O{int(check[1]) + 1}"
        assert f"'{check}'" in message.what
        assert all(part in message.what for part in parts)


def test_equipment_is_held_over_days_off(tmp_path):
    """Two worked days from Friday 8 January: until Tuesday, Saturday and Sunday included.

    F2, in on Sunday, begins on Monday: it does not need a set on Sunday.
    """
    sheets = with_equipment(with_fixed(("A", 8, 2), ("B", 10, 1)))
    change(sheets, "Base", "Working days", "Value", "Mon-Fri")
    change(sheets, "Equipment", "jack set", "Number", 1)
    for row in (6, 7):
        change(sheets, "Packages", row, "Equipment", "jack set")
    assert "on Mon 11 Jan 2027" in the_error(read(sheets, tmp_path)).what
    for heading in ("From", "To"):
        change(sheets, "Equipment outages", 2, heading, date(2027, 1, 9))
    change(sheets, "Packages", 7, "Equipment", None)
    assert "on Sat 9 Jan 2027" in the_error(read(sheets, tmp_path)).what


def test_two_stages_of_one_check_hold_two_pieces(tmp_path):
    sheets = with_equipment(with_fixed(("A", 8, 2)))
    change(sheets, "Equipment", "jack set", "Number", 1)
    sheets["Packages"].append(["work 1", "more", "-", "maintenance", 1, 0])
    for row in (6, 7):
        change(sheets, "Packages", row, "Equipment", "jack set")
    assert errors(read(sheets, tmp_path))[0].where == "Checks!O2"
    change(sheets, "Packages", 7, "Alone", "yes")  # one after the other
    assert read(sheets, tmp_path).base is not None
