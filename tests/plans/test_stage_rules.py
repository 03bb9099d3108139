"""What a plan states for its stages is held against the package, slip by slip.

Open 2 days, then Left 3 and Right 4 days side by side, then Close 1 day: a check that comes
in on day 5 opens on [5, 7), works on [7, 10) and [7, 11), closes on [11, 12).
"""

from dataclasses import replace

import pytest

from capacity.plans.audit import audit
from capacity.plans.plan import Placement

from .stories import base, check, package, placed, plan, stage

HEAVY = package(
    stage("Open", 2),
    stage("Left", 3, "Open"),
    stage("Right", 4, "Open"),
    stage("Close", 1, "Left", "Right"),
)
OPEN, LEFT, RIGHT, CLOSE = ("Open", 5, 7), ("Left", 7, 10), ("Right", 7, 11), ("Close", 11, 12)
GOOD = placed("C1", 5, OPEN, LEFT, RIGHT, CLOSE)


@pytest.mark.parametrize(
    ("stated", "sentences"),
    [
        (GOOD, ()),
        (
            replace(GOOD, stages=()),
            tuple(f"C1 lacks its stage {name}." for name in ("Open", "Left", "Right", "Close")),
        ),
        # the order in which a plan lists its stages says nothing
        (replace(GOOD, stages=GOOD.stages[::-1]), ()),
        (placed("C1", 5, OPEN, LEFT, CLOSE), ("C1 lacks its stage Right.",)),
        (
            placed("C1", 5, OPEN, LEFT, RIGHT, CLOSE, ("Wash", 5, 6)),
            ("C1 has no stage Wash left to do.",),
        ),
        (
            placed("C1", 5, OPEN, LEFT, RIGHT, CLOSE, CLOSE),
            ("C1 does its stage Close 2 times.",),
        ),
        (
            placed("C1", 5, OPEN, LEFT, RIGHT, ("Close", 10, 11)),
            ("C1 starts Close on Thu 14 Jan 2027, but Right runs until Fri 15 Jan 2027.",),
        ),
        (
            placed("C1", 5, OPEN, LEFT, RIGHT, ("Close", 12, 13)),
            ("C1 starts Close on Sat 16 Jan 2027, but it could start on Fri 15 Jan 2027.",),
        ),
        # inside its float, and still not as early as it could be
        (
            placed("C1", 5, OPEN, ("Left", 8, 11), RIGHT, CLOSE),
            ("C1 starts Left on Tue 12 Jan 2027, but it could start on Mon 11 Jan 2027.",),
        ),
        # everything waits one day after the in day: told once
        (
            placed("C1", 5, ("Open", 6, 8), ("Left", 8, 11), ("Right", 8, 12), ("Close", 12, 13)),
            ("C1 starts Open on Sun 10 Jan 2027, but it could start on Sat 9 Jan 2027.",),
        ),
        (
            placed("C1", 5, ("Open", 4, 6), ("Left", 6, 9), ("Right", 6, 10), ("Close", 10, 11)),
            ("C1 starts Open on Fri 8 Jan 2027, before its work starts on Sat 9 Jan 2027.",),
        ),
        (
            placed("C1", 5, OPEN, LEFT, ("Right", 7, 10), ("Close", 10, 11)),
            (
                "C1 does Right from Mon 11 Jan 2027 until Thu 14 Jan 2027, "
                "but its worked days run until Fri 15 Jan 2027.",
            ),
        ),
        (
            placed("C1", 5, OPEN, LEFT, RIGHT, CLOSE, out=13),
            ("C1 is out on Sun 17 Jan 2027, but its stages run until Sat 16 Jan 2027.",),
        ),
        (
            replace(GOOD, stage_from="Close"),
            ("C1 is in B1 from its stage Close on, but its work begins with Open.",),
        ),
    ],
)
def test_stages(stated: Placement, sentences: tuple[str, ...]) -> None:
    """C1 comes in on day 5."""
    heavy = base(check(package="Heavy"), packages=(HEAVY,))
    assert audit(heavy, plan(stated)).broken == sentences


def test_figures_come_from_the_facts_whatever_a_plan_states() -> None:
    """The plan claims to be out on day 8, as agreed; the work truly runs until day 12."""
    late = check(package="Heavy", agreed_out=GOOD.stages[1].first, late_cost_per_day=100.0)
    rushed = placed("C1", 5, OPEN, ("Left", 7, 8), ("Right", 7, 8), ("Close", 7, 8))
    result = audit(base(late, packages=(HEAVY,)), plan(rushed))
    assert result.broken
    assert result.accounts[0].late_days == 5  # agreed out on day 7, out on day 12
    assert result.goals.money == 500.0
