"""What can be wrong with extra work, each with its cell and a remedy."""

from datetime import date

import pytest

from capacity.facts import ExtraReason
from capacity.messages import Level
from tests.inputs.books import Sheets, change, errors, read, the_error, the_warning, valid

HEADINGS = ["Check", "Stage", "After", "Work", "Days", "Skill", "Man-hours", "Reason"]
LETTERS = dict(zip(HEADINGS, "ABCDEFGH", strict=True))
OF_PACKAGE = {
    "Check": "C1",
    "Stage": "inspect",
    "Skill": "mechanic",
    "Man-hours": 30,
    "Reason": "modification",
}
NEW = {**OF_PACKAGE, "Stage": "repair", "After": "inspect", "Work": "maintenance", "Days": 2}


def with_extra(*rows: dict[str, object]) -> Sheets:
    return {**valid(), "Extra work": [HEADINGS, *([r.get(h) for h in HEADINGS] for r in rows)]}


def test_what_is_read(tmp_path):
    other = {**NEW, "After": None, "Work": None, "Days": None, "Skill": "sheet metal"}
    book = read(with_extra(OF_PACKAGE, NEW, other), tmp_path)
    assert book.messages == ()
    assert book.base is not None
    first, second, _ = book.base.extra_work
    assert (first.man_hours, first.reason, first.after) == (30, ExtraReason.MODIFICATION, None)
    assert (second.after, second.work, second.days) == (("inspect",), "maintenance", 2)
    stages = book.base.package_of(book.base.check("C1")).stages
    assert [stage.name for stage in stages] == ["open", "inspect", "close", "repair"]
    assert stages[3].man_hours == {"mechanic": 30, "sheet metal": 30}


@pytest.mark.parametrize("sheet", ["Extra work", "Ready dates"])
def test_an_empty_sheet_changes_nothing(tmp_path, sheet):
    (tmp_path / "plain").mkdir()
    plain = read(valid(), tmp_path / "plain").base
    headings = HEADINGS if sheet == "Extra work" else ["Check", "Stage", "Not before"]
    assert read({**valid(), sheet: [headings]}, tmp_path).base == plain


@pytest.mark.parametrize(
    ("row", "heading", "what", "remedy"),
    [
        ({**OF_PACKAGE, "Check": "C9"}, "Check", "'C9' is not in the sheet Checks", "Known are"),
        ({**OF_PACKAGE, "Skill": "mechanik"}, "Skill", "not in the sheet Skills", "Did you mean"),
        ({**OF_PACKAGE, "Man-hours": -1}, "Man-hours", "is -1", "at least 0"),
        ({**OF_PACKAGE, "Man-hours": None}, "Man-hours", "is blank", ""),
        ({**OF_PACKAGE, "Reason": "because"}, "Reason", "holds 'because'", "deferred defect"),
        ({**OF_PACKAGE, "Reason": None}, "Reason", "is blank", ""),
        ({**OF_PACKAGE, "Days": 2}, "Days", "Days is for new stages", "another name"),
        ({**OF_PACKAGE, "After": "open"}, "After", "After is for new stages", "another name"),
        ({**NEW, "Stage": "inspct", "Days": None}, "Days", "so it is a new one", "'inspect'?"),
        ({**NEW, "Work": None}, "Work", "its Work is blank", "Fill it in"),
        ({**NEW, "Work": "welding"}, "Work", "no bay does work of the kind 'welding'", "Known"),
        ({**NEW, "After": "inspct"}, "After", "'inspct' is not a stage of 'C1'", "'inspect'?"),
        ({**NEW, "After": "repair"}, "After", "'repair' waits for itself", "another"),
        ({**NEW, "After": "-, open"}, "After", "hyphen beside names", "alone"),
    ],
)  # fmt: skip
def test_each_wrong_thing_has_its_cell_and_remedy(tmp_path, row, heading, what, remedy):
    message = the_error(read(with_extra(row), tmp_path))
    assert message.where == f"Extra work!{LETTERS[heading]}2"
    assert what in message.what
    assert remedy in message.remedy


