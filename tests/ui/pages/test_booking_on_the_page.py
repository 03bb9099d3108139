"""An enquiry that is worth it is booked in one click: into the plan and a copy of the workbook."""

import io
import json
import time
from datetime import date

import openpyxl
import pytest
from streamlit.testing.v1 import AppTest

from capacity.facts import Status
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.plans.audit import audit
from capacity.questions.enquiries.booking import book
from capacity.reports.enquiries.booked_wording import booked_in_words
from capacity.reports.plan_files.asked_plan import read_plan
from capacity.settings import Settings
from tests.ruled_out_words import faults_in
from tests.ui.enquiry_plans import asked, commercial_page, field, planned_by_hand, put_on
from tests.ui.ways_through import MOST_SECONDS, button, desk_of, labels, said
from tests.ui.words_on_pages import texts_of_page
from ui.commercial.booking import ANOTHER_PLAN, CHANGED, NOT_USED, why_not_to_book
from ui.commercial.enquiry_job import told_of
from ui.commercial.words import ASK_AGAIN
from ui.desk.board import Board
from ui.desk.opened_workbook import opened_from_bytes, with_edits
from ui.desk.plan_file import report_bytes
from ui.desk.plan_job import is_outdated, result_of
from ui.desk.private_files import PrivateFiles
from ui.desk.replan_job import News, plan_on_the_page, start_replan
from ui.desk.saving import Saving
from ui.plain import plain

TODAY = date(2027, 1, 6)


@pytest.fixture
def answered(app: AppTest) -> AppTest:
    """A wash that costs 1,600 EUR of overtime, asked about at 2,000 EUR."""
    return ask_at(commercial_page(app), 2000.0)


def ask_at(app: AppTest, price: float) -> AppTest:
    field(app, "selectbox", "Package").set_value("Wash and inspect")
    field(app, "date_input", "Latest in").set_value(date(2027, 1, 13))
    field(app, "number_input", "Price offered").set_value(price)
    return asked(app)


def press(app: AppTest) -> AppTest:
    return button(app, "Book Enquiry").click().run()


def worked_out(app: AppTest, names: str) -> AppTest:
    button(app, f"Work out booking {names}").click().run()
    give_up = time.monotonic() + MOST_SECONDS
    while desk_of(app).is_working and time.monotonic() < give_up:
        time.sleep(0.05)
    return app.run()


def test_what_is_not_worth_it_is_booked_once_its_cost_has_been_seen(app):
    page = ask_at(commercial_page(app), 1500.0)
    assert [b.label for b in page.button if b.label.startswith("Book")] == []
    worked_out(page, "Enquiry")
    assert not page.exception
    before = result_of(desk_of(page))
    shown = said(page)
    assert "To be booked: Enquiry: Small bay" in shown
    assert plain("It adds 1,600 EUR to the cost of the plan and earns 1,500 EUR") in shown
    assert result_of(desk_of(page)) == before, "nothing is booked yet"
    button(page, "Do not book").click().run()
    assert "To be booked" not in said(page)
    worked_out(page, "Enquiry")
    button(page, "Book Enquiry anyway").click().run()
    assert not page.exception
    made = result_of(desk_of(page)).news.answer
    assert made.names == ("Enquiry",)
    assert "booked anyway" in said(page)
    assert {"Plan workbook (.xlsx)", "Plan file (.json)", "Calendar of the bays (.ics)"} <= set(
        labels(page)
    )
    assert faults_in(list(texts_of_page(page))) == []


@pytest.mark.long
def test_one_of_several_is_booked_though_another_gains_more(app):
    rows = tuple(
        {
            "Check": name,
            "Type": "Linden 180",
            "Package": "Week check",
            "Earliest in": date(2027, 1, 4),
            "Price": price,
        }
        for name, price in (("P", 9000.0), ("Q", 8000.0))
    )
    page = commercial_page(app)
    desk_of(page).keep_enquiries(rows)
    field(page, "radio", "Ask about").set_value("Several in a table").run()
    asked(page)
    assert button(page, "Book P")
    field(page, "multiselect", "Enquiries to book").set_value(["Q"]).run()
    worked_out(page, "Q")
    assert not page.exception
    button(page, "Book Q").click().run()
    base = desk_of(page).opened.book.base
    assert base.check("Q").status is Status.BOOKED
    assert not base.has_check("P")


