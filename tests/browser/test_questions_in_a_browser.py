"""Why and risk, asked beside their buttons in a browser: progress, answer, and where it stands."""

import pytest

from tests.browser.driving import click_until_told, make_plan, press_button, settle, upload
from tests.browser.test_dashboard_in_a_browser import overloaded

__all__ = ["overloaded"]
pytestmark = [pytest.mark.browser, pytest.mark.long]


def test_why_is_asked_in_the_panel_of_a_check_and_its_risk_stands_there(
    open_page, expect, overloaded
):
    page = open_page()
    upload(page, overloaded)
    make_plan(page, expect)
    simulated = page.get_by_text("simulations every check is out by its day")
    press_button(page, "Simulate", simulated, expect)
    settle(page, expect)
    block = page.locator(".board .block").filter(has_text="T2").first
    click_until_told(block, page.get_by_text("Check T2", exact=True), expect)
    settle(page, expect)
    expect(page.get_by_text("in 80 % of simulations").first).to_be_visible()
    why = "Why here, why late or expensive, what would help"
    press_button(page, why, page.get_by_text("In short: T2"), expect)
    expect(page.get_by_text(" --")).to_have_count(0)
