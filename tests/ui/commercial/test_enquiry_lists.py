"""Several enquiries on the page Commercial: a file, best combination, copy and comparison."""

import io
import json
from dataclasses import replace
from datetime import date

import openpyxl
import pytest
from streamlit.testing.v1 import AppTest

from tests.ui.enquiry_plans import asked, commercial_page, field
from tests.ui.ways_through import EXCEL, button, desk_of, labels, said
from ui.commercial.enquiry_copy import copy_of, takings_of
from ui.commercial.enquiry_job import told_of
from ui.commercial.enquiry_list import MOST_BYTES, MOST_ENQUIRIES
from ui.commercial.words import is_searched_too_shortly
from ui.desk.plan_job import result_of
from ui.parts.enquiry_compare import copy_bytes
from ui.plain import plain

HEADINGS = ("Check", "Aircraft", "Type", "Package", "Earliest in", "Latest in", "Price")
FIRST, LAST = date(2027, 1, 4), date(2027, 1, 24)


@pytest.fixture
def commercial(app):
    """The page, with a plan of the smallest sample made beforehand."""
    return commercial_page(app)


def listed(*rows: tuple[object, ...]) -> bytes:
    """Return a workbook with a sheet of enquiries."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Enquiries"
    for row in (HEADINGS, *rows):
        sheet.append(row)
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def open_list(app: AppTest, content: bytes) -> AppTest:
    field(app, "radio", "Ask about").set_value("Several in a table").run()
    app.file_uploader[0].set_value(("enquiries.xlsx", content, EXCEL)).run()
    return app


def send_list(app: AppTest, content: bytes) -> AppTest:
    return asked(open_list(app, content))


def two_enquiries() -> bytes:
    """One that pays alone, and one that wants the same bay in the same days for less."""
    return listed(
        ("P", "Q-OFFP", "Linden 180", "Week check", FIRST, LAST, 9000),
        ("Q", "Q-OFFQ", "Linden 180", "Week check", FIRST, LAST, 8000),
    )


def test_a_list_tells_the_best_combination_and_the_runners_up_with_what_is_proven(commercial):
    send_list(commercial, two_enquiries())
    assert not commercial.exception
    told = told_of(desk_of(commercial))
    assert [answer.enquiry.name for answer in told.answers] == ["P", "Q"]
    assert "Best combination: P: gains" in said(commercial)
    tables = [table.value for table in commercial.dataframe]
    (combinations,) = (table for table in tables if "Proven" in table)
    assert combinations["Rank"][0] == "best"
    assert combinations["Accept"][0] == "P"
    assert combinations["Proven"][0].startswith("proven")
    assert list(combinations["Gains (EUR)"]) == sorted(combinations["Gains (EUR)"], reverse=True)
    (all_enquiries,) = (table for table in tables if "Verdict" in table)
    assert list(all_enquiries["Enquiry"]) == ["P", "Q"]
    assert len(commercial.get("vega_lite_chart")) == 2
    assert field(commercial, "selectbox", "Enquiry shown").options == ["P", "Q"]


def test_a_faulty_list_shows_the_cells_and_nothing_is_asked(commercial):
    row = ("P", "Q-OFFP", "Linden 999", "Week check", FIRST, LAST, 9000)
    open_list(commercial, listed(row))
    assert not commercial.exception
    assert list(commercial.table[0].value["Where"]) == [plain("Enquiries!C2")]
    asked(commercial)
    assert list(commercial.table[0].value["Where"]) == [plain("row 1, Type")]
    assert told_of(desk_of(commercial)) is None


def test_a_list_that_is_too_long_is_refused(commercial):
    row = ("Q-OFFP", "Linden 180", "Week check", FIRST, LAST, 9000)
    open_list(commercial, listed(*((f"P{n}", *row) for n in range(MOST_ENQUIRIES + 1))))
    assert f"{MOST_ENQUIRIES} can be asked about at once" in commercial.table[0].value["What"][0]
    assert told_of(desk_of(commercial)) is None


def test_a_file_that_is_too_large_is_not_even_read(commercial):
    open_list(commercial, b"x" * (MOST_BYTES + 1))
    assert plain("2,000,000 at most") in commercial.table[0].value["What"][0]
    assert told_of(desk_of(commercial)) is None


def test_names_from_a_list_are_shown_as_they_stand(commercial):
    name = "**P** <b>x</b>"
    row = (name, "Q-OFFP", "Linden 180", "Week check", FIRST, LAST, 9000)
    send_list(commercial, listed(row))
    assert not commercial.exception
    assert any(text.value.startswith(f"{name}: Linden 180") for text in commercial.text)
    assert not any(name in element.value for element in commercial.markdown)


def test_the_best_combination_is_compared_in_a_copy_and_the_plan_stays_as_it_is(commercial):
    before = result_of(desk_of(commercial))
    send_list(commercial, two_enquiries())
    assert "Workbook of the copy (.xlsx)" not in labels(commercial)
    button(commercial, "Make the copy and compare").click().run()
    assert not commercial.exception
    tables = [table.value for table in commercial.dataframe]
    (money,) = (table for table in tables if "Copy more (minus: less)" in table)
    gain = told_of(desk_of(commercial)).combinations.best.gain
    assert list(money["Unit"]) == ["days", *["EUR"] * 7]
    assert money["Copy more (minus: less)"].iloc[-1] == pytest.approx(-gain, abs=0.5)
    elsewhere, everybody = (t for t in tables if "In the copy" in t and "Check" in t)
    assert list(elsewhere["Check"]) == ["P"]
    assert list(everybody["Check"]) == ["T1", "T2", "T3", "T4", "P"]
    assert labels(commercial) == [
        "An empty list to fill in (.xlsx)",
        "This table as a list (.xlsx)",
        "This answer as a workbook (.xlsx)",
        "Workbook of the copy (.xlsx)",
        "Plan file of the copy (.json)",
        "Comparison (.xlsx)",
    ]
    assert f"'copy' costs {gain:,.0f} EUR less than 'plan'" in said(commercial)
    assert "The plan on the page Planner stays as it is" in said(commercial)
    assert result_of(desk_of(commercial)) == before


def test_every_copy_passes_the_audit_and_can_be_taken_away(commercial):
    send_list(commercial, two_enquiries())
    told = told_of(desk_of(commercial))
    takings = takings_of(told)
    assert takings[0].label == "Best combination: P"
    assert {taking.names for taking in takings} == {("P",), ("Q",)}
    for taking in takings:
        copy = copy_of(taking, told)
        assert copy.comparison.first.broken == copy.comparison.second.broken == ()
        assert copy.comparison.first.goals == told.planned.audit.goals
    summary = json.loads(copy_bytes(copy, told, ".json"))
    assert {placed["check"] for placed in summary["placements"]} >= set(copy.taking.names)
    assert copy_bytes(copy, told, ".xlsx").startswith(b"PK")


def test_a_combination_that_gains_less_than_an_enquiry_alone_was_searched_too_shortly(commercial):
    send_list(commercial, two_enquiries())
    found = told_of(desk_of(commercial)).combinations
    assert not is_searched_too_shortly(found)
    none = replace(found.best, enquiries=(), gain=0.0)
    assert is_searched_too_shortly(replace(found, best=none))
