"""The key figures of a plan that is worked out on paper.

Bay use is occupied over open bay days, as hospitals count bed occupancy: bed days used / bed days
available (WHO Regional Office for Europe, European Health for All database, indicator 6210). The
on-time share is checks out by the agreed day / checks promised, as "delivery performance to
commit date" in glossaries of logistics; one that is not delivered is not on time. A week's month
is that of its Thursday, as ISO 8601 gives the week its year. The others are common practice, no
source.

Four weeks of 70 regular hours, with 35 h of overtime at 50; each check asks 80 h and 20 of findings
in seven days. Wide shares its floor with Left and Right; Left is closed for three days.
"""

from dataclasses import replace

import pytest

from capacity.facts import Base, Bay, Closure, Package, Skill, Stage, Status
from capacity.plans.plan import Placement, Plan, StageDays
from capacity.questions.key_figures.computed import key_figures
from capacity.questions.key_figures.values import KeyFigures
from tests.bases import BAY, day
from tests.reference import stories
from tests.reference.stories import visit

BUSY = Package(
    "busy", (Stage("Work", "maintenance", 7, {"Mechanic": 80.0}, findings=0.25),), (), 200.0
)


def bay(name: str, **more: object) -> Bay:
    return replace(BAY, name=name, **more)


def made_base() -> Base:
    busy = {"package": "busy"}
    option = {**busy, "status": Status.OPTION}
    base = stories.base(
        (bay("Wide", shares_floor_with=frozenset({"Left", "Right"})), bay("Left"), bay("Right")),
        visit("A", 7, 0, 3, **busy, agreed_out=day(7), early_cost_per_day=10.0),
        visit("B", 7, 0, 7, **busy, agreed_out=day(12), late_cost_per_day=100.0),
        visit("C", 7, 20, 24, **busy),
        visit("N", 7, 0, 5, **busy, agreed_out=day(20)),
        visit("O", 7, 0, 14, **option, price=6_000.0),
        visit("L", 7, 0, 14, **option, price=3_000.0),
        weeks=4,
        skills=(Skill("Mechanic", 50.0, 0.5, 70.0, 0.0),),
        closures=(Closure("Left", day(20), day(22), "door"),),
        labour_rate=40.0,
    )
    return base.replace(packages=(*base.packages, BUSY))


def stands(check: str, bay_name: str, first: int) -> Placement:
    stage = StageDays("Work", day(first), day(first + 7))
    return Placement(check, bay_name, "Work", day(first), day(first + 7), (stage,))


PLAN = Plan(
    (stands("A", "Wide", 0), stands("B", "Right", 7), stands("O", "Right", 14),
     stands("C", "Left", 24)),
    not_placed=("N",),
    refused=("L",),
)  # fmt: skip


@pytest.fixture(scope="module")
def figures() -> KeyFigures:
    return key_figures(made_base(), PLAN)


def test_bay_days_are_those_of_the_planning_period_and_of_bays_that_could_be_used(figures):
    # Wide: 28 less 14 with Right in use and 4 with Left in use. Left: 28 less 3 closed and 7 with
    # Wide in use; C is in it for 4 of its days, the others lie behind the period.
    assert {b.bay: (b.occupied, b.open) for b in figures.bays} == {
        "Wide": (7, 10),
        "Left": (4, 18),
        "Right": (14, 21),
    }
    assert figures.all_bays.used == pytest.approx(25 / 49)


def test_labour_is_demand_over_regular_hours_week_by_week_and_in_all(figures):
    assert [week.week for week in figures.weeks] == [f"2027-W0{n}" for n in (1, 2, 3, 4)]
    used = [week.total.used for week in figures.weeks]
    assert used == pytest.approx([100 / 70, 100 / 70, 100 / 70, 400 / 7 / 70])
    assert figures.labour.used == pytest.approx((300 + 400 / 7) / 280)
    (mechanic,) = figures.labour_by_skill
    assert (mechanic.skill, mechanic.overtime) == ("Mechanic", pytest.approx(90))
    assert mechanic.used == figures.labour.used


def test_hours_bought_are_in_the_month_of_their_thursday(figures):
    # The fourth week ends on Sunday 31 January, the fifth has its Thursday in February.
    january, february = figures.months
    assert (january.first, january.overtime) == (day(0).replace(day=1), pytest.approx(90))
    assert january.money == pytest.approx(90 * 50)
    assert (february.first.month, february.overtime, february.money) == (2, 0, 0)
    assert figures.bought.money == pytest.approx(4_500)


def test_turn_round_is_planned_against_promised(figures):
    found = {t.check: (t.days, t.promised_days, t.is_on_time) for t in figures.turn_rounds}
    assert found == {
        "A": (7, 7, True),
        "B": (7, 5, False),
        "O": (7, None, True),
        "C": (7, None, True),
    }
    assert figures.mean_days == pytest.approx(7)
    assert figures.mean_days_over_promise == pytest.approx((0 + 2) / 2)


