"""One palette for workbooks, dashboard and printed pages: a colour means one thing.

The colours are the eight of Masataka Okabe and Kei Ito, "Color Universal Design: how to make
figures and presentations that are friendly to colorblind people" (2002, revised 2008), whose
values were not checked against the text; ``tests/test_palette.py`` computes how far apart they
look to colour-blind readers and in grey. Greys carry what is no work: closed bays, days off and
kinds of work.

Nothing is said by colour alone: each meaning has a hatching or an edge, and a word, that are
always drawn with its colour.
"""

from dataclasses import dataclass
from enum import StrEnum

BLACK = "#000000"
ORANGE = "#E69F00"
SKY_BLUE = "#56B4E9"
BLUISH_GREEN = "#009E73"
YELLOW = "#F0E442"
BLUE = "#0072B2"
VERMILLION = "#D55E00"
REDDISH_PURPLE = "#CC79A7"

WHITE = "#FFFFFF"
INK = "#1C2732"
"""Words and edges on white and on every light colour."""

GREY = "#8A8A8A"
LIGHT_GREY = "#EFEFEF"


class Hatching(StrEnum):
    """Lines or dots upon a colour; ``NONE`` is the colour alone, told by its edge and word."""

    NONE = "none"
    RISING = "rising lines"
    FALLING = "falling lines"
    CROSSED = "crossed lines"
    LEVEL = "level lines"
    DOTS = "dots"


class Edge(StrEnum):
    """The line around a colour."""

    THIN = "thin"
    DASHED = "dashed"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Paint:
    """How one meaning looks, everywhere; colours are ``#RRGGBB``.

    ``fill`` is the ground and ``lines`` the colour of the hatching upon it. ``ink`` is for
    words on it. ``word`` stands beside or upon the colour.
    """

    word: str
    fill: str
    ink: str = INK
    hatching: Hatching = Hatching.NONE
    lines: str = INK
    edge: Edge = Edge.THIN

    @property
    def colour(self) -> str:
        """The colour by which a meaning is known: of the ground, on white that of the lines."""
        return self.lines if self.fill in (WHITE, LIGHT_GREY) else self.fill


OWN_FLEET = Paint("own fleet", SKY_BLUE)
THIRD_PARTY = Paint("third party", REDDISH_PURPLE)
OPTION = Paint("option", WHITE, hatching=Hatching.RISING, lines=BLUISH_GREEN, edge=Edge.DASHED)
"""Tentative: lines and a broken edge on white, since it may not be taken."""

CLOSED = Paint("closed", WHITE, hatching=Hatching.FALLING, lines=GREY)
DAY_OFF = Paint("day off", LIGHT_GREY, hatching=Hatching.DOTS, lines=GREY, edge=Edge.NONE)

REGULAR = Paint("regular", BLUE, ink=WHITE)
OVERTIME = Paint("overtime", YELLOW, hatching=Hatching.RISING)
CONTRACT = Paint("contract", ORANGE, hatching=Hatching.LEVEL)
OVERLOAD = Paint("overload", VERMILLION, ink=BLACK)
"""Without lines, with the triangle. Overtime, contract and overload darken in this order."""

WHOSE = (OWN_FLEET, THIRD_PARTY)
HOURS = (REGULAR, OVERTIME, CONTRACT, OVERLOAD)
"""From the bottom of a stack to its top."""

MEANINGS = (*WHOSE, OPTION, CLOSED, DAY_OFF, *HOURS)

KINDS_OF_WORK = ("#1C2732", "#5C6873", "#99A3AD", "#D5DBE1")
"""Greys from dark to light for the kinds of work of a base, which has its own words for them."""
