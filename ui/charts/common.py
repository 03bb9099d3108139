"""What all charts share: fonts, rules, how rows and dates are handed over, what was clicked."""

from collections.abc import Mapping, Sequence
from typing import Any

import altair as alt
from altair.utils import schemapi

from ui.look import Look
from ui.rows import Row

# Every part of a chart would be checked against the schema of the chart language while a person
# waits for it; the tests check whole charts.
schemapi.disable_debug_mode()

DAY_FORMAT = "%a %-d %b %Y"
"""A date that cannot be misread, in the notation of the chart library: ``Mon 4 Jan 2027``."""

DRAWN_AS_SHAPES = {"embedOptions": {"renderer": "svg"}}
"""Sharp when printed; the library's own choice beyond 2,000 marks is not."""

PICK = "pick"
"""The name under which a chart tells what was clicked."""


class _Rows(alt.Data):
    """Rows that the chart library hands on as they are.

    It would copy and check every value of every row once a layer, which takes seconds for a
    year; rows hold texts, numbers and truths only and are never changed.
    """

    _class_is_valid_at_instantiation = False

    def __deepcopy__(self, _: object = None) -> "_Rows":
        return self

    def to_dict(self, *_: object, **__: object) -> dict[str, Any]:
        """Return the rows under the name that the chart format has for them."""
        return {"values": self._kwds["values"]}


def rows_of(rows: Sequence[Row]) -> alt.Data:
    """Return rows as they go into the chart."""
    data: alt.Data = _Rows(values=[dict(row) for row in rows])  # type: ignore[no-untyped-call]
    return data


def day_tip(field: str, title: str) -> alt.Tooltip:
    """Return a line of a tip with a date."""
    return alt.Tooltip(field, type="temporal", format=DAY_FORMAT, title=title)


def tip(field: str, title: str) -> alt.Tooltip:
    """Return a line of a tip with a text."""
    return alt.Tooltip(field, type="nominal", title=title)


def number_tip(field: str, title: str, format: str = ",.1f") -> alt.Tooltip:
    """Return a line of a tip with a number; the title has its unit."""
    return alt.Tooltip(field, type="quantitative", format=format, title=title)


def picked(event: Mapping[str, object] | None, *fields: str) -> tuple[str, ...] | None:
    """Return the fields of what was clicked in a chart; None when nothing is."""
    selection = (event or {}).get("selection")
    points = selection.get("pick") if isinstance(selection, Mapping) else None
    if not isinstance(points, Sequence) or not points or not isinstance(points[0], Mapping):
        return None
    values = tuple(points[0].get(field) for field in fields)
    return tuple(str(value) for value in values) if None not in values else None


def styled(chart: Any, look: Look, height: object = alt.Undefined) -> alt.LayerChart:
    """Give the chart the colours of the page, and a height in pixels; return it.

    All is set at once: each of the chart library's own calls copies every layer first.
    """
    text: dict[str, Any] = {
        "labelColor": look.ink,
        "titleColor": look.ink,
        "titleFontWeight": "normal",
    }
    sizes: dict[str, Any] = {"labelFontSize": 12, "titleFontSize": 12}
    rules: dict[str, Any] = {
        "gridColor": look.rule,
        "domainColor": look.rule,
        "tickColor": look.rule,
    }
    chart.config = alt.Config(
        background="transparent",
        font="sans-serif",
        axis=alt.AxisConfig(**text, **sizes, **rules),
        legend=alt.LegendConfig(**text, **sizes, orient="top", symbolSize=240),
        view=alt.ViewConfig(stroke=None),
    )
    chart.usermeta = DRAWN_AS_SHAPES
    chart.height = height
    out: alt.LayerChart = chart
    return out
