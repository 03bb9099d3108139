"""Man-hours by week of one skill, and what stands behind a week."""

import streamlit as st

from capacity.reports.plan.view import View
from ui.charts.common import picked
from ui.charts.man_hours import man_hours_chart, man_hours_legend
from ui.parts.cached_chart import show_cached_chart
from ui.parts.legend import show_legend
from ui.parts.levelled import show_hours_of_week
from ui.parts.tables import show_table
from ui.planner.behind import assigned_in_week, demand_of_week, load_of, week_sentence
from ui.planner.week_rows import skills_worst_first, week_rows

SKILL = "skill shown"
THIN_LINE = (
    "Thin line: the demand of the same slots with the hours of every stage spread evenly, in weeks "
    "where that is another one."
)


@st.fragment
def show_man_hours(view: View, run: int) -> None:
    """Show the chart of one skill; a click on a week shows its demand and its crews."""
    st.subheader("Man-hours")
    skills = skills_worst_first(view)
    before = st.session_state.get(SKILL)
    index = skills.index(before) if before in skills else 0
    skill = st.selectbox("Skill, most overloaded first", skills, index=index, width=320)
    st.session_state[SKILL] = skill
    rows = week_rows(view, skill)
    told = "Click a week to see its demand by check and its assigned crews."
    st.caption(f"{THIN_LINE} {told}" if rows.even else told)
    show_legend("Demand, met by", man_hours_legend())
    event = show_cached_chart(
        f"man-hours {skill}",
        run,
        f"man-hours {run} {skills.index(skill)}",
        lambda look: man_hours_chart(rows, look),
    )
    if (chosen := picked(event, "week")) is not None:
        show_week(view, chosen[0], skill)


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
