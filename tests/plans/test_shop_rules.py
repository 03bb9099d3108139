"""Items at a shop, by hand: when they are back, how long may be waited, and what a shop can do.

Open takes 2 days from day 5 on, so items leave on day 7. The wheels are 6 at 2 per day: back on day
10, the first day of Fit.
"""

from dataclasses import replace

import pytest

from capacity.facts import Base, Shop, ShopLoop, Status
from capacity.plans.audit import audit
from tests.bases import BAY

from .stories import MON_TO_FRI, audited, base, check, day, package, placed, plan, stage

HEAVY = package(stage("Open", 2), stage("Fit", 4, "Open"))
WHEELS, BRAKES = Shop("Wheels", 2.0), Shop("Brakes", 4.0)
LOOP = ShopLoop("Heavy", "Wheels", 6, "Open", "Fit")


def hangar(*loops: ShopLoop, **changes: object) -> Base:
    """Two bays, a check for each."""
    return base(
        check("C1", package="Heavy"),
        check("C2", package="Heavy"),
        packages=(HEAVY,),
        bays=(BAY, replace(BAY, name="B2")),
        shops=(WHEELS, BRAKES),
        shop_loops=loops or (LOOP,),
    ).replace(**changes)


def at(name: str, bay: str, fit: int, in_day: int = 5):
    """A check whose stage Fit starts on such a day."""
    return placed(name, in_day, ("Open", in_day, in_day + 2), ("Fit", fit, fit + 4), bay=bay)


def one(fit: int, *loops: ShopLoop, **changes: object) -> tuple[str, ...]:
    return audit(hangar(*loops, **changes), plan(at("C1", "B1", fit), not_placed=("C2",))).broken


def both(fit: int, other: int, *loops: ShopLoop) -> tuple[str, ...]:
    return audit(hangar(*loops), plan(at("C1", "B1", fit), at("C2", "B2", other))).broken


@pytest.mark.parametrize("fit", [10, 11, 12, 13])
def test_a_stage_may_wait_three_days_for_a_shop(fit: int) -> None:
    assert one(fit) == ()


def test_not_before_the_items_are_back_and_not_after_the_longest_wait() -> None:
    (early,) = one(9)
    assert early == (
        "C1 starts Fit on Wed 13 Jan 2027, "
        "before its items are back from the shop on Thu 14 Jan 2027."
    )
    (late,) = one(14)
    assert late == (
        "C1 starts Fit on Mon 18 Jan 2027, but even after waiting 3 days for a shop "
        "it could start on Sun 17 Jan 2027."
    )


def test_the_figures_are_those_of_the_wait() -> None:
    """Fit from day 12 on for four days: out on day 16, six days past Agreed out on day 10."""
    of = hangar().replace(
        checks=(check("C1", package="Heavy", agreed_out=day(10), late_cost_per_day=100.0),)
    )
    (account,) = audited(of, at("C1", "B1", 12)).accounts
    assert (account.out_day, account.late_days, account.late_money) == (day(16), 6, 600.0)


def test_a_shop_does_no_more_than_its_rate() -> None:
    """12 wheels from day 7 until day 10 are twice what is done; until day 13 they are done."""
    (told,) = both(10, 10)
    assert told == (
        "The shop Wheels does 2 items per day, so 6 from Mon 11 Jan 2027 until Thu 14 Jan 2027, "
        "too few for the 12 sent to it: 6 of C1 and 6 of C2."
    )
    (told,) = both(10, 12)
    assert "so 10 from Mon 11 Jan 2027 until Sat 16 Jan 2027, too few for the 12" in told
    assert both(10, 13) == ()


def test_every_shop_is_looked_at() -> None:
    """12 brakes take 3 days, and 24 six, though the wheels, one of each check, are done."""
    few, brakes = replace(LOOP, items=1), replace(LOOP, shop="Brakes", items=12)
    assert one(10, few, brakes) == ()
    (told,) = both(10, 10, few, brakes)
    assert told.startswith("The shop Brakes does 4 items per day, so 12 from Mon 11 Jan 2027")
    assert "12 of C1 and 12 of C2" in told


def test_two_windows_that_do_not_overlap_are_told_both() -> None:
    """Four checks, two at a time, ten days apart."""
    of = hangar().replace(
        checks=tuple(check(f"C{n}", package="Heavy", latest_in=day(20)) for n in range(1, 5)),
    )
    told = plan(
        at("C1", "B1", 10), at("C2", "B2", 10), at("C3", "B1", 21, 16), at("C4", "B2", 21, 16)
    )
    first, second = audit(of, told).broken
    assert "6 of C1 and 6 of C2" in first
    assert "6 of C3 and 6 of C4" in second


def test_a_shop_does_nothing_on_days_off() -> None:
    """Items leave on Monday day 7, in from Thursday day 3; 10 take the whole week until Friday."""
    ten = replace(LOOP, items=10)
    of = hangar(ten).replace(working_weekdays=MON_TO_FRI, longest_wait_days=0)
    told = placed("C1", 3, ("Open", 3, 5), ("Fit", 14, 18))
    early = of.replace(checks=(check("C1", package="Heavy", earliest_in=day(3)),))
    # Open on Thursday and Friday; items leave on Saturday; 5 worked days later it is Saturday.
    assert audit(early, plan(told)).broken == ()


def test_items_of_a_stage_that_is_done_leave_as_the_work_goes_on() -> None:
    """Open is done, all of what is left is Fit: from day 0 on 6 wheels take until day 3."""
    heavy = package(stage("Open", 2, hours=20), stage("Fit", 4, "Open", hours=20))
    going_on = check(
        package="Heavy", status=Status.FIXED, fixed_bay="B1", fixed_in=day(-3), remaining=0.5
    )
    of = hangar().replace(checks=(going_on,), packages=(heavy,))
    audited(of, placed("C1", -3, ("Fit", 3, 7)))
    assert audit(of, plan(placed("C1", -3, ("Fit", 2, 6)))).broken != ()
