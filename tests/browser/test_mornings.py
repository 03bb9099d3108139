"""Mornings of the people who use the dashboard, in a browser; that on a phone has its own file.

On the way every page is looked over for faults of access, and for what is wider than the screen.
"""

import re
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.spliced_copy import spliced_copy
from tests.browser.faults_of_access import serious_faults
from tests.browser.test_dashboard_in_a_browser import (
    CLICKS,
    SAMPLES,
    button,
    click_until_told,
    fetched,
    make_plan,
    settle,
    upload,
)

pytestmark = [pytest.mark.browser, pytest.mark.long]

NARROW, USUAL = {"width": 1024, "height": 768}, {"width": 1440, "height": 900}
WIDE = {"width": 2560, "height": 1440}
MOST_TABS = 250
"""Presses of Tab within which whatever is on a page must be reached."""

TOO_WIDE = """() => {
    const width = document.documentElement.clientWidth, found = [];
    const scrolls = element => {
        for (let over = element.parentElement; over; over = over.parentElement) {
            if (/auto|scroll|hidden|clip/.test(getComputedStyle(over).overflowX)
                && over.getBoundingClientRect().right <= width + 1) return true;
        }
        return false;
    };
    for (const element of document.querySelectorAll('[data-testid=stMain] *')) {
        const box = element.getBoundingClientRect();
        if (box.width && box.height && box.right > width + 1 && !scrolls(element))
            found.push(element.outerHTML.slice(0, 120));
    }
    return found;
}"""


def looked_over(page, expect) -> None:
    """Nothing on the page keeps anybody out, and nothing is cut off at its right."""
    settle(page, expect)
    assert serious_faults(page) == []
    assert page.evaluate(TOO_WIDE) == []


