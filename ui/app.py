"""The pages of the dashboard, which ``ui/serving/server.py`` serves: ``capacity dashboard``."""

import sys
from pathlib import Path

# In the checkout and in an installed package alike, the folder above this one is where `ui` is.
ABOVE = str(Path(__file__).resolve().parents[1])
if ABOVE not in sys.path:
    sys.path.append(ABOVE)

import streamlit as st  # noqa: E402

from ui.desk.session import current_desk, open_at_start, stop_without_a_door  # noqa: E402
from ui.desk.signed_in import let_in, show_who_is_signed_in  # noqa: E402
from ui.parts.editor import date_order  # noqa: E402
from ui.parts.guard import show_guard  # noqa: E402
from ui.parts.note import show_note  # noqa: E402
from ui.parts.scrolling_tables import let_tab_reach_tables  # noqa: E402

st.set_page_config(
    page_title="Hangar capacity", page_icon=str(Path(__file__).with_name("icon.svg")), layout="wide"
)

stop_without_a_door()
let_in()
desk = current_desk()
open_at_start(desk)

PAGES = [
    st.Page("pages/planner.py", title="Planner", icon=":material/calendar_month:", default=True),
    st.Page("pages/base_manager.py", title="Base manager", icon=":material/groups:"),
    st.Page("pages/commercial.py", title="Commercial", icon=":material/request_quote:"),
    st.Page("pages/plans.py", title="Plan store", icon=":material/inventory_2:"),
]
page = st.navigation(PAGES, position="top")
show_who_is_signed_in()
show_note(desk)
page.run()
show_guard(desk, date_order())
let_tab_reach_tables()
