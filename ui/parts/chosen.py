"""What is chosen on the pages: a check or a week of a skill, one thing wherever it was clicked."""

import streamlit as st

from capacity.reports.plan.concerns import Concern
from ui.board.component import Picked, PickedCheck, PickedWeek

CHOSEN = "chosen"


def chosen_of(run: int) -> Picked | None:
    """Return what is chosen in the plan of run number ``run``; None without a click."""
    of_run, chosen = st.session_state.get(CHOSEN, (None, None))
    return chosen if of_run == run else None


def choose(run: int, picked: Picked | None) -> None:
    """Choose something in the plan of run number ``run``; None takes the choice away."""
    st.session_state[CHOSEN] = (run, picked)


def picked_by(concern: Concern) -> Picked | None:
    """Return what a row of the list of exceptions is about."""
    if concern.check is not None:
        return PickedCheck(concern.check)
    if concern.week is not None and concern.skill is not None:
        return PickedWeek(concern.week, concern.skill)
    return None
