"""Bays that stand behind bays and bays on the same floor."""

import pytest

from tests.inputs.books import change, errors, read, the_error, valid


def test_ways_and_floors_reach_the_facts(tmp_path):
    sheets = valid()
    change(sheets, "Bays", "B1", "Reached through", "B2")
    change(sheets, "Bays", "B2", "Shares floor with", "B1")
    sheets["Checks"] = sheets["Checks"][:2]
    book = read(sheets, tmp_path)
    assert book.messages == ()
    assert book.base is not None
    first, second = book.base.bays
    assert (first.reached_through, second.reached_through) == ("B2", None)
    assert (first.shares_floor_with, second.shares_floor_with) == (set(), {"B1"})


@pytest.mark.parametrize(
    ("heading", "value", "what"),
    [
        ("Reached through", "B1", "the bay 'B1' is reached through itself."),
        ("Shares floor with", "B2, B1", "the bay 'B1' shares floor with itself."),
    ],
)
def test_a_bay_is_not_tied_to_itself(tmp_path, heading, value, what):
    sheets = valid()
    where = change(sheets, "Bays", "B1", heading, value)
    found = errors(read(sheets, tmp_path))
    assert (found[0].where, found[0].what) == (where, what)
    assert "circle" not in "".join(message.what for message in found)


def with_ways(through: dict[str, str]):
    """Return sheets with bays A to F, some reached through others."""
    sheets = valid()
    sheets["Checks"] = sheets["Checks"][:2]
    like = sheets["Bays"][1]
    sheets["Bays"] = [sheets["Bays"][0], *([bay, *like[1:]] for bay in "ABCDEF")]
    sheets["Bay closures"] = sheets["Bay closures"][:1]
    for bay, front in through.items():
        change(sheets, "Bays", bay, "Reached through", front)
    return sheets


def test_ways_in_a_circle_are_named_in_turn(tmp_path):
    """A leads into the circle of B, C and D, but is not in it."""
    sheets = with_ways({"A": "C", "B": "D", "C": "B", "D": "C", "F": "E"})
    message = the_error(read(sheets, tmp_path))
    assert message.what.endswith("in a circle: 'C' through 'B' through 'D' through 'C'.")
    assert message.where == "Bays!I4"  # the row of C


def test_two_circles_of_ways_are_two_errors(tmp_path):
    sheets = with_ways({"A": "B", "B": "A", "E": "F", "F": "E"})
    assert [message.where for message in errors(read(sheets, tmp_path))] == ["Bays!I2", "Bays!I6"]


def test_a_row_of_bays_one_behind_the_other_is_sound(tmp_path):
    sheets = with_ways({"F": "E", "E": "D", "D": "C", "C": "B", "B": "A"})
    assert read(sheets, tmp_path).messages == ()
