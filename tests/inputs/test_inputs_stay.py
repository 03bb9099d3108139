"""The stay of a fixed check, against the layout of the audit, which shares no code with it."""

import random
from dataclasses import replace
from datetime import timedelta

from capacity.facts import Package, Stage
from capacity.inputs.sheets import Settings
from capacity.inputs.stay import lay_out, works_on
from capacity.plans.stays import StayLayout
from capacity.plans.worked_days import WorkedDays
from tests.inputs.books import FIRST_DAY, read, valid


def network(chance: random.Random) -> Package:
    """Return up to six stages, each after some of those before it, in shuffled order."""
    stages: list[Stage] = []
    for number in range(chance.randint(1, 6)):
        before = [stage.name for stage in stages]
        stages.append(
            Stage(
                name=f"s{number}",
                work="maintenance",
                days=chance.randint(1, 6),
                man_hours={"mechanic": chance.choice([0, 8, 33.3, 120])},
                after=tuple(chance.sample(before, chance.randint(0, len(before)))),
                findings=chance.choice([0, 0.5, 1.2]),
                alone=chance.random() < 0.25,
            )
        )
    chance.shuffle(stages)
    return Package("light", tuple(stages))


def test_a_stay_runs_as_the_audit_says(tmp_path):
    base = read(valid(), tmp_path).base
    assert base is not None
    chance = random.Random(11)
    for _ in range(300):
        package = network(chance)
        check = replace(
            base.checks[2],
            remaining=chance.choice([None, 1.0, 0.8, 0.5, 0.07]),
            findings_factor=chance.choice([1.0, 1.4]),
        )
        in_day = FIRST_DAY + timedelta(days=chance.randint(-20, 60))
        variant = base.replace(
            packages=(package,), checks=(check,), holidays="DE-BY", working_weekdays={0, 1, 2, 5}
        )
        settings = Settings.model_validate(
            {
                "row": 0,
                "Base": "x",
                "First day": FIRST_DAY,
                "Weeks": 4,
                "Working days": "Mon-Wed, Sat",
                "Holidays": "DE-BY",
            }
        )
        laid = StayLayout(variant, WorkedDays(variant)).lay_out(check, "B2", in_day)
        stages, out = lay_out(
            package,
            in_day,
            FIRST_DAY,
            works_on(settings),
            remaining=check.remaining,
            findings_factor=check.findings_factor,
        )
        assert out == laid.out_day, (package, check, in_day)
        assert {stage.stage.name: (stage.first, stage.until) for stage in stages} == {
            stage.work.stage: (stage.first, stage.until) for stage in laid.stages
        }


def test_a_stage_alone_waits_for_the_others_and_they_for_it(tmp_path):
    """Worked out by hand, every day worked: open takes the 4th and 5th, and all could follow.

    The gear swing comes first in the sheet: 6th. Then paper work and rig both start on the
    7th, for they need not be alone; the lift, alone, waits for the longer of them until the
    10th, and what follows paper work alone, on the 8th and 9th, goes before it.
    """
    stages = (
        Stage("open", "maintenance", 2),
        Stage("swing", "maintenance", 1, after=("open",), alone=True),
        Stage("paper work", "maintenance", 1, after=("open",)),
        Stage("rig", "maintenance", 3, after=("open",)),
        Stage("lift", "maintenance", 1, after=("paper work",), alone=True),
        Stage("labels", "maintenance", 2, after=("paper work",)),
    )
    laid, out = lay_out(Package("p", stages), FIRST_DAY, FIRST_DAY, lambda day: True)
    days = {stage.stage.name: (stage.first.day, stage.until.day) for stage in laid}
    assert days == {
        "open": (4, 6),
        "swing": (6, 7),
        "paper work": (7, 8),
        "rig": (7, 10),
        "lift": (10, 11),
        "labels": (8, 10),
    }
    assert out.day == 11
