"""The page Commercial without a browser: ask about aircraft, see the answer, copy and compare."""

import io
import json
import time
from datetime import date

import openpyxl
import pytest
from streamlit.testing.v1 import AppTest

from capacity.errors import EngineError
from capacity.questions.offers import ask, offer
from capacity.reports.offers_wording import verdict_in_words
from tests.ui.offer_plans import opened_tiny, planned_by_hand, put_on
from tests.ui.pages import EXCEL, MOST_SECONDS, button, desk_of, labels, said
from ui.offer_copy import copy_of, takings_of
from ui.offer_job import Question, start_offers, told_of
from ui.offer_list import MOST_BYTES, MOST_OFFERS
from ui.offer_rows import pays_from
from ui.parts.offer_compare import copy_bytes
from ui.plan_job import result_of

PAGE = "pages/commercial.py"
HEADINGS = ("Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price")
FIRST, LAST = date(2027, 1, 4), date(2027, 1, 24)


@pytest.fixture
def commercial(app):
    """The page, with a plan of the smallest sample made beforehand."""
    opened = opened_tiny()
    put_on(desk_of(app), opened, planned_by_hand(opened.book.base))
    return app.switch_page(PAGE).run()


def field(app, kind: str, label: str):
    (found,) = (element for element in getattr(app, kind) if element.label.startswith(label))
    return found


def asked(app: AppTest) -> AppTest:
    """Press Ask and wait for the answer."""
    button(app, "Ask").click().run()
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()


