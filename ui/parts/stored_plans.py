"""The plans of the store: save the one that is shown, look at others, agree one, go back to one."""

from collections.abc import Callable, Mapping
from pathlib import Path

import streamlit as st

from capacity.errors import CapacityError, ChangedMeanwhileError, InputError
from capacity.plans.outcome import Planned
from capacity.reports.compare.wording import compared_in_words, differing_in_words
from capacity.store.read_back import compared
from capacity.store.store import PlanStore
from capacity.store.values import Role, SavedPlan, Status
from capacity.store.wording import STATUS, plan_in_words
from capacity.words import listed
from ui.commercial.compare_rows import costs_table, slots_table
from ui.desk.desk import Desk
from ui.desk.plan_job import is_outdated, result_of
from ui.desk.session import this_browser_is_there
from ui.parts.editor import EXCEL
from ui.parts.tables import show_messages, show_table
from ui.plain import plain
from ui.store.kept import in_force_beside, save_shown
from ui.store.opened import open_stored
from ui.store.rows import event_rows, plan_rows
from ui.words import OUTDATED

DONE = "done with the plan store"
MADE_FROM_NOTHING = "no plan of the store"


def show_saving(desk: Desk, store: PlanStore, plans: tuple[SavedPlan, ...]) -> None:
    """Show the form that saves the plan of the page Planner."""
    result = result_of(desk)
    if result is None or not isinstance(result.outcome, Planned):
        st.text("There is no plan to save yet: make one on the page Planner.")
        return
    if store.role().rank < Role.PLAN.rank:
        st.text("You may look at plans; saving one needs the role 'plan'.")
        return
    base = result.opened.book.base
    assert base is not None
    if is_outdated(desk):
        st.warning(OUTDATED, icon=":material/history:")
    mine = [plan for plan in plans if plan.base == base.name]
    choices = {MADE_FROM_NOTHING: None} | {short(plan): plan.id for plan in mine}
    agreed = [n for n, plan in enumerate(mine, 1) if plan.status is Status.AGREED]
    form = st.form("save in the store", border=False, clear_on_submit=True)
    with form, st.container(horizontal=True, vertical_alignment="bottom"):
        chosen = st.selectbox(
            "Made from",
            list(choices),
            index=agreed[0] if agreed else 0,
            width=420,
            help="When it is agreed, it takes the place of that plan.",
        )
        said = st.text_input("What others should know of it", width=420, max_chars=2000)
        pressed = st.form_submit_button("Save the plan that is shown", icon=":material/save:")
    if pressed:
        _do(
            lambda: f"Saved: {plan_in_words(save_shown(store, result, choices[chosen], said))}.",
        )


def show_plans(desk: Desk, store: PlanStore, plans: tuple[SavedPlan, ...]) -> None:
    """Show all plans, and of the one that is chosen what can be done with it."""
    show_table(plan_rows(plans), wraps=True)
    by_id = {plan.id: plan for plan in plans}
    chosen = by_id[_choice("Plan", by_id, key="plan of the store")]
    st.subheader(f"Plan {chosen.id}", anchor=False)
    said = plan_in_words(chosen)
    st.text(said[:1].upper() + said[1:])
    show_table(event_rows(store.history(chosen.id)), wraps=True)
    role = store.role()
    if role.rank >= Role.AGREE.rank and chosen.status is not Status.AGREED:
        _show_agreeing(store, chosen, in_force_beside(chosen, plans))
    if role.rank >= Role.PLAN.rank:
        _show_commenting(store, chosen)
    _show_comparing(store, chosen, plans)
    _show_taking(desk, store, chosen)


def show_what_was_done() -> None:
    """Show once how the last step ended."""
    kind, text = st.session_state.pop(DONE, ("", ""))
    if kind == "done":
        st.success(plain(text), icon=":material/check:")
    elif kind == "refused":
        st.error(plain(text), icon=":material/block:")


def short(plan: SavedPlan) -> str:
    """Return a plan in a few words, to choose it by."""
    return f"plan {plan.id} ({plan.plan_number}), {STATUS[plan.status]}: {plan.base}"


def _choice(label: str, plans: Mapping[int, SavedPlan], *, key: str, index: int = 0) -> int:
    """Return the number of the plan that is chosen; it stays chosen when its status changes."""
    ids = list(plans)
    names = {id: short(plan) for id, plan in plans.items()}
    last = st.session_state.get(key)
    # Another field when a name changes: a browser goes on showing the name that was chosen.
    chosen = st.selectbox(
        label,
        ids,
        format_func=names.__getitem__,
        width=420,
        key=f"{key}: {', '.join(names.values())}",
        index=ids.index(last) if last in names else index,
    )
    st.session_state[key] = chosen
    return chosen


