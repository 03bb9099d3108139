"""The key figures of a plan on the page Base manager."""

from collections.abc import Sequence
from functools import partial

import streamlit as st

from capacity.questions.key_figures.values import KeyFigures
from capacity.reports.plan.key_figure_words import TITLE, WHEN_UNCOUNTED, changed_in_words, period
from capacity.reports.plan.view import View
from ui.manager.key_figure_rows import lines_table, tables_behind
from ui.parts.tables import show_table
from ui.plain import plain
from ui.printing.key_figures import key_figures_page


def show_key_figures(view: View, figures: KeyFigures, notes: Sequence[str]) -> None:
    """Show the figures, the tables behind them folded, and the button for a page to print."""
    base = view.base
    st.header(TITLE)
    st.caption(plain(f"Planning period {period(figures)}."))
    show_table(lines_table(figures, base), scrolls=False)
    if figures.changed is not None:
        for said in changed_in_words(figures.changed):
            st.text(said)
    for title, rows in tables_behind(figures, base):
        with st.expander(plain(title)):
            show_table(rows)
    if figures.options and base.labour_rate is None:
        st.caption(WHEN_UNCOUNTED)
    st.download_button(
        "Key figures to print (.html)",
        partial(key_figures_page, view, figures, notes),
        file_name="key-figures.html",
        mime="text/html",
        on_click="ignore",
        icon=":material/print:",
    )
