"""Take the README's picture anew: the board of the sample's plan, as the dashboard draws it.

``python -m tests.browser.picture`` plans the sample quarter on a dashboard of its own, in a browser
without a window, and writes ``sample_inputs/quarter_plan.png``. It needs playwright and Chromium.
"""

import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from tests.browser.conftest import LAUNCH, Server, without_a_browser

SAMPLES = Path(__file__).parents[2] / "sample_inputs"
PAGE = {"width": 1400, "height": 3000}
"""In pixels: nothing has to be scrolled to."""
MS_TO_PLAN = 180_000


def main() -> None:
    """Plan the sample and write the picture."""
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder), without_a_browser)
        server.wait()
        try:
            take(server.address, SAMPLES / "quarter.xlsx", SAMPLES / "quarter_plan.png")
        finally:
            server.end()


def take(address: str, workbook: Path, path: Path) -> None:
    """Plan a workbook on the dashboard at an address, and write the picture of its board."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=shutil.which("chromium"), args=LAUNCH)
        page = browser.new_page(viewport=PAGE)
        page.goto(address)
        page.locator("input[type=file]").first.set_input_files(workbook)
        start = page.get_by_role("button", name="Make the plan", exact=True)
        expect(start).to_be_enabled(timeout=MS_TO_PLAN)
        start.click()
        done = page.get_by_role("button", name="Plan file (.json)", exact=True)
        expect(done).to_be_visible(timeout=MS_TO_PLAN)
        board = page.locator(".board")
        expect(board.locator(".block").first).to_be_visible(timeout=MS_TO_PLAN)
        expect(page.locator("[data-stale=true]")).to_have_count(0)
        page.get_by_role("button", name="Show the whole plan").click()
        page.mouse.move(0, 0)
        board.screenshot(path=path)
        browser.close()


if __name__ == "__main__":
    main()
