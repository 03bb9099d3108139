"""The ways through the dashboard that only a browser can show, each from its beginning.

Each takes some ten seconds of processor time, most of it the browser's own: they are among the long
tests.
"""

import io
import json
import re
import time
from pathlib import Path

import icalendar
import openpyxl
import pytest

from capacity.inputs import read_book
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.inputs.reading.spliced_copy import spliced_copy
from tests.browser.driving import (
    CLICKS,
    MS_UNTIL_AGAIN,
    begin_plan,
    button,
    click_until_told,
    fetched,
    go_to,
    make_plan,
    press_button,
    settle,
    upload,
)

pytestmark = pytest.mark.browser

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
EVIL = "<img src=x onerror=alert(1)> **bold** :red[x]"
SOON_SECONDS = 60.0


@pytest.fixture
def overloaded(tmp_path: Path) -> Path:
    """The tiny sample with two people where there were ten: weeks with overload."""
    path = tmp_path / "overloaded.xlsx"
    path.write_bytes(spliced_copy(SAMPLES / "tiny.xlsx", [SheetEdit("Crews", {2: {"Heads": 2}})]))
    return path


@pytest.mark.long
def test_upload_plan_read_the_overload_week_and_take_the_files_away(open_page, expect, overloaded):
    page = open_page()
    upload(page, overloaded)
    make_plan(page, expect)
    # An error block with its triangle, not one grey sentence among others.
    expect(page.get_by_test_id("stAlert").filter(has_text="▲")).to_be_visible()
    week = page.get_by_role("gridcell", name="Mechanic, week 2027-W01, Mon 4 Jan 2027").first
    expect(week).to_contain_text("▲")
    click_until_told(week, page.get_by_text("Mechanic in 2027-W01, Mon 4 Jan 2027"), expect)
    expect(page.get_by_text("regular; on top: ")).to_be_visible()

    told = json.loads(fetched(page, "Plan file (.json)"))
    feed = icalendar.Calendar.from_ical(fetched(page, "Calendar of the bays (.ics)"))
    assert feed.walk("VEVENT")
    assert told["outcome"] == "planned"
    assert told["goals"]["overload_hours"] > 0
    book = openpyxl.load_workbook(io.BytesIO(fetched(page, "Plan workbook (.xlsx)")))
    assert "Overload weeks" in book.sheetnames
    again = read_book(overloaded).base
    assert {placed["check"] for placed in told["placements"]} <= {c.name for c in again.checks}


@pytest.mark.long
def test_a_run_shows_how_it_goes_and_stop_keeps_the_best(open_page, expect, server):
    page = open_page()
    upload(page, SAMPLES / "quarter.xlsx")
    begin_plan(page, expect)
    expect(page.get_by_text("Best plan so far")).to_be_visible()
    expect(page.get_by_text("No plan can cost less than")).to_be_visible()
    expect(button(page, "Make the plan")).to_be_disabled()
    ended = page.get_by_text("ended by a person")
    press_button(page, "Stop and keep the best plan", ended, expect)
    expect(button(page, "Plan workbook (.xlsx)")).to_be_visible()
    assert server.sides() == 0


@pytest.mark.long
def test_a_broken_workbook_shows_all_its_messages(open_page, expect):
    messages = read_book(SAMPLES / "broken.xlsx").messages
    page = open_page()
    upload(page, SAMPLES / "broken.xlsx")
    expect(page.get_by_text("It cannot be planned")).to_be_visible()
    expect(page.get_by_text(f"Messages ({len(messages)})")).to_be_visible()
    table = page.get_by_test_id("stTable").first
    expect(table.locator("tbody tr")).to_have_count(len(messages))
    expect(button(page, "Make the plan")).to_be_disabled()
    # Read whole: no cell is narrower or lower than its sentence.
    for sentence in (text for f in messages for text in (f.what, f.remedy) if text):
        expect(table.get_by_role("cell", name=sentence, exact=True).first).to_be_attached()
    cut = "cells => cells.filter(c => c.scrollWidth > c.clientWidth + 1).map(c => c.innerText)"
    assert table.locator("td, td *").evaluate_all(cut) == []


@pytest.mark.long
def test_two_people_at_once_do_not_see_each_other(open_page, expect, overloaded):
    one, other = open_page(), open_page()
    upload(one, SAMPLES / "tiny.xlsx")
    upload(other, overloaded)
    for page in (one, other):
        begin_plan(page, expect)
    for page in (one, other):
        expect(button(page, "Plan workbook (.xlsx)")).to_be_visible()
    expect(one.get_by_text("Workbook tiny.xlsx").first).to_be_visible()
    expect(one.get_by_text("overloaded.xlsx")).to_have_count(0)
    expect(other.get_by_text("tiny.xlsx")).to_have_count(0)
    assert "desk=" in one.url
    assert one.url != other.url

    one.reload()
    expect(one.get_by_text("3,700 EUR. Proven")).to_be_visible()
    go_to(one, "Base manager", expect)
    expect(one.get_by_role("heading", name="Weeks and skills")).to_be_visible()
    expect(one.get_by_text("No week has overload")).to_be_visible()
    go_to(one, "Planner", expect)
    expect(one.get_by_text("3,700 EUR. Proven")).to_be_visible()


@pytest.mark.long
def test_closing_the_browser_ends_the_run(open_page, expect, server):
    page = open_page()
    upload(page, SAMPLES / "quarter.xlsx")
    begin_plan(page, expect)
    expect(page.get_by_text("Best plan so far")).to_be_visible()
    wait_for(lambda: server.sides() > 0)
    page.close()
    wait_for(lambda: server.sides() == 0)


