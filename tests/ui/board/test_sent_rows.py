"""Rows are sent once a plan, after that what differs; together they are what is to be shown."""

import json
from dataclasses import replace
from hashlib import sha256

from tests.ui.plans import base, stay, view
from tests.ui.shown_board import with_changes
from ui.board.rows import CheckNote, Notes
from ui.board.sent_rows import as_json, changes_of, sent_rows
from ui.planner.board_rows import board_rows, with_notes


def read_back(rows, sent):
    """Return the rows that a browser has, which was sent others and then what differs."""
    _, _, told = sent.for_board("board").partition(b"\n")
    return with_changes(json.loads(told), json.loads(as_json(changes_of(rows, sent.rows))))


def test_rows_are_named_by_their_own_digest():
    """SHA-256 by the standard library, of just the bytes that are sent."""
    sent = sent_rows(board_rows(view()))
    head, _, told = sent.for_board("board").partition(b"\n")
    assert json.loads(head) == {"name": "board", "stamp": sha256(told).hexdigest()}


def test_of_the_same_rows_nothing_differs():
    assert changes_of(board_rows(view()), board_rows(view())) == {}


def test_of_a_check_that_moved_its_own_rows_are_sent_and_no_other_block():
    sent = sent_rows(board_rows(view()))
    moved = board_rows(view(base(), stay("C1", "B1", 0), stay("C2", "B2", 7)))
    differs = changes_of(moved, sent.rows)
    assert [one if isinstance(one, int) else one.check for one in differs["blocks"]] == [0, "C2"]
    assert not {"bays", "weeks", "skills", "works", "off", "first"} & differs.keys()
    assert read_back(moved, sent) == json.loads(as_json(moved))


def test_rows_that_come_go_and_change_their_order_are_read_back_as_they_are():
    whole = view(base(), stay("C1", "B1", 0), stay("C2", "B2", 7))
    alone = view(base(), stay("C2", "B2", 3))
    swapped = view(base(), stay("C2", "B1", 0), stay("C1", "B2", 7))
    marked = with_notes(board_rows(whole), Notes({"C2": CheckNote(moved="was in B2")}))
    other_days = replace(board_rows(whole), today=3, day_count=35)
    kinds = [*map(board_rows, (whole, alone, swapped)), marked, other_days]
    for first in kinds:
        for rows in kinds:
            assert read_back(rows, sent_rows(first)) == json.loads(as_json(rows))
