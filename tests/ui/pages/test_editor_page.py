"""All sheets changed on the page: verified as they are typed, and nothing is swallowed."""

from datetime import date

import pytest

from capacity.inputs.reading.edited_copy import SheetEdit
from tests.ui.ways_through import button, desk_of, make_plan, said, upload
from ui.desk.held_workbook import sheets_of
from ui.parts import grids
from ui.parts.guard import would_lose
from ui.parts.message_list import place_of
from ui.plain import plain
from ui.planner.editing import rows_to_be


def again(app):
    """Return another window of the same person."""
    other = type(app).from_file(app._script_path, default_timeout=30)
    other.query_params["desk"] = app.query_params["desk"]
    return other.run()


@pytest.fixture
def tiny(app):
    return upload(app, "tiny.xlsx")


def test_every_change_is_verified_and_a_click_on_a_message_shows_its_row(tiny):
    desk = desk_of(tiny)
    desk.keep_pending({"Crews": SheetEdit("Crews", {2: {"Heads": None}}),
                       "Checks": SheetEdit("Checks", {4: {"Type": "Linden 18"}})})  # fmt: skip
    tiny.run()
    assert "**Messages**: 2 errors" in said(tiny)
    assert "Rows changed: Crews 1, Checks 1." in said(tiny)
    assert not desk.opened.is_edited
    (crews,) = (b.label for b in tiny.button if b.label.startswith(plain("Crews!")))
    button(tiny, crews).click().run()
    assert not tiny.exception
    grid = tiny.session_state[grids.GRID]
    assert (grid.table.sheet, grid.table.numbers[0]) == ("Crews", 2)
    button(tiny, plain("Checks!C4")).click().run()
    grid = tiny.session_state[grids.GRID]
    assert (grid.table.sheet, grid.table.numbers) == ("Checks", (4, 2, 3, 5))
    assert "Row 4 is shown first" in said(tiny)
    button(tiny, "Rows in their order").click().run()
    assert tiny.session_state[grids.GRID].table.numbers == (2, 3, 4, 5)


def test_a_message_of_a_new_row_says_where_it_is(tiny):
    desk = desk_of(tiny)
    first, second = {"Check": "T8"}, {"Check": "T9", "Aircraft": "Q-NEW"}
    desk.keep_pending({"Checks": SheetEdit("Checks", added=(first, second))})
    tiny.run()
    (where,) = (b.label for b in tiny.button if b.label == plain("Checks!B6"))  # no Aircraft
    button(tiny, where).click().run()
    assert plain("Row 6 is new, at the end of the grid") in said(tiny)
    grid = tiny.session_state[grids.GRID]
    assert rows_to_be(grid.table, grid.basis) == {-1: 6, -2: 7}


def test_a_sheet_that_is_not_there_is_begun_and_the_rest_of_the_file_stays(tiny):
    desk = desk_of(tiny)
    row = {"From": date(2027, 1, 6), "To": date(2027, 1, 6), "Worked": "no", "Reason": "audit"}
    desk.keep_pending({"Base calendar": SheetEdit("Base calendar", added=(row,))})
    tiny.run()
    button(tiny, "Verify the changes and use them").click().run()
    assert not tiny.exception
    assert (desk.opened.is_edited, desk.pending) == (True, {})
    (told,) = sheets_of(desk.opened, ("Base calendar",))["Base calendar"].rows
    assert told.values["Reason"] == "audit"


def test_what_another_window_changes_meanwhile_stays_when_the_changes_are_used(tiny):
    desk = desk_of(tiny)
    first = SheetEdit("Checks", {2: {"Customer": "One"}}, ({"Check": "T9"},))
    later = SheetEdit("Checks", {2: {"Customer": "One", "Price": 7}, 3: {"Customer": "Two"}},
                      ({"Check": "T9"}, {"Check": "T10"}))  # fmt: skip
    desk.keep_pending({"Checks": later})
    desk.use(desk.opened, {"Checks": first})
    assert desk.pending == {
        "Checks": SheetEdit(
            "Checks", {2: {"Price": 7}, 3: {"Customer": "Two"}}, ({"Check": "T10"},)
        )
    }
    desk.use(desk.opened)
    assert desk.pending == {}


def test_the_grid_of_a_window_begins_anew_with_what_another_one_changed(tiny):
    other = again(tiny)
    before = tiny.session_state[grids.GRID]
    desk_of(tiny).keep_pending({"Checks": SheetEdit("Checks", {2: {"Customer": "One"}})})
    for window in (tiny.run(), other.run()):
        grid = window.session_state[grids.GRID]
        assert grid.basis == SheetEdit("Checks", {2: {"Customer": "One"}})
        assert grid.turn > before.turn
        assert "1 row changed" in said(window)


def test_progress_asks_of_the_checks_in_work_by_the_plan(tiny):
    make_plan(tiny)
    assert not tiny.exception
    (as_of,) = (d for d in tiny.date_input if d.key == "progress as of")
    as_of.set_value(date(2027, 1, 8)).run()
    assert not tiny.exception
    assert "in work, " in said(tiny)


@pytest.mark.parametrize(
    ("where", "place"),
    [("Checks!F17", ("Checks", 17)), ("checks !AA2", ("Checks", 2)), ("Checks", ("Checks", None)),
     ("Elsewhere!A1", None), ("tiny.xlsx", None), ("Base!B4", ("Base", 4))],
)  # fmt: skip
def test_the_place_of_a_message_is_a_sheet_and_a_row(where, place):
    assert place_of(where) == place


def test_leaving_warns_only_where_something_would_be_lost(tiny):
    desk = desk_of(tiny)
    desk.keep_pending({"Checks": SheetEdit("Checks", {2: {"Customer": "One"}})})
    assert not would_lose(desk)  # it is kept
    desk.why_not_saved = "It is not kept on this computer (disk full)."
    assert would_lose(desk)
    desk.is_touched = False
    assert not would_lose(desk)