def listed(*rows: tuple[object, ...]) -> bytes:
    """Return a workbook with a sheet of offers."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Offers"
    for row in (HEADINGS, *rows):
        sheet.append(row)
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def send_list(app: AppTest, content: bytes) -> AppTest:
    field(app, "radio", "Ask about").set_value("A list of offers").run()
    app.file_uploader[0].set_value(("offers.xlsx", content, EXCEL))
    return asked(app)


def two_offers() -> bytes:
    """One that pays alone, and one that wants the same bay in the same days for less."""
    return listed(
        ("P", "Q-OFFP", "Linden 180", "Week check", FIRST, LAST, 9000),
        ("Q", "Q-OFFQ", "Linden 180", "Week check", FIRST, LAST, 8000),
    )


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


def test_the_answer_about_one_aircraft_is_that_of_the_question(commercial):
    ask_about_a_wash(commercial)
    assert not commercial.exception
    result = result_of(desk_of(commercial))
    base, plan = result.opened.book.base, result.outcome.plan
    latest = date(2027, 1, 13)
    one = offer(base, "Alder 50", "Wash and inspect", FIRST, latest=latest, price=1500.0)
    (answer,) = ask(base, plan, [one])
    assert told_of(desk_of(commercial)).answers == (answer,)
    text = said(commercial)
    assert "**DOES NOT PAY**" in text
    assert "1,500 EUR is offered; it pays from 1,600 EUR on with nobody moved: 100 EUR" in text
    assert verdict_in_words(answer, base) in text
    assert "in from Mon 4 Jan 2027 to Wed 13 Jan 2027" in text
    values = {metric.label: metric.value for metric in commercial.metric}
    assert values["Lowest price at which it pays"] == "1\\,600 EUR"
    assert values["Bay"] == "Small bay"
    assert values["Comes in"] == "Mon 4 Jan 2027"


def test_the_curve_the_hours_and_every_place_are_shown(commercial):
    ask_about_a_wash(commercial)
    (answer,) = told_of(desk_of(commercial)).answers
    spec = json.loads(commercial.get("vega_lite_chart")[0].proto.spec)
    rows = [row for layer in spec["layer"] for row in layer["data"]["values"]]
    kinds = {row["week"]: row["kind"] for row in rows if "week" in row}
    assert kinds == {"2027-W01": "nobody moved", "2027-W02": "no place"}
    tables = [table.value for table in commercial.dataframe]
    (places,) = (table for table in tables if "Pace" in table)
    assert list(places["Pays from (EUR)"]) == [pays_from(slot.cost) for slot in answer.slots]
    (hours,) = (table for table in tables if "Overtime more (man-hours)" in table)
    assert list(hours["Week"]) == ["2027-W01"]
    assert list(hours["Overtime more (man-hours)"]) == [40.0]
    assert list(hours["Overload"]) == [""]
    (costs,) = (table for table in tables if "What it is for" in table)
    assert list(costs["What it is for"]) == ["Overtime", "All together: it pays from"]
    assert list(costs["nobody moved (EUR)"]) == [1600.0, 1600.0]


def test_faults_in_the_form_are_told_and_no_job_begins(commercial):
    field(commercial, "date_input", "Latest in").set_value(date(2026, 12, 1))
    field(commercial, "text_input", "Name").set_value("T1")
    before = desk_of(commercial).job
    asked(commercial)
    assert not commercial.exception
    assert "Nothing has been asked yet" in commercial.error[0].value
    told = commercial.dataframe[0].value
    assert list(told["Where"]) == ["T1, Check", "T1, Latest in"]
    assert all(told["What to do"])
    assert desk_of(commercial).job is before


def test_others_move_only_when_they_may(commercial):
    field(commercial, "checkbox", "All checks may move").set_value(True)
    field(commercial, "selectbox", "Aircraft type").set_value("Linden 180")
    field(commercial, "date_input", "Latest in").set_value(date(2027, 1, 13))
    field(commercial, "number_input", "Seconds to search").set_value(3)
    asked(commercial)
    assert not commercial.exception
    told = told_of(desk_of(commercial))
    assert told.question.may_move is None
    (answer,) = told.answers
    assert not answer.slots
    assert "All checks may move." in said(commercial)
    moved = [table.value for table in commercial.dataframe if "What moves" in table.value]
    if answer.with_moves is None:
        assert "**NO PLACE**" in said(commercial)
        assert not moved
    else:
        assert list(moved[0]["Check"]) == [move.check for move in answer.with_moves.moves]


def test_a_list_tells_the_best_set_and_the_runners_up_with_what_is_proven(commercial):
    send_list(commercial, two_offers())
    assert not commercial.exception
    told = told_of(desk_of(commercial))
    assert [answer.offer.name for answer in told.answers] == ["P", "Q"]
    assert "Best to accept: P: gains" in said(commercial)
    tables = [table.value for table in commercial.dataframe]
    (sets,) = (table for table in tables if "What is proven" in table)
    assert sets["Rank"][0] == "best"
    assert sets["Accept"][0] == "P"
    assert sets["What is proven"][0].startswith("proven")
    assert list(sets["Gains (EUR)"]) == sorted(sets["Gains (EUR)"], reverse=True)
    (all_offers,) = (table for table in tables if "Verdict" in table)
    assert list(all_offers["Offer"]) == ["P", "Q"]
    assert len(commercial.get("vega_lite_chart")) == 2
    assert field(commercial, "selectbox", "Offer shown").options == ["P", "Q"]


def test_a_faulty_list_shows_the_cells_and_nothing_is_asked(commercial):
    row = ("P", "Q-OFFP", "Linden 999", "Week check", FIRST, LAST, 9000)
    send_list(commercial, listed(row))
    assert not commercial.exception
    assert list(commercial.dataframe[0].value["Where"]) == ["Offers!C2"]
    assert told_of(desk_of(commercial)) is None


def test_a_list_that_is_too_long_is_refused(commercial):
    row = ("Q-OFFP", "Linden 180", "Week check", FIRST, LAST, 9000)
    send_list(commercial, listed(*((f"P{n}", *row) for n in range(MOST_OFFERS + 1))))
    assert f"{MOST_OFFERS} can be asked about at once" in commercial.dataframe[0].value["What"][0]
    assert told_of(desk_of(commercial)) is None


def test_a_file_that_is_too_large_is_not_even_read(commercial):
    send_list(commercial, b"x" * (MOST_BYTES + 1))
    assert "2,000,000 at most" in commercial.dataframe[0].value["What"][0]
    assert told_of(desk_of(commercial)) is None


def test_names_from_a_list_are_shown_as_they_stand(commercial):
    name = "**P** <b>x</b>"
    row = (name, "Q-OFFP", "Linden 180", "Week check", FIRST, LAST, 9000)
    send_list(commercial, listed(row))
    assert not commercial.exception
    assert any(text.value.startswith(f"{name}: Linden 180") for text in commercial.text)
    assert not any(name in element.value for element in commercial.markdown)


def test_the_best_set_is_compared_in_a_copy_and_the_plan_stays_as_it_is(commercial):
    before = result_of(desk_of(commercial))
    send_list(commercial, two_offers())
    assert "Workbook of the copy (.xlsx)" not in labels(commercial)
    button(commercial, "Make the copy and compare").click().run()
    assert not commercial.exception
    tables = [table.value for table in commercial.dataframe]
    (money,) = (table for table in tables if "Copy more (minus: less)" in table)
    gain = told_of(desk_of(commercial)).sets.best.gain
    assert list(money["Unit"]) == ["days", *["EUR"] * 7]
    assert money["Copy more (minus: less)"].iloc[-1] == pytest.approx(-gain, abs=0.5)
    elsewhere, everybody = (t for t in tables if "In the copy" in t and "Check" in t)
    assert list(elsewhere["Check"]) == ["P"]
    assert list(everybody["Check"]) == ["T1", "T2", "T3", "T4", "P"]
    assert labels(commercial) == [
        "This answer as a workbook (.xlsx)",
        "Workbook of the copy (.xlsx)",
        "Summary of the copy (.json)",
        "Comparison (.xlsx)",
    ]
    assert f"Against the plan the copy costs {gain:,.0f} EUR less." in said(commercial)
    assert "The plan on the page Planner stays as it is" in said(commercial)
    assert result_of(desk_of(commercial)) == before


def test_every_copy_stands_up_to_the_audit_and_can_be_taken_away(commercial):
    send_list(commercial, two_offers())
    told = told_of(desk_of(commercial))
    takings = takings_of(told)
    assert takings[0].label == "Best set: P"
    assert {taking.names for taking in takings} == {("P",), ("Q",)}
    for taking in takings:
        copy = copy_of(taking, told)
        assert copy.comparison.first.broken == copy.comparison.second.broken == ()
        assert copy.comparison.first.goals == told.planned.audit.goals
    summary = json.loads(copy_bytes(copy, told, ".json"))
    assert {placed["check"] for placed in summary["placements"]} >= set(copy.taking.names)
    assert copy_bytes(copy, told, ".xlsx").startswith(b"PK")


def test_work_is_shown_can_be_stopped_and_no_second_question_begins(commercial, monkeypatch):
    def slow(*args, stop, **more):
        stop.wait(MOST_SECONDS)
        return ask(*args, stop=stop, **more)

    monkeypatch.setattr("ui.offer_job.ask", slow)
    desk = desk_of(commercial)
    button(commercial, "Ask").click().run()
    job = desk.job
    assert start_offers(desk, Question((), None, False, 1.0)) is None
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

    monkeypatch.setattr("ui.offer_job.ask", broken)
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
    assert "made again since offers were asked about" in commercial.info[0].value


def test_what_was_asked_stands_in_the_form_again_after_another_page(commercial):
    ask_about_a_wash(commercial)
    commercial.switch_page("pages/planner.py").run()
    commercial.switch_page(PAGE).run()
    assert not commercial.exception
    assert field(commercial, "selectbox", "Package").value == "Wash and inspect"
    assert field(commercial, "date_input", "Latest in").value == date(2027, 1, 13)
    assert "1,500 EUR is offered" in said(commercial)
