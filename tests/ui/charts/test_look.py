"""The colours are told apart by colour-blind readers, in grey, and on their ground.

The simulation is that of Machado, Oliveira and Fernandes (2009), A physiologically-based model
for simulation of color vision deficiency, severity 1.0, applied to linear RGB; the matrices were
read in several open sources that agree. sRGB and CIELAB: IEC 61966-2-1 and CIE 15, white D65,
from memory. Contrast: WCAG 2.2, success criteria 1.4.3 and 1.4.11, from memory.
"""

from itertools import combinations, pairwise

import pytest

from ui.look import DARK, LIGHT, Look, look_of

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]

SIGHT: dict[str, Matrix] = {
    "everybody": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
TO_XYZ: Matrix = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
WHITE: Vector = (0.95047, 1.0, 1.08883)
LEAST_DISTANCE = 10.0
"""In CIELAB; colours nearer than this are taken for each other in a legend."""


def linear(colour: str) -> Vector:
    def one(place: int) -> float:
        value = int(colour[place : place + 2], 16) / 255
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    return one(1), one(3), one(5)


def times(matrix: Matrix, vector: Vector) -> Vector:
    x, y, z = (sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix)
    return x, y, z


def lab(rgb: Vector) -> Vector:
    def root(value: float) -> float:
        return value ** (1 / 3) if value > 216 / 24389 else (24389 / 27 * value + 16) / 116

    x, y, z = (root(v / w) for v, w in zip(times(TO_XYZ, rgb), WHITE, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def seen(colour: str, sight: str) -> Vector:
    r, g, b = (min(1.0, max(0.0, part)) for part in times(SIGHT[sight], linear(colour)))
    return lab((r, g, b))


def distance(one: Vector, other: Vector) -> float:
    return sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5


def lightness(colour: str) -> float:
    return lab(linear(colour))[0]


def contrast(one: str, other: str) -> float:
    light = sorted((times(TO_XYZ, linear(colour))[1] for colour in (one, other)), reverse=True)
    return (light[0] + 0.05) / (light[1] + 0.05)


SETS = ("stages", "hours", "lines", "bands")
LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)


def test_the_arithmetic_agrees_with_known_values():
    assert lab((1.0, 1.0, 1.0)) == pytest.approx((100, 0, 0), abs=0.01)
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert lab(linear("#ff0000")) == pytest.approx((53.24, 80.09, 67.20), abs=0.05)


def test_a_red_and_a_green_that_are_far_apart_would_fail():
    red, green = "#e15759", "#59a14f"
    assert distance(seen(red, "everybody"), seen(green, "everybody")) > 90
    assert distance(seen(red, "deutan"), seen(green, "deutan")) < LEAST_DISTANCE


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
