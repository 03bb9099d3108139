"""The same optimum from a second solution where every rule is in use.

Source: ``scipy.optimize.milp`` over all courses of all checks, enumerated in plain dates; both
in this folder, put together from the facts and the contract alone.
"""

from random import Random

import pytest

import capacity
from capacity.facts import Base
from capacity.slots.candidates import ways
from tests.quick_and_long import some_of
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.every_rule_program import best_with_every_rule
from tests.reference.stories import proven
from tests.reference.without_rules import WITHOUT

# In 1 the fixed check cannot go on from where it stands.
SEEDS = (0, 1, 8, 9, 12, 17, 31, 37, 41, 62, 66, 81, 254, 261)

# A base in which the rule decides; each of them is compared with the rule and without it.
DECIDES = {
    16: (
        "ways",
        "changeover",
        "closures",
        "moves",
        "waiting",
        "alone",
        "paces",
        "loops",
        "second skills",
        "type authorisations",
        "absences",
        "work done already",
        "fixed checks",
    ),
    43: ("equipment", "outages"),
    84: ("shared floor",),
    105: ("docking",),
    129: ("turns", "contract crews", "holidays"),
    651: ("prices",),
}


@pytest.fixture(autouse=True)
def all_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have all ways tried also of a check with hundreds, as the second solution does."""
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)


def assert_found(base: Base, best: tuple[int, float] | None) -> None:
    """Plan to the end and compare; what cannot stand is to be told as such."""
    if best is None:
        assert isinstance(capacity.plan(base), capacity.Impossible)
        return
    goals = proven(base).audit.goals
    assert goals.days_past_latest_in == best[0]
    assert goals.money == pytest.approx(best[1], rel=2e-6, abs=0.01)


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=6))
def test_a_second_solution_finds_the_same_optimum(seed: int) -> None:
    base = every_rule_base(Random(seed))
    assert_found(base, best_with_every_rule(base))


def test_every_rule_is_among_those_that_decide() -> None:
    assert sorted(WITHOUT) == sorted(rule for rules in DECIDES.values() for rule in rules)


@pytest.mark.parametrize("seed", DECIDES)
def test_each_rule_decides_and_without_it_the_second_solution_agrees(seed: int) -> None:
    base = every_rule_base(Random(seed))
    best = best_with_every_rule(base)
    assert best is not None
    assert_found(base, best)
    for rule in DECIDES[seed]:
        without = WITHOUT[rule](base)
        other = best_with_every_rule(without)
        assert other is None or other != pytest.approx(best, rel=1e-6), rule
        assert_found(without, other)
