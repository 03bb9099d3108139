"""What is wrong with the plan, worst first; a click shows the check or the week behind it."""

from collections import Counter
from collections.abc import Sequence

import streamlit as st

from capacity.reports.plan.concerns import Concern, concerns_of
from capacity.reports.plan.view import View
from ui.desk.once_a_run import once_a_run
from ui.page_words import as_on_the_page
from ui.parts.check import show_check
from ui.parts.man_hours import SKILL, show_week
from ui.plain import plain

MOST_SHOWN = 12
CHOSEN = "concern shown"
WIDTHS = (3, 4, 7, 8)
HEADINGS = ("What", "Check or week", "How much", "What to do first")

NOTHING_WRONG = (
    "Nothing is wrong with this plan: every fixed and booked check comes in by its Latest in, none "
    "is late out, no week has overload, and no progress, late part or option needs attention."
)


def show_concerns(view: View, run: int, note: str = "") -> None:
    """Show the list of run number ``run``, its worst rows only, and what is clicked.

    ``note`` is what has to be known of the plan before it.
    """
    concerns = once_a_run("concerns", run, lambda: concerns_of(view))
    st.subheader("Exceptions")
    if note:
        st.caption(note)
    if not concerns:
        st.text(NOTHING_WRONG)
        return
    st.caption("What is wrong with this plan, worst first. Click a check or a week to see it.")
    chosen = chosen_concern(run)
    with st.container(gap="xxsmall"):
        for column, heading in zip(st.columns(WIDTHS), HEADINGS, strict=True):
            column.caption(heading)
        for number, concern in enumerate(concerns[:MOST_SHOWN]):
            _show_row(run, number, concern, is_chosen=concern == chosen)
    if more := concerns[MOST_SHOWN:]:
        st.caption(f"And {len(more):,} more: {counts_in_words(more)}.")
    if chosen is None:
        return
    if chosen.check is not None:
        show_check(view, chosen.check, "list")
    elif chosen.week is not None and chosen.skill is not None:
        show_week(view, chosen.week, chosen.skill)


def chosen_concern(run: int) -> Concern | None:
    """Return what was clicked in the list of run number ``run``; None without a click."""
    of_run, concern = st.session_state.get(CHOSEN, (None, None))
    return concern if of_run == run else None


def marked_in_list(run: int, *fields: str) -> dict[str, str]:
    """Return what a chart of run number ``run`` marks for the click in the list; mostly nothing."""
    chosen = chosen_concern(run)
    values = {} if chosen is None else {field: getattr(chosen, field) for field in fields}
    return {} if None in values.values() else values


def counts_in_words(concerns: Sequence[Concern]) -> str:
    """Return how many there are of each kind: ``3 late out, 2 overload``."""
    counts = Counter(concern.what for concern in concerns)
    return ", ".join(f"{number:,} {what}" for what, number in counts.items())


def _show_row(run: int, number: int, concern: Concern, *, is_chosen: bool) -> None:
    what, about, how_much, what_to_do = st.columns(WIDTHS, vertical_alignment="center")
    what.markdown(plain(concern.what))
    about.button(
        plain(concern.about),
        key=f"concern {run} {number}",
        type="secondary" if is_chosen else "tertiary",
        on_click=_choose,
        args=(run, None if is_chosen else concern),
    )
    how_much.markdown(plain(concern.how_much))
    what_to_do.markdown(plain(as_on_the_page(concern.what_to_do)))


def _choose(run: int, concern: Concern | None) -> None:
    st.session_state[CHOSEN] = (run, concern)
    if concern is not None and concern.skill is not None:
        st.session_state[SKILL] = concern.skill
