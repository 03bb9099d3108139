"""Messages with the place of each to click, which opens its sheet and shows the row."""

import re
from collections.abc import Callable, Sequence

import streamlit as st

from capacity.inputs.reading.places import same
from capacity.messages import Level, Message
from capacity.words import counted
from ui.plain import plain
from ui.planner.editing import EDITED_SHEETS

A_PART = 12
"""Messages that are shown at once."""

WIDTHS = (2, 3, 9, 9)
HEADINGS = ("Level", "Where", "What", "What to do")
WORST_FIRST = (Level.ERROR, Level.WARNING, Level.NOTE)
_CELL = re.compile(r"[A-Z]*(\d+)")


def place_of(where: str) -> tuple[str, int | None] | None:
    """Return the sheet and the row of a place such as ``Checks!F17``; None of another place."""
    title, _, cell = where.rpartition("!")
    sheets = {same(sheet): sheet for sheet in EDITED_SHEETS}
    sheet = sheets.get(same(title or where))
    if sheet is None:
        return None
    found = _CELL.fullmatch(cell) if title else None
    return sheet, None if found is None else int(found[1])


def show_message_list(
    messages: Sequence[Message], go_to: Callable[[Message], None], key: str
) -> None:
    """Show messages, the worst first and a part at a time; ``go_to`` is called with one clicked."""
    told = sorted(messages, key=lambda message: WORST_FIRST.index(message.level))
    counts = [(level, sum(m.level is level for m in told)) for level in WORST_FIRST]
    words = ", ".join(counted(number, level.value) for level, number in counts if number)
    st.markdown(f"**Messages**: {words or 'none'}")
    if not told:
        return
    parts = {
        f"{first + 1:,} to {min(first + A_PART, len(told)):,} of {len(told):,}": first
        for first in range(0, len(told), A_PART)
    }
    first = 0
    if len(parts) > 1:
        first = parts[st.selectbox("Messages shown", list(parts), key=f"{key} part", width=220)]
    with st.container(gap="xxsmall"):
        for column, heading in zip(st.columns(WIDTHS), HEADINGS, strict=True):
            column.caption(heading)
        for number, message in enumerate(told[first : first + A_PART], start=first):
            _show(message, f"{key} {number}", go_to)


def _show(message: Message, key: str, go_to: Callable[[Message], None]) -> None:
    level, where, what, what_to_do = st.columns(WIDTHS, vertical_alignment="center")
    level.markdown(message.level.value)
    if place_of(message.where) is None:
        where.markdown(plain(message.where))
    else:
        where.button(
            plain(message.where), key=key, type="tertiary", on_click=go_to, args=(message,)
        )
    what.markdown(plain(message.what))
    what_to_do.markdown(plain(message.remedy))
