"""What people do at a page, and do again where a redraw of the page swallowed it."""

from pathlib import Path

CLICKS = 3
MS_UNTIL_AGAIN = 10_000
"""So long an answer is waited for before a person tries again; the last try waits longer."""


def settle(page, expect) -> None:
    """Wait until the page has been drawn to its end: a click on a chart half drawn is lost."""
    running = page.locator("[data-testid=stApp][data-test-script-state=notRunning]")
    expect(running).to_have_count(1)
    expect(page.locator("[data-stale=true]")).to_have_count(0)


def button(page, name: str):
    return page.get_by_role("button", name=name, exact=True)


def upload(page, path: Path) -> None:
    """Give a file to the first field for files, once the page is at rest."""
    page.locator("[data-testid=stApp][data-test-script-state=notRunning]").wait_for()
    page.locator("input[type=file]").first.set_input_files(path)


def click_until_told(mark, told, expect, *, force: bool = True) -> None:
    """Click, and again as a person would when a redraw swallowed the click.

    A mark of a chart is clicked by ``force``. What has gone or is shut off meanwhile was clicked.
    """
    for number in range(CLICKS):
        if number == 0 or (mark.is_visible() and mark.is_enabled()):
            mark.click(force=force)
        try:
            expect(told).to_be_visible(timeout=MS_UNTIL_AGAIN)
        except AssertionError:
            continue
        return
    expect(told).to_be_visible()


def press_button(page, name: str, told, expect) -> None:
    """Press a button of a page at rest until it is answered."""
    settle(page, expect)
    click_until_told(button(page, name), told, expect, force=False)


def begin_plan(page, expect) -> None:
    """On a page without a plan, press the button until one is searched for, or there."""
    expect(button(page, "Make the plan")).to_be_enabled()
    searched, there = button(page, "Stop and keep the best plan"), button(page, "Plan file (.json)")
    press_button(page, "Make the plan", searched.or_(there).first, expect)


def make_plan(page, expect) -> None:
    begin_plan(page, expect)
    expect(button(page, "Plan file (.json)")).to_be_visible()
    expect(page.locator(".board .block").first).to_be_visible()
    settle(page, expect)


def go_to(page, name: str, expect) -> None:
    """Go to a page by its name at the side."""
    heading = page.get_by_role("heading", name=name, exact=True)
    click_until_told(page.get_by_role("link", name=name), heading, expect, force=False)


def fetched(page, name: str) -> bytes:
    """Press a button for a file, and again when none came; return what is in the file."""
    from playwright.sync_api import TimeoutError as NoFile

    for presses_left in reversed(range(CLICKS)):
        try:
            with page.expect_download() as download:
                button(page, name).click()
        except NoFile:
            if not presses_left:
                raise
            continue
        return Path(download.value.path()).read_bytes()
    raise AssertionError(name)
