"""Charts of a plan that are made once a run and look, not at every click on the page."""

from collections.abc import Callable, Mapping
from typing import Any

import altair as alt
import streamlit as st

from ui.charts.common import PICK
from ui.desk.session import current_look
from ui.look import Look

CHARTS_CACHED = 100
"""Charts kept for all desks together; one of a year of 300 checks is about 1 MB."""


def show_cached_chart(
    name: str,
    run: int,
    key: str,
    make: Callable[[Look], alt.LayerChart],
    *,
    marked: Mapping[str, str] | None = None,
) -> Any:
    """Show a chart of run number ``run``; return what was clicked in it.

    ``name`` tells the charts of a run apart; ``make`` is called only for a chart not kept. What is
    ``marked`` is drawn as if it were clicked, until something else is.
    """
    look = current_look()
    spec = _cached(run, name, look, lambda: make(look))
    if marked:
        spec, key = with_mark(spec, marked), f"{key} {sorted(marked.items())}"
    return st.vega_lite_chart(spec, on_select="rerun", selection_mode=PICK, key=key)


def with_mark(spec: dict[str, Any], marked: Mapping[str, str]) -> dict[str, Any]:
    """Return a chart in which what is picked begins with the values of some fields."""
    params = [
        {**param, "value": [dict(marked)]} if param.get("name") == PICK else param
        for param in spec.get("params", [])
    ]
    return {**spec, "params": params}


def spec_of(chart: alt.LayerChart) -> dict[str, Any]:
    """Return a chart as the browser draws it, as wide as the page.

    It is not checked against the schema of the chart language, which takes most of a second
    for a year; the tests do that.
    """
    spec: dict[str, Any] = chart.to_dict(validate=False)
    for fixed_size in ("continuousWidth", "continuousHeight"):
        spec["config"]["view"].pop(fixed_size, None)
    return spec


@st.cache_data(max_entries=CHARTS_CACHED, show_spinner=False)
def _cached(run: int, name: str, look: Look, _make: Callable[[], alt.LayerChart]) -> dict[str, Any]:
    return spec_of(_make())
