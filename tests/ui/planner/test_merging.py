"""Two windows of one person: what the later one changes takes nothing away unsaid."""

from hypothesis import given, settings
from hypothesis import strategies as st

from capacity.inputs.reading.edited_copy import SheetEdit
from ui.planner.merging import Clash, merged

NOTHING = SheetEdit("Checks")


def edit(changed=None, added=(), removed=()) -> SheetEdit:
    return SheetEdit("Checks", changed or {}, tuple(added), frozenset(removed))


def test_changes_of_different_cells_are_both_there():
    mine = edit({2: {"Price": 5}}, [{"Check": "N1"}], [4])
    theirs = edit({2: {"Customer": "A"}, 3: {"Price": 7}}, [{"Check": "N2"}], [5])
    both, clashes = merged(NOTHING, mine, theirs)
    assert both == edit(
        {2: {"Customer": "A", "Price": 5}, 3: {"Price": 7}},
        [{"Check": "N2"}, {"Check": "N1"}],
        [4, 5],
    )
    assert clashes == ()


def test_the_same_cell_has_what_was_typed_last_and_both_are_told():
    both, clashes = merged(NOTHING, edit({2: {"Price": 5}}), edit({2: {"Price": 7}}))
    assert both == edit({2: {"Price": 5}})
    assert clashes == (Clash("Checks", 2, "Price", 7, 5),)
    assert merged(NOTHING, edit({2: {"Price": 5}}), edit({2: {"Price": 5}}))[1] == ()


def test_a_row_that_one_removed_and_the_other_changed_stays():
    for mine, theirs in (
        (edit(removed=[2]), edit({2: {"Price": 5}})),
        (edit({2: {"Price": 5}}), edit(removed=[2])),
    ):
        both, clashes = merged(NOTHING, mine, theirs)
        assert both == edit({2: {"Price": 5}})
        assert clashes == (Clash("Checks", 2, ""),)


def test_what_is_taken_back_here_is_taken_back_and_no_more():
    before = edit({2: {"Price": 5}}, [{"Check": "N1"}], [4])
    theirs = edit({2: {"Price": 5, "Customer": "A"}}, [{"Check": "N1"}, {"Check": "N2"}], [4])
    both, clashes = merged(before, NOTHING, theirs)
    assert both == edit({2: {"Customer": "A"}}, [{"Check": "N2"}])
    assert clashes == ()


def test_an_added_row_that_both_changed_is_there_twice_which_verifying_says():
    before = edit(added=[{"Check": "N1"}])
    mine, theirs = (
        edit(added=[{"Check": "N1", "Price": 5}]),
        edit(added=[{"Check": "N1", "Price": 7}]),
    )
    both, _ = merged(before, mine, theirs)
    assert both.added == ({"Check": "N1", "Price": 7}, {"Check": "N1", "Price": 5})


ROWS = st.integers(2, 5)
VALUES = st.sampled_from([None, 1, 2, "x"])
EDITS = st.builds(
    lambda changed, added, removed: edit(
        {row: values for row, values in changed.items() if values and row not in removed},
        added,
        removed,
    ),
    st.dictionaries(ROWS, st.dictionaries(st.sampled_from("AB"), VALUES, max_size=2), max_size=3),
    st.lists(st.dictionaries(st.sampled_from("AB"), VALUES, min_size=1), max_size=2),
    st.frozensets(ROWS, max_size=2),
)


def in_order(rows) -> list[str]:
    """Return rows as texts, in whatever order they and their cells came."""
    return sorted(repr(sorted(row.items())) for row in rows)


@settings(max_examples=60, deadline=None)
@given(EDITS, EDITS)
def test_whoever_changes_nothing_changes_nothing(before, other):
    same = [(before, before, other), (before, other, before)]
    for one, mine, theirs in same:
        both, clashes = merged(one, mine, theirs)
        assert (both.changed, both.removed) == (dict(other.changed), other.removed)
        assert in_order(both.added) == in_order(other.added)
        assert clashes == ()


@settings(max_examples=60, deadline=None)
@given(EDITS, EDITS, EDITS)
def test_every_cell_is_what_one_of_both_made_it(before, mine, theirs):
    both, _ = merged(before, mine, theirs)
    for row, values in both.changed.items():
        assert row not in both.removed
        for heading, value in values.items():
            told = [e.changed.get(row, {}).get(heading, "not there") for e in (mine, theirs)]
            assert value in told
    assert all(any(row in e.added for e in (mine, theirs)) for row in both.added)
