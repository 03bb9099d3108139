"""Less room above the page, so that the board begins on the first screen."""

import streamlit as st

STYLE = """<style>
[data-testid="stMainBlockContainer"] {padding-top: 3.6rem; gap: 0.6rem;}
[data-testid="stMainBlockContainer"] h1 {font-size: 1.5rem; padding: 0.2rem 0;}
[data-testid="stMainBlockContainer"] h3 {font-size: 1.15rem; padding: 0.2rem 0;}
[data-testid="stMetric"] {padding: 0.35rem 0.75rem;}
[data-testid="stMetricValue"] {font-size: 1.35rem;}
</style>"""
"""Of our own text alone; nothing of a workbook comes into it."""


def compact() -> None:
    """Make the page that is drawn a compact one."""
    st.html(STYLE)
