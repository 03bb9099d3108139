"""Tables as they stand on all pages; every text in them is shown as it stands."""

from collections.abc import Sequence
from datetime import date
from typing import Any, Literal

import streamlit as st

from capacity.messages import Message
from capacity.words import day
from ui.plain import plain
from ui.rows import TableRow, message_rows

DATE_FORMAT = "ddd D MMM YYYY"
"""A date that cannot be misread: ``Mon 4 Jan 2027``."""

WHOLE_HEIGHT_PIXELS = 420
ROWS_BEFORE_SCROLLING = 10

LONGEST_ON_A_LINE = 60
"""Letters of a text that a grid shows; what is longer would be cut, and its table wraps."""

MOST_WRAPPED = 200
"""Rows of a table that wraps, which the browser draws all at once."""


def show_table(
    rows: Sequence[TableRow], key: str | None = None, *, scrolls: bool = True, wraps: bool = False
) -> None:
    """Show rows; dates and numbers as people write them, and every sentence whole.

    One with sentences, or that ``wraps`` anyhow, shows all of every cell; if it does not scroll, at
    its whole height.
    """
    if len(rows) <= MOST_WRAPPED and (wraps or any(map(_has_sentences, rows))):
        _show_whole(rows, scrolls=scrolls)
        return
    columns: dict[str, Any] = {}
    for heading in rows[0] if rows else ():
        values = [row[heading] for row in rows]
        if any(isinstance(value, date) for value in values):
            columns[heading] = st.column_config.DateColumn(format=DATE_FORMAT)
        elif any(isinstance(value, int | float) for value in values):
            columns[heading] = st.column_config.NumberColumn(format="localized")
    st.dataframe(list(rows), hide_index=True, column_config=columns, key=key, placeholder="")


def show_messages(messages: Sequence[Message], key: str = "of the workbook") -> None:
    """Show messages, each with its cell and what to do, and every sentence whole.

    Of very many a part at a time; ``key`` tells the lists of a page apart.
    """
    rows = message_rows(messages)
    parts = {
        f"{first + 1:,} to {min(first + MOST_WRAPPED, len(rows)):,} of {len(rows):,}": first
        for first in range(0, len(rows), MOST_WRAPPED)
    }
    first = 0
    if len(parts) > 1:
        label = f"Messages {key} shown"
        first = parts[st.selectbox(label, list(parts), key=label, width=320)]
    _show_whole(rows[first : first + MOST_WRAPPED])


def show_facts(facts: Sequence[tuple[str, str]]) -> None:
    """Show pairs of a word and a text, one below the other."""
    rows = [{"": word, "Value": plain(text)} for word, text in facts]
    st.table(rows, hide_index=True, hide_header=True, width="content")


def _show_whole(rows: Sequence[TableRow], *, scrolls: bool = True) -> None:
    """Show rows in a table whose cells are as high as their texts are long."""
    shown = [{plain(heading): _written(value) for heading, value in row.items()} for row in rows]
    height: int | Literal["content"] = (
        WHOLE_HEIGHT_PIXELS if scrolls and len(shown) > ROWS_BEFORE_SCROLLING else "content"
    )
    st.table(shown, hide_index=True, height=height)


def _has_sentences(row: TableRow) -> bool:
    return any(isinstance(value, str) and len(value) > LONGEST_ON_A_LINE for value in row.values())


def _written(value: object) -> str:
    match value:
        case None:
            return ""
        case date():
            return plain(day(value))
        case bool() | str():
            return plain(str(value))
        case int() | float():
            return plain(f"{value:,}")
        case _:
            return plain(str(value))
