"""The looks of the workbook: one palette, safe for colour-blind readers and grey printers.

A look is a mapping of XlsxWriter format properties; looks are put together with ``|``.
Nothing is told by colour alone: each fill that means something comes with a text, and the
ones that warn with a pattern too.
"""

from collections.abc import Mapping

Look = Mapping[str, object]

# The fills step from light to dark, so that they keep their order on a grey printer.
_INK = "#22303C"
_HEADING = "#DCE4EA"
_OWN = "#A9CBE3"
_THIRD_PARTY = "#E9E9E9"
_LATE = "#F4A259"
_OFF = "#EFEFEF"
_LINE = "#B8C0C7"

# XlsxWriter's numbers for fill patterns.
_RISING_LINES, _FALLING_LINES, _CROSSED_LINES, _DOTS, _SPARSE_DOTS = 14, 13, 15, 17, 18

PLAIN: dict[str, object] = {"valign": "top"}
WRAPPED = PLAIN | {"text_wrap": True}
BOLD = PLAIN | {"bold": True}
TITLE = {"bold": True, "font_size": 16, "font_color": _INK}
VERDICT = {"text_wrap": True, "valign": "vcenter", "font_size": 12, "bg_color": "#F3F6F8"}
NOTE = {"italic": True, "text_wrap": True, "valign": "top", "font_color": "#4A5A66"}
SECTION = {"bold": True, "font_size": 12, "font_color": _INK, "bottom": 2}
HEADING = {
    "bold": True,
    "text_wrap": True,
    "valign": "vcenter",
    "bg_color": _HEADING,
    "bottom": 1,
    "font_color": _INK,
}
HEADING_RIGHT = HEADING | {"align": "right", "indent": 1}
ALARM = {"bold": True, "bg_color": "#B23A2E", "font_color": "#FFFFFF", "text_wrap": True}

MIDDLE = {"valign": "vcenter"}
LEFT = PLAIN | {"align": "left"}
DATE = LEFT | {"num_format": "ddd d mmm yyyy"}
_NUMBER = PLAIN | {"align": "right", "indent": 1}
WHOLE = _NUMBER | {"num_format": "#,##0"}
SIGNED_DAYS = _NUMBER | {"num_format": "+0;-0;0"}
HOURS = _NUMBER | {"num_format": "#,##0.0"}
MONEY = _NUMBER | {"num_format": "#,##0.00"}
PEOPLE = _NUMBER | {"num_format": "#,##0.00"}
"""Quarters of a shift are told in full."""
PERCENT = _NUMBER | {"num_format": "0.0"}

# In long columns that are mostly nought, a dash lets the eye find the rest.
WHOLE_OR_DASH = _NUMBER | {"num_format": "#,##0;-#,##0;\u2013"}
PEOPLE_OR_DASH = _NUMBER | {"num_format": "#,##0.00;-#,##0.00;\u2013"}
HOURS_OR_DASH = _NUMBER | {"num_format": "#,##0.0;-#,##0.0;\u2013"}
MONEY_OR_DASH = _NUMBER | {"num_format": "#,##0.00;-#,##0.00;\u2013"}

TOTAL = {"bold": True, "top": 1}

RULED = {"bottom": 1, "bottom_color": _LINE}
MARKED = {"bg_color": _LATE, "bold": True}

# Bay days.
_RUN = {
    "border": 2,
    "border_color": _INK,
    "text_wrap": True,
    "align": "left",
    "indent": 1,
    "valign": "vcenter",
    "font_size": 9,
}
OWN_STAY = _RUN | {"bg_color": _OWN}
THIRD_PARTY_STAY = _RUN | {"bg_color": _THIRD_PARTY}
LATE_STAY = _RUN | {
    "pattern": _RISING_LINES,
    "fg_color": "#8A4B08",
    "bg_color": _LATE,
    "bold": True,
    "indent": 0,
}
CLOSED = _RUN | {
    "pattern": _FALLING_LINES,
    "fg_color": "#8A8A8A",
    "bg_color": "#FFFFFF",
    "border": 1,
    "bold": True,
}
CHANGEOVER = _RUN | {
    "pattern": _SPARSE_DOTS,
    "bg_color": "#FFFFFF",
    "border": 1,
    "align": "center",
    "indent": 0,
}
BLOCKED = _RUN | {
    "pattern": _CROSSED_LINES,
    "fg_color": "#A0A0A0",
    "bg_color": "#FFFFFF",
    "border": 1,
    "italic": True,
}
_DAY = {"border": 1, "border_color": _LINE, "font_size": 8, "align": "center"}
FREE_DAY = _DAY
WEEKEND = _DAY | {"bg_color": "#F7F7F7"}
DAY_OFF = _DAY | {"pattern": _DOTS, "fg_color": "#808080", "bg_color": _OFF}
DAY_HEADING = _DAY | {"bg_color": _HEADING, "valign": "vcenter", "bold": True}
WEEKEND_HEADING = DAY_HEADING | {"bg_color": "#B9C6D0"}
BAY_HEADING = HEADING | {"border": 1, "border_color": _LINE}

# Overload weeks, from most room to none.
_BAND = {"align": "center", "valign": "vcenter", "border": 1, "border_color": _LINE}
BAND = _BAND | {"text_wrap": True}
BAND_HEADING = HEADING | _BAND
FREE = BAND
FULL = BAND | {"bg_color": "#D6E4EE"}
OVERTIME = BAND | {"bg_color": "#F7E3A0"}
CONTRACT = BAND | {"bg_color": "#DDB65C"}
OVER = BAND | {"bg_color": "#B23A2E", "font_color": "#FFFFFF", "bold": True}

# Chart fills: grey values apart from each other, and patterns on top.
CHART_REGULAR = {"fill": {"color": "#A9C4D9"}, "border": {"color": _INK, "width": 0.5}}
CHART_OVERTIME = {
    "pattern": {"pattern": "light_upward_diagonal", "fg_color": "#8A6A00", "bg_color": "#F7E3A0"},
    "border": {"color": _INK, "width": 0.5},
}
CHART_CONTRACT = {
    "pattern": {"pattern": "light_horizontal", "fg_color": "#8A6A00", "bg_color": "#DDB65C"},
    "border": {"color": _INK, "width": 0.5},
}
CHART_OVERLOAD = {"fill": {"color": "#B23A2E"}, "border": {"color": _INK, "width": 0.5}}
CHART_LINE = {"color": _INK, "width": 2.0}
CHART_DASHED_LINE = CHART_LINE | {"dash_type": "dash"}