def test_rows_of_a_new_stage_agree(tmp_path):
    other = {**NEW, "Days": 3, "Skill": "sheet metal"}
    message = the_error(read(with_extra(NEW, other), tmp_path))
    assert message.where == "Extra work!E3"
    assert "another one than in row 2" in message.what


def test_the_same_thing_twice(tmp_path):
    assert the_error(read(with_extra(OF_PACKAGE, OF_PACKAGE), tmp_path)).where == "Extra work!A3"
    (tmp_path / "other").mkdir()
    defect = {**OF_PACKAGE, "Reason": "deferred defect"}
    assert not errors(read(with_extra(OF_PACKAGE, defect), tmp_path / "other"))


def test_new_stages_wait_in_no_circle(tmp_path):
    first = {**NEW, "After": "test"}
    second = {**NEW, "Stage": "test", "After": "repair"}
    message = the_error(read(with_extra(first, second), tmp_path))
    assert message.where.startswith("Extra work!C")
    assert "wait for each other in a circle" in message.what


def test_new_stages_that_never_end_are_an_error(tmp_path):
    rows = [{**NEW, "Stage": f"part {n}", "Days": 1000} for n in range(3)]
    message = the_error(read(with_extra(*rows), tmp_path))
    assert message.where == "Extra work!E2"
    assert "up to 3,006 days together" in message.what


def test_hours_for_which_heads_leave_no_room_are_a_warning(tmp_path):
    """7 heads give 7 x 7.5 x 0.8 = 42 h a day; 120.75 h fit into 3 days, 300 h more do not."""
    sheets = with_extra({**OF_PACKAGE, "Man-hours": 300})
    change(sheets, "Packages", 3, "Max heads", 7)
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Extra work!G2"
    assert "140 h a day, but Max heads 7 leaves room for 42 h" in message.what


def test_extra_work_on_a_stage_that_is_done_is_a_warning(tmp_path):
    message = the_warning(
        read(with_extra({**OF_PACKAGE, "Check": "C3", "Stage": "open"}), tmp_path)
    )
    assert (message.where, message.level) == ("Extra work!B2", Level.WARNING)
    assert "is done, so its extra work is not planned" in message.what


def test_extra_work_of_a_stage_that_is_told_to_be_done_is_a_note(tmp_path):
    sheets = with_extra({**OF_PACKAGE, "Check": "C3", "Stage": "open"})
    change(sheets, "Checks", "C3", "Remaining %", None)
    row = ["C3", "open", date(2027, 1, 4), 100]
    sheets["Progress"] = [["Check", "Stage", "As of", "Done %"], row]
    (note,) = read(sheets, tmp_path).messages
    assert (note.where, note.level) == ("Extra work!B2", Level.NOTE)


def test_progress_and_ready_dates_may_name_new_stages(tmp_path):
    sheets = with_extra({**NEW, "Check": "C3"})
    change(sheets, "Checks", "C3", "Remaining %", None)
    sheets["Progress"] = [
        ["Check", "Stage", "As of", "Done %"],
        ["C3", "repair", date(2027, 1, 4), 50],
    ]
    sheets["Ready dates"] = [["Check", "Stage", "Not before"], ["C1", "inspect", date(2027, 1, 8)]]
    assert read(sheets, tmp_path).messages == ()
    sheets["Ready dates"].append(["C1", "repair", date(2027, 1, 8)])
    (tmp_path / "other").mkdir()
    assert the_error(read(sheets, tmp_path / "other")).where == "Ready dates!B3"


def test_a_skill_that_nobody_has_is_a_warning(tmp_path):
    sheets = with_extra({**OF_PACKAGE, "Skill": "paint"})
    sheets["Skills"].append(["paint", 60, 20, 90, 25])
    message = the_warning(read(sheets, tmp_path))
    assert message.where == "Extra work!F2"
    assert "nobody has the skill 'paint'" in message.what


def test_fixed_checks_with_new_stages_collide(tmp_path):
    """Half of C3 is left; two days of repair more make it out on Tuesday the 12th or later."""
    sheets = with_extra({**NEW, "Check": "C3", "Days": 5, "After": None})
    change(sheets, "Checks", "C4", "Type", "T30")
    change(sheets, "Checks", "C4", "Fixed bay", "B2")
    assert "is there until its out day" in the_error(read(sheets, tmp_path)).what
