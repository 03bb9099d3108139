"""The looks of the workbooks, in the colours of ``capacity/words/palette.py``.

A look is a mapping of XlsxWriter format properties; looks are put together with ``|``.
Nothing is said by colour alone: each fill that means something comes with a text, a pattern
or an edge.
"""

from collections.abc import Mapping

from capacity.words import palette
from capacity.words.palette import INK, WHITE, Hatching, Paint

Look = Mapping[str, object]

_HEADING = "#DCE4EA"
_ATTENTION = "#DDE1E5"
_LINE = "#B8C0C7"

# XlsxWriter's numbers for fill patterns and for edges.
_PATTERNS = {Hatching.RISING: 14, Hatching.FALLING: 13, Hatching.CROSSED: 15, Hatching.DOTS: 17}
_SPARSE_DOTS = 18
_MEDIUM, _THICK, _MEDIUM_DASHED = 2, 5, 8


def _painted(paint: Paint) -> dict[str, object]:
    """Return the fill of a meaning, with its lines where it has them."""
    if paint.hatching is Hatching.NONE:
        return {"bg_color": paint.fill, "font_color": paint.ink}
    pattern = _PATTERNS[paint.hatching]
    return {"pattern": pattern, "fg_color": paint.lines, "bg_color": paint.fill}


PLAIN: dict[str, object] = {"valign": "top"}
WRAPPED = PLAIN | {"text_wrap": True}
BOLD = PLAIN | {"bold": True}
TITLE = {"bold": True, "font_size": 16, "font_color": INK}
VERDICT = {"text_wrap": True, "valign": "vcenter", "font_size": 12, "bg_color": "#F3F6F8"}
NOTE = {"italic": True, "text_wrap": True, "valign": "top", "font_color": "#4A5A66"}
SECTION = {"bold": True, "font_size": 12, "font_color": INK, "bottom": 2}
HEADING = {
    "bold": True,
    "text_wrap": True,
    "valign": "vcenter",
    "bg_color": _HEADING,
    "bottom": 1,
    "font_color": INK,
}
HEADING_RIGHT = HEADING | {"align": "right", "indent": 1}
ALARM = {"bold": True, "bg_color": INK, "font_color": WHITE, "text_wrap": True}

MIDDLE = {"valign": "vcenter"}
LEFT = PLAIN | {"align": "left"}
DATE = LEFT | {"num_format": "ddd d mmm yyyy"}
_NUMBER = PLAIN | {"align": "right", "indent": 1}
WHOLE = _NUMBER | {"num_format": "#,##0"}
SIGNED_DAYS = _NUMBER | {"num_format": "+0;-0;0"}
HOURS = _NUMBER | {"num_format": "#,##0.0"}
MONEY = _NUMBER | {"num_format": "#,##0.00"}
PEOPLE = _NUMBER | {"num_format": "#,##0.00"}
"""Quarters of a shift are written in full."""
PERCENT = _NUMBER | {"num_format": "0.0"}

# In long columns that are mostly nought, a dash lets the eye find the rest.
WHOLE_OR_DASH = _NUMBER | {"num_format": "#,##0;-#,##0;\u2013"}
PEOPLE_OR_DASH = _NUMBER | {"num_format": "#,##0.00;-#,##0.00;\u2013"}
SIGNED_HOURS = _NUMBER | {"num_format": "+#,##0.0;-#,##0.0;\u2013"}
HOURS_OR_DASH = _NUMBER | {"num_format": "#,##0.0;-#,##0.0;\u2013"}
MONEY_OR_DASH = _NUMBER | {"num_format": "#,##0.00;-#,##0.00;\u2013"}

TOTAL = {"bold": True, "top": 1}

RULED = {"bottom": 1, "bottom_color": _LINE}
MARKED = {"bg_color": _ATTENTION, "bold": True, "border": 1, "border_color": INK}
"""A value to look at: framed, since a thick right edge alone says that a check is late out."""

