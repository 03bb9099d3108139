"""A legend on a page: a picture, and its words for those who do not see it."""

from collections.abc import Sequence

import streamlit as st

from ui.desk.session import current_look
from ui.legend import Swatch, legend, words_of


def show_legend(title: str, swatches: Sequence[Swatch]) -> None:
    """Show a legend in the colours of the page."""
    st.image(legend(title, swatches, current_look()), alt=words_of(title, swatches))
