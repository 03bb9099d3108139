"""The page Base manager: which weeks run short, what that costs, what would help."""

import streamlit as st

from capacity.plans.outcome import Planned
from ui.desk.once_a_run import once_a_run
from ui.desk.plan_job import is_outdated, plan_before, result_of
from ui.desk.result_view import result_view
from ui.desk.session import current_desk
from ui.manager.crew_job import CREWS
from ui.manager.key_figure_rows import figures_of
from ui.manager.labour_view import labour_of
from ui.manager.measures_job import MEASURES, measures_of
from ui.manager.risk_job import RISK
from ui.parts.board import show_chosen
from ui.parts.concerns import show_concerns
from ui.parts.crews import show_crews
from ui.parts.key_figures import show_key_figures
from ui.parts.labour import (
    show_figures,
    show_heat_map,
    show_measures,
    show_months,
    show_overtime,
    show_print,
)
from ui.parts.levelled import show_saved
from ui.parts.risk import show_risk
from ui.parts.running import show_waiting, show_work
from ui.parts.verdict import show_load
from ui.parts.why import show_why_of_plan
from ui.words import NO_PLAN, OUTDATED, PLANS_ONLY

desk = current_desk()
st.title("Base manager")
st.caption(PLANS_ONLY)
show_waiting(desk)
show_work(desk, elsewhere=(CREWS, MEASURES, RISK))

result = result_of(desk)
if result is None or not isinstance(result.outcome, Planned) or result.opened.book.base is None:
    st.info(NO_PLAN, icon=":material/calendar_month:")
    st.stop()
if is_outdated(desk):
    st.warning(OUTDATED, icon=":material/history:")

view = result_view(result).view
notes = [OUTDATED] if is_outdated(desk) else []
figures = once_a_run("key figures", result.number, lambda: figures_of(view, plan_before(desk)))
labour = once_a_run("labour", result.number, lambda: labour_of(view))
show_concerns(view, result.number)
show_chosen(view, result.number)
show_load(result.outcome)
show_saved(view)
show_figures(view)
show_print(labour, measures_of(desk), notes)
show_key_figures(view, figures, notes)
show_heat_map(view, result.number)
show_overtime(labour)
show_measures(view, desk)
show_risk(desk)
show_why_of_plan(desk)
show_crews(view, desk)
show_months(labour)
