"""Every text that a page of the dashboard shows: sentences, labels, tables, charts, legends."""

import base64
import json
import re
from collections.abc import Iterator

from google.protobuf.message import Message
from streamlit.testing.v1 import AppTest

NOT_SHOWN = {
    "id", "type", "tag", "divider", "format", "icon", "theme", "selection_mode", "url",
    "deferred_file_id", "form_id", "js_content", "css_content", "component_name",
}  # fmt: skip
"""Fields of an element that nobody reads."""

CODE = re.compile(r"datum|scale\(|^[MLHV][\d.,MLHV-]+$")
"""Texts of a chart that its program reads."""

PICTURE = "data:image/svg+xml;base64,"

ROWS_OF_THE_BOARD = b'{"name": '
"""How the rows of the planning board begin on their way to the browser (``ui/board/sent_rows``)."""


def texts_of_page(app: AppTest) -> Iterator[str]:
    """Return all texts of a page, as a person reads them."""
    return (re.sub(r"\\(.)", r"\1", text) for text in _as_written(app))


def _as_written(app: AppTest) -> Iterator[str]:
    for node in app.main:
        proto = getattr(node, "proto", None)
        if proto is not None:
            yield from _texts(proto)
        if node.type in ("dataframe", "table"):
            table = node.value
            yield from map(str, table.columns)
            yield from (value for column in table for value in table[column] if type(value) is str)


def _texts(message: Message) -> Iterator[str]:
    for field, value in message.ListFields():
        for one in (
            [value] if isinstance(value, str | bytes) or not hasattr(value, "__iter__") else value
        ):
            if isinstance(one, Message):
                yield from _texts(one)
            elif isinstance(one, bytes) and one.startswith(ROWS_OF_THE_BOARD):
                yield from _texts_of_json(json.loads(one.partition(b"\n")[2]))
            elif not isinstance(one, str):
                continue
            elif field.name == "url" and one.startswith(PICTURE):
                picture = base64.b64decode(one.removeprefix(PICTURE)).decode()
                yield from re.findall(r"<text[^>]*>([^<]*)<", picture)
            elif field.name in ("spec", "columns", "json"):
                yield from _texts_of_json(json.loads(one))
            elif field.name not in NOT_SHOWN:
                yield one


def _texts_of_json(value: object) -> Iterator[str]:
    match value:
        case dict():
            for part in value.values():
                yield from _texts_of_json(part)
        case list():
            for part in value:
                yield from _texts_of_json(part)
        case str() if not CODE.search(value):
            yield value
