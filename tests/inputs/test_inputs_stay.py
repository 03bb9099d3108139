"""The stay of a fixed check, against the layout of the audit, which shares no code with it."""

import random
from dataclasses import replace
from datetime import timedelta

from capacity.facts import Package, Stage
from capacity.inputs.sheets import Settings
from capacity.inputs.stay import out_day, works_on
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
            )
        )
    chance.shuffle(stages)
    return Package("light", tuple(stages))


def test_a_stay_is_as_long_as_the_audit_says(tmp_path):
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
        out = out_day(
            package,
            in_day,
            FIRST_DAY,
            works_on(settings),
            remaining=check.remaining,
            findings_factor=check.findings_factor,
        )
        assert out == laid.out_day, (package, check, in_day)
