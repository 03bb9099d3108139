"""The page Commercial without a browser: ask about an aircraft, see the answer."""

import json
from datetime import date

import pytest
from streamlit.testing.v1 import AppTest

from capacity.errors import EngineError
from capacity.questions.enquiries.asked import ask, enquiry
from capacity.questions.enquiries.combinations import alone_and_together
from capacity.reports.enquiries.wording import verdict_in_words
from tests.ui.enquiry_plans import PAGE, asked, commercial_page, field, put_on
from tests.ui.ways_through import MOST_SECONDS, button, desk_of, said
from ui.commercial.enquiry_copy import copy_of, takings_of
from ui.commercial.enquiry_job import Question, start_enquiries, told_of
from ui.commercial.enquiry_rows import break_even
from ui.desk.plan_job import result_of

FIRST = date(2027, 1, 4)


@pytest.fixture
def commercial(app):
    """The page, with a plan of the smallest sample made beforehand."""
    return commercial_page(app)


def test_without_a_plan_the_page_says_what_to_do_first(app):
    app.switch_page(PAGE).run()
    assert not app.exception
    assert "make a plan on the page Planner" in app.info[0].value
    assert not app.button


def test_the_form_offers_what_the_base_knows_and_nobody_moves_at_first(commercial):
    assert not commercial.exception
    base = result_of(desk_of(commercial)).opened.book.base
    assert field(commercial, "selectbox", "Aircraft type").options == [t.name for t in base.types]
    assert field(commercial, "selectbox", "Package").options == [p.name for p in base.packages]
    movable = field(commercial, "multiselect", "Checks that may move")
    assert movable.value == []
    assert movable.options == ["T2", "T3", "T4"]  # T1 is fixed
    assert field(commercial, "number_input", "Price offered").label == "Price offered (EUR)"
    assert "Nothing has been asked of this plan yet." in said(commercial)


def ask_about_a_wash(app: AppTest) -> AppTest:
    """Ask about a wash of the small type that must come in before the week is out.

    Its 40 man-hours find the mechanics of 2027-W01 busy: overtime at 40 EUR, 1,600 EUR in all.
    """
    field(app, "selectbox", "Package").set_value("Wash and inspect")
    field(app, "date_input", "Latest in").set_value(date(2027, 1, 13))
    field(app, "number_input", "Price offered").set_value(1500.0)
    return asked(app)


def test_a_promise_of_days_is_asked_about(commercial):
    """A wash of two days: with one day agreed every slot is late out, and the answer says so."""
    field(commercial, "number_input", "Agreed days").set_value(1)
    field(commercial, "number_input", "Late cost").set_value(100.0)
    ask_about_a_wash(commercial)
    assert not commercial.exception
    (answer,) = told_of(desk_of(commercial)).answers
    assert (answer.enquiry.agreed_days, answer.enquiry.agreed_out) == (1, None)
    assert all(slot.late_days >= 1 for slot in answer.slots)
    assert "out 1 day after it comes in" in said(commercial)


def test_the_answer_about_one_aircraft_is_that_of_the_question(commercial):
    ask_about_a_wash(commercial)
    assert not commercial.exception
    result = result_of(desk_of(commercial))
    base, plan = result.opened.book.base, result.outcome.plan
    latest = date(2027, 1, 13)
    one = enquiry(base, "Alder 50", "Wash and inspect", FIRST, latest=latest, price=1500.0)
    (answer,) = ask(base, plan, [one])
    assert told_of(desk_of(commercial)).answers == (answer,)
    text = said(commercial)
    assert "**not worth it at this price**" in text
    assert (
        "1,500 EUR is offered; the break-even price is 1,600 EUR with nobody moved: 100 EUR" in text
    )
    assert verdict_in_words(answer, base) in text
    assert "in from Mon 4 Jan 2027 to Wed 13 Jan 2027" in text
    values = {metric.label: metric.value for metric in commercial.metric}
    assert values["Break-even price"] == "1\\,600 EUR"
    assert values["Bay"] == "Small bay"
    assert values["In"] == "Mon 4 Jan 2027"


def test_the_curve_the_hours_and_every_slot_are_shown(commercial):
    ask_about_a_wash(commercial)
    (answer,) = told_of(desk_of(commercial)).answers
    spec = json.loads(commercial.get("vega_lite_chart")[0].proto.spec)
    rows = [row for layer in spec["layer"] for row in layer["data"]["values"]]
    kinds = {row["week"]: row["kind"] for row in rows if "week" in row}
    assert kinds == {"2027-W01": "nobody moved", "2027-W02": "no slot unless others move"}
    tables = [table.value for table in commercial.dataframe]
    (slots,) = (table for table in tables if "Pace" in table)
    assert list(slots["Break-even price (EUR)"]) == [break_even(slot.cost) for slot in answer.slots]
    (hours,) = (table for table in tables if "More overtime (man-hours)" in table)
    assert list(hours["Week"]) == ["2027-W01"]
    assert list(hours["More overtime (man-hours)"]) == [40.0]
    assert list(hours["Overload"]) == [""]
    (costs,) = (table for table in tables if "Kind of cost" in table)
    assert list(costs["Kind of cost"]) == ["Overtime", "Cost in all: the break-even price"]
    assert list(costs["nobody moved (EUR)"]) == [1600.0, 1600.0]


