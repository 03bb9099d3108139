"""Packages of several kinds of work: a check moves, and each of its legs needs a bay."""

from datetime import date

import pytest

from tests.inputs.books import Sheets, change, errors, read, the_error, valid


def with_paint() -> Sheets:
    """Return sheets with a bay P for paint, and paint as the last stage of a light check."""
    sheets = valid()
    sheets["Bays"].append(["P", "South", 40, 45, 14, "paint", None, 0])
    sheets["Packages"].append(["light", "livery", "close", "paint", 4, 0])
    return sheets


def test_a_package_may_need_several_kinds_of_work(tmp_path):
    book = read(with_paint(), tmp_path)
    assert book.messages == ()
    assert book.base is not None
    assert [stage.work for stage in book.base.packages[0].stages] == ["maintenance"] * 3 + ["paint"]


def test_one_bay_may_do_both(tmp_path):
    sheets = with_paint()
    del sheets["Bays"][-1]
    change(sheets, "Bays", "B1", "Work", "maintenance, paint")
    assert read(sheets, tmp_path).messages == ()


def test_a_leg_that_no_bay_can_hold_is_told(tmp_path):
    """T30 has a span of 34 m, T40 of 38 m; both fit the bay B1 for maintenance."""
    sheets = with_paint()
    change(sheets, "Bays", "P", "Max span m", 36)
    change(sheets, "Bays", "P", "Docking", "tall")
    found = errors(read(sheets, tmp_path))
    assert [message.where for message in found] == ["Checks!C2", "Checks!C3", "Checks!C4"]
    assert found[0].what == (
        "no bay can hold the check 'C1' for its 'paint'; nearest is 'B1', where it does no 'paint'."
    )
    assert "the check 'C3' for its 'paint'" in found[2].what  # fixed, but not in a bay for paint
    change(sheets, "Bays", "P", "Docking", None)
    change(sheets, "Bays", "B1", "Max length m", 43)
    message = next(f for f in errors(read(sheets, tmp_path)) if "'paint'" in f.what)
    assert message.where == "Checks!C3"
    assert message.what.endswith("nearest is 'P', where the span of 38 m exceeds 36 m.")


def test_each_leg_that_no_bay_can_hold_is_told_by_itself(tmp_path):
    sheets = with_paint()
    del sheets["Checks"][4]  # the fixed check of the same type has its own message
    change(sheets, "Aircraft types", "T40", "Tail m", 15)
    found = errors(read(sheets, tmp_path))
    assert [message.where for message in found] == ["Checks!C3", "Checks!C3"]
    assert "for its 'maintenance'; nearest is 'B1', where the tail of 15 m" in found[0].what
    assert "for its 'paint'; nearest is 'P', where the tail of 15 m" in found[1].what


def test_a_kind_of_work_that_no_bay_does_is_told_at_the_stage_alone(tmp_path):
    sheets = with_paint()
    where = change(sheets, "Packages", 6, "Work", "pain")
    assert the_error(read(sheets, tmp_path)).where == where


# C3 stands in B2, which does maintenance. A light check has 40 of its 190.75 man-hours in
# opening up; then comes the inspection, whatever their rows in the sheet.
@pytest.mark.parametrize(
    ("remaining", "painted", "fits"),
    [
        (None, "open", False),
        (90, "open", False),  # a part of opening up is left
        (50, "open", True),
        (None, "inspect", True),
        (90, "inspect", True),
        (50, "inspect", False),
    ],
)
def test_the_fixed_bay_does_the_work_of_the_first_leg_left(tmp_path, remaining, painted, fits):
    sheets = valid()
    sheets["Bays"].append(["P", "South", 40, 45, 14, "paint", None, 0])
    first, second = sheets["Packages"][1:3]
    first[2], second[2] = "-", "open"
    sheets["Packages"][1:3] = [second, first]
    change(sheets, "Packages", 2 if painted == "inspect" else 3, "Work", "paint")
    change(sheets, "Checks", "C3", "Remaining %", remaining)
    where = change(sheets, "Checks", "C3", "Fixed bay", "B2")
    book = read(sheets, tmp_path)
    if fits:
        assert book.messages == ()
        return
    message = the_error(book)
    assert message.where == where
    assert message.what == "'B2' cannot hold the check 'C3': it does no 'paint'."