def wait_for(what) -> None:
    give_up = time.monotonic() + SOON_SECONDS
    while not what():
        assert time.monotonic() < give_up
        time.sleep(0.1)


@pytest.mark.long
def test_texts_of_the_workbook_are_shown_as_they_stand(open_page, expect, tmp_path):
    hostile = tmp_path / "**bold** <b>x.xlsx"
    edits = [
        SheetEdit("Checks", {3: {"Check": EVIL, "Aircraft": EVIL, "Customer": EVIL}}),
        SheetEdit("Crews", {2: {"Crew": EVIL}}),
    ]
    book = openpyxl.load_workbook(io.BytesIO(spliced_copy(SAMPLES / "tiny.xlsx", edits)))
    book["Base"]["B5"] = ":red[E] <i>"  # the currency
    book.save(hostile)
    page = open_page()
    upload(page, hostile)
    make_plan(page, expect)
    block = page.locator(".board .block").filter(has_text="<img").first
    click_until_told(block, page.get_by_text(f"Check {EVIL}", exact=True), expect)
    for page_name in ("Base manager", "Commercial", "Planner"):
        go_to(page, page_name, expect)
        for made in (
            "img[src=x]",
            "strong:text-is('bold')",
            "i:not(.upright)",
            "b:has-text('x.xlsx')",
        ):
            expect(page.locator(made)).to_have_count(0)


@pytest.mark.long
def test_a_cell_is_changed_in_place_and_the_copy_can_be_taken_away(open_page, expect, tmp_path):
    page = open_page()
    upload(page, SAMPLES / "tiny.xlsx")
    type_into_a_cell(page, opened_grid(page, expect), expect)
    used = page.get_by_text("(changed here)")
    press_button(page, "Verify the changes and use them", used, expect)
    copy = tmp_path / "copy.xlsx"
    copy.write_bytes(fetched(page, "Download the changed workbook"))
    changed, before = read_book(copy).base, read_book(SAMPLES / "tiny.xlsx").base
    assert "Q-CHANGED" in {changed.checks[0].name, changed.checks[0].aircraft}
    assert changed.checks[1:] == before.checks[1:]


@pytest.mark.long
def test_changes_and_plan_outlive_pages_a_reload_and_a_restart(browser, serve, expect):
    server = serve()
    context = browser.new_context(viewport={"width": 1400, "height": 1100})
    page = context.new_page()
    page.goto(server.address)
    upload(page, SAMPLES / "tiny.xlsx")
    make_plan(page, expect)
    fold = page.locator("summary", has_text="tiny.xlsx")
    click_until_told(fold, page.get_by_text(CHANGE), expect, force=False)
    type_into_a_cell(page, opened_grid(page, expect), expect)
    waiting = page.get_by_text(
        re.compile("Not used yet: 1 row changed|Changes of the workbook are not used")
    ).last
    for name in ("Base manager", "Planner"):
        go_to(page, name, expect)
        expect(waiting).to_be_visible()
    page.reload()
    expect(waiting).to_be_visible()
    server.restart()
    page.reload()
    expect(page.get_by_text("taken up again from this computer")).to_be_visible()
    expect(waiting).to_be_visible()
    expect(page.get_by_text("3,700 EUR. Proven")).to_be_visible()
    settle(page, expect)
    fold = page.locator("summary", has_text="Make the plan anew").first
    click_until_told(fold, button(page, "Make the plan"), expect, force=False)
    used = page.get_by_text("Workbook tiny.xlsx (changed here)")
    press_button(page, "Make the plan", used, expect)
    expect(waiting).to_have_count(0)
    context.close()


CHANGE = "Change the workbook: all sheets, verified as you type"


def opened_grid(page, expect):
    """Open what the workbook is changed in, and return the grid of its first sheet."""
    grid = page.get_by_test_id("stDataFrame").first
    drawn = grid.locator("canvas").first
    click_until_told(page.get_by_text(CHANGE), drawn, expect, force=False)
    return grid


MS_TO_TAKE_IN = 300
"""Between a person's last letter and Enter: the grid takes letters in a moment later."""


def type_into_a_cell(page, grid, expect) -> None:
    """Change the second column of the first row, and again when a redraw swallowed the keys."""
    told = page.get_by_text("Not used yet: 1 row changed.")
    for _ in range(CLICKS):
        settle(page, expect)
        grid.scroll_into_view_if_needed()
        corner = at_rest(grid)
        # Below the headings, right of the row's number and the name of the check.
        page.mouse.dblclick(corner["x"] + 190, corner["y"] + 52)
        editor = page.locator("#portal textarea, #portal input").first
        # Keys that come before the cell's editor has the focus go to the grid, and are lost.
        try:
            expect(editor).to_be_focused(timeout=MS_UNTIL_AGAIN)
        except AssertionError:
            continue
        editor.fill("Q-CHANGED")
        expect(editor).to_have_value("Q-CHANGED")
        page.wait_for_timeout(MS_TO_TAKE_IN)
        editor.press("Enter")
        try:
            expect(told).to_be_visible(timeout=MS_UNTIL_AGAIN)
        except AssertionError:
            page.keyboard.press("Escape")
            continue
        return
    expect(told).to_be_visible()


def at_rest(element) -> dict[str, float]:
    """Return where an element stands once it has stopped moving."""
    before, now = None, element.bounding_box()
    while before != now:
        time.sleep(0.3)
        before, now = now, element.bounding_box()
    return now
