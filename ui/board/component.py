"""Show the board, and return what a person did with it.

The rows of a plan go to the browser by a component of their own. Its message is the same at each
click, so the server does not send it again; the board's own says which rows it shows and what
differs in them.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import date
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

import streamlit as st

from ui.board.colours import colours_of
from ui.board.rows import BoardRows
from ui.board.sent_rows import SentRows, as_json, changes_of
from ui.board.words import WORDS
from ui.look import Look

HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True)
class PickedCheck:
    """A check was clicked, or chosen by Enter."""

    check: str


@dataclass(frozen=True, slots=True)
class PickedWeek:
    """A week of a skill was clicked, or chosen by Enter."""

    week: str
    skill: str


@dataclass(frozen=True, slots=True)
class Moved:
    """A check was dropped on a bay and day; both are None on the shelf, its slot taken away.

    ``stage_from`` names which of its stays was taken up, where a check moves between bays; it is
    empty for a check that had no slot.
    """

    check: str
    stage_from: str
    bay: str | None
    in_day: date | None


Picked = PickedCheck | PickedWeek


def show_board(
    sent: SentRows,
    look: Look,
    key: str,
    *,
    rows: BoardRows | None = None,
    chosen: Picked | None = None,
    on_picked: Callable[[Picked], None] | None = None,
    on_moved: Callable[[Moved], None] | None = None,
) -> Picked | Moved | None:
    """Show the board; return what was done with it just now, None for nothing.

    ``rows`` are shown where they are others than those ``sent``: those of a draft, of which only
    what differs is sent. ``chosen`` is drawn as picked. ``on_picked`` and ``on_moved`` are called
    before the page is drawn anew. Without ``on_moved`` no check can be taken up.
    """
    if rows is None:
        rows = sent.rows
    changes = as_json(changes_of(rows, sent.rows))
    version = sha256(f"{look.name} {on_moved is not None} {changes}".encode()).hexdigest()
    data = {
        "name": key,
        "stamp": sent.stamp,
        "version": version,
        "changes": json.loads(changes),
        "look": colours_of(look),
        "words": WORDS,
        "chosen": None if chosen is None else asdict(chosen),
        "can_move": on_moved is not None,
    }

    def told(event: str) -> Any:
        state = st.session_state.get(key)
        return state.get(event) if isinstance(state, Mapping) else getattr(state, event, None)

    def when_picked() -> None:
        picked = picked_of(told("picked"), rows)
        if picked is not None and on_picked is not None:
            on_picked(picked)

    def when_moved() -> None:
        moved = moved_of(told("moved"), rows)
        if moved is not None and on_moved is not None:
            on_moved(moved)

    carry = st.components.v2.component("planning_board_rows", js=_source("carrier.js"))
    mount = st.components.v2.component(
        "planning_board", css=_source("board.css"), js=_source("board.js")
    )
    with st.container(gap=None):  # there is nothing to see of the first
        carry(key=f"{key} rows", data=sent.for_board(key))
        result = mount(key=key, data=data, on_picked_change=when_picked, on_moved_change=when_moved)
    return moved_of(result.get("moved"), rows) or picked_of(result.get("picked"), rows)


def picked_of(value: object, rows: BoardRows) -> Picked | None:
    """Return what the browser says was picked; None for anything that is not on the board."""
    match value:
        case {"check": str(check)} if check in checks_of(rows):
            return PickedCheck(check)
        case {"week": str(week), "skill": str(skill)} if skill in rows.skills and any(
            one.name == week for one in rows.weeks
        ):
            return PickedWeek(week, skill)
        case _:
            return None


def moved_of(value: object, rows: BoardRows) -> Moved | None:
    """Return where the browser says a check was dropped; None for anything not on the board."""
    match value:
        case {"check": str(check), "stage_from": str(stage), "bay": None} if check in checks_of(
            rows
        ):
            return Moved(check, stage, None, None)
        case {"check": str(check), "stage_from": str(stage), "bay": str(bay), "in_day": str(day)}:
            if check not in checks_of(rows) or all(one.name != bay for one in rows.bays):
                return None
            try:
                return Moved(check, stage, bay, date.fromisoformat(day))
            except ValueError:
                return None
        case _:
            return None


def checks_of(rows: BoardRows) -> set[str]:
    """Return the names of all checks on the board."""
    return {one.check for one in rows.blocks} | {one.check for one in rows.waiting}


@cache
def _source(name: str) -> str:
    return (HERE / name).read_text(encoding="utf-8")