def test_a_promised_check_without_a_slot_is_not_on_time(figures):
    assert (figures.on_time, figures.promised) == (1, 3)
    assert figures.on_time_share == pytest.approx(1 / 3)
    assert figures.no_slot == ("N",)
    assert figures.days_past_latest_in == 7 + 1


def test_man_hours_a_day_in_work(figures):
    assert figures.man_hours_a_day == pytest.approx(400 / 28)


def test_a_check_that_was_in_before_counts_from_the_first_day():
    base = made_base()
    check = replace(base.checks[0], earliest_in=day(-3), latest_in=day(-3), remaining=None)
    base = base.replace(checks=(check,))
    (turn,) = key_figures(base, Plan((stands("A", "Wide", -3),))).turn_rounds
    assert (turn.days, turn.work_days) == (7, 4)
    assert turn.man_hours == pytest.approx(100 * 4 / 7)


def test_options_won_and_lost_with_their_contribution(figures):
    won, lost = figures.options
    # O: 6,000 less 30 h of overtime, 70 h of regular labour and material.
    assert (won.check, won.won) == ("O", True)
    assert won.contribution.plan_cost == pytest.approx(30 * 50)
    assert won.contribution.money == pytest.approx(6_000 - 1_500 - 70 * 40 - 200)
    assert won.contribution.per_man_hour == pytest.approx(15)
    # L: nothing of the plan's cost, all 100 h at the labour rate.
    assert (lost.check, lost.won, lost.man_hours) == ("L", False, pytest.approx(100))
    assert lost.contribution.money == pytest.approx(3_000 - 100 * 40 - 200)
    assert (figures.won, figures.lost) == ((won,), (lost,))


def test_unused_interval_and_cost(figures):
    unused = figures.unused_interval
    assert (unused.days, unused.checks, unused.money) == (3, 1, pytest.approx(30))
    assert figures.money == pytest.approx(4_500 + 30 + 2 * 100 - 6_000)


def test_what_changed_since_an_earlier_plan():
    earlier = Plan(
        (stands("A", "Wide", 0), stands("B", "Right", 8), stands("C", "Left", 24),
         stands("X", "Right", 0), stands("O", "Gone bay", 14)),
        not_placed=("N",),
    )  # fmt: skip
    changed = key_figures(made_base(), PLAN, earlier=earlier).changed
    assert {move.check: move.days for move in changed.moves} == {"B": -1, "O": 0}
    # Of options that are not taken a plan file says nothing, so L need not be new.
    assert (changed.new, changed.gone) == ((), ("X",))
    assert {b.bay: b.occupied for b in changed.before.bays} == {"Wide": 7, "Left": 4, "Right": 7}
    same = key_figures(made_base(), PLAN, earlier=PLAN).changed
    assert (same.moves, same.new, same.gone) == ((), (), ())
    assert same.before.money == key_figures(made_base(), PLAN).money


def test_a_new_check_is_no_delay_of_the_earlier_plan():
    earlier = Plan(
        (stands("A", "Wide", 0), stands("B", "Right", 7), stands("C", "Left", 24)),
        not_placed=("N",),
    )
    changed = key_figures(made_base(), PLAN, earlier=replace(earlier, not_placed=())).changed
    assert changed.new == ("N", "O")
    assert changed.before.days_past_latest_in == 0
    known = key_figures(made_base(), PLAN, earlier=earlier).changed
    assert known.new == ("O",)
    assert known.before.days_past_latest_in == key_figures(made_base(), PLAN).days_past_latest_in
    assert known.before.days_past_latest_in > 0


def test_weeks_that_are_over_are_no_part_of_the_labour_use():
    base = made_base()
    whole, later = (
        key_figures(made, PLAN) for made in (base, base.replace(work_counts_from=day(10)))
    )
    assert [week.week for week in later.weeks] == [week.week for week in whole.weeks][1:]


def test_an_empty_plan_of_an_empty_base_has_no_shares():
    base = made_base().replace(checks=(), crews=())
    found = key_figures(base, Plan(()))
    assert found.labour.used is None
    assert found.on_time_share is None
    assert found.mean_days is None
    assert found.mean_days_over_promise is None
    assert found.man_hours_a_day is None
    assert found.all_bays.used == 0


def test_no_solver_is_asked():
    import subprocess
    import sys

    code = (
        "import sys, capacity.questions.key_figures.computed;"
        "assert not {'highspy', 'ortools', 'numba', 'scipy'} & set(sys.modules), 'a solver'"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


@pytest.mark.parametrize("bay_name", ["Wide", "Right"])
@pytest.mark.parametrize("stages", [(), ("Gone",), ("Gone", "Work"), ("Work", "Work")])
def test_an_earlier_plan_of_other_packages_is_no_obstacle(bay_name, stages):
    days = tuple(StageDays(name, day(1), day(3)) for name in stages)
    earlier = Plan((replace(stands("A", bay_name, 1), stages=days),) * 2)
    changed = key_figures(made_base(), PLAN, earlier=earlier).changed
    assert "A" in {move.check for move in changed.moves}
