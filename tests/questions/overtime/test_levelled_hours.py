"""Measures on a plan whose man-hours give: hours that lie elsewhere are no move."""

from dataclasses import replace

import pytest

from capacity.plans.audit import audit
from capacity.questions.overtime.measures import try_measures
from capacity.settings import Settings
from tests.questions.enquiries.test_levelled_hours import asked, plan_of, story


def test_one_head_more_saves_what_the_plan_made_again_costs_less_and_moves_nobody() -> None:
    made = story(asked("C1", 10), asked("C2", 10))
    plan = plan_of(made)
    tried = try_measures(made, plan, Settings(seconds=6))
    (head,) = [measure for measure in tried.measures if measure.kind == "one more head"]
    assert head.moved == ()
    two = made.replace(crews=tuple(replace(c, heads=c.heads + 1) for c in made.crews))
    again = audit(two, plan_of(two)).goals.money
    assert head.saves == pytest.approx(audit(made, plan).goals.money - again, abs=0.01)
