"""Ids that stand twice, names that are not there, ranges that run backwards."""

from datetime import date

import pytest

from tests.inputs.books import change, read, the_error, valid, with_equipment, with_shops


@pytest.mark.parametrize(
    ("sheet", "row", "heading", "value", "remedy"),
    [
        ("Checks", "C1", "Type", "T3O", "Did you mean 'T30'?"),
        ("Checks", "C1", "Package", "lite", "Did you mean 'light'?"),
        ("Checks", "C3", "Fixed bay", "B3", "Known are 'B1' and 'B2'"),
        ("Bay closures", 2, "Bay", "hangar", "Known are 'B1' and 'B2'"),
        ("Package hours", 4, "Skill", "sheet metall", "Did you mean 'sheet metal'?"),
        ("Package hours", 4, "Stage", "inspct", "Did you mean 'inspect'?"),
        ("Package hours", 4, "Package", "lihgt", "Did you mean 'light'?"),
        ("Crews", "blue", "Skills", "Sheet metal", "Did you mean 'sheet metal'?"),
        ("Crews", "red", "Pattern", "day", "Did you mean 'days'?"),
        ("Shift patterns", "days", "Cycle", "D D E - -", "Known are 'D'"),
        ("Absence", 2, "Crew", "rad", "Did you mean 'red'?"),
        ("Packages", 4, "After", "open, inspekt", "Did you mean 'inspect'?"),
        ("Packages", 4, "Work", "maintenence", "Did you mean 'maintenance'?"),
        ("Packages", 4, "Equipment", "jack set, jack sett", "Did you mean 'jack set'?"),
        ("Packages", 4, "Equipment", "-", "Known are 'jack set'"),
        ("Equipment outages", 2, "Equipment", "jackset", "Did you mean 'jack set'?"),
        ("Bays", "B1", "Reached through", "B9", "Known are 'B1' and 'B2'"),
        ("Bays", "B1", "Shares floor with", "B2, B9", "Known are 'B1' and 'B2'"),
        ("Crews", "red", "Types", "T30, T4O", "Did you mean 'T40'?"),
        ("Shop loops", 2, "Package", "lihgt", "Did you mean 'light'?"),
        ("Shop loops", 2, "Shop", "cabinshop", "Did you mean 'cabin shop'?"),
        ("Shop loops", 2, "Leave at", "opn", "Did you mean 'open'?"),
        ("Shop loops", 2, "Back for", "clsoe", "Did you mean 'close'?"),
    ],
)
def test_an_unknown_name_is_told_with_the_nearest(tmp_path, sheet, row, heading, value, remedy):
    sheets = with_shops(with_equipment(valid()))
    where = change(sheets, sheet, row, heading, value)
    about = [f for f in read(sheets, tmp_path).messages if f.where == where]
    assert len(about) == 1
    assert remedy in about[0].remedy


@pytest.mark.parametrize(
    ("sheet", "column"),
    [
        ("Skills", "A"),
        ("Bays", "A"),
        ("Aircraft types", "A"),
        ("Checks", "A"),
        ("Crews", "A"),
        ("Shift patterns", "A"),
        ("Shifts", "A"),
        ("Packages", "B"),
        ("Package hours", "C"),
        ("Shops", "A"),
    ],
)
def test_an_id_that_stands_twice_is_an_error(tmp_path, sheet, column):
    sheets = with_shops(valid())
    sheets[sheet].append(list(sheets[sheet][1]))
    if sheet == "Checks":  # a booked check may stand beside itself
        assert sheets[sheet][1][6] == "booked"
    number = len(sheets[sheet])
    message = next(f for f in read(sheets, tmp_path).messages if "is here and in row" in f.what)
    assert message.where == f"{sheet}!{column}{number}"
    assert "and in row 2" in message.what


def test_ids_that_differ_by_case_alone_are_an_error(tmp_path):
    sheets = valid()
    where = change(sheets, "Checks", "C2", "Check", "c1")
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == (
        where,
        "'c1' differs from 'C1' by upper and lower case alone.",
    )


def test_stages_of_two_packages_may_be_called_alike(tmp_path):
    sheets = valid()
    sheets["Packages"].append(["paint prep", "open", None, "maintenance", 1, 0])
    assert read(sheets, tmp_path).messages == ()


@pytest.mark.parametrize("sheet", ["Bay closures", "Absence", "Equipment outages"])
def test_a_range_that_runs_backwards_is_an_error(tmp_path, sheet):
    sheets = with_equipment(valid())
    change(sheets, sheet, 2, "From", date(2027, 2, 5))
    change(sheets, sheet, 2, "To", date(2027, 2, 4))
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == (
        f"{sheet}!B2",
        "From Fri 5 Feb 2027 is after To Thu 4 Feb 2027.",
    )


def test_a_range_of_one_day_is_sound(tmp_path):
    sheets = valid()
    change(sheets, "Absence", 2, "To", date(2027, 1, 11))
    assert read(sheets, tmp_path).messages == ()


def test_hundreds_of_unknown_names_end_in_one_sentence(tmp_path):
    sheets = valid()
    sheets["Absence"] += [
        [f"crew {n}", date(2027, 1, 4), date(2027, 1, 4), 1, None] for n in range(300)
    ]
    found = read(sheets, tmp_path).messages
    assert len(found) == 201
    assert found[-1].what == "there may be more errors of this kind."
