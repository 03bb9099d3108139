"""The planning board in a browser: zoom, drag, keyboard, search, and the list of a phone."""

import re
import sys
from datetime import datetime
from pathlib import Path

import pytest

from tests.browser.dragging import MEASURE_DRAG, MOST_DRAG_MS
from tests.browser.driving import click_until_told, make_plan, settle, upload

pytestmark = [pytest.mark.browser, pytest.mark.long]

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
BESIDE = 0.75
"""Pixels: what stands on the same day does so within less than one."""

PLANNED: dict[str, str] = {}
"""The address of the desk on which the plan has been made, by that of its server."""


ALL_DRAWN = """
() => {
    const board = [...document.querySelectorAll('[data-testid=stBidiComponentIsolated]')]
        .map(one => one.shadowRoot?.querySelector('.board')).find(Boolean);
    const days = one => ['--first', '--days'].map(name => one.style.getPropertyValue(name));
    const row = one => one.closest('.row').querySelector('.name').textContent;
    return [...board.querySelectorAll('.row :is(.item, .due, .off), .columns .part')].map(one => [
        one.className, one.getAttribute('aria-label') ?? '', one.textContent, ...days(one),
        one.closest('.row') ? row(one) : one.style.height,
    ]);
}
"""


@pytest.fixture
def page(open_page, expect, server):
    """The page Planner with the plan of the tiny sample, which is made once."""
    return planned(open_page(), expect, server)


def planned(opened, expect, server):
    if server.address in PLANNED:
        opened.goto(PLANNED[server.address])
    else:
        upload(opened, SAMPLES / "tiny.xlsx")
        make_plan(opened, expect)
    expect(block(opened, "T1")).to_be_visible()
    settle(opened, expect)
    PLANNED[server.address] = opened.url
    return opened


def block(page, check: str):
    return page.get_by_role("gridcell", name=re.compile(rf"\bCheck {check}, aircraft"))


def undone(page, expect) -> None:
    """Take the last move by hand back, so that the board shows the plan again."""
    settle(page, expect)
    back = page.get_by_text("has no move; the board shows the plan")
    click_until_told(page.get_by_role("button", name="Undo"), back, expect, force=False)
    settle(page, expect)


def all_drawn(page) -> list[list[str]]:
    """Return every mark of the board: what kind, what it says, its days and the row it is in."""
    return page.evaluate(ALL_DRAWN)


def week(page, name: str):
    return page.get_by_role("gridcell", name=re.compile(rf"^Mechanic, week {name}"))


def test_bays_and_hours_are_zoomed_and_scrolled_together(page, expect):
    button = lambda name: page.get_by_role("button", name=name, exact=True)  # noqa: E731
    widths = []
    for _ in range(3):
        # T1 comes in on the Monday of the first week: both begin at the same place.
        bay, hours = block(page, "T1").bounding_box(), week(page, "2027-W01").bounding_box()
        assert abs(bay["x"] - hours["x"]) < BESIDE
        widths.append(hours["width"])
        button("Zoom in").click()
    assert widths[0] < widths[1] < widths[2]
    page.locator(".board .scroller").evaluate("one => { one.scrollLeft = 300 }")
    assert (
        abs(block(page, "T1").bounding_box()["x"] - week(page, "2027-W01").bounding_box()["x"]) < 1
    )
    # Names of stages are read once there is room for them, names of bays always.
    names = "one => getComputedStyle(one, '::before').content"
    assert block(page, "T1").locator(".strip").first.evaluate(names) == '"Open"'
    name = page.get_by_role("rowheader", name=re.compile("Small bay, ")).bounding_box()
    board = page.locator(".board .scroller").bounding_box()
    assert abs(name["x"] - board["x"]) < 3
    button("Show the whole plan").click()
    assert week(page, "2027-W01").bounding_box()["width"] == pytest.approx(widths[0], abs=2)


def test_the_board_is_driven_by_keys_alone(page, expect):
    page.get_by_role("searchbox", name="Search checks").focus()
    for _ in range(12):
        page.keyboard.press("Tab")
        focused = page.evaluate(
            "() => document.activeElement.shadowRoot?.activeElement?.getAttribute('aria-label')"
        )
        if focused and "Check T" in focused:
            break
    assert "Check T" in focused
    page.keyboard.press("Home")
    expect(block(page, "T1")).to_be_focused()
    page.keyboard.press("ArrowDown")
    expect(block(page, "T3")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Check T3", exact=True)).to_be_visible()
    settle(page, expect)
    block(page, "T3").focus()
    page.keyboard.press("m")
    live = page.locator(".board .live")
    expect(live).to_contain_text("T3 is taken up")
    page.keyboard.press("ArrowRight")
    expect(live).to_contain_text("T3: Small bay, in Fri 8 Jan 2027")
    page.keyboard.press("Escape")
    expect(live).to_have_text("It is where it was.")
    page.keyboard.press("m")
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_text("T3 into Small bay on Thu 14 Jan 2027").first).to_be_visible()
    undone(page, expect)


