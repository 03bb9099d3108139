"""Pages to print, printed: how many sheets of paper they take, and what stands at their foot."""

import re
from datetime import UTC, date, datetime

import pytest

from capacity.plans.plan import Plan
from capacity.reports.crews.workbook import Line, ShiftList
from capacity.reports.kit.issue import plan_number
from ui.printing.sheet import paragraph, sheet, table
from ui.printing.shift import shift_page

pytestmark = pytest.mark.browser

PLAN = Plan((), ("V1",))


def pages(browser, html: bytes) -> int:
    """Return how many sheets the page is printed on."""
    page = browser.new_page()
    page.set_content(html.decode())
    printed = page.pdf(prefer_css_page_size=True)
    page.close()
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


def list_of(lines: int) -> bytes:
    line = Line("B1", "ZZ-A", "V1", "Work", "Airframe", "Crew", 0.25, 2.0, 0.0, "")
    return shift_page(ShiftList(date(2027, 1, 4), "D", "06:00", (line,) * lines), "Base", PLAN)


def test_a_short_shift_is_one_sheet_and_a_long_one_goes_on(browser):
    assert pages(browser, list_of(8)) == 1
    assert pages(browser, list_of(60)) in (2, 3, 4)


def test_plan_number_and_moment_stand_above_and_in_the_foot_of_the_page(browser):
    moment = datetime(2027, 1, 4, 7, 5, tzinfo=UTC)
    html = sheet("Title", "Base", [paragraph("Text"), table([], [])], PLAN, moment).decode()
    told = f"Plan {plan_number(PLAN)}, issued Mon 4 Jan 2027 07:05 UTC"
    page = browser.new_page()
    page.set_content(html)
    assert page.get_by_text(told).is_visible()
    rules = page.evaluate("[...document.styleSheets[0].cssRules].map(rule => rule.cssText)")
    page.close()
    assert any(rule.startswith("@page") and told in rule for rule in rules), rules
    assert "0.25" in list_of(1).decode()