def test_faults_in_the_form_are_told_and_no_job_begins(commercial):
    field(commercial, "date_input", "Latest in").set_value(date(2026, 12, 1))
    field(commercial, "text_input", "Name").set_value("T1")
    before = desk_of(commercial).job
    asked(commercial)
    assert not commercial.exception
    assert "Nothing has been asked yet" in commercial.error[0].value
    told = commercial.table[0].value
    assert list(told["Where"]) == ["T1\\, Check", "T1\\, Latest in"]
    assert all(told["What to do"])
    assert desk_of(commercial).job is before


def test_others_move_only_when_they_may(commercial):
    """In the one small bay T3 must wait for it.

    100 h overtime at 40 EUR, 80 h contract labour at 70 EUR, less 4 early days of T3 at 900 EUR.
    """
    field(commercial, "date_input", "Latest in").set_value(date(2027, 1, 10))
    asked(commercial)
    assert "**no slot known**" in said(commercial)
    assert "No check may move." in said(commercial)
    assert not [table for table in commercial.dataframe if "What moves" in table.value]
    field(commercial, "checkbox", "All checks may move").set_value(True)
    asked(commercial)
    assert not commercial.exception
    told = told_of(desk_of(commercial))
    assert told.question.may_move is None
    (answer,) = told.answers
    assert not answer.slots
    assert "All checks may move." in said(commercial)
    assert "the break-even price is 6,000 EUR when T3 moves" in said(commercial)
    (moved,) = (t.value for t in commercial.dataframe if "What moves" in t.value)
    assert list(moved["Check"]) == ["T3"]
    assert list(moved["Days later (minus: earlier)"]) == [answer.with_moves.moves[0].days]
    (costs,) = (t.value for t in commercial.dataframe if "Kind of cost" in t.value)
    assert list(costs["others moved (EUR)"]) == [4000, 5600, -3600, 6000]
    (taking,) = takings_of(told)
    assert taking.label == "Enquiry, others moved"
    assert copy_of(taking, told).comparison.second.broken == ()


def test_work_is_shown_can_be_stopped_and_no_second_question_begins(commercial, monkeypatch):
    def slow(*args, stop, **more):
        stop.wait(MOST_SECONDS)
        return alone_and_together(*args, stop=stop, **more)

    monkeypatch.setattr("ui.commercial.enquiry_job.alone_and_together", slow)
    desk = desk_of(commercial)
    button(commercial, "Ask").click().run()
    job = desk.job
    assert start_enquiries(desk, Question((), None, False, 1.0)) is None
    assert button(commercial, "Ask").disabled
    assert "Nothing has been asked" not in said(commercial)
    button(commercial, "Stop").click().run()
    job.join(MOST_SECONDS)
    commercial.run()
    assert not commercial.exception
    assert told_of(desk).was_stopped
    assert "It was stopped" in commercial.warning[0].value
    assert not button(commercial, "Ask").disabled


def test_a_question_that_breaks_off_says_so_and_leaves_the_page_usable(commercial, monkeypatch):
    def broken(*args, **more):
        raise EngineError("nothing came back")

    monkeypatch.setattr("ui.commercial.enquiry_job.alone_and_together", broken)
    asked(commercial)
    assert "The work broke off" in commercial.error[0].value
    assert "nothing came back" in said(commercial)
    monkeypatch.undo()
    asked(commercial)
    assert not commercial.error
    assert told_of(desk_of(commercial)) is not None


def test_an_answer_is_not_shown_beside_another_plan(commercial):
    asked(commercial)
    desk = desk_of(commercial)
    assert told_of(desk) is not None
    put_on(desk, desk.opened, result_of(desk).outcome)
    commercial.run()
    assert told_of(desk) is None
    assert "made again since the last enquiry" in commercial.info[0].value


def test_what_was_asked_stands_in_the_form_again_after_another_page(commercial):
    ask_about_a_wash(commercial)
    commercial.switch_page("pages/planner.py").run()
    commercial.switch_page(PAGE).run()
    assert not commercial.exception
    assert field(commercial, "selectbox", "Package").value == "Wash and inspect"
    assert field(commercial, "date_input", "Latest in").value == date(2027, 1, 13)
    assert "1,500 EUR is offered" in said(commercial)
