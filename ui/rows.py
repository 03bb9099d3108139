"""Rows of charts and of tables, and messages as rows: for the pages and for what is printed."""

from collections.abc import Mapping, Sequence

from capacity.messages import Message
from ui.page_words import as_on_the_page

Row = Mapping[str, object]
"""What a mark of a chart stands for, by field."""

TableRow = dict[str, object]
"""A line of a table: values by their headings."""


def message_rows(messages: Sequence[Message]) -> list[TableRow]:
    """Return messages, each with its cell and what to do."""
    return [
        {
            "Level": message.level.value,
            "Where": message.where,
            "What": as_on_the_page(message.what),
            "What to do": as_on_the_page(message.remedy),
        }
        for message in messages
    ]
