"""The page Commercial: whether an aircraft can be taken too, when, and what it costs."""

import streamlit as st

from capacity.plans.outcome import Planned
from ui.commercial.booking import BOOKING
from ui.commercial.enquiry_job import is_of_an_earlier_plan, told_of
from ui.commercial.words import ASK_AGAIN, NOTHING_ASKED
from ui.desk.plan_job import is_outdated, result_of
from ui.desk.session import current_desk
from ui.parts.booking import show_booked, show_booking
from ui.parts.downloads import show_downloads
from ui.parts.enquiry_answer import show_answer
from ui.parts.enquiry_compare import show_compare
from ui.parts.enquiry_form import show_form
from ui.parts.running import show_waiting, show_work
from ui.words import NO_PLAN, OUTDATED, PLANS_ONLY

desk = current_desk()
st.title("Commercial")
st.caption(PLANS_ONLY)
show_waiting(desk)

result = result_of(desk)
if result is None or not isinstance(result.outcome, Planned):
    show_work(desk)
    st.info(NO_PLAN, icon=":material/calendar_month:")
    st.stop()
if is_outdated(desk):
    st.warning(OUTDATED, icon=":material/history:")

st.header("Question", divider="gray")
show_form(desk, result)
show_work(desk, elsewhere=(BOOKING,))

told = told_of(desk)
if told is not None:
    st.header("Answer", divider="gray")
    show_answer(told)
    show_booking(desk, told)
    show_compare(told)
elif show_booked(result):
    show_downloads(result)
elif is_of_an_earlier_plan(desk):
    st.info(ASK_AGAIN, icon=":material/history:")
elif not desk.is_working:
    st.text(NOTHING_ASKED)
