"""The page Planner: open, correct, plan, look, take away."""

import streamlit as st

from ui.desk.draft_plans import view_of_draft
from ui.desk.plan_job import is_outdated, result_of
from ui.desk.session import current_desk
from ui.manager.risk_job import RISK
from ui.parts.booking import show_booked
from ui.parts.by_hand import draft_on_the_board, say_what_is_shown, show_by_hand
from ui.parts.concerns import show_concerns
from ui.parts.downloads import show_downloads
from ui.parts.editor import show_editor
from ui.parts.man_hours import show_man_hours
from ui.parts.occupancy import show_occupancy
from ui.parts.opening import show_opening
from ui.parts.replan import show_changes, show_replan
from ui.parts.risk import show_risk
from ui.parts.running import show_start, show_work
from ui.parts.verdict import show_verdict
from ui.parts.why import show_why_of_plan
from ui.words import OUTDATED, PLANS_ONLY

desk = current_desk()

st.title("Planner")
st.caption(PLANS_ONLY)

exceptions = st.container()  # filled below, where a run that has just ended is known

st.header("Workbook", divider="gray")
show_opening(desk)

if desk.opened is not None:
    with st.expander("Change checks, progress, closures, crews, packages and settings"):
        show_editor(desk)

    st.header("Plan", divider="gray")
    show_start(desk)
    show_replan(desk)
    show_work(desk, elsewhere=(RISK,))
    view = show_verdict(desk)
    show_why_of_plan(desk)
    result = result_of(desk)
    if result is not None:
        show_changes(result)
        show_booked(result)
        show_downloads(result)
    elif not desk.is_working:
        st.text("There is no plan of this workbook yet.")
    if view is not None and result is not None:
        with exceptions:
            show_concerns(view, result.number, OUTDATED if is_outdated(desk) else "")
        show_by_hand(desk)
        draft = draft_on_the_board(desk)
        if draft is None:
            show_occupancy(view, result.number)
            show_man_hours(view, result.number)
        else:  # the board has the draft's slots
            say_what_is_shown(draft)
            show_occupancy(view_of_draft(draft), draft.number)
            show_man_hours(view_of_draft(draft), draft.number)
        show_risk(desk)
