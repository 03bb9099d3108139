"""What the pages say of levelled man-hours, against the hours by hand of the plan imported."""

import io
from math import fsum

import openpyxl
import pytest

from capacity.reports.plan.largest_moves import LARGEST
from capacity.reports.plan.moved_words import week_evenly
from capacity.reports.plan.view import view_of
from tests.levelled_plan import SKILL, W01, W02, W03, even_outcome, levelled_base, levelled_outcome
from tests.ui.printed_page import read
from tests.ui.shown_board import rows_shown
from tests.ui.ways_through import EXCEL, SAMPLES, button, desk_of, make_plan, said, upload
from ui.board.component import PickedCheck
from ui.desk.plan_job import result_of
from ui.manager.labour_view import labour_of
from ui.manager.labour_words import EVENLY
from ui.parts.chosen import CHOSEN
from ui.parts.grids import editable
from ui.plain import plain
from ui.planner.levelled_rows import (
    even_beside_levelled,
    moves_of_check,
    moves_of_week,
    weeks_of_check,
)
from ui.planner.pending import pending_with
from ui.printing.labour import labour_page

MOVED = "Moved in (+) or out (-) (man-hours)"
SAVES = (
    "30 h of work lie in another week than if spread evenly; in the same "
    "slots that saves 2,120 EUR."
)
WOULD_BUY = "Spread evenly, Mechanic would have a demand of 320 h in this week and buy"


@pytest.fixture(scope="module")
def levelled():
    return view_of(levelled_base(), levelled_outcome(), ())


@pytest.fixture(scope="module")
def even():
    return view_of(levelled_base(), even_outcome(), ())


def test_a_check_tells_the_weeks_of_its_stages(levelled):
    rows = weeks_of_check(levelled.levelling, "C1")
    assert [(row["Stage"], row["Skill"], row["Week"]) for row in rows] == [
        ("Work", SKILL, W01), ("Work", SKILL, W02)
    ]  # fmt: skip
    assert [row["Man-hours"] for row in rows] == [60, 40]
    assert [row["Spread evenly (man-hours)"] for row in rows] == [40, 60]
    assert [row[MOVED] for row in rows] == [20, -20]


def test_a_check_tells_what_was_moved_and_why(levelled):
    (forward,), (later,) = moves_of_check(levelled, "C1"), moves_of_check(levelled, "C2")
    assert forward["Hours moved"] == "20 h brought forward from 2027-W02 to 2027-W01"
    assert later["Hours moved"] == "10 h put off from 2027-W02 to 2027-W03"
    assert "would have bought 30 h (contract 16 h and overtime 14 h) for 2,120 EUR" in later["Why"]
    assert "2027-W03 had room for 10 h within regular hours" in later["Why"]


def test_a_week_tells_who_brought_hours_in_and_who_took_them_out(levelled):
    rows = moves_of_week(levelled, W02, SKILL)
    assert [(row["Check"], row["Stage"], row[MOVED]) for row in rows] == [
        ("C1", "Work", -20), ("C2", "Work", -10)
    ]  # fmt: skip
    (row,) = moves_of_week(levelled, W03, SKILL)
    assert (row["Check"], row[MOVED]) == ("C2", 10)


def test_what_moves_into_and_out_of_each_week_is_what_its_demand_changes_by(levelled):
    evenly = {load.week: load for load in levelled.levelling.evenly.weeks}
    for load in levelled.outcome.audit.weeks:
        moved = fsum(row[MOVED] for row in moves_of_week(levelled, load.week, load.skill))
        assert moved == pytest.approx(load.demand - evenly[load.week].demand, abs=0.1)


def test_a_week_tells_what_it_would_have_bought(levelled):
    told = week_evenly(W02, SKILL, levelled.levelling.evenly, levelled.outcome.audit, levelled.base)
    assert told == (
        "Spread evenly, Mechanic would have a demand of 100 h in this week and buy 30 h "
        "(contract 16 h and overtime 14 h) for 2,120 EUR. Levelled, it buys nothing."
    )


def test_the_demand_of_both_stands_side_by_side(levelled, even):
    rows = {row["Week"]: row for row in even_beside_levelled(levelled)}
    assert set(rows) == {W01, W02, W03}
    assert rows[W02]["Demand, spread evenly (man-hours)"] == 100
    assert rows[W02]["Bought if spread evenly (EUR)"] == 2120
    assert rows[W02]["Bought (EUR)"] == 0
    assert even_beside_levelled(even) == []


