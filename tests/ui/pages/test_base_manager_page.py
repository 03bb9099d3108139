"""The page Base manager without a browser, and the tables that it shows."""

import pytest

from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.questions.overtime.measures import Figures, How, Measure, Measures
from capacity.questions.overtime.review import review_overtime
from capacity.reports.plan.sheet_man_hour_plan import MONTH_COLUMNS
from capacity.reports.plan.wording import bought
from tests.ui.plans import base, stay, view
from tests.ui.ways_through import button, desk_of, make_plan, said, upload
from ui.charts.common import picked
from ui.desk.job import State
from ui.desk.plan_job import result_of
from ui.manager.labour_tables import (
    bought_by_week_and_skill,
    labour_figures,
    measures_sentence,
    measures_table,
    months_table,
    overtime_by_crew,
    overtime_by_week_and_crew,
)
from ui.parts.risk import TITLE
from ui.planner.behind import assigned_in_week, demand_of_week, load_of, week_sentence

PAGE = "pages/base_manager.py"


def test_without_a_plan_the_page_says_what_to_do_next(app):
    app.switch_page(PAGE).run()
    assert not app.exception
    assert "make a plan on the page Planner" in app.info[0].value
    assert "releases no aircraft" in said(app)
    assert not app.get("vega_lite_chart")


def test_with_a_plan_the_page_shows_weeks_overtime_rules_measures_crews_and_months(app):
    make_plan(upload(app, "tiny.xlsx"))
    app.switch_page(PAGE).run()
    assert not app.exception
    headings = [heading.value for heading in app.header]
    assert headings == [
        "Exceptions", "Key figures", "Weeks and skills", "Overtime", "Working-time rules",
        "Measures that would take overtime away", TITLE, "Crews by aircraft and shift",
        "Man-hours by month",
    ]  # fmt: skip
    assert [metric.label for metric in app.metric] == [
        "Overtime", "Contract labour", "Overload"
    ]  # fmt: skip
    assert len(app.get("vega_lite_chart")) == 1


def test_a_click_on_a_week_shows_what_is_behind_it(app):
    make_plan(upload(app, "tiny.xlsx"))
    app.switch_page(PAGE).run()
    pick = {"skill": "Mechanic", "week": "2027-W02"}
    app.session_state[f"weeks {result_of(desk_of(app)).number}"] = {"selection": {"pick": [pick]}}
    app.run()
    assert not app.exception
    assert "Mechanic in 2027-W02, Mon 11 Jan 2027 to Sun 17 Jan 2027" in said(app)


def test_measures_are_tried_once_and_shown(app):
    make_plan(upload(app, "tiny.xlsx"))
    app.switch_page(PAGE).run()
    button(app, "Try the measures").click().run()
    job = desk_of(app).job
    assert desk_of(app).job_kind == "measures"
    job.stop()
    job.join(60)
    assert job.state is State.DONE, job.failure
    app.run()
    assert not app.exception
    assert "A longer search without any measure" in said(app)


# Tables, against hours worked out by hand: see tests/ui/charts/test_charts.py for the week.


def test_figures_are_man_hours_and_money():
    assert labour_figures(view()) == [
        ("Overtime", "60 h", "3,600 EUR"),
        ("Contract labour", "75 h", "6,750 EUR"),
        ("Overload", "325 h", "162,500 EUR"),
    ]


def test_overtime_by_crew_has_its_cost_and_hours_per_head():
    of = view()
    (row,) = overtime_by_crew(review_overtime(of.base, of.outcome.plan), of.base)
    assert row["Crew"] == "red"
    assert (row["Overtime (man-hours)"], row["Cost (EUR)"]) == (60, 3600)
    # 60 booked man-hours are 80 attended ones at 75 %, over ten heads.
    assert row["Worst week, attended hours per head"] == 8
    (week,) = overtime_by_week_and_crew(review_overtime(of.base, of.outcome.plan), of.base)
    assert (week["Week"], week["Overtime (man-hours)"]) == ("2027-W01", 60)


