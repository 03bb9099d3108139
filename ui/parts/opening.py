"""Open a workbook: an upload, or one of the samples where they are at hand."""

from functools import partial

import streamlit as st

from capacity.samples import sample_workbooks
from capacity.template.new_workbook import workbook_bytes
from capacity.template.placeholders import Placeholders
from ui.desk.desk import Desk
from ui.desk.opened_workbook import opened_from_bytes, opened_from_path
from ui.desk.session import this_browser_is_there
from ui.parts.editor import EXCEL
from ui.parts.tables import show_messages
from ui.plain import plain
from ui.words import state_of


def show_opening(desk: Desk) -> None:
    """Show what is open, its messages, and the ways to open another workbook."""
    opened = desk.opened
    if opened is None:
        st.info(
            "Open a workbook to begin. Your file is read, never written to.",
            icon=":material/upload_file:",
        )
        _ways_to_open(desk)
        _empty_workbook()
        return
    edited = " (changed here)" if opened.is_edited else ""
    st.markdown(f"**{plain(opened.name)}**{edited}")
    st.text(state_of(opened))
    if desk.why_not_saved:
        st.caption(plain(f"{desk.why_not_saved} A restart of the dashboard would lose the work."))
    if opened.book.messages:
        with st.expander(f"Messages ({len(opened.book.messages)})", expanded=bool(opened.errors)):
            show_messages(opened.book.messages)
    with st.expander("Open another workbook"):
        st.caption("It replaces the one that is open, with its plan and the changes not used yet.")
        _ways_to_open(desk)


def workbook_in_words(desk: Desk) -> str:
    """Return the name of the workbook that is open, as the title of what folds away."""
    name = "" if desk.opened is None else desk.opened.name
    edited = " (changed here)" if desk.opened is not None and desk.opened.is_edited else ""
    return plain(f"Workbook {name}{edited}")


def _ways_to_open(desk: Desk) -> None:
    upload = st.file_uploader(
        "Workbook (.xlsx, at most 10 MB)", type="xlsx", key=f"upload {desk.version}"
    )
    if upload is not None:
        with st.spinner("Reading the workbook"):
            opened = opened_from_bytes(
                upload.name, upload.getvalue(), still_wanted=this_browser_is_there()
            )
            desk.open(opened)
        st.rerun()
    samples = {path.name: path for path in sample_workbooks()}
    if not samples:
        return
    with st.container(horizontal=True, vertical_alignment="bottom"):
        chosen = st.selectbox("or an invented sample", list(samples), key="sample", width=260)
        if st.button("Open the sample"):
            desk.open(opened_from_path(samples[chosen]))
            st.rerun()


def _empty_workbook() -> None:
    st.download_button(
        "An empty workbook to fill in (.xlsx)",
        partial(workbook_bytes, Placeholders()),
        file_name="base.xlsx",
        mime=EXCEL,
        on_click="ignore",
        icon=":material/download:",
        help="All sheets, with notes and lists to choose from. For numbered rows: capacity new.",
    )
