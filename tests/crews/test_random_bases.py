"""Random small bases, staffed for a moment: what the model lets through stands up to the audit.

The audit shares nothing with the model, so that here they check each other on bases that use
every rule at once.
"""

import pytest

from capacity.crews.assign import assign_crews, crew_plan_of
from capacity.crews.crew_audit import audit_crews
from capacity.crews.crew_problem import crew_problem
from capacity.crews.first_crews import first_crews
from capacity.crews.problem import HUNDREDTHS
from tests.crews.random_bases import to_staff
from tests.crews.stories import FIRST_DAY

HALF_A_HUNDREDTH = 0.005


@pytest.mark.parametrize("seed", range(100, 112))
def test_the_best_plan_stands_and_is_no_worse_than_the_first(seed: int) -> None:
    drawn = to_staff(seed)
    problem = crew_problem(drawn.plan, drawn.base, drawn.settings)
    choice = first_crews(problem, [0] * len(problem.tasks))
    first = audit_crews(
        crew_plan_of(choice, problem, FIRST_DAY, drawn.settings.weeks),
        drawn.plan,
        drawn.base,
        drawn.settings,
    )
    best = assign_crews(drawn.base, drawn.plan, drawn.settings)
    assert best.audit.broken == ()
    assert best.audit.asked == pytest.approx(first.asked)
    assert best.audit.short <= first.short + HALF_A_HUNDREDTH
    if best.audit.short >= first.short - HALF_A_HUNDREDTH:
        assert best.audit.overtime <= first.overtime + HALF_A_HUNDREDTH
    reached = {goal.goal: goal for goal in best.goals}
    assert all(goal.bound <= goal.value for goal in best.goals)
    # A goal that was reached is held by all that came after it.
    for name, hours in (("overload", best.audit.short), ("overtime", best.audit.overtime)):
        assert name not in reached or HUNDREDTHS * hours <= reached[name].value + 0.5
    accounted = best.audit.given + best.audit.bought + best.audit.short
    assert accounted == pytest.approx(best.audit.asked, abs=0.5)