def test_the_printed_labour_has_the_sentence_the_moves_and_the_even_demand(levelled, even):
    page = read(labour_page(labour_of(levelled), None))
    assert SAVES in page.texts["p"]
    moved = [(row["Check"], row["Hours moved"]) for row in page.table_under(LARGEST)]
    assert moved == [
        ("C1", "20 h brought forward from 2027-W02 to 2027-W01"),
        ("C2", "10 h put off from 2027-W02 to 2027-W03"),
    ]
    rows = {row["Week"]: row for row in page.table_under(EVENLY)}
    assert float(rows[W02]["Demand, spread evenly (man-hours)"]) == 100
    without = read(labour_page(labour_of(even), None))
    assert not any("evenly" in text for texts in without.texts.values() for text in texts)


# The pages.


def levelled_tiny() -> bytes:
    """The tiny sample with both settings on its sheet Base."""
    book = openpyxl.load_workbook(SAMPLES / "tiny.xlsx")
    book["Base"].append(["Daily peak %", 125])
    book["Base"].append(["Into float", "yes"])
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


@pytest.fixture
def planned(app):
    """The dashboard with a plan of it."""
    app.file_uploader[0].set_value(("tiny.xlsx", levelled_tiny(), EXCEL)).run()
    return make_plan(app)


def pick(app, chart: str, **fields: str):
    """Click in a chart of the page, as the browser tells it."""
    key = f"{chart} {result_of(desk_of(app)).number}"
    app.session_state[key] = {"selection": {"pick": [fields]}}
    return app.run()


def tables(app) -> str:
    return "\n".join(frame.value.to_string() for frame in [*app.table, *app.dataframe])


def evenly_drawn(app) -> bool:
    """Return whether the board has a line for the demand of an even spread."""
    return any(hours["even"] for hours in rows_shown(app)["hours"])


def choose(app, picked) -> None:
    app.session_state[CHOSEN] = (result_of(desk_of(app)).number, picked)
    app.run()


def test_both_pages_say_what_levelling_saves_and_a_click_says_what_moved(planned):
    saves = (
        "10 h of work lie in another week than if spread evenly; in the same "
        "slots that saves 400 EUR."
    )
    assert saves in said(planned)
    assert LARGEST in [expander.label for expander in planned.expander]
    assert plain("10 h brought forward from 2027-W02 to 2027-W01") in tables(planned)
    assert evenly_drawn(planned)
    choose(planned, PickedCheck("T3"))
    assert not planned.exception
    assert "Hours put off or brought forward" in said(planned)
    planned.switch_page("pages/base_manager.py").run()
    assert saves in said(planned)
    pick(planned, "weeks", skill="Mechanic", week="2027-W02")
    assert not planned.exception
    assert f"{WOULD_BUY} 20 h (overtime 20 h) for 800 EUR. Levelled, it buys" in said(planned)
    assert "Stages that brought hours into this week" in said(planned)


def test_a_plan_without_levelling_says_nothing_of_it(app):
    make_plan(upload(app, "tiny.xlsx"))
    assert not evenly_drawn(app)
    choose(app, PickedCheck("T3"))
    assert "than if spread evenly" not in said(app)
    assert LARGEST not in [expander.label for expander in app.expander]
    assert "lie evenly" not in said(app)
    app.switch_page("pages/base_manager.py").run()
    pick(app, "weeks", skill="Mechanic", week="2027-W02")
    assert not app.exception
    assert "Spread evenly" not in said(app)


def change_setting(app, setting: str, value: str) -> None:
    desk = desk_of(app)
    table = editable(desk, "Base")
    row = [row["Setting"] for row in table.rows].index(setting)
    changes = {"edited_rows": {str(row): {"Value": value}}}
    desk.keep_pending({"Base": pending_with(table, desk.pending.get("Base"), changes)})
    app.run()


def test_the_editor_sets_the_peak_of_a_base_that_had_none(app):
    upload(app, "tiny.xlsx")
    change_setting(app, "Daily peak %", "125")
    button(app, "Verify the changes and use them").click().run()
    assert not app.exception
    stages = desk_of(app).opened.book.base.packages[0].stages
    assert {stage.daily_peak for stage in stages} == {1.25}


def test_the_editor_shows_a_wrong_peak_with_its_cell_and_keeps_the_workbook(app):
    upload(app, "tiny.xlsx")
    change_setting(app, "Daily peak %", "5000")
    button(app, "Verify the changes and use them").click().run()
    assert "The changes are not used yet" in said(app)
    assert button(app, plain("Base!B11"))
    assert not desk_of(app).opened.is_edited
