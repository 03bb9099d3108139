"""The risk of the plan on the pages: the question's own answer, of the plan that it names."""

import pytest

from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated import risk_of
from capacity.reports.kit.issue import plan_number
from capacity.reports.risk.sheet_risk import in_words
from tests.ruled_out_words import faults_in
from tests.ui.enquiry_plans import opened_tiny, planned_by_hand, put_on
from tests.ui.plans import view
from tests.ui.ways_through import MOST_SECONDS, button, desk_of, labels, said
from tests.ui.words_on_pages import texts_of_page
from ui.charts.heat_map import heat_map
from ui.desk.plan_job import result_of
from ui.look import LIGHT
from ui.manager.heat_rows import heat_rows
from ui.manager.risk_job import risk_of_plan_shown, risk_on
from ui.manager.risk_rows import checks_at_risk
from ui.parts.risk import OTHER_PLAN

SPREAD_PERCENT = 80.0


@pytest.fixture
def simulated(app):
    """The page of the base manager once the smallest sample was simulated."""
    opened = opened_tiny()
    put_on(desk_of(app), opened, planned_by_hand(opened.book.base))
    app.switch_page("pages/base_manager.py").run()
    (draws,) = (f for f in app.number_input if f.label == "Simulations")
    draws.set_value(300)
    (spread,) = (f for f in app.number_input if f.label.startswith("Spread where"))
    spread.set_value(SPREAD_PERCENT).run()
    button(app, "Simulate").click().run()
    desk_of(app).job.join(MOST_SECONDS)
    return app.run()


def test_the_page_says_what_the_question_answers_and_names_the_plan(simulated):
    assert not simulated.exception
    result = result_of(desk_of(simulated))
    base, plan = result.opened.book.base, result.outcome.plan
    settings = RiskSettings(draws=300, default_spread=SPREAD_PERCENT / 100)
    asked = risk_of(base, plan, settings)
    told = risk_of_plan_shown(desk_of(simulated)).told
    assert told.risk == asked
    for sentence in in_words(asked, base):
        assert sentence in said(simulated)
    assert f"Plan {plan_number(plan)}" in said(simulated).replace("\\", "")
    shown = next(t.value for t in simulated.dataframe if "Buffer (worked days)" in t.value.columns)
    assert list(shown["Check"]) == [row["Check"] for row in checks_at_risk(asked)]
    assert list(shown["Out by then (% of simulations)"]) == sorted(
        round(100 * check.on_day, 1) for check in asked.checks
    )
    assert "Risk workbook (.xlsx)" in labels(simulated)
    assert faults_in(list(texts_of_page(simulated))) == []


def test_weeks_at_risk_are_named_in_the_heat_map():
    of = view()
    load = of.outcome.audit.weeks[0]
    cells = heat_rows(of, {(load.skill, load.week): 0.347}).cells
    assert [cell["risk"] for cell in cells if cell["risk"]] == ["risk 35 %"]
    assert cells[0]["risk"] == "risk 35 %"
    chart = heat_map(heat_rows(of, {(load.skill, load.week): 0.347}), LIGHT).to_dict()
    plain = heat_map(heat_rows(of), LIGHT).to_dict()
    assert [len(one["layer"]) for one in (chart, plain)] == [3, 2]


def test_once_there_is_another_plan_the_risk_is_told_to_be_of_the_one_before(simulated):
    desk, result = desk_of(simulated), result_of(desk_of(simulated))
    put_on(desk, result.opened, result.outcome)
    simulated.run()
    assert OTHER_PLAN in said(simulated)
    assert risk_of_plan_shown(desk) is None
    assert risk_on(desk).result.number == result.number
