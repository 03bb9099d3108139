"""Typing into the framework's grids by keyboard, as a person without a mouse does.

A grid is drawn on a canvas, which Tab reaches; arrows move what is selected, Enter opens the editor
of a cell, and Enter takes in what stands there. What is selected is read where a screen reader
reads it: in the table that the grid keeps within its canvas.
"""

import pytest

TRIES = 4
MS_TO_FOLLOW = 400
"""So long after a key the grid's own table says what is selected (it waits for a fifth of a second;
from memory)."""

MS_TO_TAKE_IN = 300
"""Between a person's last letter and Enter: the grid takes letters in a moment later."""

STATE = """canvas => {
    const at = (one, name) => one ? Number(one.getAttribute(name)) : 0;
    const chosen = canvas.querySelector('[role=gridcell][aria-selected=true]');
    return {
        columns: Object.fromEntries([...canvas.querySelectorAll('[role=columnheader]')].map(
            one => [one.textContent.trim(), at(one, 'aria-colindex')])),
        rows: [...canvas.querySelectorAll('tbody [role=row]')].map(row => [
            at(row, 'aria-rowindex'),
            [...row.querySelectorAll('[role=gridcell]')].map(cell => cell.textContent.trim())]),
        column: at(chosen, 'aria-colindex'),
        row: at(chosen?.closest('[role=row]'), 'aria-rowindex'),
    };
}"""


def canvas_of(fold):
    """Return the canvas of the first grid in a part of the page."""
    return fold.get_by_test_id("stDataFrame").first.get_by_test_id("data-grid-canvas")


def select(page, canvas, of_row: str, heading: str) -> None:
    """Go by arrows to a column of the first row in which a text stands; the grid has the focus."""
    for _ in range(TRIES):
        page.wait_for_timeout(MS_TO_FOLLOW)
        state = canvas.evaluate(STATE)
        row = next((number for number, cells in state["rows"] if of_row in cells), 0)
        column = state["columns"].get(heading, 0)
        if row and (state["row"], state["column"]) == (row, column):
            return
        for there, here, on, back in (
            (row, state["row"], "ArrowDown", "ArrowUp"),
            (column, state["column"], "ArrowRight", "ArrowLeft"),
        ):
            for _ in range(abs(there - here) if there and here else 0):
                page.keyboard.press(on if there > here else back)
    pytest.fail(f"arrows do not lead to {heading} of {of_row}: {canvas.evaluate(STATE)}")


def type_into(page, expect, canvas, of_row: str, heading: str, text: str) -> None:
    """Type into a cell; a day as ISO text, whatever order the browser's own field has."""
    select(page, canvas, of_row, heading)
    page.keyboard.press("Enter")
    editor = page.locator("#portal textarea, #portal input").first
    expect(editor).to_be_focused()
    if editor.get_attribute("type") == "date":
        editor.fill(text)
    else:
        page.keyboard.press("Control+A")
        page.keyboard.type(text)
    expect(editor).to_have_value(text)
    page.wait_for_timeout(MS_TO_TAKE_IN)
    page.keyboard.press("Enter")
    expect(editor).to_have_count(0)
