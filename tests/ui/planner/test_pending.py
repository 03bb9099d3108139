"""Changes not used yet: they outlive a page, and making the plan uses them."""

from datetime import date

import pytest

from capacity.inputs import read_book
from capacity.inputs.reading.edited_copy import SheetEdit
from tests.ui.ways_through import SAMPLES, button, desk_of, make_plan, said, upload
from ui.desk.held_workbook import sheets_of
from ui.desk.plan_job import result_of
from ui.parts.grids import editable
from ui.planner.pending import pending_with, with_pending


@pytest.fixture
def checks(app):
    """The table of the checks of the tiny sample."""
    upload(app, "tiny.xlsx")
    return editable(desk_of(app), "Checks")


def change(app, changes: dict, sheet: str = "Checks") -> None:
    """Change a grid as the browser tells it."""
    desk = desk_of(app)
    table = editable(desk, sheet)
    desk.keep_pending({sheet: pending_with(table, desk.pending.get(sheet), changes)})
    app.run()


def test_what_is_changed_on_top_of_changes_adds_up(checks):
    first = pending_with(
        checks,
        None,
        {"edited_rows": {"0": {"Customer": "One"}, "1": {"Customer": "Two"}},
         "added_rows": [{"Check": "N1"}, {"Check": "N2"}], "deleted_rows": [3]},
    )  # fmt: skip
    assert first.removed == {checks.numbers[3]}
    shown = with_pending(checks, first)
    assert [row["Check"] for row in shown.rows] == ["T1", "T2", "T3", "N1", "N2"]
    assert shown.rows[1]["Customer"] == "Two"
    second = pending_with(
        checks,
        first,
        {"edited_rows": {"0": {"Latest in": "2027-01-09"}, "4": {"Aircraft": "Q-NEW"}},
         "added_rows": [{"Check": "N3"}], "deleted_rows": [1, 3]},
    )  # fmt: skip
    assert second == SheetEdit(
        "Checks",
        {checks.numbers[0]: {"Customer": "One", "Latest in": date(2027, 1, 9)}},
        ({"Check": "N2", "Aircraft": "Q-NEW"}, {"Check": "N3"}),
        frozenset({checks.numbers[1], checks.numbers[3]}),
    )


def test_what_is_set_back_is_no_change(checks):
    before = checks.rows[0]["Customer"]
    first = pending_with(checks, None, {"edited_rows": {"0": {"Customer": "One"}}})
    back = pending_with(checks, first, {"edited_rows": {"0": {"Customer": before}}})
    assert back == SheetEdit("Checks")
    added = pending_with(checks, None, {"added_rows": [{"Check": "N1"}]})
    assert pending_with(checks, added, {"deleted_rows": [4]}) == SheetEdit("Checks")


def test_changes_outlive_a_change_of_page_and_a_reload(app):
    upload(app, "tiny.xlsx")
    change(app, {"edited_rows": {"0": {"Aircraft": "Q-CHANGED"}}})
    assert "Not used yet\\: 1 row changed" in said(app)
    app.switch_page("pages/base_manager.py").run()
    assert "Not used yet\\: 1 row changed" in said(app)
    app.switch_page("pages/planner.py").run()
    assert "Not used yet\\: 1 row changed" in said(app)
    again = type(app).from_file(app._script_path, default_timeout=30)
    again.query_params["desk"] = app.query_params["desk"]
    again.run()
    assert "Not used yet\\: 1 row changed" in said(again)


def test_make_the_plan_uses_them(app):
    upload(app, "tiny.xlsx")
    change(app, {"edited_rows": {"0": {"Aircraft": "Q-CHANGED"}}})
    make_plan(app)
    made = result_of(desk_of(app))
    assert made.opened is desk_of(app).opened
    assert made.opened.book.base.checks[0].aircraft == "Q-CHANGED"
    assert "Not used yet" not in said(app)
    table = sheets_of(made.opened, ("Checks",))["Checks"]
    assert table.rows[0].values["Aircraft"] == "Q-CHANGED"


def test_no_plan_is_made_with_changes_that_have_errors_and_nothing_is_lost(app):
    upload(app, "tiny.xlsx")
    change(app, {"edited_rows": {"0": {"Type": None}}})
    button(app, "Make the plan").click().run()
    assert not app.exception
    assert desk_of(app).job is None
    assert "The plan was not made." in app.error[0].value
    assert len(app.table[0].value)
    assert "Not used yet\\: 1 row changed" in said(app)
    button(app, "Throw the changes away").click().run()
    assert "Not used yet" not in said(app)
    assert not app.error
    make_plan(app)
    assert result_of(desk_of(app)).opened.book.base == read_book(SAMPLES / "tiny.xlsx").base
