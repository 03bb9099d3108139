"""The colours are told apart by colour-blind readers, in grey, and on their ground."""

from itertools import combinations, pairwise

import pytest

from tests.colour_vision import LEAST_DISTANCE, SIGHT, contrast, distance, lightness, seen
from ui.look import DARK, LIGHT, Look, look_of

SETS = ("stages", "hours", "lines", "bands")
LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)


@LOOKS
@pytest.mark.parametrize("sight", SIGHT)
@pytest.mark.parametrize("name", SETS)
def test_colours_that_stand_together_are_told_apart(look: Look, sight: str, name: str):
    colours = getattr(look, name)
    pairs = combinations(colours, 2)
    nearest = min(distance(seen(a, sight), seen(b, sight)) for a, b in pairs)
    assert nearest >= LEAST_DISTANCE, f"{look.name} {name} for {sight}: {nearest:.1f}"


@LOOKS
def test_bands_keep_their_order_in_grey(look: Look):
    steps = [lightness(colour) for colour in look.bands]
    falling = steps if steps[0] > steps[-1] else steps[::-1]
    assert all(a - b >= 8 for a, b in pairwise(falling)), steps


@LOOKS
def test_hours_are_told_apart_in_grey(look: Look):
    """Regular people's hours are the bulk; what is stacked right upon them must differ."""
    steps = [lightness(colour) for colour in look.hours]
    assert all(abs(a - b) >= 10 for a, b in combinations(steps, 2)), steps


@LOOKS
def test_numbers_on_bands_can_be_read(look: Look):
    for band, ink in zip(look.bands, look.band_inks, strict=True):
        assert contrast(band, ink) >= 4.5, (band, ink)


@LOOKS
def test_words_can_be_read_on_the_page_and_on_the_blocks(look: Look):
    for ink in (look.ink, look.quiet, look.late):
        assert contrast(ink, look.paper) >= 4.5, ink
    for ground in (look.own, look.third_party):
        assert contrast(look.ink, ground) >= 4.5, ground


@LOOKS
def test_a_page_gets_its_own_look(look: Look):
    assert look_of(look.name) is look
    assert look_of(None) is LIGHT
