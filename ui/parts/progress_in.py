"""Progress of the checks in work: a row a stage, in which only numbers are to be typed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import pandas as pd
import streamlit as st

from capacity.inputs.reading.edited_copy import SheetEdit, SheetTable
from capacity.messages import Level
from capacity.template.notes import note_of
from capacity.words import counted, day
from ui.days import LEAST_DAY, MOST_DAY
from ui.desk.desk import Desk
from ui.desk.held_workbook import is_verified_at_once, sheets_of, tables_in_use, verified
from ui.desk.plan_job import last_plan, result_of
from ui.parts.editor import READ_ON, date_order, read_as_of_day
from ui.parts.grids import TURNS, draw_all_if_waiting_changed, take_in
from ui.parts.message_list import place_of
from ui.parts.tables import show_messages
from ui.planner.date_order import DateOrder
from ui.planner.progress_rows import (
    SHEET,
    TOLD,
    Key,
    StageInWork,
    Values,
    is_told,
    stages_in_work,
    told_in_grid,
    told_on,
    with_told,
)

GRID = "grid of progress"
AS_OF = "progress as of"
HOW = (
    "The stages begun by the plan that nobody has reported done. Type what you know of each: "
    "Done %, or Hours to go, which goes before it; the last day of its work once it is finished. "
    "Rows left blank say nothing. It goes to the sheet Progress."
)
NO_PLAN = (
    "Without a plan nothing is known to be in work: make the plan, or open its plan file, or fill "
    "in the sheet Progress."
)
NOBODY = "By the plan no check is in work on this day."
MOST_ROWS, ROW_PIXELS = 18, 35


@dataclass(frozen=True, slots=True)
class _Grid:
    """The grid that a browser shows, and what it came to; ``turn`` tells one from the last."""

    desk: str
    version: int
    plan: int
    turn: int
    as_of: date
    order: DateOrder
    rows: tuple[StageInWork, ...]
    before: Mapping[Key, Values]
    came_to: Mapping[Key, Values]

    @property
    def key(self) -> str:
        """What the browser's grid is called."""
        return f"progress {self.version} {self.plan} {self.turn}"


@st.fragment
def show_progress_in(desk: Desk) -> None:
    """Show the stages in work on a day, to be filled in, and what is wrong with them."""
    opened = desk.opened
    if opened is None or tables_in_use(opened) is None:
        return
    result = result_of(desk)
    plan = last_plan(desk)
    base = None if result is None else result.opened.book.base
    if result is None or plan is None or base is None:
        st.text(NO_PLAN)
        return
    take_in(desk)
    days = [place.in_day for place in plan.placements] + [p.out_day for p in plan.placements]
    usual = date.today()
    if not days or not min(days) <= usual <= max(days):
        usual = base.work_left_from
    as_of = st.date_input(
        "As of (the state at the start of this day)",
        value=usual,
        min_value=LEAST_DAY,
        max_value=MOST_DAY,
        format="YYYY-MM-DD",
        key=AS_OF,
        width=300,
    )
    order = date_order()
    now = sheets_of(opened, (SHEET,), desk.pending)[SHEET]
    grid = _grid(desk, result.number, as_of, order, now)
    if grid is None:
        rows = stages_in_work(plan, base, now, as_of)
        before = {k: v for k, v in told_on(now, as_of).items() if k in {row.key for row in rows}}
        turn = next(TURNS)
        grid = _Grid(
            desk.id, desk.version, result.number, turn, as_of, order, tuple(rows), before, before
        )
        st.session_state[GRID] = grid
    st.caption(f"{day(as_of)}. {HOW}")
    if not grid.rows:
        st.text(NOBODY)
        return
    _show(desk, grid)
    checks = len({row.check for row in grid.rows})
    st.caption(
        f"{counted(checks, 'check')} in work, {counted(len(grid.rows), 'stage')}; told of "
        f"{is_told(grid.came_to.values()):,}. A re-plan with this day as Today plans with it."
    )
    if SHEET in desk.pending and is_verified_at_once(opened):
        book = verified(desk, desk.pending, read_as_of_day(desk, desk.pending))
        wrong = [
            message
            for message in book.messages
            if message.level is not Level.NOTE and (place_of(message.where) or ("",))[0] == SHEET
        ]
        if wrong:
            show_messages(wrong, "of progress")
    draw_all_if_waiting_changed(desk)  # last, so that what is typed is answered before


