"""Several enquiries as rows of a table: typed here, or from a file."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

import streamlit as st

from capacity.facts import Base
from capacity.inputs.enquiries_workbook import TypedRow
from capacity.inputs.reading.cell_kinds import Kind
from capacity.template.enquiries_file import enquiries_file
from ui.commercial.enquiry_list import MOST_ENQUIRIES, MOST_MEGABYTES, read_typed, rows_of_file
from ui.commercial.enquiry_table import TypedColumn, columns_of, frame_of, rows_of
from ui.days import LEAST_DAY, MOST_DAY
from ui.desk.desk import Desk
from ui.desk.plan_job import Result
from ui.desk.plan_question import base_of
from ui.desk.session import this_browser_is_there
from ui.parts.editor import EXCEL
from ui.parts.enquiry_ways import keep_faults, send, show_ways
from ui.parts.tables import DATE_FORMAT

GRID = "enquiry grid"
TABLE_HEIGHT_PIXELS = 280
PINNED = ("Check",)
WIDTHS = {"Check": "small", "Type": "medium", "Package": "medium", "Customer": "medium"}
WHAT_IT_DOES = (
    "A row for each aircraft; Type, Package and Earliest in are needed. Latest in left blank is "
    "the last day from which it can be out by Agreed out; without that too, the last day of the "
    "plan. "
    "Third party left blank is no. What you type stays when you change the page or load it again."
)
NOT_OPENED = "The file has errors. Correct them in the table below, or open the file again."


@dataclass(frozen=True, slots=True)
class _Grid:
    """The grid of one browser: what it began with, and what has been typed into it since.

    A grid that is fed its own result forgets every second change; ``turn`` goes up whenever it
    begins anew.
    """

    desk: str
    run: int
    turn: int
    basis: tuple[TypedRow, ...]
    typed: tuple[TypedRow, ...]

    @property
    def key(self) -> str:
        return f"enquiry table {self.run} {self.turn}"


@st.fragment
def show_typed(desk: Desk, result: Result, key_of: Callable[[str], str]) -> None:
    """Show the table, its files, who may move, and the button that asks."""
    base = base_of(result)
    st.caption(WHAT_IT_DOES)
    _show_upload(desk, result, base)
    rows = _show_table(desk, result, base)
    with st.container(horizontal=True):
        st.download_button(
            "An empty list to fill in (.xlsx)",
            partial(enquiries_file, base),
            file_name="enquiries.xlsx",
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
            help="With notes and lists to choose from; the command line reads it too.",
        )
        if any(rows):
            st.download_button(
                "This table as a list (.xlsx)",
                partial(enquiries_file, base, [row for row in rows if row]),
                file_name="enquiries-typed.xlsx",
                mime=EXCEL,
                on_click="ignore",
                icon=":material/download:",
            )
            st.button(
                "Clear the table",
                icon=":material/delete:",
                on_click=partial(desk.keep_enquiries, ()),
            )
    ways = show_ways(desk, base, key_of)
    if st.button("Ask", type="primary", icon=":material/request_quote:", disabled=desk.is_working):
        enquiries, messages = read_typed(rows, base)
        send(desk, result, enquiries, messages, ways)
        st.rerun()  # the messages stand outside of this part


def _show_upload(desk: Desk, result: Result, base: Base) -> None:
    """Put the rows of an opened file into the table, each file once."""
    turn = st.session_state.setdefault("enquiry upload turn", 0)
    upload = st.file_uploader(
        f"Open a list (.xlsx with a sheet Enquiries, or .csv; at most {MOST_MEGABYTES} MB, "
        f"{MOST_ENQUIRIES} enquiries)",
        type=["xlsx", "csv"],
        key=f"enquiry list {result.number} {turn}",
    )
    if upload is None:
        return
    with st.spinner("Reading the list"):
        rows, messages = rows_of_file(upload.name, upload.getvalue(), base, this_browser_is_there())
    keep_faults(result, messages, NOT_OPENED)
    if rows:
        desk.keep_enquiries(rows)
    st.session_state["enquiry upload turn"] = turn + 1
    st.rerun()


def _show_table(desk: Desk, result: Result, base: Base) -> tuple[TypedRow, ...]:
    """Show the rows to be changed, and return what stands in them now."""
    kept = desk.enquiries
    grid: _Grid | None = st.session_state.get(GRID)
    here = grid is not None and (grid.desk, grid.run) == (desk.id, result.number)
    if grid is None or not here or grid.key not in st.session_state or grid.typed != kept:
        turn = 0 if grid is None else grid.turn + 1
        grid = _Grid(desk.id, result.number, turn, kept, kept)
    columns = columns_of(grid.basis, base)
    frame = st.data_editor(
        frame_of(grid.basis, columns),
        key=grid.key,
        num_rows="dynamic",
        hide_index=False,
        placeholder="",
        height=TABLE_HEIGHT_PIXELS,
        column_config={column.heading: _config(column) for column in columns},
    )
    typed = rows_of(frame)
    if typed != kept:
        desk.keep_enquiries(typed)
    st.session_state[GRID] = _Grid(desk.id, grid.run, grid.turn, grid.basis, typed)
    return typed


def _config(column: TypedColumn) -> Any:
    told: dict[str, Any] = {"help": column.help, "default": column.usual}
    if column.heading in WIDTHS:
        told["width"] = WIDTHS[column.heading]
    if column.heading in PINNED:
        told["pinned"] = True
    match column.kind:
        case Kind.DATE:
            return st.column_config.DateColumn(
                format=DATE_FORMAT, min_value=LEAST_DAY, max_value=MOST_DAY, **told
            )
        case Kind.NUMBER:
            return st.column_config.NumberColumn(**told)
        case Kind.CHOICE:
            return st.column_config.SelectboxColumn(options=list(column.choices), **told)
        case _:
            return st.column_config.TextColumn(**told)
