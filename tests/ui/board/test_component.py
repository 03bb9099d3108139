"""What goes to the browser, and what is believed of what comes back."""

import json
import re
from dataclasses import replace
from datetime import date
from hashlib import sha256
from pathlib import Path

import pytest

import ui.board
from capacity.words.palette import MEANINGS
from tests.ui.plans import base, view
from ui.board.colours import colours_of, contrast
from ui.board.component import Moved, PickedCheck, PickedWeek, moved_of, picked_of
from ui.board.sent_rows import as_json
from ui.look import DARK, LIGHT
from ui.planner.board_rows import board_rows

FOLDER = Path(ui.board.__file__).parent
SOURCES = sorted((FOLDER / "source").glob("*.js"))
BUNDLES = (FOLDER / "board.js", FOLDER / "carrier.js")
WRITES_MARKUP = re.compile(
    r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|Function\("
)
ELSEWHERE = re.compile(r"https?://|//[a-z]+\.|@import|fetch\(|XMLHttpRequest|WebSocket|\burl\(")


@pytest.fixture(scope="module")
def rows():
    return board_rows(view())


def test_a_check_or_a_week_of_the_board_is_picked_and_nothing_else(rows):
    assert picked_of({"check": "C2"}, rows) == PickedCheck("C2")
    week = {"week": "2027-W01", "skill": "mechanic"}
    assert picked_of(week, rows) == PickedWeek("2027-W01", "mechanic")
    for other in (None, {"check": "C9"}, {"check": 7}, {**week, "skill": "x"}, "C2", {}):
        assert picked_of(other, rows) is None


def test_a_check_is_dropped_on_a_bay_and_day_or_on_the_shelf(rows):
    to = {"check": "C2", "stage_from": "open", "bay": "B1", "in_day": "2027-01-06"}
    assert moved_of(to, rows) == Moved("C2", "open", "B1", date(2027, 1, 6))
    shelf = {"check": "C2", "stage_from": "open", "bay": None, "in_day": None}
    assert moved_of(shelf, rows) == Moved("C2", "open", None, None)
    wrong = ({"check": "C9"}, {"bay": "B9"}, {"in_day": "soon"}, {"in_day": 3}, {"stage_from": 1})
    for changed in wrong:
        assert moved_of(to | changed, rows) is None


def test_hostile_texts_reach_the_browser_as_texts_and_no_source_writes_markup():
    evil = "</script><img src=x onerror=alert(1)>"
    c1, c2 = base().checks
    of = board_rows(view(base(checks=(c1, replace(c2, aircraft=evil, customer=evil)))))
    (block,) = (one for one in json.loads(as_json(of))["blocks"] if one["check"] == "C2")
    assert block["label"] == f"{evil}, {evil}"
    for source in [*SOURCES, *BUNDLES]:
        assert not WRITES_MARKUP.search(source.read_text(encoding="utf-8")), source.name


def test_nothing_is_asked_of_any_other_machine():
    for source in [*SOURCES, *BUNDLES, FOLDER / "board.css"]:
        assert not ELSEWHERE.search(source.read_text(encoding="utf-8")), source.name


@pytest.mark.parametrize("bundle", BUNDLES, ids=lambda path: path.name)
def test_a_bundle_is_made_of_the_sources_that_lie_beside_it(bundle):
    """Its first line has the SHA-256 of all sources, which the recipe writes there."""
    whole = b"".join(source.read_bytes() for source in SOURCES)
    first, _, rest = bundle.read_text(encoding="utf-8").partition("\n")
    assert first == f"// {sha256(whole).hexdigest()}", "make the bundle again: DEVELOPERS.md"
    assert "export" in rest


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
def test_words_are_read_on_every_colour_and_edges_are_seen(look):
    """WCAG 2.2, 1.4.3 and 1.4.11: 4.5 to 1 for text, 3 to 1 for marks; from memory."""
    colours = colours_of(look)
    page = colours["page"]
    for ground in ("paper", "raised"):
        assert contrast(page["ink"], page[ground]) >= 4.5
        assert contrast(page["quiet"], page[ground]) >= 4.5
    for paint in (*colours["paints"].values(), *colours["bands"].values()):
        assert contrast(paint["ink"], paint["ground"]) >= 4.5
    assert all(contrast(work["ink"], work["fill"]) >= 4.5 for work in colours["works"])
    assert set(colours["paints"]) == {paint.word for paint in MEANINGS}


def test_contrast_is_that_of_the_guidelines():
    """WCAG 2.2, from memory: black on white is 21 to 1, #767676 on white just above 4.5."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)
