"""What is wrong with the plan, worst first; a click chooses the check or the week behind it."""

from collections import Counter
from collections.abc import Sequence
from typing import Literal

import streamlit as st

from capacity.reports.plan.concerns import Concern, concerns_of
from capacity.reports.plan.view import View
from ui.board.component import PickedWeek
from ui.desk.once_a_run import once_a_run
from ui.page_words import as_on_the_page
from ui.parts.chosen import choose, chosen_of, picked_by
from ui.plain import plain

MOST_SHOWN = 12
ROWS_BEFORE_SCROLLING, SCROLLED_PIXELS = 3, 112
WIDTHS = (3, 4, 7, 8)
HEADINGS = ("What", "Check or week", "How much", "What to do first")

ON_A_PHONE = """<style>
@media (max-width: 640px) { .st-key-exception-headings { display: none; } }
</style>"""
"""Columns stand one below the other there, and headings would be far from what they head."""

WHAT_IT_IS = "What is wrong with this plan, worst first. Click a check or a week to see it."
NOTHING_WRONG = (
    "Nothing is wrong with this plan: every fixed and booked check comes in by its Latest in, none "
    "is late out, no week has overload, and no progress, late part or option needs attention."
)


def show_concerns(view: View, run: int, note: str = "") -> None:
    """Show the list of run number ``run``, its worst rows only; a click chooses what it is about.

    ``note`` is what has to be known of the plan before it.
    """
    concerns = once_a_run("concerns", run, lambda: concerns_of(view))
    st.header("Exceptions", help=WHAT_IT_IS)
    if note:
        st.caption(note)
    if not concerns:
        st.text(NOTHING_WRONG)
        return
    chosen = chosen_of(run)
    shown, more = concerns[:MOST_SHOWN], concerns[MOST_SHOWN:]
    st.html(ON_A_PHONE)
    with st.container(key="exception-headings"):
        for column, heading in zip(st.columns(WIDTHS), HEADINGS, strict=True):
            column.caption(heading)
    height: int | Literal["content"] = "content"
    if len(shown) > ROWS_BEFORE_SCROLLING:
        height = SCROLLED_PIXELS
    with st.container(height=height, border=False, gap="xxsmall", key="exceptions"):
        for number, concern in enumerate(shown):
            _show_row(run, number, concern, is_chosen=picked_by(concern) == chosen)
        if more:
            st.caption(f"And {len(more):,} more: {counts_in_words(more)}.")


def marked_week(run: int) -> dict[str, str]:
    """Return what a chart of run number ``run`` marks for a week that is chosen; mostly nothing."""
    chosen = chosen_of(run)
    if not isinstance(chosen, PickedWeek):
        return {}
    return {"skill": chosen.skill, "week": chosen.week}


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
        on_click=choose,
        args=(run, None if is_chosen else picked_by(concern)),
    )
    how_much.markdown(plain(concern.how_much))
    what_to_do.markdown(plain(as_on_the_page(concern.what_to_do)))
