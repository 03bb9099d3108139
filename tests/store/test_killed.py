"""Killed in the middle of a save: what was confirmed is there, and no half of a plan."""

import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from capacity.store.store import PlanStore
from capacity.store.values import Status
from tests.quick_and_long import some_of
from tests.store.some_plans import FIRST_DAY, some_plan

ROOT = Path(__file__).parents[2]

SAVES = """
import sys
from dataclasses import replace
from capacity.store.store import PlanStore
from tests.store.some_plans import some_plan

store = PlanStore(sys.argv[1], "planner")
first = int(sys.argv[2])
for number in range(first, first + 10_000):
    new = some_plan(number, workbook=b"%d" % number * 20_000)
    saved = store.save(replace(new, plan_file=new.plan_file + b" " * 200_000), "a comment")
    print(saved.id, number, flush=True)
"""


@pytest.mark.parametrize("seed", some_of(range(3), quick=1))
def test_nothing_confirmed_is_lost_and_nothing_is_half_there(named: str, seed: int) -> None:
    random = Random(seed)
    PlanStore(named, "planner").close()
    confirmed: dict[int, int] = {}
    for turn in range(2):
        saving = subprocess.Popen(
            [sys.executable, "-c", SAVES, named, str(10_000 * turn)],
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )
        assert saving.stdout is not None
        for _ in range(random.randint(2, 12)):
            id, number = map(int, saving.stdout.readline().split())
            confirmed[id] = number
        try:  # somewhere in a save
            saving.wait(random.uniform(0.0, 0.02))
        except subprocess.TimeoutExpired:
            saving.kill()
        for line in saving.stdout.read().splitlines():
            if len(told := line.split()) == 2:
                confirmed[int(told[0])] = int(told[1])
        saving.wait()
        saving.stdout.close()
    with PlanStore(named, "planner") as store:
        found = {plan.id: plan for plan in store.plans()}
        assert confirmed.keys() <= found.keys()
        assert len(found) <= len(confirmed) + 2
        for id, plan in found.items():
            number = int(plan.plan_number.removeprefix("PLAN-"))
            assert confirmed.get(id, number) == number
            assert store.plan_file(id).strip() == b'{"number": %d}' % number
            assert store.workbook(id).content == b"%d" % number * 20_000
            assert [event.what for event in store.history(id)] == ["saved", "comment"]
            assert plan.first_day == FIRST_DAY
        assert store.agree(store.save(some_plan(99_999)).id).status is Status.AGREED