def _grid(desk: Desk, plan: int, as_of: date, order: DateOrder, now: SheetTable) -> _Grid | None:
    """Return the grid that this browser shows, if it is still true."""
    grid: _Grid | None = st.session_state.get(GRID)
    if grid is None or grid.key not in st.session_state:
        return None
    there = (grid.desk, grid.version, grid.plan, grid.as_of, grid.order)
    told = told_on(now, as_of)
    keys = {row.key for row in grid.rows}
    same = {k: v for k, v in told.items() if k in keys and is_told([v])} == {
        k: v for k, v in grid.came_to.items() if is_told([v])
    }
    return grid if same and there == (desk.id, desk.version, plan, as_of, order) else None


def _take_in(desk: Desk) -> None:
    """Put what the grid tells into the changes of the sheet, as another row or a changed one."""
    grid: _Grid | None = st.session_state.get(GRID)
    opened = desk.opened
    if grid is None or opened is None or grid.version != desk.version:
        return
    told = told_in_grid(grid.rows, grid.before, st.session_state.get(grid.key) or {})
    now = {**grid.before, **told}
    new = {key: values for key, values in now.items() if values != grid.came_to.get(key)}
    if not new:
        return
    sheet = sheets_of(opened, (SHEET,))[SHEET]

    def change(edit: SheetEdit) -> SheetEdit:
        return with_told(sheet, edit, grid.as_of, new)

    desk.change_pending(SHEET, change)
    st.session_state[GRID] = replace(grid, came_to=now)
    if st.session_state.get(READ_ON) is None:
        st.session_state[READ_ON] = grid.as_of


def _show(desk: Desk, grid: _Grid) -> None:
    date_type, number = "datetime64[ns]", "float64"
    told = [grid.before.get(row.key, {}) for row in grid.rows]
    frame = pd.DataFrame(
        {
            "Check": pd.Series([row.check for row in grid.rows], dtype="string"),
            "Stage": pd.Series([row.stage for row in grid.rows], dtype="string"),
            **{
                heading: pd.Series(
                    [values.get(heading) for values in told],
                    dtype=date_type if heading == "Finished" else number,
                )
                for heading in TOLD
            },
            "As of": pd.Series([grid.as_of] * len(grid.rows), dtype=date_type),
            "Stated last": pd.Series([row.told for row in grid.rows], dtype="string"),
            "Aircraft": pd.Series([row.aircraft for row in grid.rows], dtype="string"),
            "First day by the plan": pd.Series([r.first for r in grid.rows], dtype=date_type),
            "Last day by the plan": pd.Series([r.last for r in grid.rows], dtype=date_type),
            "Planned man-hours": pd.Series([r.hours for r in grid.rows], dtype=number),
        }
    )
    dates = {"As of", "Finished", "First day by the plan", "Last day by the plan"}
    config = st.column_config
    columns: dict[str, Any] = {}
    for heading in frame.columns:
        given: dict[str, Any] = {"help": note_of(SHEET, heading), "disabled": heading not in TOLD}
        given["pinned"] = heading in ("Check", "Stage") or None
        if heading in dates:
            given |= {"min_value": LEAST_DAY, "max_value": MOST_DAY}
            columns[heading] = config.DateColumn(format=grid.order.grid_format, **given)
        elif heading in TOLD:
            columns[heading] = config.NumberColumn(min_value=0, **given)
        elif heading == "Planned man-hours":
            columns[heading] = config.NumberColumn(format="localized", **given)
        else:
            columns[heading] = config.TextColumn(**given)
    st.data_editor(
        frame,
        key=grid.key,
        num_rows="fixed",
        placeholder="",
        hide_index=True,
        height=ROW_PIXELS * (1 + min(len(grid.rows), MOST_ROWS)) + 3,
        column_config=columns,
        on_change=_take_in,
        args=(desk,),
    )
