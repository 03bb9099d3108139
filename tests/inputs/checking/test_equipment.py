"""Equipment: pools, outages, stages that need what is not there."""

from datetime import date

import pytest

from capacity.facts import Equipment, EquipmentOutage
from tests.inputs.books import change, read, the_error, the_warning, valid, with_equipment


def day(text: str) -> date:
    """Return a day of 2027 from ``month-day``."""
    return date.fromisoformat(f"2027-{text}")


def test_equipment_reaches_the_facts(tmp_path):
    sheets = with_equipment(valid())
    change(sheets, "Packages", 4, "Equipment", "jack set")
    book = read(sheets, tmp_path)
    assert book.messages == ()
    base = book.base
    assert base is not None
    assert base.equipment == (Equipment("jack set", 2),)
    assert base.equipment_outages == (
        EquipmentOutage("jack set", day("01-06"), day("01-07"), 1, "overhaul"),
    )
    assert [stage.equipment for stage in base.packages[0].stages] == [(), (), ("jack set",)]


def test_an_outage_of_more_than_there_are_is_an_error(tmp_path):
    sheets = with_equipment(valid())
    where = change(sheets, "Equipment outages", 2, "Number", 3)
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == (
        where,
        "3 of the equipment 'jack set' are out, but there are 2.",
    )


@pytest.mark.parametrize(("first", "level"), [("01-07", "warning"), ("01-08", None)])
def test_outages_together_above_the_number_are_a_warning(tmp_path, first, level):
    """One set is out until and on 7 January, two others from then or the day after on."""
    sheets = with_equipment(valid())
    sheets["Equipment outages"].append(["jack set", day(first), day("01-09"), 2, None])
    if level is None:
        assert read(sheets, tmp_path).messages == ()
        return
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Equipment outages!D3"
    assert "on Thu 7 Jan 2027, 3 of the equipment 'jack set' are out" in message.what


def test_a_stage_that_needs_what_there_is_none_of_is_an_error(tmp_path):
    sheets = with_equipment(valid())
    sheets["Equipment"].append(["crane", 0])
    where = change(sheets, "Packages", 3, "Equipment", "jack set, crane")
    message = the_error(read(sheets, tmp_path))
    assert (message.where, message.what) == (
        where,
        "the stage 'inspect' needs a piece of the equipment 'crane', which has none.",
    )


# The plan lets checks in from 4 to 31 January.
@pytest.mark.parametrize(
    ("first", "last", "is_told"),
    [
        ("01-04", "01-31", True),
        ("01-01", "02-20", True),
        ("01-05", "01-31", False),
        ("01-04", "01-30", False),
    ],
)
def test_a_stage_whose_equipment_is_out_all_the_time_is_a_warning(tmp_path, first, last, is_told):
    sheets = with_equipment(valid())
    sheets["Checks"] = sheets["Checks"][:3]
    where = change(sheets, "Packages", 5, "Equipment", "jack set")
    sheets["Equipment outages"][1:] = [
        ["jack set", day(first), day("01-12"), 2, None],
        ["jack set", day("01-13"), day(last), 2, None],
    ]
    found = read(sheets, tmp_path).messages
    assert [(str(message.level), message.where) for message in found] == (
        [("warning", where)] if is_told else []
    )
