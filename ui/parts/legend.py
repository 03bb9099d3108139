"""A legend on a page: a picture, and its words for those who do not see it."""

from collections.abc import Sequence

import streamlit as st

from ui.desk.session import current_look
from ui.legend import Swatch, legend, words_of


def show_legend(title: str, swatches: Sequence[Swatch]) -> None:
    """Show a legend in the colours of the page, a picture a swatch: on a phone they wrap."""
    titles = [title, *[""] * (len(swatches) - 1)]
    with st.container(horizontal=True, gap="small"):
        for named, swatch in zip(titles, swatches, strict=True):
            alt = words_of(named, [swatch]) if named else swatch.word
            st.image(legend(named, [swatch], current_look()), alt=alt)
