"""Packages: what waits for what, man-hours, kinds of work, crews for the skills."""

from itertools import pairwise

import pytest

from tests.inputs.books import change, read, the_error, the_warning, valid


def test_a_blank_after_is_the_row_above_and_a_hyphen_is_none(tmp_path):
    sheets = valid()
    sheets["Packages"] += [
        ["paint prep", "mask", None, "maintenance", 1, 0],
        ["paint prep", "papers", "-", "maintenance", 1, 0],
        ["paint prep", "hand over", "mask, papers", "maintenance", 1, 0],
    ]
    base = read(sheets, tmp_path).base
    assert base is not None
    assert [stage.after for stage in base.packages[1].stages] == [
        (),
        ("wash",),
        (),
        ("mask", "papers"),
    ]


@pytest.mark.parametrize(
    ("row", "after", "what"),
    [
        (3, "inspect", "the stage 'inspect' waits for itself"),
        (3, "wash", "'wash' is not a stage of the package 'light'"),
        (4, "-, open", "there is a hyphen beside names"),
    ],
)
def test_after_names_other_stages_of_the_package(tmp_path, row, after, what):
    sheets = valid()
    where = change(sheets, "Packages", row, "After", after)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert what in message.what


def test_stages_that_wait_in_a_circle_are_named_in_turn(tmp_path):
    """Open waits for close, close (blank: the row above) for inspect, inspect for open."""
    sheets = valid()
    change(sheets, "Packages", 2, "After", "close")
    change(sheets, "Packages", 4, "After", None)
    message = the_error(read(sheets, tmp_path))
    assert message.where.startswith("Packages!C")
    circle = message.what.removesuffix(".").partition(": ")[2].split(" after ")
    assert circle[0] == circle[-1]
    pairs = set(pairwise(circle))
    assert pairs == {("open", "close"), ("close", "inspect"), ("inspect", "open")}


def test_a_package_longer_than_any_check_is_an_error(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 2, "Days", 1000)
    change(sheets, "Packages", 3, "Days", 1000)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Packages!E2"
    assert "2,001 days" in message.what


def test_a_package_without_man_hours_is_a_warning(tmp_path):
    sheets = valid()
    del sheets["Package hours"][-1]
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Packages!A5"
    assert "'paint prep' has no man-hours" in message.what


def test_man_hours_of_a_stage_twice_in_one_skill_are_an_error(tmp_path):
    sheets = valid()
    sheets["Package hours"].append(["light", "open", "mechanic", 5])
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Package hours!C7"
    assert message.what == "'light / open / mechanic' is here and in row 2."


def test_a_skill_without_a_crew_is_a_warning(tmp_path):
    sheets = valid()
    del sheets["Crews"][2]
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Package hours!C4"
    assert "nobody has the skill 'sheet metal'" in message.what


def test_material_stands_in_the_first_row_of_its_package(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 2, "Material cost", 1200)
    base = read(sheets, tmp_path).base
    assert [package.material_cost for package in base.packages] == [1200, 0]
    change(sheets, "Packages", 3, "Material cost", 300)
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Packages!G3"
    assert "whose first row is row 2" in message.what
    assert "Packages!G2" in message.remedy


def test_a_labour_rate_may_be_given(tmp_path):
    sheets = valid()
    assert read(sheets, tmp_path).base.labour_rate is None
    sheets["Base"].append(["Labour rate", 45.5])
    assert read(sheets, tmp_path).base.labour_rate == 45.5
