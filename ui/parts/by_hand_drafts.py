"""The drafts of a desk: the one shown is chosen, and all of them stand side by side."""

import streamlit as st

from capacity.errors import CapacityError
from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.questions.by_hand.drafts import next_name
from ui.desk import draft_plans, drafts
from ui.desk.desk import Desk
from ui.desk.drafts import HandDraft
from ui.desk.plan_job import result_of
from ui.parts.tables import show_table
from ui.plain import plain
from ui.planner.draft_rows import figure_rows, move_rows

CHOSEN = "by hand draft"
NEW = "new draft"


def choose_draft(desk: Desk, one: HandDraft) -> None:
    """Show the names of all drafts, a new one among them, and what can be done with one."""
    work = drafts.work_of(desk)
    names = [draft.name for draft in work.drafts]
    if not names:
        return
    is_new = one.name not in names
    label = one.name if is_new else next_name(names)
    options = [*names, f"{NEW}: {label}"] if result_of(desk) is not None else names
    with st.container(horizontal=True, vertical_alignment="bottom"):
        key = f"{CHOSEN} {one.name} {len(names)}"
        st.selectbox(
            "Draft",
            options,
            index=len(names) if is_new else names.index(one.name),
            key=key,
            width=260,
            on_change=_choose,
            args=(desk, key),
        )
        if not is_new:
            st.button(
                "Remove this draft",
                icon=":material/delete:",
                on_click=drafts.remove_draft,
                args=(desk, one.name),
            )


def _choose(desk: Desk, key: str) -> None:
    drafts.show_draft(desk, str(st.session_state[key]))


def show_moves(one: HandDraft) -> None:
    """List the checks that were moved."""
    outcome = one.start.outcome
    assert isinstance(outcome, Planned)
    if one.draft.moves:
        st.markdown(f"**Kept in {plain(one.name)}**")
        rows = move_rows(one.draft, outcome.plan, draft_plans.plan_of_draft(one)[0])
        show_table(rows, wraps=True)


def show_side_by_side(desk: Desk, base: Base) -> None:
    """Set the drafts of the desk side by side, each beside the plan that it begins with."""
    found, gone = [], []
    for one in drafts.work_of(desk).drafts:
        try:
            found.append(draft_plans.figures(one))
        except CapacityError:
            gone.append(one.name)
    if found:
        st.markdown("**Drafts side by side**")
        show_table(figure_rows([*draft_plans.plan_figures(desk), *found], base), wraps=True)
    for name in gone:
        st.text(f"{name} cannot be shown any more.")
