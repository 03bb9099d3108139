"""Skills, crews, absences and holidays."""

from datetime import date

import pytest

from capacity.messages import Level
from tests.inputs.books import change, read, the_error, the_warning, valid, warnings


@pytest.mark.parametrize("kind", ["Overtime", "Contract"])
@pytest.mark.parametrize("cost", [None, 0])
def test_a_cap_needs_a_cost(tmp_path, kind, cost):
    sheets = valid()
    where = change(sheets, "Skills", "mechanic", f"{kind} cost", cost)
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert f"has a {kind.lower()} cap, but no {kind.lower()} cost" in message.what


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
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "the contract crew 'blue'" in message.what


def test_a_contract_crew_needs_a_contract_cost_of_each_of_its_skills(tmp_path):
    sheets = valid()
    change(sheets, "Skills", "mechanic", "Contract cap %", 0)
    where = change(sheets, "Skills", "mechanic", "Contract cost", None)
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Crews", "blue", "Skills", "sheet metal, mechanic")
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "the contract crew 'blue' works in the skill 'mechanic'" in message.what


def test_skills_and_types_of_a_crew_reach_the_facts(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "red", "Skills", "mechanic, sheet metal")
    change(sheets, "Crews", "red", "Types", "T40, T30")
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    red, blue = book.base.crews
    assert (red.skills, blue.skills) == (("mechanic", "sheet metal"), ("sheet metal",))
    assert (red.types, blue.types) == ({"T30", "T40"}, set())


def test_a_skill_without_a_crew_authorised_on_a_type_is_a_warning(tmp_path):
    """Light checks ask for both skills on both types, the red crew alone has mechanics."""
    sheets = valid()
    where = change(sheets, "Crews", "red", "Types", "T30")
    message = the_warning(read(sheets, tmp_path))
    assert (message.where, message.what) == (
        where,
        "no crew with the skill 'mechanic' is authorised on the type 'T40', on which the check "
        "'C2' needs it; only overtime, contract hours or overload can do that work.",
    )
    assert message.remedy.endswith("or correct Checks!C3.")
    change(sheets, "Checks", "C2", "Type", "T30")
    assert "on which the check 'C4' needs" in the_warning(read(sheets, tmp_path)).what
    change(sheets, "Checks", "C4", "Type", "T30")
    assert read(sheets, tmp_path).messages == ()


@pytest.mark.parametrize(
    ("skills", "types", "heads", "employment", "told"),
    [
        ("mechanic", "T40", 1, "employed", False),
        ("sheet metal, mechanic", "T30, T40", 1, "contract", False),
        ("mechanic", None, 1, "contract", False),
        ("mechanic", "T40", 0, "employed", True),
        ("mechanic", "T30", 5, "employed", True),
        ("sheet metal", "T40", 5, "employed", True),
    ],
)
def test_any_crew_of_the_skill_and_the_type_will_do(
    tmp_path, skills, types, heads, employment, told
):
    sheets = valid()
    change(sheets, "Crews", "red", "Types", "T30")
    sheets["Crews"].append(["white", skills, heads, "days", date(2027, 1, 4), employment, types])
    found = read(sheets, tmp_path).messages
    assert [message.where for message in found] == (["Crews!G2"] if told else [])


def test_work_that_is_done_asks_for_no_authorised_crew(tmp_path):
    """Of C3 with 40 % left only a part of the inspection and closing up are to do.

    Opening up alone asks for fitters, who work on T40.
    """
    sheets = valid()
    sheets["Skills"].append(["fitter", 60, 20, 90, 25])
    sheets["Crews"].append(["white", "fitter", 3, "days", date(2027, 1, 4), "employed"])
    change(sheets, "Package hours", 2, "Skill", "fitter")
    change(sheets, "Crews", "white", "Types", "T40")
    for check, type_ in (("C1", "T40"), ("C3", "T30")):
        change(sheets, "Checks", check, "Type", type_)
    change(sheets, "Checks", "C3", "Remaining %", 40)
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Checks", "C3", "Remaining %", 90)
    assert "'C3' needs it" in the_warning(read(sheets, tmp_path)).what


def test_no_man_hours_ask_for_no_authorised_crew(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "blue", "Types", "T30")
    change(sheets, "Checks", "C2", "Package", "paint prep")
    sheets["Package hours"].append(["paint prep", "wash", "sheet metal", 0])
    assert read(sheets, tmp_path).messages == ()
    change(sheets, "Package hours", 7, "Man-hours", 1)
    assert the_warning(read(sheets, tmp_path)).where == "Crews!G3"


def test_a_crew_that_could_not_be_read_may_be_the_authorised_one(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "red", "Types", "T30")
    sheets["Crews"].append(["white", "mechanic", "many", "days", date(2027, 1, 4), "employed"])
    book = read(sheets, tmp_path)
    assert [message.where for message in book.messages] == ["Crews!C4"]


