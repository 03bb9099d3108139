"""Mornings of the people who use the dashboard, in a browser; that on a phone has its own file.

On the way every page is looked over for faults of access, and for what is wider than the screen.
"""

import re
from pathlib import Path

import pytest

from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.spliced_copy import spliced_copy
from tests.browser.driving import (
    CLICKS,
    button,
    fetched,
    go_to,
    make_plan,
    press_button,
    settle,
    upload,
)
from tests.browser.faults_of_access import serious_faults
from tests.browser.test_dashboard_in_a_browser import SAMPLES
from tests.browser.typing_in_grids import canvas_of, type_into

pytestmark = [pytest.mark.browser, pytest.mark.long]

NARROW, USUAL = {"width": 1024, "height": 768}, {"width": 1440, "height": 900}
WIDE = {"width": 2560, "height": 1440}
MOST_TABS = 250
"""Presses of Tab within which whatever is on a page must be reached."""

MOST_ARROWS = 24
"""Sheets that arrows go through, one after the other."""

MOST_FOLDS = 40
MS_TO_UNFOLD = 700
"""So long a part that is opened moves what is below it, and a click goes to where that was."""

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
        # A grid hands the focus on to a cell within it.
        if wanted.evaluate("element => element.contains(element.getRootNode().activeElement)"):
            return
    pytest.fail(f"Tab does not lead to {wanted}")


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


def reach_and_go(page, expect, name: str) -> None:
    heading = page.get_by_role("heading", name=name, exact=True)
    reach_and_press(page, page.get_by_role("link", name=name), heading, expect)


def open_folds(page, expect) -> None:
    """Open whatever is folded away on a page, and what that brings."""
    closed = page.locator("[data-testid=stMain] details:not([open]) > summary")
    for _ in range(MOST_FOLDS):
        settle(page, expect)
        if not closed.count():
            return
        closed.first.click()
    pytest.fail("there is no end of what is folded away")


def test_pages_keep_nobody_out_without_a_plan_and_with_one_and_all_folds_open(open_page, expect):
    page = open_page()
    page.set_viewport_size(NARROW)
    for name in ("Base manager", "Commercial", "Plan store", "Planner"):
        go_to(page, name, expect)
        looked_over(page, expect)
    upload(page, SAMPLES / "tiny.xlsx")
    make_plan(page, expect)
    go_to(page, "Plan store", expect)
    page.get_by_label("What others should know of it").fill("A first plan.")
    agree, in_force = button(page, "Agree this plan"), page.get_by_text("agreed, in force").first
    press_button(page, "Save the plan that is shown", agree, expect)
    press_button(page, "Agree this plan", in_force, expect)
    for name in ("Plan store", "Planner", "Base manager", "Commercial"):
        go_to(page, name, expect)
        open_folds(page, expect)
        looked_over(page, expect)


def fold(page, title: str):
    """Return a part of the page that folds, the innermost of those that hold its title."""
    return (
        page.get_by_test_id("stExpander").filter(has=page.locator("summary", has_text=title)).last
    )


def test_the_planner_types_progress_and_a_late_aircraft_plans_anew_and_prints(
    open_page, expect, tmp_path
):
    """On Thursday T1 is behind, and T2 comes in three days late."""
    page = open_page()
    page.set_viewport_size(USUAL)
    upload(page, SAMPLES / "tiny.xlsx")
    make_plan(page, expect)
    looked_over(page, expect)
    board = page.get_by_role("heading", name="Planning board")
    assert board.bounding_box()["y"] < USUAL["height"]

    page.locator("summary").filter(has_text="Progress in").click()
    in_work = canvas_of(fold(page, "Progress in"))
    settle(page, expect)
    page.wait_for_timeout(MS_TO_UNFOLD)
    page.get_by_role("spinbutton", name="year, As of").click()
    page.keyboard.type("20270107")
    page.keyboard.press("Escape")
    settle(page, expect)
    expect(in_work.locator("td", has_text="2027-01-07").first).to_be_attached()
    for stage, done in (("Open", "100"), ("Repair", "50")):
        settle(page, expect)
        in_work.focus()
        type_into(page, expect, in_work, stage, "Done %", done)
    expect(page.get_by_text("1 check in work, 2 stages; told of 2.")).to_be_visible()

    page.locator("summary").filter(has_text="Workbook tiny.xlsx").click()
    page.locator("summary").filter(has_text="Change the workbook").click()
    checks = canvas_of(fold(page, "Change the workbook"))
    for heading in ("Earliest in", "Latest in"):
        settle(page, expect)
        checks.focus()
        type_into(page, expect, checks, "T2", heading, "2027-01-14")
    expect(page.get_by_text("Rows changed: Progress 2, Checks 1.")).to_be_visible()

    page.locator("summary").filter(has_text="Re-plan: the plan in force with news").click()
    settle(page, expect)
    today = page.get_by_role("spinbutton", name=re.compile("Today$"))
    assert today.all_inner_texts() == ["2027", "01", "07"]  # the day of the progress
    changes = page.get_by_role("heading", name="What the re-plan changes")
    searched = button(page, "Stop and keep the best plan")
    press_button(page, "Re-plan", searched.or_(changes).first, expect)
    expect(changes).to_be_visible()
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


def test_the_manager_takes_an_overload_away_by_keyboard_alone(open_page, expect, overloaded):
    """In the dark: the overload is read, measures are tried, and the people are typed in."""
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

    reach_and_go(page, expect, "Planner")
    summary = lambda title: page.locator("summary").filter(has_text=title)  # noqa: E731
    checks = page.get_by_role("radio", name="Checks", exact=True)
    reach_and_press(
        page, summary("Workbook overloaded.xlsx"), summary("Change the workbook"), expect
    )
    reach_and_press(page, summary("Change the workbook"), checks, expect)
    settle(page, expect)
    tab_to(page, checks)
    sheet = page.get_by_role("radio", name="Crews", exact=True)
    for _ in range(MOST_ARROWS):
        page.keyboard.press("ArrowRight")
        if sheet.evaluate("element => element === document.activeElement"):
            break
    page.keyboard.press("Space")
    expect(sheet).to_be_checked()
    settle(page, expect)
    crews = canvas_of(fold(page, "Change the workbook"))
    tab_to(page, crews)
    type_into(page, expect, crews, "Mechanics", "Heads", "10")
    expect(page.get_by_text("Rows changed: Crews 1.")).to_be_visible()
    make = button(page, "Make the plan")
    reach_and_press(page, summary("Make the plan anew, with the changes"), make, expect)
    reach_and_press(page, make, page.get_by_text("No week has overload").first, expect)
