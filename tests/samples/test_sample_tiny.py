"""The small example: what was worked out by hand is what the audit finds."""

from datetime import date, timedelta
from itertools import product
from pathlib import Path

import pytest

from capacity.facts import Base
from capacity.inputs import read_book
from capacity.plans.audit import Auditor
from tests.samples.laid_plan import laid_plan

Place = tuple[str, str, date]

FIXED = ("T1", "Large bay", date(2027, 1, 4))
T2 = ("T2", "Large bay", date(2027, 1, 11))
T4 = ("T4", "Large bay", date(2027, 1, 18))


def jan(day: int) -> date:
    return date(2027, 1, day)


def test_it_is_read_without_any_message(samples: Path) -> None:
    assert read_book(samples / "tiny.xlsx").messages == ()


def test_it_is_tiny(tiny: Base) -> None:
    assert (len(tiny.bays), len(tiny.skills), len(tiny.checks)) == (2, 1, 4)
    assert {len(package.stages) for package in tiny.packages} == {1, 3}


# By hand. A week gives 10 x 5 x 8 x 0.75 = 300 man-hours, 60 more as overtime at 40 and 60
# more by contract at 70. A week check asks 40, 3 x 40 and 40 on its five days: 200. T2 fills
# 200 of the second week whatever happens; T3 puts the days that it comes early into the
# first, where T1 leaves 100. Early days cost 900 each.
@pytest.mark.parametrize(
    ("t3_in", "early", "overtime", "contract"),
    [
        (11, 0, 60, 40),  # 400 asked in the second week: 2,400 + 2,800
        (8, 3, 60, 0),  # 40 hours moved: 2,700 + 2,400
        (7, 4, 20, 0),  # 80 moved: 3,600 + 800, the least
        (6, 5, 20, 0),  # 120 moved, 20 too many for the first week: 4,500 + 800
        (5, 6, 60, 0),  # 160 moved: 5,400 + 2,400
        (4, 7, 60, 40),  # all 200 moved: 6,300 + 2,400 + 2,800
    ],
)
def test_early_days_against_overtime(
    tiny: Base, t3_in: int, early: int, overtime: float, contract: float
) -> None:
    plan = laid_plan(tiny, [FIXED, T2, ("T3", "Small bay", jan(t3_in))])
    audited = Auditor(tiny).audit(plan)
    assert audited.broken == ()
    account = next(account for account in audited.accounts if account.check == "T3")
    assert account.early_days == early
    assert sum(load.overtime for load in audited.weeks) == pytest.approx(overtime)
    assert sum(load.contract for load in audited.weeks) == pytest.approx(contract)
    money = 900 * early + 40 * overtime + 70 * contract
    assert audited.goals.money == pytest.approx(money)


def test_the_option_pays_though_it_goes_home_late(tiny: Base) -> None:
    # By hand: out on the 20th, 4 days past the 16th at 200 each; price 1,500; its 60 hours
    # fit into the third week.
    without = [FIXED, T2, ("T3", "Small bay", jan(7))]
    auditor = Auditor(tiny)
    gain = (
        auditor.audit(laid_plan(tiny, without)).goals.money
        - auditor.audit(laid_plan(tiny, [*without, T4])).goals.money
    )
    assert gain == pytest.approx(1500 - 4 * 200)


def test_the_best_plan_is_the_one_of_the_readme(tiny: Base) -> None:
    """Try every bay and day of every check, and let the audit judge each plan."""
    auditor = Auditor(tiny)
    bays = [bay.name for bay in tiny.bays]
    days = [tiny.first_day + timedelta(days=n) for n in range(7 * tiny.weeks)]
    choices: dict[str, list[list[Place]]] = {"T2": [], "T3": [], "T4": [[]]}
    for name, places in choices.items():
        for bay, day in product(bays, days):
            alone = auditor.audit(laid_plan(tiny, [FIXED, (name, bay, day)]))
            in_time = not any(account.days_past_latest_in for account in alone.accounts)
            if in_time and not any(name in rule for rule in alone.broken):
                places.append([(name, bay, day)])
    found: list[tuple[float, list[Place]]] = []
    for t2, t3, t4 in product(*choices.values()):
        audited = auditor.audit(laid_plan(tiny, [FIXED, *t2, *t3, *t4]))
        if not audited.broken:
            found.append((audited.goals.money, [*t2, *t3, *t4]))
    best, second, *_ = sorted(found)
    assert best[0] == pytest.approx(3700)
    assert best[1] == [T2, ("T3", "Small bay", jan(7)), T4]
    assert second[0] > 3700 + 1, "no other plan is as cheap"
