"""An enquiry on a phone: asked, answered, booked, with nothing to be moved sideways."""

import time
from urllib.parse import urlsplit

import pytest

from tests.browser.driving import make_plan, press_button, settle, upload
from tests.browser.faults_of_access import serious_faults
from tests.browser.test_dashboard_in_a_browser import SAMPLES

pytestmark = [pytest.mark.browser, pytest.mark.long]

PHONE = {"width": 390, "height": 844}
MOST_SECONDS = 120.0
LEAST_PIXELS = 24
"""Of what is tapped: WCAG 2.2, 2.5.8 *Target Size (Minimum)*, from memory."""


def choose(page, label: str, option: str) -> None:
    page.get_by_role("combobox", name=label).first.click()
    page.get_by_role("option", name=option, exact=True).click()


def held_to_the_screen(page) -> None:
    """Nothing is wider than the phone, what is tapped is large enough, and nobody is kept out."""
    wide = page.evaluate(
        "[...document.querySelectorAll('[data-testid=stMain], [data-testid=stMain] button, "
        "[data-testid=stMain] canvas, [data-testid=stMain] svg')]"
        ".filter(e => e.getBoundingClientRect().right > innerWidth + 1)"
        ".map(e => e.outerHTML.slice(0, 200))"
    )
    assert wide == []
    for tapped in page.get_by_test_id("stMain").locator("button[kind]").all():
        box = tapped.bounding_box()
        assert box is None or min(box["width"], box["height"]) >= LEAST_PIXELS
    assert serious_faults(page) == []


def test_an_enquiry_is_answered_and_booked_on_a_phone_in_two_minutes(open_page, expect, server):
    page = open_page(color_scheme="dark")
    upload(page, SAMPLES / "tiny.xlsx")
    make_plan(page, expect)
    page.set_viewport_size(PHONE)
    began = time.monotonic()
    page.goto(f"{server.address}commercial?{urlsplit(page.url).query}")
    expect(page.get_by_role("heading", name="Commercial", exact=True)).to_be_visible()
    settle(page, expect)
    held_to_the_screen(page)
    choose(page, "Package", "Wash and inspect")
    page.get_by_role("spinbutton", name="Price offered").fill("2000")
    press_button(page, "Ask", page.get_by_text("worth it", exact=True), expect)
    assert time.monotonic() - began < MOST_SECONDS
    settle(page, expect)
    held_to_the_screen(page)
    booked = page.get_by_role("heading", name="What is booked")
    press_button(page, "Book Enquiry", booked, expect)
    settle(page, expect)
    held_to_the_screen(page)
    assert time.monotonic() - began < 2 * MOST_SECONDS
