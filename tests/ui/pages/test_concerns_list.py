"""The list of exceptions on the pages: its rows, what a click shows, and what it marks."""

import json
from collections.abc import Callable
from dataclasses import replace

import pytest
from streamlit.testing.v1 import AppTest

from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.reports.plan.concerns import Concern
from capacity.reports.plan.view import View
from capacity.settings import Settings
from tests.troubled_workbook import write_troubled
from tests.ui.enquiry_plans import put_on
from tests.ui.plans import base, view
from tests.ui.shown_board import board_shown
from tests.ui.ways_through import desk_of, said
from tests.ui.words_on_pages import texts_of_page
from ui.desk.opened_workbook import OpenedBook, opened_from_path
from ui.parts import concerns
from ui.parts.concerns import NOTHING_WRONG, counts_in_words
from ui.plain import plain

HOSTILE = "<b>C2</b> [a](http://x) :red[y] **z**"


@pytest.fixture(scope="module")
def troubled(tmp_path_factory: pytest.TempPathFactory) -> tuple[OpenedBook, Planned]:
    path = write_troubled(tmp_path_factory.mktemp("exceptions") / "troubled.xlsx")
    opened = opened_from_path(path)
    assert opened.book.base is not None
    outcome = plan(opened.book.base, Settings(seconds=1))
    assert isinstance(outcome, Planned)
    return opened, outcome


@pytest.fixture
def page(app: AppTest, troubled: tuple[OpenedBook, Planned]) -> AppTest:
    put_on(desk_of(app), *troubled)
    return app


def rows_of(app: AppTest) -> list:
    return [one for one in app.button if str(one.key).startswith("concern ")]


def row_of(app: AppTest, about: str):
    return next(row for row in rows_of(app) if row.label == plain(about))


def marked(app: AppTest) -> list[object]:
    """Return what the board and the charts of a page begin with as picked."""
    if app.get("bidi_component"):
        chosen = board_shown(app)["chosen"]
        return [] if chosen is None else [chosen]
    specs = [json.loads(chart.proto.spec) for chart in app.get("vega_lite_chart")]
    params = [param for spec in specs for param in spec.get("params", [])]
    return [param["value"] for param in params if param["name"] == "pick" and "value" in param]


@pytest.mark.parametrize("name", ["planner", "base_manager"])
def test_the_pages_begin_with_what_is_wrong(page, name):
    page.switch_page(f"pages/{name}.py").run()
    assert not page.exception
    assert page.header[0].value == "Exceptions"
    about = [row.label for row in rows_of(page)]
    # Both are due in the large bay on the same days.
    assert about[0] in ("T2", "T5")
    assert plain("Mechanic, 2027-W01") in about
    assert "progress behind" in said(page)


def test_a_click_on_a_check_shows_it_and_marks_it_in_its_bay(page):
    page.switch_page("pages/planner.py").run()
    assert marked(page) == []
    row_of(page, "T6").click().run()
    assert not page.exception
    assert "**Check T6**" in said(page)
    assert marked(page) == [{"check": "T6"}]
    row_of(page, "T6").click().run()
    assert "**Check T6**" not in said(page)
    assert marked(page) == []


def test_a_check_without_a_slot_is_shown_with_its_window_and_marked_on_the_shelf(page):
    page.switch_page("pages/planner.py").run()
    rows_of(page)[0].click().run()
    assert not page.exception
    shown = [value for table in page.table for value in table.value.get("Value", [])]
    assert plain("booked, no slot") in shown
    assert marked(page) in ([{"check": "T2"}], [{"check": "T5"}])


def test_a_click_on_a_week_shows_it_and_marks_it_in_the_heat_map(page):
    page.switch_page("pages/base_manager.py").run()
    row_of(page, "Mechanic, 2027-W02").click().run()
    assert not page.exception
    assert "Mechanic in 2027-W02, Mon 11 Jan 2027 to Sun 17 Jan 2027" in said(page)
    assert marked(page) == [[{"skill": "Mechanic", "week": "2027-W02"}]]


def test_of_many_the_worst_are_shown_and_the_rest_counted(page, monkeypatch):
    monkeypatch.setattr(concerns, "MOST_SHOWN", 2)
    page.switch_page("pages/planner.py").run()
    assert len(rows_of(page)) == 2
    (told,) = [one.value for one in page.caption if " more: " in str(one.value)]
    assert "overload" in told
    rest = [Concern("late out", "", ""), Concern("overload", "", ""), Concern("late out", "", "")]
    assert counts_in_words(rest) == "2 late out, 1 overload"


SHOWN: list[View] = []


def list_alone() -> None:
    from tests.ui.pages import test_concerns_list as here
    from ui.parts.board import show_chosen
    from ui.parts.concerns import show_concerns

    show_concerns(here.SHOWN[0], 1)
    show_chosen(here.SHOWN[0], 1)


@pytest.fixture
def alone(monkeypatch: pytest.MonkeyPatch) -> Callable[[View], AppTest]:
    """Show the list of a view by itself."""
    monkeypatch.setattr(concerns, "once_a_run", lambda name, run, make: make())

    def show(of: View) -> AppTest:
        SHOWN[:] = [of]
        app = AppTest.from_function(list_alone).run()
        assert not app.exception
        return app

    return show


def test_a_plan_without_fault_says_so_in_a_sentence(alone):
    checks = tuple(replace(check, agreed_out=None) for check in base().checks)
    crews = tuple(replace(crew, heads=40) for crew in base().crews)
    app = alone(view(base(checks=checks, crews=crews)))
    assert [text.value for text in app.text] == [NOTHING_WRONG]
    assert rows_of(app) == []


def test_a_hostile_name_is_shown_as_it_stands(alone):
    c1, c2 = base().checks
    app = alone(view(base(checks=(c1, replace(c2, name=HOSTILE)))))
    assert HOSTILE in list(texts_of_page(app))
    row_of(app, HOSTILE).click().run()
    assert not app.exception
    assert f"**Check {plain(HOSTILE)}**" in said(app)
