"""The plan as files: the workbook for people, the plan file for programs, calendar, wall sheet."""

from functools import partial

import streamlit as st

from capacity.plans.outcome import Planned
from ui.desk.plan_file import report_bytes
from ui.desk.plan_job import Result
from ui.desk.result_view import result_view
from ui.parts.editor import EXCEL
from ui.printing.paper import A3, A4
from ui.printing.wall import wall_sheet


def show_downloads(result: Result) -> None:
    """Show a button a file; a file is written when it is asked for."""
    with st.container(horizontal=True):
        if isinstance(result.outcome, Planned):
            st.download_button(
                "Plan workbook (.xlsx)",
                partial(report_bytes, result, ".xlsx"),
                file_name=f"{result.opened.stem}-plan.xlsx",
                mime=EXCEL,
                on_click="ignore",
                icon=":material/download:",
            )
        st.download_button(
            "Plan file (.json)",
            partial(report_bytes, result, ".json"),
            file_name=f"{result.opened.stem}-plan.json",
            mime="application/json",
            on_click="ignore",
            icon=":material/download:",
        )
        if isinstance(result.outcome, Planned):
            st.download_button(
                "Calendar of the bays (.ics)",
                partial(report_bytes, result, ".ics"),
                file_name=f"{result.opened.stem}-bays.ics",
                mime="text/calendar",
                on_click="ignore",
                icon=":material/download:",
            )
            view = result_view(result).view
            for paper in (A3, A4):
                st.download_button(
                    f"Wall sheet {paper.name} to print (.html)",
                    partial(wall_sheet, view, paper),
                    file_name=f"{result.opened.stem}-bays-{paper.name}.html",
                    mime="text/html",
                    on_click="ignore",
                    icon=":material/print:",
                    help="The bays by hangar, a page a quarter. Print it at its real size.",
                )