# Bay occupancy.
_RUN = {
    "border": _MEDIUM,
    "border_color": INK,
    "text_wrap": True,
    "align": "left",
    "indent": 1,
    "valign": "vcenter",
    "font_size": 9,
}
OWN_STAY = _RUN | _painted(palette.OWN_FLEET)
THIRD_PARTY_STAY = _RUN | _painted(palette.THIRD_PARTY)
OPTION_STAY = (
    _RUN
    | _painted(palette.OPTION)
    | {"border": _MEDIUM_DASHED, "border_color": palette.OPTION.lines, "bold": True}
)
LATE_EDGE = {
    "bold": True,
    "font_size": 8,
    "indent": 0,
    "left": 1,
    "right": _THICK,
    "right_color": INK,
}
"""On top of a stay, from Agreed out to its out day; its words fit into one day."""

AGREED_BAR = {
    "left": _MEDIUM,
    "left_color": INK,
    "align": "left",
    "valign": "vcenter",
    "font_size": 9,
    "italic": True,
}
"""On top of a free day, that of Agreed out; its word runs over the next days."""

CLOSED = _RUN | _painted(palette.CLOSED) | {"border": 1, "bold": True}
CHANGEOVER = _RUN | {
    "pattern": _SPARSE_DOTS,
    "bg_color": WHITE,
    "border": 1,
    "align": "center",
    "indent": 0,
}
BLOCKED = _RUN | {
    "pattern": _PATTERNS[Hatching.CROSSED],
    "fg_color": palette.GREY,
    "bg_color": WHITE,
    "border": 1,
    "bold": True,
}
_DAY = {"border": 1, "border_color": _LINE, "font_size": 8, "align": "center"}
FREE_DAY = _DAY
WEEKEND = _DAY | {"bg_color": "#F7F7F7"}
DAY_OFF = _DAY | _painted(palette.DAY_OFF)
DAY_HEADING = _DAY | {"bg_color": _HEADING, "valign": "vcenter", "bold": True}
WEEKEND_HEADING = DAY_HEADING | {"bg_color": "#B9C6D0"}
BAY_HEADING = HEADING | {"border": 1, "border_color": _LINE}

# Overload weeks. Each cell has its word, so that the fill needs no lines behind it.
_BAND = {"align": "center", "valign": "vcenter", "border": 1, "border_color": _LINE}
BAND = _BAND | {"text_wrap": True}
BAND_HEADING = HEADING | _BAND
WITHIN_REGULAR = BAND
NEARLY_USED = BAND | _painted(palette.REGULAR) | {"bold": True}
OVERTIME = BAND | {"bg_color": palette.OVERTIME.fill}
CONTRACT = BAND | {"bg_color": palette.CONTRACT.fill}
OVERLOAD = BAND | _painted(palette.OVERLOAD) | {"bold": True}

_THIN_EDGE = {"color": INK, "width": 0.5}
_CHART_PATTERNS = {Hatching.RISING: "light_upward_diagonal", Hatching.LEVEL: "light_horizontal"}


def _in_a_chart(paint: Paint) -> dict[str, object]:
    """Return the fill of a series in a chart, with its lines where it has them."""
    if paint.hatching is Hatching.NONE:
        return {"fill": {"color": paint.fill}, "border": _THIN_EDGE}
    pattern = _CHART_PATTERNS[paint.hatching]
    lines = {"pattern": pattern, "fg_color": paint.lines, "bg_color": paint.fill}
    return {"pattern": lines, "border": _THIN_EDGE}


CHART_REGULAR = _in_a_chart(palette.REGULAR)
CHART_OVERTIME = _in_a_chart(palette.OVERTIME)
CHART_CONTRACT = _in_a_chart(palette.CONTRACT)
CHART_OVERLOAD = _in_a_chart(palette.OVERLOAD)

# Costs that are no man-hours: white with lines of their own.
CHART_UNUSED_INTERVAL = {
    "pattern": {"pattern": "dotted_grid", "fg_color": INK, "bg_color": WHITE},
    "border": _THIN_EDGE,
}
CHART_LATE_OUT = {
    "pattern": {"pattern": "dark_downward_diagonal", "fg_color": INK, "bg_color": WHITE},
    "border": _THIN_EDGE,
}
CHART_LINE = {"color": INK, "width": 2.0}
CHART_THIN_LINE = CHART_LINE | {"width": 0.75}
CHART_DASHED_LINE = CHART_LINE | {"dash_type": "dash"}
CHART_GRID = {"visible": True, "line": {"color": "#D9D9D9", "width": 0.5}}
