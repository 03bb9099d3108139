"""Two plans on the same luck, and the plan made on more findings than the mean."""

from dataclasses import replace
from math import exp, log, sqrt

import numpy as np
import pytest

import capacity
from capacity.errors import AuditError, CapacityError
from capacity.facts import Base, Shop, ShopLoop, Status
from capacity.plans.plan import Plan
from capacity.questions.risk.compared import compare
from capacity.questions.risk.play import play
from capacity.questions.risk.settings import Keep, Shape
from capacity.questions.risk.simulated import RiskSettings, risk_of
from capacity.questions.risk.what_if import base_at, base_with_buffers
from tests.plans.stories import base, check, day, package, placed, plan, stage

SETTINGS = RiskSettings(draws=1000)
SPREAD = 0.5
SIGMA = sqrt(log(1 + SPREAD**2))
AT_80 = exp(0.8416212 * SIGMA - SIGMA**2 / 2)
WORK = replace(stage("Work", 10, hours=100, findings=0.5), findings_spread=SPREAD)
C1 = check("C1", agreed_out=day(17), late_cost_per_day=100.0, latest_in=day(40))
C2 = check("C2", earliest_in=day(0), latest_in=day(40), agreed_out=day(30))
STORY = base(C1, C2, packages=(package(WORK, name="Ten days"),), longest_delay_days=20)
TIGHT = plan(placed("C1", 5), placed("C2", 15))
WIDE = plan(placed("C1", 5), placed("C2", 18))
LATER = plan(placed("C1", 7), placed("C2", 18))


def test_two_plans_alike_are_equal_draw_by_draw() -> None:
    one, two = (play(TIGHT, STORY, SETTINGS, STORY) for _ in range(2))
    assert np.array_equal(one.outs, two.outs)
    assert np.array_equal(one.man_hours, two.man_hours)
    assert np.array_equal(one.demand, two.demand)
    found = compare(STORY, TIGHT, TIGHT, SETTINGS)
    assert found.a == found.b == risk_of(STORY, TIGHT, SETTINGS)
    for figure in found.figures:
        assert (figure.difference, figure.standard_error, figure.equal) == (0, 0, 1)
    assert all(c.only_a == c.only_b == 0 for c in found.checks)


def test_man_hours_are_the_same_whatever_the_plan() -> None:
    one, two = (play(p, STORY, SETTINGS, STORY) for p in (TIGHT, LATER))
    np.testing.assert_allclose(one.man_hours, two.man_hours)


def test_two_days_later_in_is_two_days_later_home() -> None:
    """Agreed is day 17; in LATER, C1 keeps it only when it takes no more than 10 days.

    That is with probability Phi(sigma / 2) = 0.5934; in all other draws it is later home than in
    WIDE. A day late costs 100. Whenever LATER keeps the day, WIDE does: no draw is on the day in
    LATER alone.
    """
    found = compare(STORY, WIDE, LATER, SETTINGS)
    c1 = found.checks[0]
    assert (c1.check, c1.only_b) == ("C1", 0.0)
    assert c1.only_a == pytest.approx(c1.on_day_a - c1.on_day_b)
    assert c1.only_a > 0
    days, money = found.figures[1], found.figures[2]
    assert abs(days.a_better - (1 - 0.5934)) < 4 * sqrt(0.24 / SETTINGS.draws)
    assert days.b_better == 0
    of_c1 = [np.maximum(play(p, STORY, SETTINGS, STORY).outs[0] - 17, 0) for p in (WIDE, LATER)]
    assert money.difference == pytest.approx(100 * (of_c1[1] - of_c1[0]).mean())


def test_common_luck_makes_differences_exact() -> None:
    """The error of the difference is below that of independent draws of both plans."""
    found = compare(STORY, TIGHT, LATER, SETTINGS)
    apart = compare(STORY, TIGHT, LATER, replace(SETTINGS, seed=2))
    days = found.figures[1]
    late = [play(p, STORY, SETTINGS, STORY) for p in (TIGHT, LATER)]
    each = [(np.maximum(p.outs - [[17], [30]], 0)).sum(axis=0).var() for p in late]
    assert days.standard_error < 0.7 * sqrt(sum(each) / SETTINGS.draws)
    error = 4 * (days.standard_error + apart.figures[1].standard_error)
    assert abs(days.difference - apart.figures[1].difference) < error


