"""Bay occupancy, and what stands behind a check that is clicked."""

import streamlit as st

from capacity.reports.plan.view import View
from ui.charts.common import picked
from ui.charts.occupancy import occupancy_chart, occupancy_legend
from ui.desk.session import current_look
from ui.parts.cached_chart import show_cached_chart
from ui.parts.check import show_check
from ui.parts.concerns import marked_in_list
from ui.parts.legend import show_legend
from ui.parts.tables import show_table
from ui.planner.bay_rows import occupancy_of
from ui.planner.behind import late_table


@st.fragment
def show_occupancy(view: View, run: int) -> None:
    """Show the chart of run number ``run``; a click on a check shows its dates and stages."""
    st.subheader("Bay occupancy")
    occupancy = occupancy_of(view)
    st.caption(
        "Thick edge and square: bay and day are fixed. Thick right edge with the words late and "
        "days: late out. Short upright bar with the word agreed: Agreed out. Bold: days past "
        "Latest in. A check without a slot stands above the bays, over the days on which it could "
        "come in. Click a check to see what is behind it."
    )
    for title, swatches in occupancy_legend(occupancy, current_look()):
        show_legend(title, swatches)
    marked = marked_in_list(run, "check")
    event = show_cached_chart(
        "bays",
        run,
        f"bays {run}",
        lambda look: occupancy_chart(occupancy, look),
        marked=marked if marked.get("check") in view.accounts else None,
    )
    if rows := late_table(view):
        st.markdown("**Late, or without a slot**")
        show_table(rows)
    chosen = picked(event, "check")
    if chosen is None or chosen[0] not in view.accounts:
        return
    show_check(view, chosen[0])
