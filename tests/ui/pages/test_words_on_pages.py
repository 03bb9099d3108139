"""The words of the three pages and of what they print, with a plan that has every mark."""

from itertools import chain

import pytest
from streamlit.testing.v1 import AppTest

from capacity.crews.crew_settings import CrewSettings
from capacity.planning import plan
from capacity.plans.outcome import Planned
from capacity.reports.crews.workbook import shift_lists
from capacity.reports.plan.view import view_of
from capacity.reports.plan.wording import CAUTION
from capacity.settings import Settings
from capacity.words.marks import AGREED, SQUARE, TRIANGLE
from tests.ruled_out_words import faults_in
from tests.troubled_workbook import write_troubled
from tests.ui.enquiry_plans import asked, field, put_on
from tests.ui.printed_page import read
from tests.ui.ways_through import MOST_SECONDS, desk_of
from tests.ui.words_on_pages import texts_of_page
from ui.desk.desk import Desk
from ui.desk.job import Job, State
from ui.desk.opened_workbook import OpenedBook, opened_from_path
from ui.desk.plan_job import result_of
from ui.manager.crew_job import crew_answer, start_crews
from ui.manager.labour_view import labour_of
from ui.manager.measures_job import measures_of, start_measures
from ui.printing.labour import labour_page
from ui.printing.shift import shift_page

ON_THE_PAGES = {
    "planner": (
        "no slot", "late out", "third party", "option", "closed", "past Latest in", "not taken",
        "overload", "contract", AGREED, SQUARE, "Exceptions", "What to do first",
    ),
    "base_manager": (
        "Exceptions", "overload", TRIANGLE, "Tried with", "Shift lists", "Man-hours by month",
    ),
    "commercial": ("break-even price", "not worth it at this price", "overload"),
}  # fmt: skip
"""What a person reads on them, so that no sentence is let off for not being there."""


@pytest.fixture(scope="module")
def troubled(tmp_path_factory: pytest.TempPathFactory) -> tuple[OpenedBook, Planned]:
    """The workbook as a person opens it, and a plan of it."""
    opened = opened_from_path(write_troubled(tmp_path_factory.mktemp("words") / "troubled.xlsx"))
    base = opened.book.base
    assert base is not None, opened.book.messages
    outcome = plan(base, Settings(seconds=1))
    assert isinstance(outcome, Planned)
    return opened, outcome


def ended(desk: Desk, job: Job | None) -> None:
    assert job is not None
    job.join(MOST_SECONDS)
    assert job.state is State.DONE, job.failure
    assert not desk.is_working


@pytest.fixture
def answered(app: AppTest, troubled: tuple[OpenedBook, Planned]) -> AppTest:
    """The dashboard with the plan, measures tried, and crews put on aircraft."""
    desk = desk_of(app)
    put_on(desk, *troubled)
    ended(desk, start_measures(desk, 1.0))
    ended(desk, start_crews(desk, CrewSettings(weeks=1, seconds=1)))
    return app


def shown(app: AppTest, page: str) -> list[str]:
    app.switch_page(f"pages/{page}.py").run()
    assert not app.exception
    return list(texts_of_page(app))


def held_to_the_words(texts: list[str], expected: tuple[str, ...]) -> None:
    read_there = "\n".join(texts)
    assert [words for words in expected if words not in read_there] == []
    assert faults_in(texts) == []


def test_the_three_pages_without_a_workbook(app: AppTest):
    for page in ("planner", "base_manager", "commercial"):
        held_to_the_words(shown(app, page), ())


def test_the_page_planner(answered: AppTest):
    held_to_the_words(shown(answered, "planner"), ON_THE_PAGES["planner"])


def test_the_page_base_manager_and_what_it_prints(answered: AppTest):
    held_to_the_words(shown(answered, "base_manager"), ON_THE_PAGES["base_manager"])
    desk = desk_of(answered)
    result, answer = result_of(desk), crew_answer(desk)
    assert result is not None
    assert answer is not None
    base, outcome = result.opened.book.base, result.outcome
    view = view_of(base, outcome, result.opened.book.messages)
    lists = shift_lists(answer.staffed, outcome.plan, base)
    pages = [labour_page(labour_of(view), measures_of(desk))]
    pages += [shift_page(one, base.name, outcome.plan) for one in lists[:2]]
    assert len(pages) == 3
    for page in pages:
        held_to_the_words(list(chain(*read(page).texts.values())), (CAUTION,))


def test_the_page_commercial_with_an_answer(answered: AppTest):
    answered.switch_page("pages/commercial.py").run()
    field(answered, "checkbox", "All checks may move").set_value(True)
    field(answered, "number_input", "Seconds").set_value(1)
    field(answered, "number_input", "Price offered").set_value(1000.0)
    asked(answered)
    texts = shown(answered, "commercial")
    held_to_the_words(texts, ON_THE_PAGES["commercial"])
