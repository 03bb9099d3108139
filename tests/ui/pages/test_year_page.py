"""The page Planner with a year of 300 checks in 20 bays, as big as a large base has it."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pytest

from capacity.inputs.book import Book
from capacity.plans.plan import Plan
from capacity.reports.plan.view import View, view_of
from tests.ui.plans import view
from tests.ui.ways_through import desk_of, said
from tests.ui.year_plan import BAYS, CHECKS_A_BAY, PACKAGE, SKILLS, year_base, year_outcome
from ui.charts.heat_map import heat_map
from ui.charts.man_hours import man_hours_chart
from ui.charts.occupancy import occupancy_chart
from ui.days import at
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook
from ui.desk.plan_job import PLAN
from ui.look import DARK, LIGHT
from ui.manager.heat_rows import heat_rows
from ui.parts.cached_chart import spec_of
from ui.planner.bay_rows import occupancy_of
from ui.planner.week_rows import skills_worst_first, week_rows

CHECKS = BAYS * CHECKS_A_BAY


@pytest.fixture(scope="module")
def year() -> View:
    return view_of(year_base(), year_outcome(), ())


def rows_of_layers(chart) -> list[dict]:
    made = chart.to_dict()
    return [row for layer in made["layer"] for row in layer["data"].get("values", [])]


def test_the_year_that_is_laid_by_hand_breaks_no_rule(year):
    assert len(year.placements) == CHECKS == 300
    assert not year.outcome.plan.not_placed
    assert not year.outcome.audit.broken
    assert any(load.overload > 0 for load in year.outcome.audit.weeks)


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_every_placement_and_stage_of_the_year_is_in_the_chart(year, look):
    rows = rows_of_layers(occupancy_chart(occupancy_of(year), look))
    blocks = {
        (row["check"], row["bay"], row["from"], row["until"]) for row in rows if "package" in row
    }
    assert blocks == {(p.check, p.bay, at(p.in_day), at(p.out_day)) for p in year.placements}
    stages = Counter(row["check"] for row in rows if "stage" in row)
    assert set(stages.values()) == {len(PACKAGE.stages)}
    assert len(stages) == CHECKS


def test_every_bay_of_the_year_has_a_row_of_its_own_and_no_block_runs_into_another(year):
    shown = occupancy_of(year)
    assert len(shown.bays) == BAYS
    by_bay: dict[float, list[tuple[str, str]]] = {}
    for block in shown.blocks:
        by_bay.setdefault(block["y0"], []).append((block["from"], block["until"]))
    assert len(by_bay) == BAYS
    for stays in by_bay.values():
        stays.sort()
        assert all(one[1] <= other[0] for one, other in pairwise(stays))


def test_numbers_stand_upright_where_weeks_are_too_narrow_for_them(year):
    turned, level = (heat_map(heat_rows(of), LIGHT).to_dict() for of in (year, view()))
    assert [chart["layer"][1]["mark"]["angle"] for chart in (turned, level)] == [270, 0]
    # Four skills, each with room for a number such as "▲ 1,894 h" on end.
    assert turned["height"] > 4 * 64


def test_charts_of_the_year_are_drawn_as_shapes_however_many_marks_there_are(year):
    charts = [occupancy_chart(occupancy_of(year), LIGHT)]
    charts += [man_hours_chart(week_rows(year, name), LIGHT) for name in skills_worst_first(year)]
    assert len(charts) == 5
    assert len(rows_of_layers(charts[0])) > 2000
    for chart in charts:
        assert chart.to_dict()["usermeta"]["embedOptions"]["renderer"] == "svg"


def test_every_week_of_the_year_is_in_the_chart_of_each_skill(year):
    for skill in skills_worst_first(year):
        rows = rows_of_layers(man_hours_chart(week_rows(year, skill), LIGHT))
        weeks = {row["week"] for row in rows if "limit" in row}
        assert weeks == {w.week for w in year.outcome.audit.weeks if w.skill == skill}
        assert len(weeks) >= 52


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_charts_handed_on_unchecked_are_what_the_schema_of_the_chart_language_takes(year, look):
    """``to_dict`` checks a chart against the published schema of Vega-Lite and raises."""
    charts = [
        occupancy_chart(occupancy_of(year), look),
        man_hours_chart(week_rows(year, SKILLS[0]), look),
    ]
    for chart in charts:
        checked, handed_on = chart.to_dict(), spec_of(chart)
        view = checked["config"]["view"]
        del view["continuousWidth"], view["continuousHeight"]
        assert handed_on == checked


def test_a_chart_is_made_once_a_run_and_again_for_the_next_one(app, monkeypatch):
    made = []

    def counted(rows, look):
        made.append(len(rows.blocks))
        return occupancy_chart(rows, look)

    monkeypatch.setattr("ui.parts.occupancy.occupancy_chart", counted)
    desk = show_year(app)
    app.run()
    assert made == [CHECKS]
    fewer = replace(year_outcome(), plan=Plan(year_outcome().plan.placements[:200], (), ()))
    desk.start(PLAN, desk.opened, lambda tell, stop: fewer, 60.0).join(30)
    app.run()
    assert not app.exception
    assert made == [CHECKS, 200]


def test_the_planner_page_shows_the_year(app):
    show_year(app)
    assert "300 checks, 20 bays, 52 weeks" in said(app)
    assert len(app.get("vega_lite_chart")) == 2
    assert PACKAGE.name in app.get("vega_lite_chart")[0].proto.spec


def show_year(app) -> Desk:
    """Put the year and its plan on the desk of a page, and draw the page."""
    desk, outcome = desk_of(app), year_outcome()
    desk.open(OpenedBook("year.xlsx", None, Book(year_base(), ())))
    desk.start(PLAN, desk.opened, lambda tell, stop: outcome, 60.0).join(30)
    app.run()
    assert not app.exception
    return desk
