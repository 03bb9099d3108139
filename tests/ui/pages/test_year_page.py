"""The page Planner with a year of 300 checks in 20 bays, as big as a large base has it."""

import json
from dataclasses import replace
from itertools import pairwise

import pytest

from capacity.inputs.book import Book
from capacity.plans.plan import Plan
from capacity.reports.plan.view import View, view_of
from tests.ui.plans import view
from tests.ui.shown_board import board_shown, rows_shown
from tests.ui.ways_through import desk_of, said
from tests.ui.year_plan import BAYS, CHECKS_A_BAY, PACKAGE, SKILLS, year_base, year_outcome
from ui.charts.heat_map import heat_map
from ui.desk.desk import Desk
from ui.desk.opened_workbook import OpenedBook
from ui.desk.plan_job import PLAN
from ui.look import DARK, LIGHT
from ui.manager.heat_rows import heat_rows
from ui.parts.cached_chart import spec_of
from ui.planner.board_rows import board_rows

CHECKS = BAYS * CHECKS_A_BAY


@pytest.fixture(scope="module")
def year() -> View:
    return view_of(year_base(), year_outcome(), ())


def test_the_year_that_is_laid_by_hand_breaks_no_rule(year):
    assert len(year.placements) == CHECKS == 300
    assert not year.outcome.plan.not_placed
    assert not year.outcome.audit.broken
    assert any(load.overload > 0 for load in year.outcome.audit.weeks)


def test_every_placement_and_stage_of_the_year_is_on_the_board(year):
    rows = board_rows(year)
    found = {(b.check, rows.bays[b.bay].name, rows.day(b.first), rows.day(b.until))
             for b in rows.blocks}  # fmt: skip
    assert found == {(p.check, p.bay, p.in_day, p.out_day) for p in year.placements}
    assert {len(block.stages) for block in rows.blocks} == {len(PACKAGE.stages)}


def test_every_bay_of_the_year_has_a_row_of_its_own_and_no_block_runs_into_another(year):
    rows = board_rows(year)
    assert len(rows.bays) == BAYS
    for number in range(BAYS):
        stays = sorted((b.first, b.until) for b in rows.blocks if b.bay == number)
        assert len(stays) == CHECKS_A_BAY
        assert all(one[1] <= other[0] for one, other in pairwise(stays))


def test_every_week_of_the_year_has_a_cell_and_its_limits_in_each_skill(year):
    rows = board_rows(year)
    weeks = [week.name for week in rows.weeks]
    assert len(weeks) >= 52
    assert {hours.skill for hours in rows.hours} == set(SKILLS)
    assert all(len(hours.limits) == len(weeks) for hours in rows.hours)
    found = {(rows.skills[cell.skill], weeks[cell.week]) for cell in rows.cells}
    assert found == {(load.skill, load.week) for load in year.outcome.audit.weeks}


def test_numbers_stand_upright_where_weeks_are_too_narrow_for_them(year):
    turned, level = (heat_map(heat_rows(of), LIGHT).to_dict() for of in (year, view()))
    assert [chart["layer"][1]["mark"]["angle"] for chart in (turned, level)] == [270, 0]
    # Four skills, each with room for a number such as "▲ 1,894 h" on end.
    assert turned["height"] > 4 * 64


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])
def test_a_chart_handed_on_unchecked_is_what_the_schema_of_the_chart_language_takes(year, look):
    """``to_dict`` checks a chart against the published schema of Vega-Lite and raises."""
    chart = heat_map(heat_rows(year), look)
    checked, handed_on = chart.to_dict(), spec_of(chart)
    view = checked["config"]["view"]
    del view["continuousWidth"], view["continuousHeight"]
    assert handed_on == checked


def test_the_rows_of_the_board_are_made_once_a_run_and_again_for_the_next_one(app, monkeypatch):
    made = []

    def counted(view):
        made.append(len(view.placements))
        return board_rows(view)

    monkeypatch.setattr("ui.parts.board.board_rows", counted)
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
    assert len(rows_shown(app)["blocks"]) == CHECKS
    # A click sends the board's own message again, and that has no rows of the plan.
    assert PACKAGE.name not in json.dumps(board_shown(app))


def show_year(app) -> Desk:
    """Put the year and its plan on the desk of a page, and draw the page."""
    desk, outcome = desk_of(app), year_outcome()
    desk.open(OpenedBook("year.xlsx", None, Book(year_base(), ())))
    desk.start(PLAN, desk.opened, lambda tell, stop: outcome, 60.0).join(30)
    app.run()
    assert not app.exception
    return desk
