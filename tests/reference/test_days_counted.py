"""The optimum of man-hours counted by days from a second solution, and what must hold of any.

Source: ``scipy.optimize.milp`` over all courses in plain dates, every skill of every stage with
hours of its own by day, every crew with those of its roster.
"""

from random import Random

import pytest

import capacity
from capacity.facts import Base
from capacity.search_settings import SearchSettings
from capacity.slots.candidates import ways
from tests.quick_and_long import some_of
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.every_rule_by_day import best_by_day
from tests.reference.levelled_bases import with_levelling
from tests.reference.stories import proven
from tests.reference.test_levelling import some_done

SEEDS = (31, 12, 9, 17, 43)


@pytest.fixture(autouse=True)
def all_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have all ways tried also of a check with hundreds, as the second solution does."""
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)


def by_day(seed: int) -> Base:
    base = with_levelling(every_rule_base(Random(seed)), Random(seed))
    return base.replace(counts_days=True)


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=1))
def test_a_second_solution_finds_the_same_optimum_by_days(seed: int) -> None:
    base = by_day(seed)
    best = best_by_day(base)
    assert best is not None
    planned = proven(base)
    assert planned.audit.goals.days_past_latest_in == best[0]
    assert planned.audit.goals.money == pytest.approx(best[1], rel=2e-6, abs=0.01)
    assert not planned.audit.broken


@pytest.mark.long
@pytest.mark.parametrize("seed", [9])
def test_the_two_sides_find_it_too(seed: int) -> None:
    """What is small is solved on the spot otherwise."""
    base = by_day(seed)
    best = best_by_day(base)
    assert best is not None
    search = SearchSettings(small_columns=0)
    planned = capacity.plan(base, capacity.Settings(seconds=30, search=search))
    assert isinstance(planned, capacity.Planned)
    assert planned.stopped_by == "proof"
    assert planned.audit.goals.money == pytest.approx(best[1], rel=2e-6, abs=0.01)


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=1))
def test_days_are_never_cheaper_than_their_weeks(seed: int) -> None:
    base = by_day(seed)
    weeks, days = proven(base.replace(counts_days=False)), proven(base)
    assert days.audit.goals.days_past_latest_in == weeks.audit.goals.days_past_latest_in
    assert days.audit.goals.money >= weeks.audit.goals.money - 0.01


@pytest.mark.parametrize("seed", some_of((12, 9, 31), quick=1))
def test_what_was_worked_counts_on_its_days(seed: int) -> None:
    """Plans with hours that are done, of stages that lie evenly too, are proven and audited."""
    base = by_day(seed)
    done = tuple(some_done(proven(base).plan, base, Random(seed)))
    planned = proven(base.replace(work_done=done))
    assert isinstance(planned, capacity.Planned)
    assert not planned.audit.broken
