"""What the labour of a plan comes to: hours bought, crews, limits, months, measures."""

from collections.abc import Sequence
from functools import partial

import streamlit as st

from capacity.man_hour_plan.messages import man_hour_messages
from capacity.questions.overtime.measures import Measures
from capacity.reports.overtime.wording import tried_in_words
from capacity.reports.plan.view import View
from ui.charts.common import picked
from ui.charts.heat_map import heat_map
from ui.desk.desk import Desk
from ui.desk.session import current_desk, watched
from ui.manager import labour_tables as tables
from ui.manager import labour_words as words
from ui.manager.heat_rows import heat_legend, heat_rows, heat_table
from ui.manager.labour_view import LabourView
from ui.manager.measures_job import MEASURES, measures_of, start_measures
from ui.manager.risk_job import risk_of_plan_shown
from ui.manager.risk_rows import overload_by_week
from ui.parts.cached_chart import show_cached_chart
from ui.parts.concerns import marked_week
from ui.parts.legend import show_legend
from ui.parts.levelled import show_even_beside
from ui.parts.man_hours import show_week
from ui.parts.running import LONGEST_SECONDS, show_work_of
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.printing.labour import labour_page
from ui.words import AS_TABLE

MEASURE_SECONDS = 60.0
SECONDS = "seconds for measures"


def show_figures(view: View) -> None:
    """Show man-hours and cost of overtime, contract labour and overload."""
    figures = tables.labour_figures(view)
    for column, (kind, amount, money) in zip(st.columns(len(figures)), figures, strict=True):
        column.metric(kind, plain(amount), delta=plain(money), delta_color="off", delta_arrow="off")


@st.fragment
def show_heat_map(view: View, run: int) -> None:
    """Show how full each week is in each skill; a click shows demand and assigned crews."""
    st.header(words.WEEKS)
    answer = risk_of_plan_shown(current_desk())
    at_risk = {} if answer is None else overload_by_week(answer.told.risk)
    risk = f" {words.RISK_SIGN}" if at_risk else ""
    st.caption(f"{words.SIGNS}{risk} Click a week to see what is behind it.")
    show_legend("Week", heat_legend())
    event = show_cached_chart(
        "weeks" if answer is None else f"weeks with risk {answer.number}",
        run,
        f"weeks {run}",
        lambda look: heat_map(heat_rows(view, at_risk), look),
        marked=marked_week(run),
    )
    if (chosen := picked(event, "skill", "week")) is not None:
        skill, week = chosen
        show_week(view, week, skill)
    with st.expander(AS_TABLE):
        show_table(heat_table(view, at_risk))
    show_even_beside(view)


def show_overtime(labour: LabourView) -> None:
    """Show overtime by crew, by week and skill, and the working-time limits that it exceeds."""
    st.header(words.OVERTIME)
    base, review = labour.view.base, labour.review
    by_crew = tables.overtime_by_crew(review, base)
    if not by_crew:
        st.text(words.NO_OVERTIME)
    else:
        st.caption(words.SHARED)
        show_table(by_crew)
        with st.expander("Week by week"):
            show_table(tables.overtime_by_week_and_crew(review, base))
    if bought := tables.bought_by_week_and_skill(review, base):
        with st.expander(words.BOUGHT):
            show_table(bought)
    _show_limits(labour)


def _show_limits(labour: LabourView) -> None:
    st.header(words.RULES)
    if labour.view.base.working_time_rules is not None:
        st.caption(words.FIRST_CHECK)
    st.text(words.rules_in_words(labour.review, labour.view.base))
    if limits := tables.limits_table(labour.review):
        show_table(limits)


def show_months(labour: LabourView) -> None:
    """Show man-hours available and needed by calendar month, and what is for review."""
    st.header(words.MONTHS)
    plan = labour.months
    st.text(tables.review_dates(plan))
    st.caption(words.NOT_AVAILABLE)
    show_table(tables.months_table(plan))
    if found := man_hour_messages(plan):
        with st.expander(f"{words.FOR_REVIEW} ({len(found)})"):
            show_messages(found, "of the months")


def show_print(labour: LabourView, measures: Measures | None, notes: Sequence[str]) -> None:
    """Show the button that takes the whole page away as one to print."""
    with st.container(horizontal=True, vertical_alignment="center"):
        st.download_button(
            "This page to print (.html)",
            partial(labour_page, labour, measures, notes),
            file_name="labour.html",
            mime="text/html",
            on_click="ignore",
            icon=":material/print:",
        )
        st.caption(
            "For paper. The browser's own print cuts long tables and leaves folded ones out."
        )


def show_measures(view: View, desk: Desk) -> None:
    """Show what would take overtime away, each measure tried on this plan."""
    st.header(words.MEASURES_TRIED)
    st.caption(
        "A contract team, a check moved, more people, a bay open again: each is tried on this "
        "plan and audited. All are looked at however short the time is; those that promise most "
        "are then searched anew."
    )
    with st.container(horizontal=True, vertical_alignment="bottom"):
        seconds = st.number_input(
            "Seconds for all measures",
            min_value=1,
            max_value=LONGEST_SECONDS,
            value=st.session_state.get(SECONDS, int(MEASURE_SECONDS)),
            width=220,
        )
        st.session_state[SECONDS] = seconds
        st.button(
            "Try the measures",
            icon=":material/tune:",
            disabled=desk.is_working,
            on_click=lambda: watched(desk, start_measures(desk, float(seconds))),
        )
    show_work_of(desk, MEASURES)
    measures = measures_of(desk)
    if measures is None:
        return
    st.text(tried_in_words(measures))
    st.text(tables.measures_sentence(measures, view.base))
    if rows := tables.measures_table(measures, view.base):
        show_table(rows)
    else:
        st.text(words.NOTHING_TAKEN_AWAY)
    for title, listed in (
        (words.NO_SLOT_FOUND, measures.no_place),
        (words.NOT_TRIED, measures.not_tried),
    ):
        if listed:
            st.caption(title)
            for what in listed:
                st.text(what)
