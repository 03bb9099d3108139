"""The colours of the charts, for a light and a dark page.

Every set of colours that stands together is told apart by colour-blind readers and by those
who print in grey (``tests/ui/charts/test_look.py`` computes it), and nothing is told by colour
alone: a shape, a pattern of the line, a number or a word always says it too.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Look:
    """Colours as ``#rrggbb``.

    ``stages`` are for kinds of work; ``hours`` for man-hours by crews on regular time,
    overtime, contract labour and nobody; ``lines`` for what regular hours, overtime and
    contract labour can carry; ``bands`` for how full a week is, from spare to over, with the
    ink of the number printed on each in ``band_inks``.
    """

    name: str
    ink: str
    quiet: str
    rule: str
    paper: str
    own: str
    third_party: str
    late: str
    stages: tuple[str, str, str, str]
    other_work: str
    hours: tuple[str, str, str, str]
    lines: tuple[str, str, str]
    bands: tuple[str, str, str, str, str]
    band_inks: tuple[str, str, str, str, str]


LIGHT = Look(
    name="light",
    ink="#1c2732",
    quiet="#566573",
    rule="#d5dbe1",
    paper="#ffffff",
    own="#dfe5ea",
    third_party="#ffffff",
    late="#b84a00",
    stages=("#0072b2", "#56b4e9", "#009e73", "#cc79a7"),
    other_work="#8a939c",
    hours=("#1f5d91", "#7fb0d8", "#cfd3d8", "#d55e00"),
    lines=("#1b1b1b", "#e69f00", "#9c3a00"),
    bands=("#f1f4f8", "#b5d3e7", "#e9a93f", "#bf5209", "#6b1f05"),
    band_inks=("#1c2732", "#1c2732", "#1c2732", "#ffffff", "#ffffff"),
)

DARK = Look(
    name="dark",
    ink="#e8edf2",
    quiet="#a3b1bf",
    rule="#33404c",
    paper="#12181f",
    own="#3a4753",
    third_party="#12181f",
    late="#ff7a33",
    stages=("#0072b2", "#56b4e9", "#009e73", "#cc79a7"),
    other_work="#8a939c",
    hours=("#3f84bd", "#b5d5ee", "#565d66", "#ff7a33"),
    lines=("#fafafa", "#e69f00", "#e8590c"),
    bands=("#1d2731", "#33597a", "#a67c1f", "#ff9d4d", "#fff7ee"),
    band_inks=("#e8edf2", "#ffffff", "#10161c", "#10161c", "#10161c"),
)


def look_of(theme: str | None) -> Look:
    """Return the colours for a page that is ``light`` or ``dark``."""
    return DARK if theme == "dark" else LIGHT
