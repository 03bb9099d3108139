"""The grid of a sheet in one browser: what it began with, what it came to, and what that changes.

One sheet is shown at a time. A grid is drawn anew, from the changes that are kept on the desk,
whenever those are not what it came to: another sheet is shown, the page was left, or another
window of the same person has changed something.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import count
from typing import Any

import pandas as pd
import streamlit as st

from capacity.inputs.reading.edited_copy import SheetEdit
from capacity.template.notes import note_of
from ui.days import LEAST_DAY, MOST_DAY
from ui.desk.desk import Desk
from ui.desk.held_workbook import last_row_of, sheets_of, tables_in_use
from ui.desk.session import is_part_drawn_alone
from ui.plain import plain
from ui.planner.date_order import DateOrder
from ui.planner.editing import (
    BASE,
    EDITED_SHEETS,
    SETTING,
    SHOWN_FIRST,
    EditColumn,
    EditTable,
    Kind,
    edit_table,
    listed,
    rows_to_be,
    with_choices_of,
    with_offers,
    with_row_first,
)
from ui.planner.merging import Clash, merged
from ui.planner.offers import choices_for, sheets_named_by
from ui.planner.pending import pending_with, with_pending

GRID = "grid"
WAITS = "changes wait on the page"
CLASHES, TOO_LATE = "changed in two windows", "changed too late"
TURNS = count(1)
"""No two grids of this server are called the same: one would begin with the edits of another."""

ROW, MEANING = "Row", "What it means"
DATE_PIXELS = 135
"""As wide as a date with its weekday; a column sizes itself by its first rows."""

ROW_PIXELS, LEAST_ROWS, MOST_ROWS = 35, 6, 14
"""A grid is as high as its rows, one for a new row among them, within bounds."""


@dataclass(frozen=True, slots=True)
class Grid:
    """The grid that a browser shows of a table, and the changes that it came to.

    ``basis`` are the changes with which it was drawn. ``turn`` goes up whenever it is drawn
    anew: one that is fed its own result forgets every second change.
    """

    desk: str
    version: int
    turn: int
    table: EditTable
    basis: SheetEdit
    came_to: SheetEdit
    order: DateOrder
    first_row: int | None

    @property
    def key(self) -> str:
        """What the browser's grid is called."""
        return f"editor {self.version} {self.turn} {self.table.sheet}"


def editable(desk: Desk, sheet: str, order: DateOrder = DateOrder.DAY) -> EditTable | None:
    """Return a sheet as it can be changed in place; None of what cannot be read.

    It offers the names of other sheets as they are with the changes that are not used yet.
    """
    opened = desk.opened
    if opened is None or tables_in_use(opened) is None:
        return None
    table = sheets_of(opened, (sheet,))[sheet]
    named = tuple(name for name in EDITED_SHEETS if name in sheets_named_by(sheet))
    others = sheets_of(opened, named, desk.pending)
    edited = edit_table(table, choices_for(table, list(others.values())), order)
    edited = with_choices_of(edited, desk.pending.get(sheet))
    edited = replace(edited, last_row=last_row_of(opened, sheet))
    return with_offers(edited) if sheet == BASE else edited


def take_in(desk: Desk) -> Mapping[str, SheetEdit]:
    """Return the changes that are not used yet, with what this browser's grid now tells.

    They are kept on the desk, merged with those of other windows.
    """
    grid: Grid | None = st.session_state.get(GRID)
    if grid is None or grid.desk != desk.id or grid.key not in st.session_state:
        return desk.pending
    told = pending_with(grid.table, grid.basis, st.session_state[grid.key] or {})
    if told == grid.came_to:
        return desk.pending
    before = grid.came_to
    st.session_state[GRID] = replace(grid, came_to=told)
    if grid.version < desk.opened_at:
        st.session_state[TOO_LATE] = desk.version
        return desk.pending
    clashes: list[Clash] = []

    def change(theirs: SheetEdit) -> SheetEdit:
        edit, found = merged(before, told, theirs)
        clashes.extend(found)
        return edit

    desk.change_pending(grid.table.sheet, change)
    if clashes:
        st.session_state[CLASHES] = (desk.id, tuple(clashes))
    return desk.pending


def draw_all_if_waiting_changed(desk: Desk) -> None:
    """Have all of the page drawn where a part of it finds that changes wait, or wait no more.

    The rest of the page was drawn when it did, and says so.
    """
    waits = bool(desk.pending)
    if is_part_drawn_alone() and waits != st.session_state.get(WAITS, waits):
        st.rerun()
    st.session_state[WAITS] = waits


def show_grid(desk: Desk, sheet: str, order: DateOrder, row: int | None) -> None:
    """Show the grid of a sheet, with a row of it above the others if one is asked for."""
    grid = _grid(desk, sheet, order, row)
    if grid is None:
        return
    shown = with_pending(grid.table, grid.basis)
    columns: dict[str, Any] = {c.heading: _config(c) for c in shown.columns}
    columns[ROW] = st.column_config.NumberColumn(
        help="Row of the sheet in the workbook. One that was typed just now has none yet.",
        disabled=True,
        pinned=True,
    )
    headings = [ROW, *_in_front(shown)]
    if sheet == BASE:
        columns[MEANING] = st.column_config.TextColumn(disabled=True, width="large")
        headings.append(MEANING)
    st.data_editor(
        _frame(shown, rows_to_be(grid.table, grid.basis)),
        key=grid.key,
        num_rows="dynamic",
        placeholder="",
        hide_index=True,
        height=ROW_PIXELS * (2 + min(max(len(shown.rows), LEAST_ROWS), MOST_ROWS)),
        column_config=columns,
        column_order=headings,
    )


