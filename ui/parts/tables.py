"""Tables as they stand on all pages; every text in them is shown as it stands."""

from collections.abc import Sequence
from datetime import date
from typing import Any

import streamlit as st

from capacity.findings import Finding
from ui.behind import TableRow
from ui.finding_rows import findings_table

DATE_FORMAT = "ddd D MMM YYYY"
"""A date that cannot be misread: ``Mon 4 Jan 2027``."""

FINDING_HEIGHT_PIXELS = 420
ROWS_BEFORE_SCROLLING = 10


def show_table(rows: Sequence[TableRow], key: str | None = None) -> None:
    """Show rows; dates and numbers as people write them."""
    columns: dict[str, Any] = {}
    for heading in rows[0] if rows else ():
        values = [row[heading] for row in rows]
        if any(isinstance(value, date) for value in values):
            columns[heading] = st.column_config.DateColumn(format=DATE_FORMAT)
        elif any(isinstance(value, int | float) for value in values):
            columns[heading] = st.column_config.NumberColumn(format="localized")
    st.dataframe(list(rows), hide_index=True, column_config=columns, key=key, placeholder="")


def show_findings(findings: Sequence[Finding]) -> None:
    """Show findings, each with its cell and what to do."""
    rows = findings_table(findings)
    st.dataframe(
        rows,
        hide_index=True,
        height=FINDING_HEIGHT_PIXELS if len(rows) > ROWS_BEFORE_SCROLLING else "auto",
        row_height=52,
        column_config={
            "Level": st.column_config.TextColumn(width=80),
            "Where": st.column_config.TextColumn(width=130),
            "What": st.column_config.TextColumn(width="large"),
            "What to do": st.column_config.TextColumn(width="large"),
        },
    )


def show_facts(facts: Sequence[tuple[str, str]]) -> None:
    """Show pairs of a word and a text, one below the other."""
    st.dataframe(
        [{"": word, "Value": text} for word, text in facts],
        hide_index=True,
        column_config={"": st.column_config.TextColumn(width=170)},
    )
