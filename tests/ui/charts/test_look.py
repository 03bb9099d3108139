"""The colours of light and dark pages: words can be read, and works are told apart on them."""

from itertools import combinations, pairwise

import pytest

from capacity.words.palette import HOURS, MEANINGS, WHITE, WHOSE
from tests.colour_vision import LEAST_DISTANCE, SIGHT, contrast, distance, lightness, seen
from ui.look import DARK, LIGHT, Look, look_of

LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)


@LOOKS
@pytest.mark.parametrize("sight", SIGHT)
def test_kinds_of_work_are_told_apart_by_every_sight(look: Look, sight: str):
    pairs = combinations(look.works, 2)
    assert min(distance(seen(a, sight), seen(b, sight)) for a, b in pairs) >= LEAST_DISTANCE


@LOOKS
def test_kinds_of_work_are_told_apart_in_grey(look: Look):
    steps = [lightness(colour) for colour in look.works]
    assert all(abs(a - b) >= 10 for a, b in pairwise(steps)), steps


@LOOKS
def test_words_can_be_read_on_the_page_and_on_every_meaning(look: Look):
    for ink in (look.ink, look.quiet):
        assert contrast(ink, look.paper) >= 4.5, ink
    for paint in MEANINGS:
        assert contrast(look.ink_on(paint), look.ground(paint)) >= 4.5, paint.word


@LOOKS
def test_what_is_drawn_can_be_seen_on_the_page(look: Look):
    for paint in (*WHOSE, *HOURS):
        # Every block has an edge; light ones are seen by it.
        assert max(contrast(look.ground(paint), look.paper), contrast(look.ink, look.paper)) >= 3
    for paint in MEANINGS:
        if paint.fill == WHITE:
            assert contrast(paint.lines, look.paper) >= 3, paint.word


@LOOKS
def test_a_page_gets_its_own_look(look: Look):
    assert look_of(look.name) is look
    assert look_of(None) is LIGHT
