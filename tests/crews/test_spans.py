"""The ways to run each stage: its float, no more and no less."""

from itertools import combinations, product

import pytest

from capacity.crews.tasks_of_plan import tasks_of
from capacity.plans.plan import Plan
from tests.crews.random_bases import to_staff
from tests.crews.stories import (
    base,
    crew,
    day,
    package,
    placed,
    stage,
)


@pytest.mark.parametrize("seed", range(12))
def test_spans_are_those_with_which_all_stages_of_the_check_fit_its_stay(seed: int) -> None:
    """Enumerate the days of all stages of a check that keep order, worked days and the stay.

    A stage may be planned to start on a day without work; moved ones start on one with it.
    """
    drawn = to_staff(seed)
    weeks = 7 * drawn.settings.weeks
    tasks = tasks_of(drawn.plan, drawn.base, drawn.base.first_day, weeks)
    stages = {p.name: {s.name: s for s in p.stages} for p in drawn.base.packages}
    package_of = {check.name: check.package for check in drawn.base.checks}
    worked = [day(n).weekday() in drawn.base.working_weekdays for n in range(weeks)]
    for placement in drawn.plan.placements:
        if placement.out_day > day(weeks):
            continue
        own = [task for task in tasks if task.check == placement.check]
        facts = [stages[package_of[placement.check]][task.stage] for task in own]
        stay = range((placement.in_day - day(0)).days, (placement.out_day - day(0)).days)
        planned = [(task.spans[0].first, task.spans[0].until) for task in own]
        ways = [
            {
                (start, end)
                for start, end in combinations([*stay, stay.stop], 2)
                if worked[start] and worked[end - 1] and sum(worked[start:end]) == fact.days
            }
            | {span}
            for fact, span in zip(facts, planned, strict=True)
        ]
        fitting: list[set[tuple[int, int]]] = [set() for _ in facts]
        for chosen in product(*ways):
            lies = {fact.name: span for fact, span in zip(facts, chosen, strict=True)}
            if all(
                lies[before][1] <= lies[fact.name][0] for fact in facts for before in fact.after
            ):
                for number, span in enumerate(chosen):
                    fitting[number].add(span)
        assert [{(s.first, s.until) for s in task.spans} for task in own] == fitting


def test_the_planned_days_come_first() -> None:
    chain = package(stage("Long", 4), stage("First", 1), stage("Then", 1, "First"))
    stay = placed("C1", ("Long", 0, 4), ("First", 0, 1), ("Then", 1, 2))
    tasks = tasks_of(Plan((stay,)), base([chain], [crew("Mechanics", 9)]), day(0), 7)
    planned = {"Long": (0, 4), "First": (0, 1), "Then": (1, 2)}
    assert {t.stage: (t.spans[0].first, t.spans[0].until) for t in tasks} == planned
    assert {t.stage: len(t.spans) for t in tasks} == {"Long": 1, "First": 3, "Then": 3}
