"""What stands behind a week of a skill: its demand and its crews."""

import streamlit as st

from capacity.reports.plan.view import View
from ui.parts.levelled import show_hours_of_week
from ui.parts.tables import show_table
from ui.planner.behind import assigned_in_week, demand_of_week, load_of, week_sentence


def show_week(view: View, week: str, skill: str) -> None:
    """Show what is behind a week and skill."""
    load = load_of(view, week, skill)
    if load is None:
        return
    with st.container(border=True):
        st.text(week_sentence(load))
        demand, assigned = st.columns([3, 2])
        with demand:
            st.caption("Demand by check")
            show_table(demand_of_week(view, week, skill))
        with assigned:
            st.caption("Assigned crews; overtime and hired contract hours come on top")
            show_table(assigned_in_week(view, week, skill))
        show_hours_of_week(view, week, skill)
