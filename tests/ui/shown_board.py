"""What the planning board on a page shows, read as the browser reads it."""

import json
from typing import Any

from streamlit.testing.v1 import AppTest


def rows_shown(app: AppTest) -> dict[str, Any]:
    """Return the rows of the board that is shown: those sent, with what differs in them."""
    sent = _element(app, "planning_board_rows").proto.bytes
    head, _, told = bytes(sent).partition(b"\n")
    named, board, rows = json.loads(head), board_shown(app), json.loads(told)
    assert (named["name"], named["stamp"]) == (board["name"], board["stamp"])
    return with_changes(rows, board["changes"])


def board_shown(app: AppTest) -> dict[str, Any]:
    """Return what the board itself is given."""
    return json.loads(_element(app, "planning_board").proto.json)


def with_changes(rows: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Return rows with what differs: a number stands for the row that was sent in that place."""
    changed = {
        field: [rows[field][one] if isinstance(one, int) else one for one in value]
        if isinstance(value, list)
        else value
        for field, value in changes.items()
    }
    return rows | changed


def _element(app: AppTest, name: str) -> Any:
    (found,) = (one for one in app.get("bidi_component") if one.proto.component_name == name)
    return found
