"""The palette is told apart by colour-blind readers and in grey, and its words can be read."""

from itertools import combinations, pairwise

import pytest

from capacity.words import palette
from capacity.words.palette import HOURS, INK, KINDS_OF_WORK, MEANINGS, WHITE, WHOSE, Edge, Hatching
from tests.colour_vision import (
    LEAST_DISTANCE,
    SIGHT,
    contrast,
    distance,
    lab,
    lightness,
    linear,
    seen,
)

BY_WORD = {paint.word: paint for paint in MEANINGS}


def test_the_arithmetic_agrees_with_known_values():
    assert lab((1.0, 1.0, 1.0)) == pytest.approx((100, 0, 0), abs=0.01)
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert lab(linear("#ff0000")) == pytest.approx((53.24, 80.09, 67.20), abs=0.05)


def test_a_red_and_a_green_that_are_far_apart_would_fail():
    red, green = "#e15759", "#59a14f"
    assert distance(seen(red, "everybody"), seen(green, "everybody")) > 90
    assert distance(seen(red, "deutan"), seen(green, "deutan")) < LEAST_DISTANCE


def test_every_meaning_has_a_word_of_its_own_and_a_look_of_its_own():
    assert len(BY_WORD) == len(MEANINGS) == 9
    looks = {(p.fill, p.lines if p.hatching is not Hatching.NONE else "") for p in MEANINGS}
    assert len(looks) == len(MEANINGS)


@pytest.mark.parametrize("sight", SIGHT)
def test_what_stands_together_is_told_apart_by_every_sight(sight: str):
    for together in (WHOSE, HOURS, (*WHOSE, palette.OPTION)):
        for one, other in combinations(together, 2):
            apart = distance(seen(one.colour, sight), seen(other.colour, sight))
            assert apart >= LEAST_DISTANCE, (one.word, other.word, apart)


def test_hours_are_told_apart_in_grey():
    """What lies right upon another kind of hours differs most; hatching tells the rest too."""
    steps = [lightness(paint.fill) for paint in HOURS]
    assert all(abs(a - b) >= 15 for a, b in pairwise(steps)), steps
    assert all(abs(a - b) >= 8 for a, b in combinations(steps, 2)), steps
    assert steps[1] > steps[2] > steps[3], "overtime, contract and overload darken in this order"


def test_whose_aircraft_it_is_is_told_apart_in_grey():
    own, third_party = (lightness(paint.fill) for paint in WHOSE)
    assert own - third_party >= 8


def test_words_can_be_read_on_every_colour():
    for paint in MEANINGS:
        ground = WHITE if paint.hatching is not Hatching.NONE else paint.fill
        assert contrast(paint.ink, ground) >= 4.5, paint.word
        assert contrast(paint.ink, paint.fill) >= 4.5, paint.word


def test_what_is_on_white_can_be_seen_there():
    for paint in MEANINGS:
        if paint.fill == WHITE:
            assert contrast(paint.lines, WHITE) >= 3, paint.word
            assert paint.hatching is not Hatching.NONE or paint.edge is Edge.DASHED


def test_kinds_of_work_are_steps_of_grey():
    steps = [lightness(grey) for grey in KINDS_OF_WORK]
    assert all(b - a >= 15 for a, b in pairwise(steps)), steps
    assert KINDS_OF_WORK[0] == INK
