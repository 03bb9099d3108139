"""The same optimum from a second solution with progress, extra work and Ready dates.

Source: as in ``test_every_rule.py``: ``scipy.optimize.milp`` over all courses of all checks, from
the facts and the contract alone.
"""

from collections.abc import Callable
from random import Random

import numpy as np
import pytest

from capacity.facts import Base
from capacity.plans.work_left import goes_on_from, work_left
from capacity.slots.candidates import ways
from tests.quick_and_long import some_of
from tests.reference.every_rule_program import best_with_every_rule
from tests.reference.news_bases import base_with_a_check_between_two_bays, base_with_news
from tests.reference.tasks import goes_on, tasks_of
from tests.reference.test_every_rule import assert_found

SEEDS = (2, 9, 10, 21, 24, 29, 31)


@pytest.mark.parametrize("seed", some_of(SEEDS, quick=4))
def test_a_second_solution_finds_the_same_optimum_with_news(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)
    base = base_with_news(Random(seed))
    assert_found(base, best_with_every_rule(base))


@pytest.mark.parametrize("seed", some_of(range(12), quick=3))
def test_a_second_solution_agrees_on_a_check_between_two_bays(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ways, "MOST_WAYS", 1000)
    base = base_with_a_check_between_two_bays(Random(seed))
    assert_found(base, best_with_every_rule(base))


def test_the_news_differ_and_decide() -> None:
    told = [base_with_news(Random(seed)).progress for seed in SEEDS]
    assert any(row.stage is None for rows in told for row in rows)
    assert any(row.stage is not None for rows in told for row in rows)
    bases = [base_with_news(Random(seed)) for seed in SEEDS]
    best = [best_with_every_rule(base) for base in bases]

    def differ(change: Callable[[Base], Base]) -> list[bool]:
        others = (best_with_every_rule(change(base)) for base in bases)
        return [other != one for other, one in zip(others, best, strict=True)]

    decide = differ(lambda base: base.replace(progress=()))
    assert sum(decide) > len(SEEDS) / 2
    wait = differ(lambda base: base.replace(ready_dates=()))
    assert sum(wait) > len(SEEDS) / 3
    more = differ(without_extra)
    assert sum(more) > len(SEEDS) / 2


def without_extra(base: Base) -> Base:
    """Take the extra work away, and what is told of its stages."""
    new = {row.stage for row in base.extra_work if row.work is not None}
    return base.replace(
        extra_work=(),
        progress=tuple(row for row in base.progress if row.stage not in new),
        ready_dates=tuple(row for row in base.ready_dates if row.stage not in new),
    )


def test_three_ways_to_tell_when_a_finished_check_leaves_agree() -> None:
    left = 0
    for seed in range(400):
        base = base_with_news(Random(seed))
        check = base.checks[0]
        if tasks_of(base, check):
            continue
        assert check.fixed_in is not None
        out_day = goes_on(base, check, check.fixed_in)
        assert goes_on_from(base, check) == base.goes_on_from(check) == out_day, seed
        left += out_day > max(row.as_of for row in base.progress if row.check == check.name)
    assert left > 10


@pytest.mark.parametrize("chunk", range(4))
def test_three_ways_to_tell_what_is_left_agree(chunk: int) -> None:
    """Search, audit and reference, each written by itself, leave the same of every stage."""
    for seed in range(60 * chunk, 60 * chunk + 60):
        base = base_with_news(Random(seed))
        check = base.checks[0]
        plain = tasks_of(base, check)
        audited = work_left(base, check)
        searched = ways.works_of(base)[check.name]
        skills = [skill.name for skill in base.skills]
        assert [task.name for task in plain] == [work.stage for work in audited], seed
        assert [task.name for task in plain] == [work.name for work in searched], seed
        for task, work, stage in zip(plain, audited, searched, strict=True):
            assert task.days == (work.shortest, work.days, work.longest), seed
            assert task.days == (stage.shortest, stage.days, stage.longest), seed
            asked = [task.man_hours.get(skill, 0.0) for skill in skills]
            assert [work.man_hours.get(skill, 0.0) for skill in skills] == pytest.approx(asked)
            assert np.allclose(stage.man_hours, asked)
            assert task.ready == work.not_before == stage.not_before, seed
            assert task.in_work == work.in_work == stage.in_work, seed
            assert len(task.errands) == len(work.errands) == len(stage.loops), seed
            assert set(work.after) == {searched[n].name for n in stage.after} == set(task.after)
