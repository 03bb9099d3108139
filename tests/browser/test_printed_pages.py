"""Pages to print, printed: how many sheets of paper they take, and what stands at their foot."""

import re
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from capacity.plans.plan import Plan
from capacity.reports.crews.workbook import Line, ShiftList
from capacity.reports.kit.issue import plan_number
from capacity.reports.plan.view import view_of
from tests.browser.faults_of_access import serious_faults
from tests.ui import plans
from tests.ui.year_plan import year_base, year_outcome
from ui.manager.key_figure_rows import figures_of
from ui.manager.labour_view import labour_of
from ui.printing.key_figures import key_figures_page
from ui.printing.labour import labour_page
from ui.printing.paper import A3, A4
from ui.printing.sheet import paragraph, sheet, table
from ui.printing.shift import shift_page
from ui.printing.wall import wall_sheet

pytestmark = pytest.mark.browser

PLAN = Plan((), ("V1",))


def pages(browser, html: bytes) -> int:
    """Return how many sheets the page is printed on."""
    page = browser.new_page()
    page.set_content(html.decode())
    printed = page.pdf(prefer_css_page_size=True)
    page.close()
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


def list_of(lines: int, remarks: str = "") -> bytes:
    line = Line("B1", "ZZ-A", "V1", "Work", "Airframe", "Crew", 0.25, 2.0, 0.0, remarks)
    return shift_page(ShiftList(date(2027, 1, 4), "D", "06:00", (line,) * lines), "Base", PLAN)


def test_a_short_shift_is_one_sheet_and_a_long_one_goes_on(browser):
    assert pages(browser, list_of(8)) == 1
    assert pages(browser, list_of(60)) in (2, 3, 4)


@pytest.mark.long
def test_every_list_is_on_the_sheets_that_it_was_laid_out_for(browser):
    """However long the list and its remarks are: no page is left with a line or two."""
    remark = "CRITICAL: one does it, another qualified person inspects; night: rest and handover"
    for lines in (14, 20, 64):
        for said in ("", remark):
            page = list_of(lines, said)
            assert pages(browser, page) == page.count(b"<section"), (lines, said)


@pytest.mark.long
@pytest.mark.parametrize("paper", [A3, A4])
def test_a_wall_sheet_is_a_sheet_of_its_paper_a_quarter(browser, paper):
    year = view_of(year_base(), year_outcome(), ())
    bay = replace(year.base.bays[0], name="Dock 41 of the north-eastern extension", hangar="East")
    more = [replace(bay, name=f"{bay.name} {n}") for n in range(20)]
    crowded = replace(year, base=replace(year.base, bays=(*year.base.bays, *more)))
    for view in (year, crowded):
        page = browser.new_page()
        page.set_content(wall_sheet(view, paper).decode())
        printed = page.pdf(prefer_css_page_size=True)
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", printed)) == 4
        sizes = re.findall(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", printed)
        assert {tuple(round(float(points) / 72 * 25.4) for points in size) for size in sizes} == {
            (paper.width_mm, paper.height_mm)
        }
        # What is drawn ends within its drawing, and words within the boxes that they are cut to.
        outside = page.evaluate(
            """() => [...document.querySelectorAll('svg')].flatMap(svg => {
                const whole = svg.getBoundingClientRect();
                return [...svg.querySelectorAll('text, rect')].filter(part => {
                    const box = part.getBoundingClientRect();
                    return box.left < whole.left - 2 || box.right > whole.right + 2
                        || box.top < whole.top - 2 || box.bottom > whole.bottom + 2;
                }).map(part => part.textContent || part.outerHTML);
            })"""
        )
        page.close()
        assert outside == []


@pytest.mark.long
def test_pages_to_print_keep_nobody_out(browser):
    shown = plans.view()
    printed = {
        "labour": labour_page(labour_of(shown), None),
        "key figures": key_figures_page(shown, figures_of(shown)),
        "shift list": list_of(60),
        "wall sheet": wall_sheet(shown, A4),
    }
    page = browser.new_page()
    faults = {}
    for name, html in printed.items():
        page.set_content(html.decode())
        faults[name] = serious_faults(page)
    page.close()
    assert faults == {name: [] for name in printed}


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
