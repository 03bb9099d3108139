"""What the review says is what the audit says, and what can be worked out on paper.

Source of the hand figures: arithmetic only. The common textbook example that adds stock held
over to regular time, overtime and subcontracting cannot be put here: man-hours are not kept for
a later week. Its widths and prices week by week are in tests/reference/test_tiers_by_hand.py.
"""

from collections import defaultdict
from dataclasses import replace
from math import fsum
from random import Random
from typing import Any

import pytest

from capacity.facts import Absence, Base, Crew, Employment, Pattern, Skill
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.overtime.review import OvertimeReview, SkillWeekReview, review_overtime
from tests.plans.stories import FIRST_DAY, MECHANIC, base, check, day, placed, plan
from tests.questions.asking_about import any_plan
from tests.questions.overtime_stories import TEN, fixed, stands, ten_mechanics, visit
from tests.reference.random_bases import small_base
from tests.slots.rich_bases import rich_base

WEEK_1 = "2027-W01"


def reviewed(asked: float, **changes: object) -> OvertimeReview:
    """Review one week in which a check asks so many hours of the ten mechanics."""
    work = visit(asked)
    story = ten_mechanics((work,), fixed("C1", work), **changes)
    made = plan(stands("C1", work))
    assert audit(story, made).broken == ()
    return review_overtime(story, made)


def first_week(review: OvertimeReview) -> SkillWeekReview:
    """Return the row of the first week and skill."""
    return next(week for week in review.weeks if week.week == WEEK_1)


def assert_like_the_audit(made: Plan, story: Base) -> None:
    """Compare everything that review and audit both say."""
    found, review = audit(story, made), review_overtime(story, made)
    alike = ("week", "skill", "demand", "regular", "overtime", "contract", "overload")
    for load, week in zip(found.weeks, review.weeks, strict=True):
        assert [getattr(week, name) for name in alike] == [getattr(load, name) for name in alike]
    for kind in ("overtime_money", "contract_money", "overload_money"):
        money = fsum(getattr(week, kind) for week in review.weeks)
        assert money == pytest.approx(getattr(found, kind), abs=1e-6)
    assert review.least_money == pytest.approx(
        found.overtime_money + found.contract_money + found.overload_money
    )
    assert review.overtime_hours == pytest.approx(fsum(w.overtime for w in found.weeks))
    assert review.contract_hours == pytest.approx(fsum(w.contract for w in found.weeks))
    assert review.overload_hours == found.goals.overload_hours


def assert_crews_add_up(made: Plan, story: Base) -> None:
    """Add the crews' overtime and money up to that of each week and skill."""
    review = review_overtime(story, made)
    by_skill: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for crew in review.crews:
        by_skill[crew.week, crew.skill].append(crew.overtime)
    for week in review.weeks:
        crews = fsum(by_skill[week.week, week.skill])
        assert crews == pytest.approx(week.overtime, abs=1e-5)
    money = fsum(week.overtime_money for week in review.weeks)
    assert fsum(crew.money for crew in review.crews) == pytest.approx(money, abs=0.01)


def test_the_tiers_of_a_week_and_their_money() -> None:
    # 700 regular, 140 overtime, 175 contract; of 1,115 h there is nobody for 100.
    review = reviewed(1115)
    week = first_week(review)
    assert (week.demand, week.regular) == pytest.approx((1115, 700))
    assert (week.overtime, week.contract, week.overload) == pytest.approx((140, 175, 100))
    assert week.overtime_money == pytest.approx(140 * 60)
    assert week.contract_money == pytest.approx(175 * 80)
    assert week.overload_money == pytest.approx(100 * 500)
    assert review.least_money == pytest.approx(140 * 60 + 175 * 80 + 100 * 500)
    assert week.limits == (
        "overtime cap of 140.0 h",
        "contract cap of 175.0 h",
        "overload of 100.0 h",
    )


@pytest.mark.parametrize(
    ("asked", "limits"),
    [
        (700, ()),
        (839, ()),
        (840, ("overtime cap of 140.0 h",)),
        (1014, ("overtime cap of 140.0 h",)),
        (1015, ("overtime cap of 140.0 h", "contract cap of 175.0 h")),
    ],
)
def test_a_cap_is_reached_when_it_is_used_up(asked: float, limits: tuple[str, ...]) -> None:
    assert first_week(reviewed(asked)).limits == limits


def test_overtime_a_head_is_in_attended_hours() -> None:
    # At 80 % booked the ten give 560 h; 60 h more are 75 attended hours, 7.5 each.
    week = first_week(reviewed(620, productivity=0.8))
    assert (week.regular, week.overtime, week.heads) == pytest.approx((560, 60, 10))
    assert week.overtime_per_head == pytest.approx(7.5)


def test_who_is_away_takes_no_part_in_the_overtime() -> None:
    # Four of ten are away: six give 420 h, and 60 h more are 10 h for each of the six.
    away = Absence("Ten", FIRST_DAY, day(6), 4, "leave")
    review = reviewed(480, absences=(away,))
    assert first_week(review).overtime_per_head == pytest.approx(10)
    (crew,) = review.crews
    assert (crew.overtime, crew.overtime_per_head) == pytest.approx((60, 10))