def _do(step: Callable[[], str]) -> None:
    """Do a step and draw the page anew, which says how it ended."""
    _try(step)
    st.rerun()


def _try(step: Callable[[], str]) -> None:
    """Do a step, and keep how it ended until the page says it."""
    try:
        st.session_state[DONE] = ("done", step())
    except ChangedMeanwhileError as changed:
        st.session_state[DONE] = ("refused", f"Somebody was quicker: {changed}")
    except CapacityError as fault:
        st.session_state[DONE] = ("refused", f"Nothing was changed: {fault}")


def _agree(store: PlanStore, plan: int, on_top_of: list[int]) -> None:
    _try(lambda: f"Agreed: {plan_in_words(store.agree(plan, on_top_of))}.")


def _show_agreeing(store: PlanStore, plan: SavedPlan, shown: tuple[SavedPlan, ...]) -> None:
    """Offer to agree a plan in the place of those that are in force as the page shows it."""
    names = listed([f"plan {one.id}" for one in shown])
    goes_back = "Go back to this plan" if plan.status is Status.SUPERSEDED else "Agree this plan"
    with st.container(horizontal=True, vertical_alignment="center"):
        # What the person saw when the button was drawn, whatever is in force when it is pressed.
        seen = [one.id for one in shown]
        icon = ":material/task_alt:"
        asked = (store, plan.id, seen)
        st.button(goes_back, icon=icon, type="primary", on_click=_agree, args=asked)
        st.text(
            f"It takes the place of {names}." if shown else "No plan of its days is in force yet."
        )


def _show_commenting(store: PlanStore, plan: SavedPlan) -> None:
    form = st.form(f"comment {plan.id}", border=False, clear_on_submit=True)
    with form, st.container(horizontal=True, vertical_alignment="bottom"):
        said = st.text_input("Say something about it", width=420, max_chars=2000)
        pressed = st.form_submit_button("Say it", icon=":material/chat:")
    if pressed:

        def step() -> str:
            store.comment(plan.id, said)
            return f"Said of plan {plan.id}."

        _do(step)


def _show_comparing(store: PlanStore, plan: SavedPlan, plans: tuple[SavedPlan, ...]) -> None:
    others = [one for one in plans if one.base == plan.base and one.id != plan.id]
    if not others:
        return
    agreed = [n for n, one in enumerate(others) if one.status is Status.AGREED]
    by_id = {one.id: one for one in others}
    with st.container(horizontal=True, vertical_alignment="bottom"):
        index = agreed[0] if agreed else 0
        other = by_id[_choice("Compare with", by_id, key=f"compare {plan.id}", index=index)]
        pressed = st.button("Compare", icon=":material/compare_arrows:")
    if not pressed:
        return
    names = (f"plan {other.id}", f"plan {plan.id}")
    try:
        found, base, _ = compared(store, other.id, plan.id)
    except InputError as fault:
        show_messages(fault.messages)
        return
    except CapacityError as fault:
        st.error(plain(str(fault)))
        return
    st.text(compared_in_words(found, names, base))
    st.text(differing_in_words(found))
    st.caption("Cost and days")
    show_table(costs_table(found, base, names))
    st.caption("Checks that differ")
    show_table(slots_table(found, only_differing=True, both=names))


def _show_taking(desk: Desk, store: PlanStore, plan: SavedPlan) -> None:
    """Offer its files, and to go on with it on the page Planner."""
    with st.container(horizontal=True, vertical_alignment="center"):
        st.download_button(
            "Its workbook",
            lambda: store.workbook(plan.id).content,  # fetched when it is asked for
            file_name=Path(plan.workbook_name).name,
            mime=EXCEL,
            on_click="ignore",
            icon=":material/download:",
        )
        st.download_button(
            "Its plan file (.json)",
            lambda: store.plan_file(plan.id),
            file_name=f"{plan.plan_number}.json",
            mime="application/json",
            on_click="ignore",
            icon=":material/download:",
        )
        if not plan.workbook_name.endswith(".xlsx"):
            return
        if st.button("Open it on the page Planner", icon=":material/open_in_new:"):
            _open(desk, store, plan)
        st.text("It replaces the workbook and the plan that are open there.")


def _open(desk: Desk, store: PlanStore, plan: SavedPlan) -> None:
    def step() -> str:
        open_stored(desk, store, plan, this_browser_is_there())
        return f"Plan {plan.id} and its workbook are open on the page Planner."

    _do(step)
