"""How a workbook says that man-hours may be levelled, and what it is told where it may not be."""

import pytest

from capacity.messages import Level
from tests.inputs.books import change, read, the_error, valid


def stage_of(book, number):
    assert book.base is not None, book.messages
    return book.base.packages[0].stages[number]


def test_the_columns_reach_the_facts(tmp_path):
    sheets = valid()
    change(sheets, "Packages", 3, "Daily peak %", 150)
    change(sheets, "Packages", 3, "Into float", "yes")
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert (stage_of(book, 1).daily_peak, stage_of(book, 1).into_float) == (1.5, True)
    assert (stage_of(book, 0).daily_peak, stage_of(book, 0).into_float) == (1.0, False)


def test_blank_cells_take_the_settings(tmp_path):
    sheets = valid()
    sheets["Base"] += [["Daily peak %", 125], ["Into float", "yes"]]
    change(sheets, "Packages", 3, "Daily peak %", 100)
    change(sheets, "Packages", 4, "Into float", "no")
    stages = [stage_of(read(sheets, tmp_path), number) for number in range(3)]
    assert [stage.daily_peak for stage in stages] == [1.25, 1.0, 1.25]
    assert [stage.into_float for stage in stages] == [True, True, False]


def test_100_and_no_are_what_blank_cells_are(tmp_path):
    plain = read(valid(), tmp_path).base
    sheets = valid()
    sheets["Base"] += [["Daily peak %", 100], ["Into float", "no"]]
    for row in (2, 3, 4, 5):
        change(sheets, "Packages", row, "Daily peak %", 100)
        change(sheets, "Packages", row, "Into float", "no")
    assert read(sheets, tmp_path).base == plain


@pytest.mark.parametrize("value", [99, 401, -5, "much", "nan"])
def test_a_wrong_peak_is_an_error_with_its_cell(tmp_path, value):
    sheets = valid()
    where = change(sheets, "Packages", 3, "Daily peak %", value)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert message.remedy


def test_a_wrong_setting_is_an_error_with_its_cell(tmp_path):
    sheets = valid()
    sheets["Base"] += [["Daily peak %", 50], ["Into float", "perhaps"]]
    errors = [m for m in read(sheets, tmp_path).messages if m.level is Level.ERROR]
    row = len(sheets["Base"])
    assert [m.where for m in errors] == [f"Base!B{row - 1}", f"Base!B{row}"]


@pytest.mark.parametrize(
    ("heading", "value", "why"),
    [
        ("Alone", "yes", "it is done alone"),
        ("Critical", "yes", "it ends with an inspection"),
        ("Equipment", "stand", "it holds equipment (stand)"),
    ],
)
def test_what_ends_with_a_stage_forbids_its_float(tmp_path, heading, value, why):
    sheets = valid()
    if heading == "Equipment":
        sheets["Equipment"] = [["Equipment", "Number"], ["stand", 3]]
    change(sheets, "Packages", 3, heading, value)
    where = change(sheets, "Packages", 3, "Into float", "yes")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert why in message.what
    assert message.remedy == "Type no, or clear the cell."


def test_items_that_leave_forbid_its_float(tmp_path):
    sheets = valid()
    sheets["Shops"] = [["Shop", "Items per day"], ["wheels", 4]]
    sheets["Shop loops"] = [
        ["Package", "Shop", "Items", "Leave at", "Back for"],
        ["light", "wheels", 4, "open", "close"],
    ]
    where = change(sheets, "Packages", 2, "Into float", "yes")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "the shop 'wheels'" in message.what


def test_the_setting_alone_leaves_such_stages_as_they_are(tmp_path):
    sheets = valid()
    sheets["Base"].append(["Into float", "yes"])
    change(sheets, "Packages", 3, "Alone", "yes")
    assert read(sheets, tmp_path).messages == ()


def test_a_peak_of_a_single_day_is_noted(tmp_path):
    sheets = valid()
    where = change(sheets, "Packages", 4, "Daily peak %", 150)
    (note,) = read(sheets, tmp_path).messages
    assert (note.level, note.where) == (Level.NOTE, where)
    assert "changes nothing" in note.what


def test_man_hours_are_counted_by_week_or_day(tmp_path):
    plain = read(valid(), tmp_path).base
    for value, by_day in (("", False), ("week", False), ("Day", True)):
        sheets = valid()
        sheets["Base"].append(["Man-hours counted by", value])
        assert read(sheets, tmp_path).base == plain.replace(counts_days=by_day)
    sheets = valid()
    sheets["Base"].append(["Man-hours counted by", "shift"])
    message = the_error(read(sheets, tmp_path))
    assert message.where == f"Base!B{len(sheets['Base'])}"
    assert message.remedy