def test_a_crew_with_the_week_off_takes_no_part_in_the_overtime() -> None:
    # Seven days on, seven off: in the first week only the red ten are there, with 700 h.
    seven = Pattern("Seven on, seven off", (*["Day"] * 7, *[None] * 7))
    red = replace(TEN, name="Red", pattern=seven.name)
    blue = replace(red, name="Blue", starts_cycle_on=day(7))
    review = reviewed(800, crews=(red, blue), patterns=(seven,))
    week = first_week(review)
    assert (week.regular, week.overtime, week.heads) == pytest.approx((700, 100, 20))
    assert week.overtime_per_head == pytest.approx(10)
    assert [(c.crew, c.overtime_per_head) for c in review.crews] == [("Red", pytest.approx(10))]


def test_crews_share_overtime_by_their_regular_hours() -> None:
    # 10 x 70 h and 5 x 70 h are 1,050 h; of 90 h the larger crew has two thirds: 6 h a head.
    five = Crew("Five", ("Mechanic",), 5, "Daily", FIRST_DAY)
    hired = replace(five, name="Hired", heads=1, employment=Employment.CONTRACT)
    review = reviewed(1140, crews=(TEN, five, hired))
    assert [(c.crew, c.regular, c.overtime, c.money) for c in review.crews] == [
        ("Ten", pytest.approx(700), pytest.approx(60), pytest.approx(3600)),
        ("Five", pytest.approx(350), pytest.approx(30), pytest.approx(1800)),
    ]
    assert [c.overtime_per_head for c in review.crews] == pytest.approx([6, 6])


def test_only_crews_whose_own_skill_it_is_have_its_overtime() -> None:
    fitter = replace(MECHANIC, name="Fitter")
    lent = Crew("Lent", ("Fitter", "Mechanic"), 1, "Daily", FIRST_DAY)
    review = reviewed(820, skills=(MECHANIC, fitter), crews=(TEN, lent))
    week = first_week(review)
    assert (week.regular, week.overtime, week.heads) == pytest.approx((770, 50, 10))
    assert [(c.crew, c.overtime) for c in review.crews] == [("Ten", pytest.approx(50))]


def test_hours_are_never_more_than_the_cap_lets_a_head_stay() -> None:
    # 20 % of the 70 hours that each of those there attends, whoever is away.
    away = Absence("Ten", day(2), day(4), 7, "training")
    for absences in ((), (away,)):
        week = first_week(reviewed(2000, absences=absences, productivity=0.7))
        assert week.overtime_per_head == pytest.approx(0.2 * 70)


def test_in_a_week_with_room_nothing_is_said() -> None:
    review = reviewed(500)
    assert review.crews == ()
    assert review.limits == ()
    assert (review.overtime_hours, review.contract_hours, review.overload_hours) == (0, 0, 0)
    assert review.least_money == 0


def test_a_skill_without_a_crew_has_overload_and_no_head() -> None:
    nobody = Skill("Mechanic", 60.0, 0.2, 80.0, 0.25)
    fitters = Crew("Fitters", ("Fitter",), 5, "Daily", FIRST_DAY)
    skills = (nobody, replace(nobody, name="Fitter"))
    week = first_week(reviewed(50, skills=skills, crews=(fitters,)))
    assert (week.heads, week.overtime_per_head, week.overload) == (0, 0, pytest.approx(50))
    assert week.limits == ("overload of 50.0 h",)


def test_a_plan_without_placements_is_reviewed_too() -> None:
    review = review_overtime(base(check()), plan(not_placed=("C1",)))
    assert review.crews == ()
    assert review.least_money == 0


@pytest.mark.parametrize("asked", [640, 815, 2400])
def test_figures_of_a_story_are_those_of_its_audit(asked: float) -> None:
    work = visit(asked, days=12)
    story = ten_mechanics((work,), fixed("C1", work, 3))
    made = plan(placed("C1", 3, ("Work", 3, 15)))
    assert_like_the_audit(made, story)
    assert_crews_add_up(made, story)


@pytest.mark.parametrize("kind", [small_base, rich_base])
@pytest.mark.parametrize("seed", range(3))
def test_figures_of_any_plan_are_those_of_its_audit(kind: Any, seed: int) -> None:
    story = kind(Random(700 + seed))
    made = any_plan(story)
    if made is not None:
        assert_like_the_audit(made, story)
        assert_crews_add_up(made, story)


def test_a_crew_that_is_away_is_told_no_overtime_of_its_own() -> None:
    """Nobody of Ten is there, so nothing is regular and no cap is more than 0: all is overload."""
    away = Absence("Ten", FIRST_DAY, day(6), 10, "leave")
    review = reviewed(60, absences=(away,))
    assert (review.crews, review.overload_hours) == ((), pytest.approx(60))
    assert first_week(review).overtime_per_head == 0
