"""What delivered checks teach about findings, days and man-hours: shown, never set."""

from functools import partial

import streamlit as st

from capacity.questions.learn.learning import learn
from capacity.reports.learn.wording import (
    HOW,
    NOTHING_IS_CHANGED,
    learnt_in_one_line,
    silent_in_words,
)
from capacity.reports.learn.workbook import learnt_workbook
from ui.desk.desk import Desk
from ui.parts.editor import EXCEL
from ui.parts.tables import show_table
from ui.planner.learnt_rows import package_rows, stage_rows

NOT_YET = (
    "The sheet Delivered has no check yet, so there is nothing to learn from. Rolling the workbook "
    "forward fills it."
)


def show_learnt(desk: Desk) -> None:
    """Show what the sheet Delivered of the workbook in use teaches; nothing of one with errors."""
    opened = desk.opened
    base = None if opened is None else opened.book.base
    if opened is None or base is None:
        return
    with st.expander("What was learnt from delivered checks", icon=":material/school:"):
        if not base.delivered:
            st.text(NOT_YET)
            return
        learnt, where = learn(base), opened.book.where
        st.text(learnt_in_one_line(learnt, base.name))
        st.caption(NOTHING_IS_CHANGED)
        if silent := silent_in_words(learnt):
            st.text(silent)
        show_table(stage_rows(learnt, where), wraps=True)
        st.markdown("**By package, whole visits**")
        show_table(package_rows(learnt))
        st.caption(HOW)
        st.download_button(
            "What was learnt (.xlsx)",
            partial(learnt_workbook, learnt, base, where),
            file_name=f"{opened.stem}-learnt.xlsx",
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
        )
