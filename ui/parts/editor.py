"""Change checks, closures and crews in place; the reader checks every change before it counts."""

from functools import lru_cache
from typing import Any

import pandas as pd
import streamlit as st

from capacity.errors import InputError
from capacity.findings import Finding
from capacity.inputs.edited_copy import SheetEdit
from ui.desk import Desk
from ui.editing import (
    EDITED_SHEETS,
    SHEETS_OF_CHOICES,
    EditColumn,
    EditTable,
    Kind,
    choices_of,
    edit_from,
    edit_table,
    edits_in_words,
)
from ui.opened_book import OpenedBook, tables_of, with_edits
from ui.parts.tables import DATE_FORMAT, show_findings

BOOKS_KEPT = 20
"""Workbooks whose tables are kept, so that not every click reads them again."""

REFUSED = "refused edit"
EXCEL = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def show_editor(desk: Desk) -> None:
    """Show the tables, and what to do with changes made in them."""
    opened = desk.opened
    if opened is None:
        return
    if opened.content is None:
        st.caption("Tables in a folder of CSV files are changed there, not here.")
        return
    try:
        tables = _tables(opened.name, opened.content)
    except InputError:  # the findings of the workbook say why
        return
    st.caption(
        "Changes count once you press the button below: a copy of the workbook is made and "
        "read again. What you opened stays as it is. The copy has no drawings or charts, and "
        "results in place of formulas."
    )
    for tab, table in zip(st.tabs([table.sheet for table in tables]), tables, strict=True):
        with tab:
            _show_table(desk, table)
    edits = [edit_from(table, st.session_state.get(_key(desk, table)) or {}) for table in tables]
    waiting = edits_in_words(edits)
    if waiting:
        st.text(f"Not used yet: {waiting}.")
    with st.container(horizontal=True):
        label, icon = "Check the changes and use them", ":material/task_alt:"
        if st.button(label, icon=icon, disabled=not waiting):
            _use(desk, opened, edits)
        if opened.is_edited:
            st.download_button(
                "Download the changed workbook",
                opened.content,
                file_name=f"{opened.stem}-changed.xlsx",
                mime=EXCEL,
                on_click="ignore",
                icon=":material/download:",
            )
            if st.button("Go back to what I opened", icon=":material/undo:"):
                assert desk.original is not None
                desk.use(desk.original)
                st.rerun()
    _show_refusal(desk)


@lru_cache(maxsize=BOOKS_KEPT)
def _tables(name: str, content: bytes) -> list[EditTable]:
    found = {t.sheet: t for t in tables_of(name, content, (*EDITED_SHEETS, *SHEETS_OF_CHOICES))}
    choices = choices_of(list(found.values()))
    return [edit_table(found[sheet], choices) for sheet in EDITED_SHEETS]


def _show_table(desk: Desk, table: EditTable) -> None:
    # The table handed in stays the same until the changes are used: an editor that is fed its
    # own result forgets every second change.
    st.data_editor(
        _frame(table),
        key=_key(desk, table),
        num_rows="dynamic",
        placeholder="",
        hide_index=True,
        height=320,
        column_config={column.heading: _config(column) for column in table.columns},
    )


def _frame(table: EditTable) -> pd.DataFrame:
    """Return the rows with a type a column, which the editor wants of empty columns too."""
    types = {Kind.DATE: "datetime64[ns]", Kind.NUMBER: "float64"}
    return pd.DataFrame(
        {
            column.heading: pd.Series(
                [row[column.heading] for row in table.rows], dtype=types.get(column.kind, "string")
            )
            for column in table.columns
        }
    )


def _key(desk: Desk, table: EditTable) -> str:
    return f"editor {desk.version} {table.sheet}"


def _config(column: EditColumn) -> Any:
    match column.kind:
        case Kind.DATE:
            return st.column_config.DateColumn(format=DATE_FORMAT)
        case Kind.NUMBER:
            return st.column_config.NumberColumn()
        case Kind.CHOICE:
            return st.column_config.SelectboxColumn(options=list(column.choices))
        case Kind.TEXT:
            return st.column_config.TextColumn()


def _use(desk: Desk, opened: OpenedBook, edits: list[SheetEdit]) -> None:
    """Use the changes, unless they would spoil a workbook that can be planned."""
    st.session_state.pop(REFUSED, None)
    try:
        changed = with_edits(opened, edits)
    except InputError as refusal:
        st.session_state[REFUSED] = (desk.version, refusal.findings)
        return
    if changed.book.base is None and opened.book.base is not None:
        st.session_state[REFUSED] = (desk.version, changed.book.findings)
        return
    desk.use(changed)
    st.rerun()


def _show_refusal(desk: Desk) -> None:
    version, findings = st.session_state.get(REFUSED, (None, ()))
    if version != desk.version:
        return
    told: tuple[Finding, ...] = findings
    st.error("The changes are not used yet: with them the workbook has errors. Correct these.")
    show_findings(told, "of the changes")
