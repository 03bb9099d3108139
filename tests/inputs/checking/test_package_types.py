"""Packages that name the aircraft types that they are for."""

from capacity.messages import Level
from tests.inputs.books import change, errors, read, the_error, valid

# Of the package 'light' C1 and C3 are on a T30, C2 on a T40; its rows are 2 to 4.


def told(book):
    return [f"{message.where}: {message.what}" for message in errors(book)]


def test_a_package_is_for_the_types_that_any_of_its_rows_names(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 3, "Types", "T40, T30")
    book = read(sheets, tmp_path)
    assert not errors(book)
    assert book.base is not None
    light, prep = book.base.packages
    assert light.types == ("T40", "T30")
    assert (light.is_for("T30"), light.is_for("T31")) == (True, False)
    assert (prep.types, prep.is_for("T31")) == ((), True)
    (note,) = book.messages
    assert (note.level, note.where) == (Level.NOTE, "Packages!G3")


def test_a_check_of_another_type_is_an_error_in_its_cell(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 2, "Types", "T30")
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Checks!D3"
    assert (
        message.what == "the package 'light' is for 'T30', and the check 'C2' is on the type 'T40'."
    )
    assert "correct Checks!C3" in message.remedy


def test_rows_of_one_package_that_name_other_types_are_an_error(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 2, "Types", "T30, T40")
    change(sheets, "Packages", 3, "Types", "T40, T30")  # the same in another order
    change(sheets, "Packages", 4, "Types", "T40")
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Packages!G4"
    assert message.what == (
        "the package 'light' is for 'T40' here and for 'T30' and 'T40' in row 2."
    )


def test_an_unknown_type_is_told_once_and_no_check_is_blamed_for_it(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 2, "Types", "T3O, T40")
    message = the_error(read(sheets, tmp_path))
    assert message.where == "Packages!G2"
    assert message.what == "'T3O' is not in the sheet Aircraft types."
    assert "T30" in message.remedy


def test_a_fixed_check_is_held_to_the_types_of_its_package_as_well(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 5, "Types", "T30")
    assert told(read(sheets, tmp_path)) == [
        "Checks!D5: the package 'paint prep' is for 'T30', and the check 'C4' is on the type 'T40'."
    ]
