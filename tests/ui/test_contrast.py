"""Contrast on screen and paper, in light and dark: text 4.5:1 at least, marks 3:1.

The limits are those of WCAG 2.2, success criteria 1.4.3 (text) and 1.4.11 (what must be seen to
understand a picture), from memory. The formula is its contrast ratio, (L1 + 0.05) / (L2 + 0.05) of
relative luminances, in ``tests/colour_vision.py``: weights and the limit 0.04045 were read in
W3C's "MathML version of the relative luminance definition" (WCAG 2.2). That #767676 is about the
lightest grey for text on white is common practice, no source. Grid lines and the rules of tables
are no marks: nothing is lost without them.
"""

import re
import tomllib
from itertools import product
from pathlib import Path

import pytest

from capacity.words.palette import DAY_OFF, GREY, INK, MEANINGS, WHITE, Edge, Hatching, Paint
from tests.colour_vision import contrast
from ui.board.colours import colours_of
from ui.look import DARK, LIGHT, Look
from ui.manager.heat_rows import PAINTS
from ui.printing.drawing import edge_of
from ui.printing.sheet import PAINTED, STYLE

TEXT, MARK = 4.5, 3.0
LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
CONFIG = Path(__file__).parents[2] / "ui" / ".streamlit" / "config.toml"
BOARD_STYLE = Path(__file__).parents[2] / "ui" / "board" / "board.css"

FADED = 0.6
"""Captions have the page's text colour with this share of opacity, in the framework."""


def theme_of(look: Look) -> dict[str, str]:
    return tomllib.loads(CONFIG.read_text(encoding="utf-8"))["theme"][look.name]


def over(colour: str, ground: str, opacity: float) -> str:
    """Return how a colour looks that lets some of the ground through."""
    parts = [
        round(opacity * int(colour[at : at + 2], 16) + (1 - opacity) * int(ground[at : at + 2], 16))
        for at in (1, 3, 5)
    ]
    return "#" + "".join(f"{part:02x}" for part in parts)


def test_the_formula_has_known_values():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert over("#1c2732", "#ffffff", FADED) == "#777d84"  # as a browser draws a caption


@LOOKS
def test_the_words_of_a_page_can_be_read_on_it(look: Look):
    theme = theme_of(look)
    page, raised, ink = (
        theme[f"{part}Color"] for part in ("background", "secondaryBackground", "text")
    )
    assert page == look.paper
    for words, ground in product((look.ink, look.quiet, ink), (page, raised)):
        assert contrast(words, ground) >= TEXT, (words, ground)
    assert contrast(over(ink, page, FADED), page) >= TEXT
    # The button that matters most: white words on the colour of the page.
    assert contrast(WHITE, theme["primaryColor"]) >= TEXT
    assert contrast(theme["primaryColor"], page) >= MARK


@LOOKS
def test_words_can_be_read_on_every_colour(look: Look):
    for paint in (*MEANINGS, *PAINTS.values()):
        ground, ink = look.ground(paint), look.ink_on(paint)
        assert contrast(ink, ground) >= TEXT, (look.name, paint.word)


@LOOKS
def test_every_colour_can_be_told_from_the_page(look: Look):
    """By itself, by its edge or, where it has none, by the lines upon it."""
    for paint in MEANINGS:
        ground = look.ground(paint)
        shown = [contrast(ground, look.paper)]
        if paint.edge is Edge.THIN:
            shown.append(contrast(look.ink, look.paper))
        if paint.hatching is not Hatching.NONE:
            shown.append(contrast(paint.lines, ground))
        assert max(shown) >= MARK, (look.name, paint.word)


@LOOKS
def test_hatching_can_be_seen_on_its_colour(look: Look):
    for paint in MEANINGS:
        if paint.hatching is not Hatching.NONE:
            assert contrast(_lines(paint, look), look.ground(paint)) >= MARK, paint.word


def _lines(paint: Paint, look: Look) -> str:
    return look.ink if paint.lines == INK and look.ground(paint) == look.paper else paint.lines


@LOOKS
def test_lines_of_charts_and_strips_of_stages_can_be_seen(look: Look):
    assert contrast(look.ink, look.paper) >= MARK
    assert contrast(look.quiet, look.paper) >= MARK  # the edge of every strip


@LOOKS
def test_the_board_can_be_read_and_seen(look: Look):
    """Its colours are those of the page; the style sheet names which it puts on which."""
    colours = colours_of(look)
    page = colours["page"]
    grounds = [page["paper"], page["raised"]]
    for words, ground in product((page["ink"], page["quiet"]), grounds):
        assert contrast(words, ground) >= TEXT, (words, ground)
    for one in (*colours["paints"].values(), *colours["bands"].values(), colours["taken"]):
        assert contrast(one["ink"], one["ground"]) >= TEXT, one
        if one["hatching"] != Hatching.NONE:
            assert contrast(one["lines"], one["ground"]) >= MARK, one
    for work in colours["works"]:
        assert contrast(work["ink"], work["fill"]) >= TEXT, work


@LOOKS
def test_the_style_sheet_of_the_board_puts_no_faint_words_on_anything(look: Look):
    page = colours_of(look)["page"]
    rules = re.findall(r"([^{}]+)\{([^{}]*)\}", BOARD_STYLE.read_text(encoding="utf-8"))
    seen = 0
    for selector, body in rules:
        words = re.search(r"(?<![-\w])color: var\(--(\w+)\)", body)
        ground = re.search(r"background(?:-color)?: var\(--(\w+)\)", body)
        if words is None and ground is None:
            continue
        ink = page[words[1]] if words else page["ink"]
        on = [page[ground[1]]] if ground else [page["paper"], page["raised"]]
        for one in on:
            seen += 1
            assert contrast(ink, one) >= TEXT, (selector.strip(), ink, one)
    assert seen > 10


def test_paper_is_white_and_its_marks_can_be_seen():
    assert LIGHT.paper == WHITE.lower()
    for paint in MEANINGS:
        edge, _ = edge_of(paint)
        told = GREY if paint is DAY_OFF else edge
        assert contrast(told, WHITE) >= MARK, paint.word
    colours = re.findall(r"[^-]color: (#\w+)", STYLE + PAINTED)
    grounds = re.findall(r"background: (#\w+)", STYLE + PAINTED)
    assert len(colours) == len(grounds) > len(PAINTED.splitlines()) > 0
    for ink, ground in zip(colours, grounds, strict=True):
        assert contrast(_long(ink), _long(ground)) >= TEXT, (ink, ground)


def _long(colour: str) -> str:
    return colour if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:])
