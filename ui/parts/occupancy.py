"""Bay occupancy, and what stands behind a check that is clicked."""

import streamlit as st

from capacity.reports.plan.view import View
from ui.charts.common import picked
from ui.charts.occupancy import occupancy_chart
from ui.parts.kept_chart import show_kept_chart
from ui.parts.tables import show_facts, show_table
from ui.plain import plain
from ui.planner.bay_rows import occupancy_of
from ui.planner.behind import cautions_table, check_facts, late_table, stages_table


@st.fragment
def show_occupancy(view: View, run: int) -> None:
    """Show the chart of run number ``run``; a click on a check shows its dates and stages."""
    st.subheader("Bays")
    st.caption(
        "A block is an aircraft in a bay, the strip below it its stages. Thick edge and ■: bay "
        "and day are fixed. Short upright bar with the word agreed: Agreed out. Thick right edge: "
        "out late. Slanted lines: closed. Dashed slanted lines: the bay is empty, but its floor is "
        "taken (long dashes round it) or its way blocked (short dashes) by the check named there. "
        "Dashed frame above the bays: no slot, over the days on which the check could come in. "
        "Click a check to see what is behind it."
    )
    event = show_kept_chart(
        "bays", run, f"bays {run}", lambda look: occupancy_chart(occupancy_of(view), look)
    )
    if rows := late_table(view):
        st.markdown("**Late, or without a slot**")
        show_table(rows)
    chosen = picked(event, "check")
    if chosen is None or chosen[0] not in view.accounts:
        return
    (name,) = chosen
    with st.container(border=True):
        st.markdown(f"**Check {plain(name)}**")
        show_facts(check_facts(view, name))
        show_table(stages_table(view, name))
        _show_cautions(view, name)


def _show_cautions(view: View, name: str) -> None:
    rows = cautions_table(view, name)
    if not rows:
        return
    with st.expander(f"Cautions for its work ({len(rows)})"):
        st.caption("Examples of what is usual. Local rules and approved data always come first.")
        show_table(rows)
