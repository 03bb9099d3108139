"""The rows of a board on their way to the browser: once a plan, and after that what differs.

A year has half a megabyte of rows, and a click or a check moved by hand changes few of them.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date
from hashlib import sha256
from typing import Any

from ui.board.rows import BoardRows


@dataclass(frozen=True, slots=True)
class SentRows:
    """Rows as the browser reads them; ``stamp`` is their SHA-256, and names them from then on."""

    rows: BoardRows
    told: bytes
    stamp: str

    def for_board(self, name: str) -> bytes:
        """Return what is sent: a line that says for which board, and the rows."""
        head = json.dumps({"name": name, "stamp": self.stamp})
        return head.encode() + b"\n" + self.told


def sent_rows(rows: BoardRows) -> SentRows:
    """Return rows as they are sent."""
    told = as_json(rows).encode()
    return SentRows(rows, told, sha256(told).hexdigest())


def changes_of(rows: BoardRows, sent: BoardRows) -> dict[str, Any]:
    """Return the fields that differ from the rows that were sent; nothing where none does.

    In a list the number of a row stands for one that was sent, at that place; no row is a number
    itself.
    """
    changes = {}
    for field in fields(BoardRows):
        now, before = getattr(rows, field.name), getattr(sent, field.name)
        if now is before or now == before:
            continue
        changes[field.name] = _changed(now, before) if isinstance(now, tuple) else now
    return changes


def _changed(now: Sequence[Any], before: Sequence[Any]) -> list[Any]:
    places = {row: number for number, row in enumerate(before)}
    return [places.get(row, row) for row in now]


def as_json(rows: object) -> str:
    """Return rows, or what differs in them, as the browser reads them."""
    return json.dumps(rows, default=_plain)  # a tenth of the time of ``asdict``, which copies


def _plain(value: Any) -> object:
    if isinstance(value, date):
        return value.isoformat()
    return {name: getattr(value, name) for name in value.__slots__}