def tab_to(page, wanted) -> None:
    """Press Tab until something has the focus, as a person without a mouse does."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if wanted.evaluate("element => element.getRootNode().activeElement === element"):
            return
    pytest.fail(f"Tab does not lead to {wanted}")


def is_open(page, expect, name: str) -> None:
    """Wait until a workbook has been read; its name stands beside the field before that."""
    expect(page.locator("strong").filter(has_text=name)).to_be_visible()
    settle(page, expect)


def press_until_told(page, pressed, told, expect) -> None:
    """Press Enter, and again as a person would when a redraw swallowed the key."""
    for _ in range(CLICKS):
        page.keyboard.press("Enter")
        try:
            expect(told).to_be_visible(timeout=10_000)
        except AssertionError:
            settle(page, expect)
            pressed.focus()
            continue
        return
    expect(told).to_be_visible()


def reach_and_press(page, pressed, told, expect) -> None:
    """Go to something by Tab on a page at rest, and press it until it is answered."""
    settle(page, expect)
    tab_to(page, pressed)
    press_until_told(page, pressed, told, expect)


def choose_by_key(page, opener, path: Path, expect) -> None:
    """Press Enter for the window in which a file is chosen, and again when none opened."""
    from playwright.sync_api import TimeoutError as NoWindow

    settle(page, expect)
    tab_to(page, opener)
    for presses_left in reversed(range(CLICKS)):
        try:
            with page.expect_file_chooser(timeout=10_000) as window:
                page.keyboard.press("Enter")
        except NoWindow:
            if not presses_left:
                raise
            settle(page, expect)
            opener.focus()
            continue
        window.value.set_files(path)
        return


def type_number(page, name: str, number: str, expect) -> None:
    """Type into a field of numbers, and again when a redraw put back what stood there."""
    field = page.get_by_role("spinbutton", name=name)
    for _ in range(CLICKS):
        settle(page, expect)
        tab_to(page, field)
        page.keyboard.press("Control+A")
        page.keyboard.type(number)
        page.keyboard.press("Enter")
        settle(page, expect)
        if field.input_value() == number:
            return
    expect(field).to_have_value(number)


def go_to(page, expect, name: str) -> None:
    page.get_by_role("link", name=name).click()
    expect(page.get_by_role("heading", name=name, exact=True)).to_be_visible()


def reach_and_go(page, expect, name: str) -> None:
    heading = page.get_by_role("heading", name=name, exact=True)
    reach_and_press(page, page.get_by_role("link", name=name), heading, expect)


def test_pages_without_a_plan_keep_nobody_out(open_page, expect):
    page = open_page()
    for name in ("Base manager", "Commercial", "Planner"):
        go_to(page, expect, name)
        looked_over(page, expect)


@pytest.fixture
def news(tmp_path: Path) -> Path:
    """The tiny sample on Thursday: T1 is behind, and T2 comes in three days late."""
    path = tmp_path / "thursday.xlsx"
    reported = {"Check": "T1", "Stage": "Repair", "As of": date(2027, 1, 7), "Done %": 50}
    edits = [
        SheetEdit("Progress", added=({**reported, "Stage": "Open", "Done %": 100}, reported)),
        SheetEdit(
            "Checks", {3: {"Earliest in": date(2027, 1, 14), "Latest in": date(2027, 1, 14)}}
        ),
    ]
    path.write_bytes(spliced_copy(SAMPLES / "tiny.xlsx", edits))
    return path


def test_the_planner_takes_in_progress_and_a_late_aircraft_plans_anew_and_prints(
    open_page, expect, news, tmp_path
):
    page = open_page()
    page.set_viewport_size(USUAL)
    upload(page, SAMPLES / "tiny.xlsx")
    make_plan(page, expect)
    looked_over(page, expect)
    board = page.get_by_role("heading", name="Planning board")
    assert board.bounding_box()["y"] < USUAL["height"]
    in_force = tmp_path / "monday.json"
    in_force.write_bytes(fetched(page, "Plan file (.json)"))

    another = page.locator("summary").filter(has_text="Open another workbook")
    click_until_told(page.get_by_text("Workbook tiny.xlsx"), another, expect)
    click_until_told(another, button(page, "Upload").first, expect)
    upload(page, news)
    is_open(page, expect, "thursday.xlsx")
    page.get_by_text("Re-plan: the plan in force with news").click()
    uploader = page.get_by_test_id("stFileUploader").filter(has_text="Plan file of the plan in")
    uploader.locator("input[type=file]").set_input_files(in_force)
    expect(button(page, "Show the plan of this file")).to_be_visible()
    settle(page, expect)
    page.get_by_role("spinbutton", name="year, Today").last.click()
    page.keyboard.type("20270107")
    page.keyboard.press("Escape")
    settle(page, expect)
    button(page, "Re-plan").click()
    expect(page.get_by_role("heading", name="What the re-plan changes")).to_be_visible()
    late = page.get_by_role("gridcell", name=re.compile("Check T2, .* in Thu 14 Jan 2027"))
    expect(late).to_have_count(1)

    page.set_viewport_size(WIDE)
    looked_over(page, expect)
    printed = tmp_path / "wall.html"
    printed.write_bytes(fetched(page, "Wall sheet A4 to print (.html)"))
    paper = page.context.browser.new_page()
    paper.goto(printed.as_uri())
    assert serious_faults(paper) == []
    assert "T2" in paper.locator("svg").first.inner_html()
    sheets = len(re.findall(rb"/Type\s*/Page\b(?!s)", paper.pdf(prefer_css_page_size=True)))
    paper.close()
    assert sheets == 1


@pytest.fixture
def overloaded(tmp_path: Path) -> Path:
    """The tiny sample with half of its people."""
    path = tmp_path / "overloaded.xlsx"
    path.write_bytes(spliced_copy(SAMPLES / "tiny.xlsx", [SheetEdit("Crews", {2: {"Heads": 5}})]))
    return path


def test_the_manager_takes_an_overload_away_by_keyboard_alone(
    open_page, expect, overloaded, tmp_path
):
    """In the dark; only the file is chosen for them, in the window of their own computer."""
    page = open_page(color_scheme="dark")
    page.set_viewport_size(NARROW)
    upload(page, overloaded)
    make_plan(page, expect)
    looked_over(page, expect)
    week = page.locator("#root").get_by_role("button", name=re.compile("Mechanic")).first
    reach_and_press(page, week, page.get_by_text("Mechanic in 2027-W").first, expect)

    reach_and_go(page, expect, "Base manager")
    type_number(page, "Seconds for all measures", "5", expect)
    more_people = page.get_by_text(re.compile("more head", re.IGNORECASE)).first
    begun = page.get_by_text("Trying measures").or_(more_people).first
    reach_and_press(page, button(page, "Try the measures"), begun, expect)
    expect(more_people).to_be_visible()
    looked_over(page, expect)

    book = openpyxl.load_workbook(overloaded)
    book["Crews"].cell(2, 3).value = 10
    taken = tmp_path / "taken.xlsx"
    book.save(taken)
    reach_and_go(page, expect, "Planner")
    fold = lambda title: page.locator("summary").filter(has_text=title)  # noqa: E731
    another, chooser = fold("Open another workbook"), button(page, "Upload").first
    reach_and_press(page, fold("Workbook overloaded.xlsx"), another, expect)
    reach_and_press(page, another, chooser, expect)
    choose_by_key(page, chooser, taken, expect)
    is_open(page, expect, "taken.xlsx")
    make = button(page, "Make the plan")
    if not make.is_visible():
        reach_and_press(page, fold("Make the plan anew"), make, expect)
    reach_and_press(page, make, page.get_by_text("No week has overload").first, expect)
