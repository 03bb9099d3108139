"""What the labour of a plan comes to: dear hours, crews, limits, months, levers."""

import streamlit as st

from capacity.man_hour_plan.findings import man_hour_findings
from capacity.man_hour_plan.man_hour_plan import man_hour_plan
from capacity.questions.overtime_review import review_overtime
from capacity.reports.view import View
from ui.behind import picked
from ui.charts.heat_map import heat_map
from ui.desk import Desk
from ui.heat_rows import heat_rows
from ui.labour_tables import (
    bought_by_week_and_skill,
    labour_figures,
    levers_sentence,
    levers_table,
    limits_table,
    months_table,
    overtime_by_crew,
    overtime_by_week_and_crew,
    review_dates,
)
from ui.lever_job import levers_of, start_levers
from ui.parts.man_hours import show_week
from ui.parts.tables import show_findings, show_table
from ui.plain import plain
from ui.session import current_look, watched

LEVER_SECONDS = 60.0


def show_figures(view: View) -> None:
    """Show man-hours and money of overtime, contract labour and overload."""
    figures = labour_figures(view)
    for column, (kind, amount, money) in zip(st.columns(len(figures)), figures, strict=True):
        column.metric(kind, plain(amount), delta=plain(money), delta_color="off", delta_arrow="off")


@st.fragment
def show_heat_map(view: View, run: int) -> None:
    """Show how full each week is in each skill; a click shows who asks and who gives."""
    st.subheader("Weeks and skills")
    st.caption(
        "Per cent are of the regular hours; + and C are man-hours bought on top, ▲ those that "
        "nobody is there to do. Click a week to see what is behind it."
    )
    event = st.altair_chart(
        heat_map(heat_rows(view), current_look()),
        on_select="rerun",
        selection_mode="pick",
        key=f"weeks {run}",
    )
    if (chosen := picked(event, "skill", "week")) is not None:
        skill, week = chosen
        show_week(view, week, skill)


def show_overtime(view: View) -> None:
    """Show overtime by crew, by week and skill, and the working-time limits that it meets."""
    st.subheader("Overtime")
    base = view.base
    review = review_overtime(view.outcome.plan, base)
    by_crew = overtime_by_crew(review, base)
    if not by_crew:
        st.text("No crew works overtime in this plan.")
    else:
        st.caption(
            "The plan buys overtime by skill; here it is shared between the crews of the skill "
            "by their hours."
        )
        show_table(by_crew)
        with st.expander("Week by week"):
            show_table(overtime_by_week_and_crew(review, base))
    if bought := bought_by_week_and_skill(review, base):
        with st.expander("All hours bought, by week and skill"):
            show_table(bought)
    _show_limits(view, limits_table(review))


def _show_limits(view: View, limits: list[dict[str, object]]) -> None:
    st.subheader("Working-time rules")
    rules = view.base.working_time_rules
    if rules is None:
        st.text(
            "The workbook names no working-time rules, so none were looked at. Name a set under "
            "Working-time rules on the sheet Base."
        )
        return
    st.caption(
        "A first look only: whether a roster is lawful, and who may work longer, your own rules "
        "and agreements say. Tired people make mistakes; overtime is no place to save."
    )
    st.text(f"Looked at: {rules}.")
    if limits:
        show_table(limits)
    else:
        st.text("No limit of these is passed.")


def show_months(view: View) -> None:
    """Show man-hours available and needed by calendar month, and what gives cause to look."""
    st.subheader("Months")
    plan = man_hour_plan(view.base, view.outcome.plan)
    st.text(review_dates(plan))
    st.caption("Overtime and contract hours that the plan buys are not among the available ones.")
    show_table(months_table(plan))
    if found := man_hour_findings(plan):
        with st.expander(f"What to look at ({len(found)})"):
            show_findings(found)


def show_levers(view: View, desk: Desk) -> None:
    """Show what would take overtime away, each lever tried on this plan."""
    st.subheader("What would take overtime away")
    st.caption(
        "More people, a contract team, a check moved, a bay open again: each is tried on this "
        f"plan and audited, which takes about {LEVER_SECONDS:.0f} s in all."
    )
    st.button(
        "Try the levers",
        icon=":material/tune:",
        disabled=desk.is_working,
        on_click=lambda: watched(desk, start_levers(desk, LEVER_SECONDS)),
    )
    levers = levers_of(desk)
    if levers is None:
        return
    st.text(levers_sentence(levers, view.base))
    if rows := levers_table(levers, view.base):
        show_table(rows)
    else:
        st.text("No lever that was tried takes anything away.")
    if levers.not_tried:
        st.caption("Not tried, for want of time or of a place in this plan:")
        for what in levers.not_tried:
            st.text(what)
