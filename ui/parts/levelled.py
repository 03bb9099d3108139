"""What levelling saves, and what it moved in a check or in a week."""

import streamlit as st

from capacity.reports.plan.largest_moves import LARGEST
from capacity.reports.plan.levelled_words import how_levelled
from capacity.reports.plan.moved_words import week_evenly
from capacity.reports.plan.view import View
from capacity.reports.plan.wording import COUNTED_BY_DAY
from ui.manager.labour_words import EVENLY
from ui.parts.tables import show_table
from ui.planner.levelled_rows import (
    even_beside_levelled,
    largest,
    moves_of_check,
    moves_of_week,
    weeks_of_check,
)

ALL_EVENLY = "All hours of this check lie evenly over the days of their stages."
NOTHING_MOVED = "No stage brought hours into this week or took any out of it."


def show_saved(view: View) -> None:
    """Say what levelling saves, and which hours it moved most; nothing where all lie evenly.

    And that man-hours are counted by days, where they are.
    """
    if view.base.counts_days:
        st.text(COUNTED_BY_DAY)
    if view.levelling is None:
        return
    st.text(how_levelled(view.levelling, view.base))
    if moves := largest(view):
        with st.expander(LARGEST):
            show_table(moves)


def show_hours_of_check(view: View, name: str) -> None:
    """Show where the hours of a check lie, which of them were moved, and why."""
    if view.levelling is None:
        return
    moves = moves_of_check(view, name)
    if not moves:
        st.caption(ALL_EVENLY)
        return
    st.caption("Hours put off or brought forward, in the same slots")
    show_table(moves)
    with st.expander("Hours of each stage by week and skill"):
        show_table(weeks_of_check(view.levelling, name))


def show_hours_of_week(view: View, week: str, skill: str) -> None:
    """Show which stages brought hours into a week, and what it would have bought without."""
    if view.levelling is None:
        return
    st.text(week_evenly(week, skill, view.levelling.evenly, view.outcome.audit, view.base))
    if moves := moves_of_week(view, week, skill):
        st.caption("Stages that brought hours into this week (+) or took hours out of it (-)")
        show_table(moves)
    else:
        st.caption(NOTHING_MOVED)


def show_even_beside(view: View) -> None:
    """Show the demand of the weeks that levelling changes beside that of an even spread."""
    if rows := even_beside_levelled(view):
        with st.expander(EVENLY):
            show_table(rows)
