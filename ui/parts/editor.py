"""Change rows of the workbook in place; the reader checks every change before it counts."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import pandas as pd
import streamlit as st

from capacity.errors import InputError
from capacity.inputs.reading.as_of import AsOf
from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.messages import Message
from ui.desk.desk import Desk
from ui.desk.opened_workbook import read_as_of, tables_of, with_edits
from ui.parts.tables import DATE_FORMAT, show_messages
from ui.planner.editing import (
    EDITED_SHEETS,
    SHEETS_OF_CHOICES,
    SHOWN_FIRST,
    EditColumn,
    EditTable,
    Kind,
    as_added,
    choices_of,
    edit_table,
    with_offers,
)
from ui.planner.pending import pending_with, with_pending
from ui.words import pending_in_words

BOOKS_CACHED = 20
"""Workbooks whose tables are kept, so that not every click reads them again."""

BASE = "Base"
LEVELLING = (
    "Daily peak %: the most man-hours of one skill that a stage may take on one of its days, in "
    "per cent of its even share (100 to 400). Into float: whether hours may also lie after its "
    "last day, while nothing waits for it."
)
TOLD = {
    "Packages": f"{LEVELLING} Blank: as the setting of the same name says on the sheet Base.",
    "Licences": "People of a crew who lose a skill or an aircraft type after the day Until.",
    "Base calendar": "Own days of the base: closed (no), worked though they would be off (yes), or "
    "shortened (Hours %). Worked blank: as weekdays and holidays have it.",
    "Extra work": "Man-hours that one check has beyond its package, without findings on top. "
    "After, Work and Days are for a stage that the package does not have.",
    "Ready dates": "A stage of a check does not start before Not before: a part, a tool, the "
    "customer's approval or a shop is late. Reason: which.",
    "Progress": "How far the checks in work are, at the start of the day As of. Stage blank: the "
    "check as a whole. Hours to go goes before Done %.",
    BASE: f"{LEVELLING} Blank: 100 and no, every stage evenly. Man-hours counted by: week pools "
    "the days of a week, day does not; blank is week. Moves on days off: whether aircraft come in, "
    "move and leave on days off; blank is yes.",
}
"""What is said above a grid."""

NOT_USED = "edit not used"
GRIDS = "grids"
EXCEL = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def show_editor(desk: Desk) -> None:
    """Show the tables, and what to do with changes made in them."""
    opened = desk.opened
    if opened is None:
        return
    if opened.content is None:
        st.caption("Tables in a folder of CSV files are changed there, not here.")
        return
    tables = editable(desk)
    if not tables:
        return
    st.caption(
        "Changes count once you press the button below or make the plan: a copy of the workbook "
        "is made and read again. The workbook that you opened stays as it is. The copy has no "
        "drawings or charts, and results in place of formulas."
    )
    pending = take_in(desk)
    grids = st.session_state[GRIDS]
    for tab, table in zip(st.tabs([table.sheet for table in tables]), tables, strict=True):
        with tab:
            if table.sheet in TOLD:
                st.caption(TOLD[table.sheet])
            _show_table(with_pending(table, grids.basis.get(table.sheet)), grids.key(table))
    waiting = pending_in_words(desk)
    with st.container(horizontal=True):
        label, icon = "Verify the changes and use them", ":material/task_alt:"
        if st.button(label, icon=icon, disabled=not waiting) and use_pending(desk, pending):
            st.rerun()
        if waiting and st.button("Throw the changes away", icon=":material/delete:"):
            desk.keep_pending({})
            st.session_state.pop(GRIDS, None)
            st.session_state.pop(NOT_USED, None)
            st.rerun()
        if opened.is_edited:
            st.download_button(
                "Download the changed workbook",
                opened.content,
                file_name=f"{opened.stem}-changed.xlsx",
                mime=EXCEL,
                on_click="ignore",
                icon=":material/download:",
            )
            help = "Changes that are not used yet are thrown away as well."
            if st.button("Go back to the workbook as opened", icon=":material/undo:", help=help):
                assert desk.original is not None
                desk.use(desk.original)
                st.rerun()
    _show_refusal(desk)


@dataclass(frozen=True, slots=True)
class _Grids:
    """The grids of one browser: of which workbook, what they began with, what they came to.

    ``turn`` goes up whenever they begin anew, since a grid that is fed its own result forgets
    every second change.
    """

    desk: str
    version: int
    turn: int
    basis: Mapping[str, SheetEdit]
    came_to: Mapping[str, SheetEdit]

    def key(self, table: EditTable) -> str:
        return f"editor {self.version} {self.turn} {table.sheet}"


def take_in(desk: Desk) -> Mapping[str, SheetEdit]:
    """Return the changes that are not used yet, with what this browser's grids now tell.

    They are kept on the desk, from which a grid that is drawn anew begins.
    """
    tables = editable(desk)
    grids: _Grids | None = st.session_state.get(GRIDS)
    there = grids is not None and (grids.desk, grids.version) == (desk.id, desk.version)
    if grids is not None and there and any(grids.key(t) in st.session_state for t in tables):
        now = [
            pending_with(
                table,
                grids.basis.get(table.sheet),
                st.session_state.get(grids.key(table)) or {},
            )
            for table in tables
        ]
        told = {edit.sheet: edit for edit in now if edit != SheetEdit(edit.sheet)}
        if told != grids.came_to:
            st.session_state[GRIDS] = replace(grids, came_to=told)
            desk.keep_pending(told)
            return told
        if desk.pending == told:
            return told
    # Drawn anew, or another window of the same desk has changed something.
    turn = 0 if grids is None else grids.turn + 1
    st.session_state[GRIDS] = _Grids(desk.id, desk.version, turn, desk.pending, desk.pending)
    return desk.pending


def editable(desk: Desk) -> list[EditTable]:
    """Return the tables that can be changed in place; none of what cannot be read."""
    opened = desk.opened
    if opened is None or opened.content is None:
        return []
    try:
        return _tables(opened.name, opened.content)
    except InputError:  # the messages of the workbook say why
        return []


@lru_cache(maxsize=BOOKS_CACHED)
def _tables(name: str, content: bytes) -> list[EditTable]:
    found = {t.sheet: t for t in tables_of(name, content, (*EDITED_SHEETS, *SHEETS_OF_CHOICES))}
    choices = choices_of(list(found.values()))
    tables = [edit_table(found[sheet], choices) for sheet in EDITED_SHEETS]
    return [with_offers(t) if t.sheet == BASE else t for t in tables]


def _show_table(table: EditTable, key: str) -> None:
    # The table handed in stays the same until the changes are used: an editor that is fed its
    # own result forgets every second change.
    st.data_editor(
        _frame(table),
        key=key,
        num_rows="dynamic",
        placeholder="",
        hide_index=True,
        height=320,
        column_config={column.heading: _config(column) for column in table.columns},
        column_order=_in_front(table),
    )


def _in_front(table: EditTable) -> list[str]:
    """Return the headings as they are shown: those in front that people look for."""
    first = SHOWN_FIRST.get(table.sheet, ())
    others = [column.heading for column in table.columns if column.heading not in first]
    return [*first, *others]


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


def use_pending(
    desk: Desk, pending: Mapping[str, SheetEdit], then: str = "", as_of: AsOf | None = None
) -> bool:
    """Use the changes, unless they would spoil a workbook that can be planned.

    ``then`` says what was to be done with them, which a workbook with errors does not allow
    in any case. ``as_of`` is the day for which it must not have any: news of a later day are an
    error of the workbook by itself.
    """
    opened = desk.opened
    assert opened is not None
    st.session_state.pop(NOT_USED, None)
    try:
        tables = {table.sheet: table for table in editable(desk)}
        edits = [as_added(e, tables[e.sheet]) if e.sheet in tables else e for e in pending.values()]
        changed = with_edits(opened, edits)
        book = changed.book if as_of is None else read_as_of(changed, as_of).book
    except InputError as refusal:
        st.session_state[NOT_USED] = (desk.version, then, refusal.messages)
        return False
    if book.base is None and (then or opened.book.base is not None):
        st.session_state[NOT_USED] = (desk.version, then, book.messages)
        return False
    desk.use(changed)
    return True


def _show_refusal(desk: Desk) -> None:
    version, then, messages = st.session_state.get(NOT_USED, (None, "", ()))
    if version != desk.version:
        return
    told: tuple[Message, ...] = messages
    st.error(
        f"{then}The changes are not used yet: with them the workbook has errors. Correct these, "
        "or throw the changes away."
    )
    show_messages(told, "of the changes")
