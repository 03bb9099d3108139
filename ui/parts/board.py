"""The planning board, what stands behind a check or a week that is clicked, and its tables."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import streamlit as st

from capacity.reports.plan.view import View
from ui.board.component import Moved, PickedCheck, PickedWeek, show_board
from ui.board.rows import BoardRows, Notes
from ui.board.sent_rows import SentRows, sent_rows
from ui.desk.once_a_run import once_a_run
from ui.desk.session import current_look
from ui.parts.check import show_check
from ui.parts.chosen import choose, chosen_of
from ui.parts.man_hours import show_week
from ui.parts.tables import show_table
from ui.planner.behind import late_table
from ui.planner.board_rows import board_rows, with_notes, with_today
from ui.planner.board_tables import bay_table, week_table

KEY, BEHIND = "planning board", "behind"
"""Keys of the page; the board's own script scrolls to what stands under ``BEHIND``."""

NO_NOTES = Notes()


@dataclass(frozen=True, slots=True)
class ShownDraft:
    """A draft on the board: its view, its number, and that of the run which it begins with."""

    view: View
    number: int
    run: int


def show_planning_board(
    view: View,
    run: int,
    notes: Notes = NO_NOTES,
    on_moved: Callable[[Moved], None] | None = None,
    *,
    draft: ShownDraft | None = None,
) -> None:
    """Show the board of run number ``run``, and behind it what is chosen.

    ``notes`` mark the board beyond the plan. ``on_moved`` is told where a check was dropped;
    without it none can be taken up. Where a ``draft`` is given the board shows that and not the
    plan: it is the same board on the page, and keeps its zoom when a check is moved.
    """
    today = date.today()
    rows = None if draft is None else with_notes(_rows_of(draft.view, draft.number, today), notes)
    show_board(
        _sent(view, run, today, notes if draft is None else NO_NOTES),
        current_look(),
        KEY,
        rows=rows,
        chosen=chosen_of(run if draft is None else draft.run),
        on_picked=lambda picked: choose(run if draft is None else draft.run, picked),
        on_moved=on_moved,
    )
    shown = view if draft is None else draft.view
    show_chosen(shown, run if draft is None else draft.run)
    show_board_tables(shown)


def _rows_of(view: View, number: int, today: date) -> BoardRows:
    """Return the rows of a run or a draft by its number; no other has it."""
    return once_a_run(f"board on {today}", number, lambda: with_today(board_rows(view), today))


def _sent(view: View, run: int, today: date, notes: Notes) -> SentRows:
    rows = _rows_of(view, run, today)
    if notes.checks or notes.weeks:
        return sent_rows(with_notes(rows, notes))
    return once_a_run(f"board sent on {today}", run, lambda: sent_rows(rows))


def show_chosen(view: View, run: int) -> None:
    """Show what is behind the check or the week that is chosen."""
    with st.container(key=BEHIND):
        match chosen_of(run):
            case PickedCheck(check):
                show_check(view, check)
            case PickedWeek(week, skill):
                show_week(view, week, skill)


def show_board_tables(view: View) -> None:
    """Show all that the board draws as tables, folded."""
    if rows := late_table(view):
        with st.expander(f"Late, or without a slot ({len(rows)})"):
            show_table(rows)
    tables = st.expander("The board as tables", on_change="rerun", key="board as tables")
    if not tables.open:  # of a year they take longer to draw than the board
        return
    with tables:
        st.caption("Checks and their slots")
        show_table(bay_table(view))
        st.caption("Man-hours by week and skill")
        show_table(week_table(view))