def test_checks_in_one_plan_alone_are_named() -> None:
    option = replace(C2, status=Status.OPTION)
    story = STORY.replace(checks=(C1, option))
    without = plan(placed("C1", 5), refused=("C2",))
    found = compare(story, TIGHT, without, SETTINGS)
    assert (found.placed_only_by_a, found.placed_only_by_b) == (("C2",), ())
    assert [c.check for c in found.checks] == ["C1"]


def test_findings_are_put_at_the_quantile() -> None:
    """0.5 x exp(z80 sigma - sigma^2 / 2); 150 h become 100 + 50 x that, 15 h a day as before."""
    (made,) = base_at(STORY, 0.8).packages
    (work,) = made.stages
    assert work.findings == pytest.approx(0.5 * AT_80)
    assert work.days == np.ceil((100 + 50 * AT_80) / 15) == 12
    assert (made.name, work.man_hours) == ("Ten days", WORK.man_hours)


def test_paces_grow_alike() -> None:
    paced = replace(WORK, shortest_days=5, longest_days=20)
    story = STORY.replace(packages=(package(paced, name="Ten days"),))
    (work,) = base_at(story, 0.8).packages[0].stages
    growth = (1 + 0.5 * AT_80) / 1.5
    assert (work.shortest_days, work.days, work.longest_days) == (
        np.ceil(5 * growth),
        12,
        np.ceil(20 * growth),
    )


def test_the_median_of_a_skewed_finding_is_below_its_mean() -> None:
    (work,) = base_at(STORY, 0.5).packages[0].stages
    assert work.findings == pytest.approx(0.5 * exp(-(SIGMA**2) / 2))
    assert work.days == 10  # ceil(144.7 / 15)


def test_without_spread_nothing_changes() -> None:
    """A triangle of no spread is its mean, at any quantile."""
    certain = STORY.replace(packages=(package(replace(WORK, findings_spread=0), name="Ten days"),))
    for shape in Shape:
        assert base_at(certain, 0.9, RiskSettings(shape=shape)) == certain


def test_what_stands_keeps_its_days() -> None:
    """A fixed check has the findings but not the days; one already in keeps both.

    Its rest is a share of all its work, so other findings would change what is done. An old
    aircraft has days of its own: ceil(10 (1 + 0.75 x) / 1.75).
    """
    fixed = check("C3", status=Status.FIXED, fixed_bay="B1", fixed_in=day(20))
    begun = check("C4", status=Status.FIXED, fixed_bay="B1", fixed_in=day(-3), remaining=0.5)
    old = check("C5", findings_factor=1.5)
    loop = ShopLoop("Ten days", "Wheels", 2, "Work", "Close")
    heavy = package(WORK, stage("Close", 1, "Work"), name="Ten days")
    story = base(
        check("C1"),
        fixed,
        begun,
        old,
        packages=(heavy,),
        shops=(Shop("Wheels", 1.0),),
        shop_loops=(loop,),
    )
    made = base_at(story, 0.8)
    packages = {p.name: p.stages[0] for p in made.packages}
    of = {c.name: packages[c.package] for c in made.checks}
    assert [of[c].days for c in ("C1", "C3", "C4")] == [12, 10, 10]
    assert of["C5"].days == np.ceil(10 * (1 + 0.75 * AT_80) / 1.75)
    assert of["C3"].findings == of["C1"].findings == of["C5"].findings
    assert of["C4"] == WORK
    assert [c.package for c in made.checks] == [
        "Ten days",
        "Ten days (days as planned)",
        "Ten days (already in)",
        "Ten days (findings factor 1.5)",
    ]
    assert {loop.package for loop in made.shop_loops} == set(packages)


def test_a_name_that_is_taken_is_not_used_twice() -> None:
    taken = package(stage("Work", 3), name="Ten days (findings factor 1.5)")
    story = STORY.replace(
        checks=(check("C1", findings_factor=1.5), check("C2", package=taken.name)),
        packages=(*STORY.packages, taken),
    )
    names = [c.package for c in base_at(story, 0.8).checks]
    assert names == ["Ten days (findings factor 1.5)*", "Ten days (findings factor 1.5)"]


