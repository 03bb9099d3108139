"""A search that the dashboard began has its turn after the pages, by itself and as a group."""

import os
import subprocess
import sys

import pytest

from capacity.child_process import out_of_reach
from capacity.giving_way import BEHIND_THE_PAGES, GROUP, USUAL, VARIABLE

TELLS = (
    "import os; from capacity.giving_way import GROUP, give_way; give_way(); "
    "give_way() if 'CAPACITY_NICENESS' in os.environ else None; "  # as its own children do
    "print(os.nice(0), GROUP.read_text() if GROUP.exists() else 'no groups')"
)


def after_giving_way(told: str | None) -> tuple[int, str]:
    """Return the niceness of a child in a session of its own, and what is said of its group."""
    environment = {name: value for name, value in os.environ.items() if name != VARIABLE}
    if told is not None:
        environment[VARIABLE] = told
    child = subprocess.run(
        [sys.executable, "-c", TELLS],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
        **out_of_reach(),
    )
    niceness, _, group = child.stdout.strip().partition(" ")
    return int(niceness), group


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no niceness")
@pytest.mark.parametrize(
    ("told", "wanted", "of_group"),
    [
        (BEHIND_THE_PAGES, int(BEHIND_THE_PAGES), int(BEHIND_THE_PAGES)),
        (None, min(19, os.nice(0) + USUAL), 0),
    ],
)
def test_a_search_gives_way_as_far_as_it_was_told(
    told: str | None, wanted: int, of_group: int
) -> None:
    niceness, group = after_giving_way(told)
    assert niceness == max(wanted, os.nice(0))
    if GROUP.exists():  # "/autogroup-25 nice 0": proc(5), Linux man-pages, from memory
        assert group.endswith(f" nice {of_group}")
