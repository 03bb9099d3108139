"""The colours of a light and a dark page around the one palette of ``capacity.words.palette``.

The palette's meanings look the same on both, on paper and in the workbooks; only what is white
there is the paper of the page here. Nothing is told by colour alone: a shape, lines, a number or
a word always says it too.
"""

from dataclasses import dataclass

from capacity.words.palette import KINDS_OF_WORK, WHITE, Paint


@dataclass(frozen=True, slots=True)
class Look:
    """Colours as ``#rrggbb``; ``works`` are for kinds of work, the most common first."""

    name: str
    ink: str
    quiet: str
    rule: str
    paper: str
    works: tuple[str, ...]

    def ground(self, paint: Paint) -> str:
        """Return the colour on which a meaning is drawn."""
        return self.paper if paint.fill == WHITE else paint.fill

    def ink_on(self, paint: Paint) -> str:
        """Return the colour of words on a meaning."""
        return self.ink if paint.fill == WHITE else paint.ink


LIGHT = Look(
    name="light",
    ink="#1c2732",
    quiet="#566573",
    rule="#d5dbe1",
    paper="#ffffff",
    works=KINDS_OF_WORK,
)

DARK = Look(
    name="dark",
    ink="#e8edf2",
    quiet="#a3b1bf",
    rule="#33404c",
    paper="#12181f",
    works=KINDS_OF_WORK[::-1],
)


def look_of(theme: str | None) -> Look:
    """Return the colours for a page that is ``light`` or ``dark``."""
    return DARK if theme == "dark" else LIGHT
