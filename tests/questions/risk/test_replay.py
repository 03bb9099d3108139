"""Random plans that use every rule: played through by numpy and a second time in plain dates."""

from random import Random

import numpy as np
import pytest

from capacity.facts import Base
from capacity.plans.audit import audit
from capacity.questions.risk.play import play
from capacity.questions.risk.settings import RiskSettings
from capacity.slots.program.plan_of import plan_of
from tests.questions.plain_replay import PlainReplay
from tests.reference.news_bases import base_with_news
from tests.slots.building import built, some_choice
from tests.slots.rich_bases import rich_base

DRAWS = 12


@pytest.mark.parametrize("seed", range(40))
def test_every_draw_is_as_in_plain_dates(seed: int) -> None:
    rng = Random(seed)
    compare(rich_base(rng), rng, seed)


@pytest.mark.parametrize("seed", range(12))
def test_every_draw_is_as_in_plain_dates_with_news(seed: int) -> None:
    rng = Random(seed)
    compare(base_with_news(rng), rng, seed)


def compare(base: Base, rng: Random, seed: int) -> None:
    made = built(base)
    plan = plan_of(some_choice(made.program, rng), made.program, made.slots)
    if audit(made.base, plan).broken:
        pytest.skip("the choice leaves a fixed check out of its place")
    settings = RiskSettings(draws=DRAWS, seed=seed, default_spread=rng.choice([0.3, 1.5]))
    played = play(plan, made.base, settings, made.base)
    plain = PlainReplay(plan, made.base, settings)
    for number in range(DRAWS):
        once = plain.draw(number)
        for row, planned in enumerate(played.checks):
            name, last = planned.check.name, len(planned.visits) - 1
            assert played.calendar.date(played.ins[row, number]) == once.ins[name, 0]
            assert played.calendar.date(played.outs[row, number]) == once.outs[name, last]
            assert played.man_hours[row, number] == pytest.approx(once.man_hours[name])
        wanted = [once.demand.get((load.week, load.skill), 0.0) for load in played.loads]
        np.testing.assert_allclose(played.demand[:, number], wanted, atol=1e-9)
        assert sum(wanted) == pytest.approx(sum(once.demand.values()))
