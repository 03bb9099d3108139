"""The desk of the browser that is drawing, found again after a click or a reload."""

import os
from collections.abc import Callable
from pathlib import Path

import streamlit as st
from streamlit import runtime
from streamlit.runtime.scriptrunner import get_script_run_ctx

from capacity.dashboard import BOOK_VARIABLE
from ui.desk.board import BOARD
from ui.desk.desk import Desk
from ui.desk.job import Job, stop_when_gone
from ui.desk.opened_workbook import opened_from_path
from ui.desk.signed_in import desk_secret, person_signed_in
from ui.look import Look, look_of
from ui.serving.door import Door

SECONDS_UNTIL_GONE = float(os.environ.get("CAPACITY_DASHBOARD_SECONDS_UNTIL_GONE", "20"))
"""A job ends so long after the last browser that showed it was closed."""

DESK = "desk"


def stop_without_a_door() -> None:
    """Show nothing where the pages are served without the door, to everybody on the machine."""
    if _is_served() and not Door.is_there:
        st.error("Start the dashboard by `capacity dashboard`; served otherwise it has no key.")
        st.stop()


def current_desk() -> Desk:
    """Return the desk of who has signed in; else that of this browser, which the address names."""
    person = person_signed_in()
    if person is not None:
        desk = BOARD.own_desk(desk_secret(person))
    else:
        known = st.session_state.get(DESK) or st.query_params.get(DESK)
        desk = BOARD.desk(known)
        if st.query_params.get(DESK) != desk.id:
            st.query_params[DESK] = desk.id
    st.session_state[DESK] = desk.id
    if (context := get_script_run_ctx()) is not None:
        desk.sessions.add(context.session_id)
    return desk


def open_at_start(desk: Desk) -> None:
    """Put the workbook that the command named on a desk on which nothing was opened yet."""
    named = os.environ.get(BOOK_VARIABLE)
    if named and desk.version == 0:
        desk.open(opened_from_path(Path(named)), by_a_person=False)


def watched(desk: Desk, job: Job | None) -> None:
    """See to it that a job ends when nobody looks at its desk any more."""
    if job is not None:
        stop_when_gone(job, lambda: desk.is_looked_at(_is_active), SECONDS_UNTIL_GONE)


def this_browser_is_there() -> Callable[[], bool]:
    """Return what tells whether the browser that asks now is still connected."""
    context = get_script_run_ctx()
    return lambda: context is None or _is_active(context.session_id)


def is_part_drawn_alone() -> bool:
    """Return whether only parts of the page are drawn now, and the rest stays as it was."""
    context = get_script_run_ctx()
    return context is not None and bool(context.fragment_ids_this_run)


def current_look() -> Look:
    """Return the colours for the page as this browser shows it."""
    return look_of(st.context.theme.type)


def _is_active(session: str) -> bool:
    """Return whether a browser is connected; without a server nobody can be gone."""
    return not runtime.exists() or runtime.get_instance().is_active_session(session)


def _is_served() -> bool:
    """Return whether a true server draws this page; tests of single pages have a dummy."""
    return runtime.exists() and type(runtime.get_instance()) is runtime.Runtime
