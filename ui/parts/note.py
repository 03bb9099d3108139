"""What became of work that was kept, until somebody has read it."""

import streamlit as st

from ui.desk.desk import Desk
from ui.plain import plain


def show_note(desk: Desk) -> None:
    """Show the note of a desk, if there is one, with a button that takes it away."""
    if not desk.note:
        return
    show = st.warning if desk.original is None else st.info
    show(plain(desk.note), icon=":material/restore_page:")
    st.button("Close this message", on_click=desk.forget_note)