def test_hours_bought_name_the_caps_that_they_reach():
    of = view()
    (row,) = bought_by_week_and_skill(review_overtime(of.base, of.outcome.plan), of.base)
    assert row["Overload (man-hours)"] == 325
    assert "overtime cap" in row["Caps reached"]


def test_what_checks_ask_adds_up_to_the_week():
    of = view(None, stay("C1", "B1", 0), stay("C2", "B2", 2))
    for load in of.outcome.audit.weeks:
        rows = demand_of_week(of, load.week, load.skill)
        demand = sum(row["Demand (man-hours)"] for row in rows)
        assert demand == pytest.approx(load.demand, abs=0.1)
    assert [row["Check"] for row in demand_of_week(of, "2027-W01", "mechanic")] == ["C1", "C2"]


def test_what_crews_give_is_told_and_the_week_in_a_sentence():
    of = view()
    (given,) = assigned_in_week(of, "2027-W01", "mechanic")
    assert (given["Crew"], given["Assigned (man-hours)"]) == ("red", 300)
    week = load_of(of, "2027-W01", "mechanic")
    assert week_sentence(week) == (
        "mechanic in 2027-W01, Mon 4 Jan 2027 to Sun 10 Jan 2027: "
        f"demand 760 h, available 300 h regular; on top: {', '.join(bought(week))}."
    )
    assert load_of(of, "2027-W50", "mechanic") is None


@pytest.mark.parametrize(
    ("event", "told"),
    [
        (None, None),
        ({}, None),
        ({"selection": {"pick": {}}}, None),
        ({"selection": {"pick": []}}, None),
        ({"selection": {"pick": [{"week": "2027-W01"}]}}, None),
        ({"selection": {"pick": [{"week": "2027-W01", "skill": "a"}]}}, ("2027-W01", "a")),
    ],
)
def test_a_click_is_read_only_when_it_is_whole(event, told):
    assert picked(event, "week", "skill") == told


def test_months_have_the_columns_of_the_workbook():
    of = view()
    (row,) = months_table(man_hour_plan(of.base, of.outcome.plan))
    assert list(row) == [column.heading for column in MONTH_COLUMNS]
    assert (row["Month"], row["Needed (h)"]) == ("Jan 2027", 760)
    assert "on only" in row["Remarks"]
    # Twenty working days of the crew from 4 Jan to 31 Jan, 60 h each.
    assert row["Actually available (h)"] == 1200


def test_measures_are_told_with_their_units():
    now, after = Figures(60, 75, 325, 1.0, 0, 900.0), Figures(20, 0, 0, 1.0, 0, 400.0)
    measure = Measure(
        "heads", "one more head", How.SEARCHED_ANEW, after, 40, 500.0, None, 12.0, ("C2",)
    )
    (row,) = measures_table(Measures(now, now, (measure,), ()), base())
    assert row["Saves (EUR)"] == 500
    assert row["Less overtime (man-hours)"] == 40
    assert row["Checks moved"] == "C2"
    assert "found nothing better" in measures_sentence(Measures(now, now, (), ()), base())
    assert "for 400 EUR" in measures_sentence(Measures(now, after, (), ()), base())


def test_key_figures_stand_beside_those_of_the_plan_before(app):
    make_plan(upload(app, "tiny.xlsx"))
    app.switch_page(PAGE).run()
    assert "Earlier plan" not in app.table[0].value
    app.switch_page("pages/planner.py").run()
    make_plan(app)
    app.switch_page(PAGE).run()
    assert not app.exception
    figures = app.table[0].value
    assert next(iter(figures["Figure"])) == "Bay use"
    assert list(figures["Earlier plan"]) == list(figures["Value"])
    assert "Every check has the slot that it had in the earlier plan." in said(app)