def is_shown(desk: Desk, sheet: str, row: int) -> bool:
    """Return whether a row of a sheet is there, and no new one at the end of its grid."""
    opened = desk.opened
    return opened is not None and row <= last_row_of(opened, sheet)


def forget_grid() -> None:
    """Have the next grid drawn anew."""
    st.session_state.pop(GRID, None)
    st.session_state.pop(CLASHES, None)


def show_clashes(desk: Desk, order: DateOrder) -> None:
    """Say which cells another window had changed too, and what stands there now."""
    of_desk, clashes = st.session_state.get(CLASHES, (None, ()))
    if of_desk == desk.id and clashes:
        lines = [f"- {plain(_in_words(clash, order))}" for clash in clashes]
        st.warning("\n".join(["Another window had changed the same cells:", "", *lines]))
        st.button("Close this warning", on_click=st.session_state.pop, args=(CLASHES,))
    if st.session_state.pop(TOO_LATE, None) == desk.version:
        st.warning(
            "The last change in this window is lost: another window had opened another workbook."
        )


def _in_words(clash: Clash, order: DateOrder) -> str:
    where = f"{clash.sheet}, row {clash.row}"
    if not clash.heading:
        return f"{where}: one removed it and the other one changed it. It is kept, as changed."
    theirs, mine = (in_words(value, order) for value in (clash.theirs, clash.mine))
    return f"{where}, {clash.heading}: it was {theirs} there, and is {mine} now."


def in_words(value: object, order: DateOrder) -> str:
    """Return a value of a cell as a sentence has it."""
    if value is None:
        return "blank"
    if isinstance(value, date):
        return order.shown(value)
    return f"{value:,.10g}" if isinstance(value, float) else str(value)


def _grid(desk: Desk, sheet: str, order: DateOrder, row: int | None) -> Grid | None:
    """Return the grid that this browser shows, or a new one where it would not be true."""
    grid: Grid | None = st.session_state.get(GRID)
    pending = desk.pending.get(sheet, SheetEdit(sheet))
    if grid is not None and grid.key in st.session_state:
        there = (grid.desk, grid.version, grid.table.sheet, grid.order, grid.first_row)
        if there == (desk.id, desk.version, sheet, order, row) and grid.came_to == pending:
            return grid
    table = editable(desk, sheet, order)
    if table is None:
        return None
    table = with_row_first(table, row)
    grid = Grid(desk.id, desk.version, next(TURNS), table, pending, pending, order, row)
    st.session_state[GRID] = grid
    return grid


def _in_front(table: EditTable) -> list[str]:
    """Return the headings as they are shown: those in front that people look for."""
    first = SHOWN_FIRST.get(table.sheet, ())
    others = [column.heading for column in table.columns if column.heading not in first]
    return [*first, *others]


def _frame(table: EditTable, to_be: Mapping[int, int]) -> pd.DataFrame:
    """Return the rows with a type a column, which the editor wants of empty columns too.

    ``to_be`` are the rows of the sheet in which those that are not in it yet will be.
    """
    numbers = [to_be.get(n) if n < 0 or n in table.offered else n for n in table.numbers]
    series = {ROW: pd.Series(numbers, dtype="Int64")}
    series |= {column.heading: _series(table, column) for column in table.columns}
    if table.sheet == BASE:
        told = [note_of(BASE, str(row.get(SETTING) or "")) for row in table.rows]
        series[MEANING] = pd.Series(told, dtype="string")
    return pd.DataFrame(series)


def _series(table: EditTable, column: EditColumn) -> "pd.Series[Any]":
    values = [row[column.heading] for row in table.rows]
    if column.kind is Kind.NAMES:
        return pd.Series([None if v is None else listed(str(v)) for v in values], dtype="object")
    types = {Kind.DATE: "datetime64[ns]", Kind.NUMBER: "float64"}
    return pd.Series(values, dtype=types.get(column.kind, "string"))


def _config(column: EditColumn) -> Any:
    told: dict[str, Any] = {"help": column.help or None, "pinned": column.is_key or None}
    match column.kind:
        case Kind.DATE:
            return st.column_config.DateColumn(
                format=column.order.grid_format,
                width=DATE_PIXELS,
                min_value=LEAST_DAY,
                max_value=MOST_DAY,
                **told,
            )
        case Kind.NUMBER:
            return st.column_config.NumberColumn(**told)
        case Kind.CHOICE:
            return st.column_config.SelectboxColumn(options=list(column.choices), **told)
        case Kind.NAMES:
            choices = list(column.choices)
            return st.column_config.MultiselectColumn(
                options=choices, accept_new_options=True, **told
            )
        case Kind.TEXT:
            return st.column_config.TextColumn(**told)