def test_a_misspelt_type_of_a_check_makes_no_further_noise(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "red", "Types", "T30, T40")
    where = change(sheets, "Checks", "C1", "Type", "T3O")
    book = read(sheets, tmp_path)
    assert [message.where for message in book.messages] == [where]


def test_a_misspelt_type_of_a_crew_makes_no_further_noise(tmp_path):
    sheets = valid()
    where = change(sheets, "Crews", "red", "Types", "T30, T4O")
    book = read(sheets, tmp_path)
    assert [message.where for message in book.messages] == [where]


def test_absences_above_the_heads_are_a_warning_also_together(tmp_path):
    """10 heads: 2 away from 11 to 15 January and 9 from 15 on make 11 on the 15th."""
    sheets = valid()
    sheets["Absence"].append(["red", date(2027, 1, 15), date(2027, 1, 20), 9, "leave"])
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Absence!D3"
    assert "on Fri 15 Jan 2027, 11 heads of the crew 'red' are away" in message.what
    change(sheets, "Absence", 3, "From", date(2027, 1, 16))
    assert read(sheets, tmp_path).messages == ()


def test_estimated_holidays_are_noted_where_they_are_worked(tmp_path):
    """The end of the fasting month 2027 falls on about 10 March (from memory)."""
    sheets = valid()
    change(sheets, "Base", "Weeks", "Value", 13)
    sheets["Base"].append(["Holidays", "ae"])
    book = read(sheets, tmp_path)
    assert book.base is not None
    assert book.base.holidays == "AE"
    (note,) = book.messages
    assert (note.level, note.where) == (Level.NOTE, "Base!B8")
    assert "Wed 10 Mar 2027 Eid al-Fitr" in note.what
    assert "(estimated)" in note.what


def test_certain_holidays_need_no_note(tmp_path):
    sheets = valid()
    sheets["Base"].append(["Holidays", "GB-sct"])
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    assert book.base.holidays == "GB-SCT"


def test_a_pattern_of_days_off_alone_is_a_warning(tmp_path):
    sheets = valid()
    sheets["Shift patterns"].append(["never", "- - -"])
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Shift patterns!B3"
    assert "the pattern 'never' has only days off" in message.what


def test_a_skill_whose_crews_have_no_heads_is_a_warning(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "blue", "Heads", 0)
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Package hours!C4"
    assert "nobody has the skill 'sheet metal'" in message.what


def test_overload_is_dearer_than_what_can_be_bought(tmp_path):
    sheets = valid()
    where = change(sheets, "Skills", "mechanic", "Overtime cost", 501)  # Overload cost: 500
    message = the_error(read(sheets, tmp_path))
    assert message.where == where
    assert "last resort" in message.what


@pytest.mark.parametrize(
    ("first", "last", "where", "what"),
    [
        (None, date(2027, 1, 3), "Crews!G2", "is there until Sun 3 Jan 2027, before the First day"),
        (None, date(2027, 1, 10), "Absence!B2", "not there on the days of this absence"),
        (date(2027, 1, 16), None, "Absence!B2", "not there on the days of this absence"),
    ],
)
def test_a_crew_that_is_not_there_is_told(tmp_path, first, last, where, what):
    sheets = valid()
    change(sheets, "Crews", "red", "To", last)
    change(sheets, "Crews", "red", "From", first)
    found = {message.where: message for message in warnings(read(sheets, tmp_path))}
    assert what in found[where].what
    assert found[where].remedy


def test_a_span_of_a_crew_is_read_and_runs_forward(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "red", "From", date(2027, 1, 11))
    change(sheets, "Crews", "red", "To", date(2027, 1, 15))
    red = read(sheets, tmp_path).base.crew("red")
    assert (red.first, red.last) == (date(2027, 1, 11), date(2027, 1, 15))
    change(sheets, "Crews", "red", "To", date(2027, 1, 5))
    assert the_error(read(sheets, tmp_path)).where == "Crews!G2"


def test_guaranteed_hours_are_read_for_contract_crews_only(tmp_path):
    sheets = valid()
    change(sheets, "Crews", "blue", "Guaranteed hours a week", 60)
    assert read(sheets, tmp_path).base.crew("blue").guaranteed_hours == 60.0
    where = change(sheets, "Crews", "red", "Guaranteed hours a week", 60)
    error = the_error(read(sheets, tmp_path))
    assert error.where == where
    assert "'red' is employed" in error.what


def test_a_guarantee_beyond_what_the_crew_gives_is_a_warning(tmp_path):
    """Four people of 7.5 h on five days, of which 80 % are man-hours: 120 a week."""
    sheets = valid()
    where = change(sheets, "Crews", "blue", "Guaranteed hours a week", 121)
    warning = the_warning(read(sheets, tmp_path))
    assert warning.where == where
    assert "gives 120.0 on average" in warning.what