def test_where_days_are_kept_only_man_hours_grow() -> None:
    made = base_at(STORY, 0.8, RiskSettings(keep=Keep.DAYS))
    assert made.packages[-1].stages[0].days == 10
    assert made.packages[-1].stages[0].findings == pytest.approx(0.5 * AT_80)


@pytest.mark.parametrize("quantile", [0.0, 1.0, -0.5, float("nan")])
def test_a_quantile_is_above_0_and_below_1(quantile: float) -> None:
    with pytest.raises(CapacityError, match="quantile"):
        base_at(STORY, quantile)


def test_the_plan_on_the_80_percent_figures_keeps_its_days_more_often() -> None:
    """C1 and C2 at 12 days each instead of 10, judged on the same findings.

    On the day: 10 days agreed, findings of at most 50 h; 80 % where 12 days are planned, at the
    old 15 h a day, since 12 of these are just what the 80 % need.
    """
    story = STORY.replace(checks=(replace(C1, agreed_out=None), replace(C2, agreed_out=None)))
    cautious = base_at(story, 0.8)
    long = plan(
        placed("C1", 5, ("Work", 5, 17)),
        placed("C2", 17, ("Work", 17, 29)),
    )
    found = compare(story, TIGHT, long, SETTINGS, b_made_on=cautious)
    a, b = found.a.checks, found.b.checks
    assert abs(a[0].on_day - 0.5934) < 4 * sqrt(0.24 / SETTINGS.draws)
    assert abs(b[0].on_day - 0.8) < 4 * sqrt(0.16 / SETTINGS.draws)
    assert b[1].on_day > a[1].on_day + 0.2
    assert b[1].pushed < 0.3 < a[1].pushed
    one, two = (
        play(TIGHT, story, SETTINGS, story),
        play(long, story, SETTINGS, cautious),
    )
    np.testing.assert_allclose(one.man_hours, two.man_hours)
    # The work itself does not take longer than it did: 10 days are enough for a lucky draw.
    assert (two.outs[0] - two.ins[0]).min() == 10
    with pytest.raises(AuditError):
        compare(story, TIGHT, long, SETTINGS)


def test_buffers_are_days_agreed_earlier() -> None:
    """C1 takes up to 12 days in 80 % of the draws, 2 more than planned; C2 has none agreed."""
    story = STORY.replace(checks=(C1, replace(C2, agreed_out=None)))
    made = base_with_buffers(story, risk_of(story, WIDE, SETTINGS))
    assert [c.agreed_out for c in made.checks] == [day(15), None]
    (left_out,) = base_with_buffers(base(C1), risk_of(base(C1), plan(not_placed=("C1",)))).checks
    assert left_out == C1


def test_a_plan_is_judged_by_the_days_that_are_agreed() -> None:
    """Not by those of the base that it was made on: the same plan, whatever it was made for."""
    made = base_with_buffers(STORY, risk_of(STORY, WIDE, SETTINGS))
    assert made != STORY
    assert risk_of(STORY, WIDE, SETTINGS, made_on=made) == risk_of(STORY, WIDE, SETTINGS)


def best(base_: Base) -> Plan:
    outcome = capacity.plan(base_, capacity.Settings(seconds=5))
    assert isinstance(outcome, capacity.Planned)
    return outcome.plan


def test_plans_found_by_the_search_are_compared() -> None:
    """The plan on the 80 % figures leaves C1 and C2 12 days each; it is late less often."""
    story = STORY.replace(
        checks=(
            replace(C1, early_cost_per_day=10.0, latest_in=day(9)),
            replace(C2, latest_in=day(19), early_cost_per_day=10.0, agreed_out=day(31)),
        )
    )
    cautious = base_at(story, 0.8)
    found = compare(story, best(story), best(cautious), SETTINGS, b_made_on=cautious)
    assert found.figures[0].difference < 0
    assert sum(c.only_b for c in found.checks) > 0
