"""The page Planner without a browser: open, messages, change, plan, what stands behind."""

import pytest
from streamlit.testing.v1 import AppTest

from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.ui.shown_board import rows_shown
from tests.ui.ways_through import (
    button,
    desk_of,
    labels,
    make_plan,
    said,
    upload,
    wait_for_a_first_plan,
)
from ui.board.component import PickedCheck, PickedWeek
from ui.desk.opened_workbook import OpenedBook
from ui.desk.plan_job import result_of, start_plan
from ui.parts.chosen import CHOSEN
from ui.plain import plain


def table_with(app: AppTest, *headings: str):
    """Return the first table that has these headings."""
    tables = [*app.table, *app.dataframe]
    return next(table.value for table in tables if {*headings} <= {*table.value.columns})


def test_an_empty_page_says_what_to_do_next(app):
    assert not app.exception
    assert "Open a workbook to begin" in app.info[0].value
    assert "releases no aircraft" in said(app)
    ours = [one.proto.component_name for one in app.get("bidi_component")]
    assert ours == ["desk_guard", "scrolling_tables"]


def test_an_upload_is_read_and_can_be_planned(app):
    upload(app, "tiny.xlsx")
    assert not app.exception
    assert "It can be planned: 4 checks, 2 bays, 3 weeks." in said(app)
    assert not button(app, "Make the plan").disabled
    assert "There is no plan of this workbook yet." in said(app)


def test_a_broken_workbook_shows_every_message_with_its_cell_and_no_plan_is_made(app):
    upload(app, "broken.xlsx")
    messages = desk_of(app).opened.book.messages
    table = app.table[0].value
    assert len(table) == len(messages) > 5
    assert list(table["Where"]) == [plain(message.where) for message in messages]
    assert list(table["What"]) == [plain(message.what) for message in messages]
    assert list(table["What to do"]) == [plain(message.remedy) for message in messages]
    assert "It cannot be planned" in said(app)
    assert button(app, "Make the plan").disabled


def test_the_plan_is_made_shown_and_can_be_taken_away(app):
    make_plan(upload(app, "tiny.xlsx"))
    assert not app.exception
    assert isinstance(result_of(desk_of(app)).outcome, Planned)
    assert "The cost of the plan is 3,700 EUR. Proven: no plan costs less." in said(app)
    assert labels(app) == [
        "Plan workbook (.xlsx)",
        "Plan file (.json)",
        "Calendar of the bays (.ics)",
        "Wall sheet A3 to print (.html)",
        "Wall sheet A4 to print (.html)",
    ]
    shown = [one.proto.component_name for one in app.get("bidi_component")]
    assert shown == ["planning_board_rows", "planning_board"]


@pytest.mark.long
def test_a_second_click_starts_no_second_run(app):
    upload(app, "quarter.xlsx")
    button(app, "Make the plan").click().run()
    first = desk_of(app).job
    assert button(app, "Make the plan").disabled
    assert start_plan(desk_of(app), Settings(seconds=1)) is None
    assert desk_of(app).job is first
    wait_for_a_first_plan(first)
    button(app, "Stop and keep the best plan").click().run()
    first.join(60)
    app.run()
    assert result_of(desk_of(app)).outcome.stopped_by == "stop"
    assert "ended by a person" in said(app)


def test_a_second_run_begins_with_the_first_plan_unless_one_says_otherwise(app):
    upload(app, "tiny.xlsx")
    assert not app.checkbox
    make_plan(app)
    first = result_of(desk_of(app)).outcome
    assert first.history[0].source == "first draft"
    make_plan(app)
    second = result_of(desk_of(app)).outcome
    assert second is not first
    assert second.history[0].source == "earlier plan"
    assert second.history[0].money == first.audit.goals.money
    app.checkbox[0].uncheck().run()
    make_plan(app)
    assert result_of(desk_of(app)).outcome.history[0].source == "first draft"


def test_a_click_on_a_check_shows_its_dates_and_stages(app):
    make_plan(upload(app, "tiny.xlsx"))
    app.session_state[CHOSEN] = (result_of(desk_of(app)).number, PickedCheck("T2"))
    app.run()
    assert not app.exception
    assert "**Check T2**" in said(app)
    facts, stages = table_with(app, "Value"), table_with(app, "Routine man-hours of the package")
    assert plain("Q-TNYB, Linden 180") in list(facts["Value"])
    assert list(stages["Stage"]) == ["Open", "Repair", "Close"]


def test_a_click_on_a_week_shows_who_asks_and_who_gives(app):
    make_plan(upload(app, "tiny.xlsx"))
    picked = PickedWeek("2027-W01", "Mechanic")
    app.session_state[CHOSEN] = (result_of(desk_of(app)).number, picked)
    app.run()
    assert not app.exception
    assert "Mechanic in 2027-W01, Mon 4 Jan 2027 to Sun 10 Jan 2027" in said(app)
    asked, given = table_with(app, "Aircraft", "Demand (man-hours)"), table_with(app, "Crew")
    week = result_of(desk_of(app)).outcome.audit.weeks[0]
    assert week.week == "2027-W01"
    assert abs(sum(asked["Demand (man-hours)"]) - week.demand) < 0.1
    assert list(given["Crew"]) == ["Mechanics"]


def test_a_plan_outlives_a_rerun_and_says_when_the_workbook_has_changed(app):
    make_plan(upload(app, "tiny.xlsx"))
    before = result_of(desk_of(app))
    app.run()
    assert result_of(desk_of(app)) == before
    opened = before.opened
    desk_of(app).use(OpenedBook(opened.name, opened.content, opened.book, is_edited=True))
    app.run()
    assert "has been changed since this plan was made" in said(app)
    assert "Download the changed workbook" in labels(app)


def test_the_board_names_every_check(app):
    make_plan(upload(app, "tiny.xlsx"))
    assert {block["check"] for block in rows_shown(app)["blocks"]} == {"T1", "T2", "T3", "T4"}


def test_a_reload_finds_the_desk_again_by_its_address_and_a_made_up_address_does_not(app):
    upload(app, "tiny.xlsx")
    id = app.query_params["desk"]
    again = AppTest.from_file(app._script_path, default_timeout=30)
    again.query_params["desk"] = id
    again.run()
    assert "It can be planned" in said(again)
    other = AppTest.from_file(app._script_path, default_timeout=30)
    other.query_params["desk"] = "guessed"
    other.run()
    assert other.query_params["desk"] not in (id, "guessed")
    assert "Open a workbook to begin" in other.info[0].value
