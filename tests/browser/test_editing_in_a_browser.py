"""Sheets changed in a browser: what only one can show, of grids, windows, pasting and leaving."""

from pathlib import Path

import pytest

from tests.browser.driving import begin_plan, click_until_told, settle, upload

pytestmark = [pytest.mark.browser, pytest.mark.long]

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
TRIES = 4
AIRCRAFT, EARLIEST = 190, 780
"""Pixels from the left of the grid of the tiny sample to a cell of these columns."""

SECOND, THIRD = 88, 123
"""Pixels from its top to the second and the third row."""


def open_editor(page, expect) -> None:
    fold = page.locator("summary", has_text="Change the workbook")
    click_until_told(fold, grid(page).locator("canvas").first, expect, force=False)
    at_rest(page, expect)


def grid(page):
    editor = page.get_by_test_id("stExpander").filter(has_text="Change the workbook")
    return editor.get_by_test_id("stDataFrame").first


def at_rest(page, expect) -> None:
    settle(page, expect)
    page.wait_for_timeout(500)  # an expander that opens moves what is below it


def type_in(page, expect, x: float, y: float, text: str, answer: str) -> None:
    """Type into a cell, and again where a redraw swallowed the keys, until it is answered."""
    for _ in range(TRIES):
        at_rest(page, expect)
        corner = grid(page).bounding_box()
        page.mouse.dblclick(corner["x"] + x, corner["y"] + y)
        editor = page.locator("#portal textarea, #portal input").first
        try:
            expect(editor).to_be_focused(timeout=5_000)
            editor.fill(text)
            page.wait_for_timeout(300)
            editor.press("Enter")
            expect(page.get_by_text(answer).first).to_be_visible(timeout=10_000)
        except AssertionError:
            page.keyboard.press("Escape")
            continue
        return
    expect(page.get_by_text(answer).first).to_be_visible()


def paste(page, expect, x: float, y: float, answer: str) -> None:
    """Paste into a cell, and again where a redraw swallowed the keys, until it is answered."""
    told = page.get_by_text(answer).first
    for _ in range(TRIES):
        at_rest(page, expect)
        corner = grid(page).bounding_box()
        page.mouse.click(corner["x"] + x, corner["y"] + y)
        page.keyboard.press("Control+v")
        try:
            expect(told).to_be_visible(timeout=10_000)
        except AssertionError:
            continue
        return
    expect(told).to_be_visible()


def test_two_windows_messages_and_dates_pasted_in_the_persons_order(open_page, expect):
    page = open_page(locale="en-GB", permissions=["clipboard-read", "clipboard-write"])
    upload(page, SAMPLES / "tiny.xlsx")
    expect(page.get_by_text("It can be planned")).to_be_visible()
    open_editor(page, expect)
    other = page.context.new_page()
    other.goto(page.url)
    expect(other.get_by_text("It can be planned")).to_be_visible()
    open_editor(other, expect)
    type_in(page, expect, AIRCRAFT, SECOND, "Q-ONE", "Rows changed: Checks 1.")
    type_in(other, expect, AIRCRAFT, THIRD, "Q-TWO", "Rows changed: Checks 2.")
    clash = "Aircraft: it was Q-TWO there, and is Q-THREE now."
    type_in(page, expect, AIRCRAFT, THIRD, "Q-THREE", clash)

    # Pasted in Britain it is the fourth of March, and too late for this base.
    page.evaluate("navigator.clipboard.writeText('04/03/2027\\t13/14/2027')")
    paste(page, expect, EARLIEST, SECOND, "Earliest in Thu 4 Mar 2027")
    expect(page.get_by_text("Nov 2026")).to_have_count(0)  # as which the grid reads 13/14

    # A click on the message shows its row, from another sheet too.
    crews = page.get_by_role("radio", name="Crews", exact=True)
    crews.click()
    expect(crews).to_be_checked()
    at_rest(page, expect)
    message = page.get_by_role("button", name="Checks!").first
    shown = page.get_by_text("Row 3 is shown first.")
    click_until_told(message, shown, expect, force=False)


WARNS = """
() => {
    const leaving = new Event("beforeunload", {cancelable: true});
    window.dispatchEvent(leaving);
    return leaving.defaultPrevented;
}
"""
"""Whether the page would have the browser ask before it is left (HTML, the beforeunload event)."""


def test_leaving_warns_while_work_goes_on_and_not_for_what_is_kept(open_page, expect):
    page = open_page()
    upload(page, SAMPLES / "quarter.xlsx")
    expect(page.get_by_text("It can be planned")).to_be_visible()
    settle(page, expect)
    assert not page.evaluate(WARNS)
    begin_plan(page, expect)
    stop = page.get_by_role("button", name="Stop and keep the best plan")
    expect(stop).to_be_visible()
    page.wait_for_function(f"({WARNS})()")
    click_until_told(stop, page.get_by_text("ended by a person"), expect, force=False)
    expect(stop).to_have_count(0)
    page.wait_for_function(f"!({WARNS})()")
