"""Less room above the board, so that it begins on the first screen."""

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

STYLE = """<style>
[data-testid="stMainBlockContainer"] {padding-top: 3.4rem;}
[data-testid="stMainBlockContainer"] > div > [data-testid="stVerticalBlock"],
[data-testid="stMainBlockContainer"] > [data-testid="stVerticalBlock"] {gap: 0.55rem;}
[data-testid="stMainBlockContainer"] h1 {font-size: 1.5rem; padding: 0.1rem 0;}
[data-testid="stMainBlockContainer"] :is(h2, h3) {font-size: 1.1rem; padding: 0.1rem 0;}
[data-testid="stMetric"], [data-testid="stMetric"] > div {padding: 0.2rem 0.5rem;}
[data-testid="stMetricValue"] {font-size: 1.3rem; line-height: 1.3;}
.st-key-exceptions p, .st-key-exceptions button {font-size: 0.875rem;}
.st-key-exceptions button {min-height: 1.5rem; padding-top: 0; padding-bottom: 0;}
[data-testid="stMetricDelta"] * {white-space: normal !important; overflow: visible !important;}
.st-key-heading > div:last-child {flex: 1 1 300px; min-width: 0;}
@media (max-width: 640px) {
  .st-key-tiles [data-testid="stColumn"] {min-width: calc(50% - 1rem); flex: 1 1 40%;}
}
[data-testid="stLayoutWrapper"]:has(> [data-testid="stVerticalBlock"]:empty) {display: none;}
.st-key-behind {scroll-margin-top: 4.5rem;}
.st-key-folded {flex-wrap: wrap; align-items: stretch;}
.st-key-folded > div {flex: 1 1 240px; min-width: 0;}
.st-key-folded > div:has(details[open]) {flex: 1 1 100%;}
</style>"""
"""Of our own text alone; nothing of a workbook comes into it."""


def compact() -> None:
    """Make the page that is drawn a compact one."""
    st.html(STYLE)


def folded() -> DeltaGenerator:
    """Return a row in which parts that fold stand side by side; one that is open has all of it."""
    return st.container(horizontal=True, key="folded", gap="small")


def place() -> DeltaGenerator:
    """Return a place for what comes and goes: what stands below it stays where it was.

    The browser tells the parts of a page apart by where they stand, and makes one anew that has
    got another place: of the board of a year that takes a second.
    """
    return st.container()
