"""Why, asked on the pages: said as the command says it, kept with plan and check."""

from pathlib import Path
from threading import Event

import pytest
from streamlit.testing.v1 import AppTest

from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.settings import Settings
from tests.troubled_workbook import write_troubled
from tests.ui.enquiry_plans import put_on
from tests.ui.ways_through import MOST_SECONDS, desk_of
from ui.board.component import PickedCheck
from ui.desk.opened_workbook import OpenedBook, opened_from_path
from ui.desk.plan_job import result_of
from ui.parts.chosen import CHOSEN
from ui.parts.why import OF_CHECK, OF_MORE
from ui.planner.why_job import WhyAsked, answers_of, said_of, start_why


@pytest.fixture(scope="module")
def troubled(tmp_path_factory: pytest.TempPathFactory) -> tuple[OpenedBook, Planned]:
    """A workbook whose plan has every trouble, and that plan."""
    path: Path = write_troubled(tmp_path_factory.mktemp("why") / "troubled.xlsx")
    opened = opened_from_path(path)
    outcome = plan(opened.book.base, Settings(seconds=1))
    assert isinstance(outcome, Planned)
    return opened, outcome


def texts(app: AppTest) -> str:
    return "\n".join(element.value for element in app.text)


def chosen(app: AppTest, check: str) -> AppTest:
    """Click a check in the list of exceptions."""
    app.session_state[CHOSEN] = (result_of(desk_of(app)).number, PickedCheck(check))
    return app.run()


def test_why_is_asked_in_the_panel_of_a_check_and_kept_with_it(app, troubled):
    desk, (opened, outcome) = desk_of(app), troubled
    put_on(desk, opened, outcome)
    name = outcome.plan.not_placed[0]
    chosen(app, name)
    (ask,) = (b for b in app.button if b.label == OF_CHECK)
    ask.click().run()
    desk.job.join(MOST_SECONDS)
    app.run()
    assert not app.exception
    asked = said_of(
        WhyAsked(name), opened.book.base, outcome.plan, opened.book.where, Settings(20), Event()
    )
    assert f"{name} has no slot in the plan (Checks!" in asked[1]
    assert "conflict" in "".join(asked)
    assert "\n".join(asked) in texts(app)
    # It is still there when another check was asked about in between, and after another page.
    other = next(a.check for a in outcome.audit.accounts if a.late_days)
    start_why(desk, WhyAsked(other), 5.0).join(MOST_SECONDS)
    app.switch_page("pages/base_manager.py").run()
    app.switch_page("pages/planner.py").run()
    assert "\n".join(asked) in texts(app)
    assert set(answers_of(desk).said) == {WhyAsked(name), WhyAsked(other)}
    # A new plan has to be asked anew.
    put_on(desk, opened, outcome)
    assert not answers_of(desk).said


def test_what_a_ready_date_costs_is_told_of_the_check_that_waits(troubled):
    opened, outcome = troubled
    asked = WhyAsked(opened.book.base.ready_dates[0].check)
    said = said_of(
        asked, opened.book.base, outcome.plan, opened.book.where, Settings(seconds=4), Event()
    )
    assert any(line.startswith("Each Ready date is taken away by itself") for line in said)


def test_the_whole_plan_is_asked_what_more_is_worth(app, troubled):
    desk = desk_of(app)
    put_on(desk, *troubled)
    app.run()
    app.number_input(key="seconds to find out why plan").set_value(1).run()
    (ask,) = (b for b in app.button if b.label == OF_MORE)
    ask.click().run()
    desk.job.join(MOST_SECONDS)
    app.run()
    assert not app.exception
    assert "Searched anew without any change the plan has" in texts(app)
    # Another question that is stopped takes away no answer that there is.
    job = start_why(desk, WhyAsked(), 60.0)
    job.stop()
    job.join(MOST_SECONDS)
    assert set(answers_of(desk).said) == {WhyAsked(worth=True)}
