"""Skills, crews, absences and holidays."""

from datetime import date

import pytest

from capacity.findings import Level
from tests.inputs.books import change, read, the_error, the_warning, valid


@pytest.mark.parametrize("kind", ["Overtime", "Contract"])
@pytest.mark.parametrize("cost", [None, 0])
def test_a_cap_needs_a_cost(tmp_path, kind, cost):
    sheets = valid()
    where = change(sheets, "Skills", "mechanic", f"{kind} cost", cost)
    finding = the_error(read(sheets, tmp_path))
    assert finding.where == where
    assert f"has a {kind.lower()} cap, but no {kind.lower()} cost" in finding.what


def test_a_cap_of_nothing_needs_no_cost(tmp_path):
    sheets = valid()
    change(sheets, "Skills", "mechanic", "Overtime cap %", None)
    change(sheets, "Skills", "mechanic", "Overtime cost", None)
    base = read(sheets, tmp_path).base
    assert base is not None
    assert base.skills[0].overtime_cap == 0


def test_a_contract_crew_needs_a_contract_cost(tmp_path):
    sheets = valid()
    where = change(sheets, "Skills", "sheet metal", "Contract cost", None)
    finding = the_error(read(sheets, tmp_path))
    assert finding.where == where
    assert "the contract crew 'blue'" in finding.what


def test_absences_above_the_heads_are_a_warning_also_together(tmp_path):
    """10 heads: 2 away from 11 to 15 January and 9 from 15 on make 11 on the 15th."""
    sheets = valid()
    sheets["Absence"].append(["red", date(2027, 1, 15), date(2027, 1, 20), 9, "leave"])
    finding = the_warning(read(sheets, tmp_path))
    assert finding.where == "Absence!D3"
    assert "on 2027-01-15 11 heads of the crew 'red' are away" in finding.what
    change(sheets, "Absence", 3, "From", date(2027, 1, 16))
    assert read(sheets, tmp_path).findings == ()


def test_estimated_holidays_are_noted_where_they_are_worked(tmp_path):
    """The end of the fasting month 2027 falls on about 10 March (from memory)."""
    sheets = valid()
    change(sheets, "Base", "Weeks", "Value", 13)
    sheets["Base"].append(["Holidays", "ae"])
    book = read(sheets, tmp_path)
    assert book.base is not None
    assert book.base.holidays == "AE"
    (note,) = book.findings
    assert (note.level, note.where) == (Level.NOTE, "Base!B8")
    assert "2027-03-10 Eid al-Fitr" in note.what
    assert "(estimated)" in note.what


def test_certain_holidays_need_no_note(tmp_path):
    sheets = valid()
    sheets["Base"].append(["Holidays", "GB-sct"])
    book = read(sheets, tmp_path)
    assert book.findings == ()
    assert book.base is not None
    assert book.base.holidays == "GB-SCT"


def test_a_pattern_of_days_off_alone_is_a_warning(tmp_path):
    sheets = valid()
    sheets["Shift patterns"].append(["never", "- - -"])
    finding = the_warning(read(sheets, tmp_path))
    assert finding.where == "Shift patterns!B3"
    assert "the pattern 'never' has days off alone" in finding.what


def test_a_skill_whose_crews_have_no_heads_is_a_warning(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "blue", "Heads", 0)
    finding = the_warning(read(sheets, tmp_path))
    assert finding.where == "Package hours!C4"
    assert "nobody has the skill 'sheet metal'" in finding.what


def test_overload_is_dearer_than_what_can_be_bought(tmp_path):
    sheets = valid()
    where = change(sheets, "Skills", "mechanic", "Overtime cost", 501)  # Overload cost: 500
    finding = the_error(read(sheets, tmp_path))
    assert finding.where == where
    assert "last resort" in finding.what
