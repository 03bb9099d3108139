"""The page Base manager: which weeks run short, what that costs, what would help."""

import streamlit as st

from capacity.plans.outcome import Planned
from capacity.reports.view import view_of
from capacity.reports.wording import how_loaded
from ui.parts.crews import show_crews
from ui.parts.labour import (
    show_figures,
    show_heat_map,
    show_levers,
    show_months,
    show_overtime,
)
from ui.parts.running import show_work
from ui.plan_job import is_outdated, result_of
from ui.session import current_desk
from ui.words import NO_PLAN, OUTDATED, PLANS_ONLY

desk = current_desk()
st.title("Base manager")
st.caption(PLANS_ONLY)
show_work(desk)

result = result_of(desk)
if result is None or not isinstance(result.outcome, Planned) or result.opened.book.base is None:
    st.info(NO_PLAN, icon=":material/calendar_month:")
    st.stop()
if is_outdated(desk):
    st.warning(OUTDATED, icon=":material/history:")

book = result.opened.book
view = view_of(result.outcome, result.opened.book.base, book.findings, book.where)
st.text(how_loaded(result.outcome))
show_figures(view)
show_heat_map(view, result.number)
show_overtime(view)
show_levers(view, desk)
show_crews(view, desk)
show_months(view)