# Light: open, then inspect, then close. C3 stands in B2, which opened it up and paints nothing.
@pytest.mark.parametrize(
    ("done", "length", "fault"),
    [
        (100, 45, ""),
        (50, 45, "it does no 'paint'"),  # it is still being opened up, where it is painted
        (100, 30, "the length of 38 m exceeds 30 m"),
    ],
)
def test_a_check_stands_in_its_fixed_bay_when_nothing_is_left_to_do_there(
    tmp_path, done, length, fault
):
    sheets = valid()
    sheets["Bays"].append(["P", "South", 40, 45, 14, "paint", None, 0])
    change(sheets, "Packages", 3 if done == 100 else 2, "Work", "paint")
    change(sheets, "Bays", "B2", "Max length m", length)
    change(sheets, "Checks", "C3", "Remaining %", None)
    change(sheets, "Checks", "C3", "Fixed bay", "B2")
    as_of = date(2027, 1, 4)
    sheets["Progress"] = [["Check", "Stage", "As of", "Done %"], ["C3", "open", as_of, done]]
    book = read(sheets, tmp_path)
    assert [message.what for message in errors(book)] == (
        [f"'B2' cannot hold the check 'C3': {fault}."] if fault else []
    )


def test_a_fixed_bay_that_is_too_small_is_told_beside_a_later_leg_without_a_bay(tmp_path):
    sheets = with_paint()
    sheets["Checks"] = [*sheets["Checks"][:1], sheets["Checks"][4]]
    change(sheets, "Checks", "C4", "Package", "light")
    change(sheets, "Bays", "P", "Max tail m", 5)
    fixed = change(sheets, "Checks", "C4", "Fixed bay", "B2")
    assert {message.where for message in errors(read(sheets, tmp_path))} == {fixed, "Checks!C2"}


def test_legs_without_a_bay_are_told_when_the_order_of_the_stages_has_a_fault(tmp_path):
    sheets = with_paint()
    sheets["Checks"] = sheets["Checks"][:3]
    change(sheets, "Bays", "P", "Max span m", 36)
    misspelt = change(sheets, "Packages", 4, "After", "opn")
    found = {message.where for message in errors(read(sheets, tmp_path))}
    assert found == {misspelt, "Checks!C3"}
    change(sheets, "Packages", 4, "After", None)
    circle = change(sheets, "Packages", 2, "After", "close")
    found = {message.where for message in errors(read(sheets, tmp_path))}
    assert found == {circle, "Checks!C3"}


def test_where_the_order_of_the_stages_has_a_fault_nothing_is_said_of_the_fixed_bay(tmp_path):
    sheets = with_paint()
    sheets["Packages"].insert(1, sheets["Packages"].pop())
    misspelt = change(sheets, "Packages", 2, "After", "clsoe")  # livery, in the first row
    assert the_error(read(sheets, tmp_path)).where == misspelt


def test_where_man_hours_have_a_fault_nothing_is_said_of_what_is_left(tmp_path):
    """Without its man-hours, opening up would count as done, and paint come first."""
    sheets = valid()
    sheets["Bays"].append(["P", "South", 40, 45, 14, "paint", None, 0])
    change(sheets, "Packages", 3, "Work", "paint")
    change(sheets, "Checks", "C3", "Remaining %", 90)
    assert read(sheets, tmp_path).messages == ()
    faulty = change(sheets, "Package hours", 2, "Man-hours", "many")
    assert the_error(read(sheets, tmp_path)).where == faulty


def test_a_fixed_check_that_fits_nowhere_is_told_at_its_fixed_bay_alone(tmp_path):
    sheets = valid()
    sheets["Checks"] = [*sheets["Checks"][:2], sheets["Checks"][4]]
    change(sheets, "Aircraft types", "T40", "Tail m", 15)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Checks!N3"


def test_a_check_of_one_kind_of_work_is_told_without_it(tmp_path):
    sheets = valid()
    del sheets["Checks"][4]
    change(sheets, "Aircraft types", "T40", "Tail m", 15)
    assert the_error(read(sheets, tmp_path)).what.startswith("no bay can hold the check 'C2'; near")


def test_an_aircraft_with_nothing_left_to_do_must_fit_its_bay(tmp_path):
    sheets = valid()
    change(sheets, "Checks", "C4", "Remaining %", 1e-12)
    where = change(sheets, "Checks", "C4", "Fixed bay", "B2")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert message.what.endswith(
        "the span of 38 m exceeds 36 m and the length of 44 m exceeds 40 "
        "m and the tail of 13 m exceeds 12.5 m."
    )