def test_a_check_is_dragged_to_another_day_and_answered(page, expect):
    before = all_drawn(page)
    page.evaluate(MEASURE_DRAG)
    still = block(page, "T3")
    still.hover(position={"x": 20, "y": 10})
    page.evaluate("() => document.fonts.ready")  # icons come late, and what stands below moves
    page.wait_for_timeout(1500)
    still.hover(position={"x": 20, "y": 10})
    box = still.bounding_box()
    page.mouse.down()
    for step in range(1, 13):
        page.mouse.move(box["x"] + 20 + 12 * step, box["y"] + 10)
        page.wait_for_timeout(30)
    ghost = page.locator(".ghost")
    expect(ghost).to_contain_text("T3: Small bay, in ")
    said = ghost.inner_text()
    in_day = re.search(r"in (\w{3} \d+ \w{3} 2027)", said)[1]
    page.mouse.up()
    expect(ghost).to_have_count(0)
    answer = page.get_by_text(f"T3 into Small bay on {in_day}").first
    expect(answer).to_be_visible()
    expect(page.get_by_text("The board shows Draft A: ")).to_be_visible()
    expect(block(page, "T3")).to_have_accessible_name(re.compile("moved", re.IGNORECASE))
    taken = page.evaluate("window.dragged")
    # Only what differs was drawn anew; a page that is loaded again draws all of it.
    changed = all_drawn(page)
    page.reload()
    expect(block(page, "T3")).to_have_accessible_name(re.compile("moved", re.IGNORECASE))
    assert all_drawn(page) == changed != before
    undone(page, expect)
    assert all_drawn(page) == before
    sys.stdout.write(f"\na drag is answered within, in ms: {[round(one) for one in taken]}\n")
    assert taken
    assert sorted(taken)[len(taken) // 2] < MOST_DRAG_MS, taken


def test_a_finger_scrolls_the_board_and_drags_a_check_on_which_it_rests(open_page, expect, server):
    """A browser is asked for touches as a screen sends them, so that it scrolls by itself too."""
    page = planned(open_page(has_touch=True), expect, server)
    for _ in range(3):
        page.get_by_role("button", name="Zoom in", exact=True).tap()
    screen = page.context.new_cdp_session(page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        at = [{"x": x, "y": y} for x, y in points]
        screen.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": at})
        page.wait_for_timeout(30)

    def drag(rests_ms: int, right: float) -> None:
        block(page, "T3").scroll_into_view_if_needed()
        box = block(page, "T3").bounding_box()
        x, y = max(box["x"] + 20, 300), box["y"] + 10
        touch("touchStart", (x, y))
        page.wait_for_timeout(rests_ms)
        for step in range(1, 11):
            touch("touchMove", (x + right * step / 10, y))
        said.append(page.locator(".ghost").all_inner_texts())
        touch("touchEnd")

    said: list[list[str]] = []
    before = block(page, "T3").bounding_box()["x"]
    drag(0, -150)
    assert block(page, "T3").bounding_box()["x"] < before - 50  # the board has scrolled
    drag(700, 150)
    assert said[0] == []
    in_day = re.search(r"T3: Small bay, in (\w{3} \d+ \w{3} 2027)", said[1][0])[1]
    expect(page.get_by_text(f"T3 into Small bay on {in_day}").first).to_be_visible()
    undone(page, expect)


def test_what_is_searched_for_stands_out_and_is_counted(page, expect):
    page.get_by_role("searchbox", name="Search checks").fill("Q-TNYC")
    expect(page.get_by_text("1 of 4 checks")).to_be_visible()
    expect(page.locator(".board .block.dim")).to_have_count(3)
    expect(block(page, "T3")).not_to_have_class(re.compile("dim"))


def test_on_a_phone_the_checks_are_a_list_in_order_of_in_day(page, expect):
    page.set_viewport_size({"width": 390, "height": 844})
    entries = page.locator(".board .checks .entry")
    expect(entries).to_have_count(4)
    told = [re.search(r"in (\w{3} \d+ \w{3} 2027)", one)[1] for one in entries.all_inner_texts()]
    in_days = [datetime.strptime(one, "%a %d %b %Y") for one in told]
    assert in_days == sorted(in_days)
    for check in ("T1", "T2", "T3", "T4"):
        expect(entries.filter(has_text=f"Check {check}, aircraft")).to_have_count(1)
    expect(entries.first).to_contain_text("Large bay, in Mon 4 Jan 2027")
    expect(page.locator(".board .scroller")).to_be_hidden()
    across = page.evaluate("document.documentElement.scrollWidth")
    assert across <= 390
    chosen = page.get_by_text("Check T3", exact=True)
    click_until_told(entries.filter(has_text="Check T3, aircraft"), chosen, expect)