def test_an_answer_about_a_plan_that_has_been_made_again_books_nothing(answered):
    desk = desk_of(answered)
    told = told_of(desk)
    put_on(desk, desk.opened, planned_by_hand(desk.opened.book.base))
    assert why_not_to_book(desk, told) == ANOTHER_PLAN


def test_one_click_books_what_the_question_books(answered):
    desk = desk_of(answered)
    told = told_of(desk)
    expected = book(told.base, told.planned.plan, told.question.enquiries, Settings(seconds=10))
    press(answered)
    assert not answered.exception
    made = result_of(desk).news.answer
    assert made.names == ("Enquiry",)
    assert made.plan == expected.plan
    assert made.base.check("Enquiry").status is Status.BOOKED
    shown = said(answered)
    for sentence in booked_in_words(expected):
        assert sentence in shown
    assert ASK_AGAIN not in shown
    assert faults_in(list(texts_of_page(answered))) == []


def test_plan_and_copy_of_the_workbook_fit_each_other(answered):
    desk = desk_of(answered)
    before = desk.opened.content
    press(answered)
    result = result_of(desk)
    assert desk.original.content == before
    assert not is_outdated(desk)
    assert "Workbook with what is booked (.xlsx)" in labels(answered)
    copy = opened_from_bytes("next.xlsx", desk.opened.content)
    assert copy.book.base.check("Enquiry").status is Status.BOOKED
    asked_plan = read_plan(copy.book.base, report_bytes(result, ".json").decode())
    assert asked_plan.plan.placements == result.outcome.plan.placements
    assert not audit(copy.book.base, asked_plan.plan).broken
    sheets = openpyxl.load_workbook(io.BytesIO(report_bytes(result, ".xlsx"))).sheetnames
    assert {"Booking", "Changes", "Slots"} <= set(sheets)
    for page in ("planner", "base_manager"):
        answered.switch_page(f"pages/{page}.py").run()
        assert not answered.exception
    assert result_of(desk).number == result.number


def test_changes_that_are_not_used_are_not_lost_by_a_booking(answered):
    desk = desk_of(answered)
    edit = SheetEdit("Checks", {3: {"Customer": "Aero"}})
    desk.keep_pending({"Checks": edit})
    answered.run()
    assert button(answered, "Book Enquiry").disabled
    assert NOT_USED in said(answered)
    desk.use(with_edits(desk.opened, [edit]))
    answered.run()
    assert button(answered, "Book Enquiry").disabled
    assert CHANGED in said(answered)


def test_a_name_that_the_workbook_has_meanwhile_is_refused_with_its_cell(answered, monkeypatch):
    desk = desk_of(answered)
    twice = with_edits(
        desk.opened,
        [SheetEdit("Checks", added=({"Check": "Enquiry", "Aircraft": "Q-TNYZ"},))],
    )
    result = result_of(desk)
    monkeypatch.setattr("ui.commercial.booking.with_booked", lambda opened, checks: twice)
    press(answered)
    assert not answered.exception
    assert "Nothing is booked" in said(answered)
    assert result_of(desk) == result
    shown = [t.value for t in answered.table if "Where" in t.value.columns][-1]
    assert list(shown["Where"]) == [plain(message.where) for message in twice.book.messages]
    assert shown["Where"][0].startswith(plain("Checks!"))


def test_a_booking_outlives_a_restart_and_goes_into_the_next_re_plan(answered):
    desk = desk_of(answered)
    press(answered)
    before = result_of(desk)
    root = desk._on_change.__self__.files.root
    after = Board(Saving(PrivateFiles(root))).desk(desk.id)
    again = result_of(after)
    assert again.outcome.plan == before.outcome.plan
    assert not is_outdated(after)
    made = [json.loads(report_bytes(one, ".json"))["made"] for one in (before, again)]
    assert made[0] | {"time": None} == made[1] | {"time": None}
    job = start_replan(desk, plan_on_the_page(desk), News(TODAY, seconds=5))
    job.join(MOST_SECONDS)
    slots = result_of(desk).outcome.plan.by_check()
    assert "Enquiry" in slots
    answered.run()
    assert not answered.exception
