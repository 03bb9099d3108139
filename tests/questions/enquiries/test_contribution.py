"""What an enquiry contributes, worked out on paper; the formula is common practice, no source."""

import io
from dataclasses import replace

import openpyxl
import pytest

from capacity.facts import Base, Check, Package, Skill, Stage, Status
from capacity.plans.plan import Plan
from capacity.questions.enquiries.asked import ask
from capacity.questions.enquiries.booking import anyway_combination
from capacity.questions.enquiries.combinations import best_combinations
from capacity.questions.enquiries.values import EnquiryAnswer
from capacity.reports.enquiries.contribution import contribution_of_way
from capacity.reports.enquiries.text import enquiries_in_words
from capacity.reports.enquiries.ways import way_of_cheapest, way_with_moves
from capacity.reports.enquiries.wording import verdict_in_words
from capacity.reports.enquiries.workbook import enquiries_workbook
from capacity.settings import Settings
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, visit
from ui.commercial.enquiry_rows import overview_table

SKILL = Skill("Mechanic", 50.0, 0.5, 70.0, 0.0)
STAGE = Stage("Work", "maintenance", 7, {"Mechanic": 80.0}, findings=0.25)


def base_of(rate: float | None, material: float, *checks: Check) -> Base:
    """Weeks of 70 regular hours and 35 of overtime; a visit asks 80 h routine and 20 findings."""
    base = stories.base(bays(2), *checks, skills=(SKILL,))
    asks = Package("busy", (STAGE,), material_cost=material)
    return base.replace(packages=(*base.packages, asks), labour_rate=rate)


def plan_of(base: Base) -> Plan:
    plan = planned(base)
    assert plan is not None
    return plan


def answer_of(base: Base, price: float, **how: object) -> EnquiryAnswer:
    asked = visit("O", 7, 0, 0, status=Status.OPTION, price=price, package="busy")
    (answer,) = ask(base, plan_of(base), [asked], **how)
    return answer


def test_price_less_added_cost_less_regular_labour_less_material() -> None:
    # 100 h asked, 70 of them regular: 30 h of overtime at 50. 10,000 - 1,500 - 70 x 40 - 200.
    base = base_of(40.0, 200.0)
    answer = answer_of(base, 10_000.0)
    found = contribution_of_way(way_of_cheapest(answer), base)
    assert found.plan_cost == pytest.approx(1_500)
    assert (found.man_hours, found.regular_hours) == (pytest.approx(100), pytest.approx(70))
    assert found.labour == pytest.approx(2_800)
    assert found.money == pytest.approx(5_500)
    assert found.per_man_hour == pytest.approx(55)
    assert found.costs == pytest.approx(4_500)
    assert answer.break_even == pytest.approx(1_500), "the plan's own figure stays what it was"
    assert verdict_in_words(answer, base).startswith(
        "10,000 EUR is offered; the break-even price is 1,500 EUR with nobody moved: 8,500 EUR "
        "more than that. Contribution: 5,500 EUR, 55.00 EUR per man-hour, after the added cost of "
        "the plan (1,500 EUR), 70 h of regular labour (2,800 EUR) and material (200 EUR)."
    )


def test_another_check_in_the_week_leaves_no_regular_labour_to_it() -> None:
    # The other asks 100 h: 70 regular, 30 overtime. So 5 h of overtime are left, and 95 overload.
    base = base_of(40.0, 0.0, visit("A", 7, 0, 0, package="busy"))
    found = contribution_of_way(way_of_cheapest(answer_of(base, 1.0)), base)
    assert found.regular_hours == pytest.approx(0)
    assert found.money == pytest.approx(1 - 5 * 50 - 95 * base.overload_cost)


def test_two_together_contribute_as_their_hours_find_the_crews() -> None:
    """Two in one week: 200 h asked, 70 regular, 35 of overtime, 95 overload; material twice."""
    base = base_of(40.0, 200.0)
    both = [
        visit(name, 7, 0, 0, status=Status.OPTION, price=60_000.0, package="busy")
        for name in ("O", "P")
    ]
    best = best_combinations(base, plan_of(base), both).best
    assert best.names == ("O", "P")
    found = best.contribution
    assert (found.price, found.material) == (pytest.approx(120_000), pytest.approx(400))
    assert (found.man_hours, found.regular_hours) == (pytest.approx(200), pytest.approx(70))
    assert found.plan_cost == pytest.approx(35 * 50 + 95 * base.overload_cost)
    assert found.money == pytest.approx(120_000 - found.plan_cost - 70 * 40 - 400)
    forced = anyway_combination(
        base,
        plan_of(base),
        [replace(one, price=100.0) for one in both],
        Settings(seconds=2),
    )
    assert forced.contribution.price == pytest.approx(200)


def test_without_a_labour_rate_the_hours_are_told_and_not_counted() -> None:
    plenty = replace(SKILL, overtime_cost=50.0)
    base = base_of(None, 0.0)
    base = base.replace(
        skills=(plenty,), crews=tuple(replace(crew, heads=10 * crew.heads) for crew in base.crews)
    )
    answer = answer_of(base, 500.0)
    said = verdict_in_words(answer, base)
    assert "it adds no cost to the plan with nobody moved." in said
    assert (
        "It takes 100 h of regular labour, which is not counted: the sheet Base has no Labour rate."
        in said
    )
    assert "any price" not in said
    assert "Contribution" not in said
    with_material = base.replace(
        packages=tuple(replace(p, material_cost=120.0) for p in base.packages)
    )
    said = verdict_in_words(answer_of(with_material, 500.0), with_material)
    assert "Contribution: 380 EUR, 3.80 EUR per man-hour, after the added cost of the plan" in said
    assert "which is not counted" in said


def test_without_a_price_it_is_told_which_covers_its_costs() -> None:
    base = base_of(40.0, 200.0)
    assert (
        "It takes a price of 4,500 EUR to cover the added cost of the plan (1,500 EUR), 70 h of "
        "regular labour (2,800 EUR) and material (200 EUR)."
    ) in verdict_in_words(answer_of(base, 0.0), base)


def test_with_others_moved_it_is_that_of_the_plan_with_the_moves() -> None:
    # A lies across two weeks in the plan and needs no overtime. For O it moves to the second
    # week, with 30 h of overtime in each: 200 h of demand, 140 of them regular, 40 more than now.
    base = base_of(40.0, 0.0, visit("A", 7, 0, 7, package="busy"))
    answer = answer_of(base, 9_000.0, may_move=None)
    moved = contribution_of_way(way_with_moves(answer), base)
    assert moved.regular_hours == pytest.approx(40)
    assert moved.money == pytest.approx(9_000 - 60 * 50 - 40 * 40)


def test_the_terminal_says_so_too() -> None:
    base = base_of(40.0, 200.0)
    plan = plan_of(base)
    asked = [visit("O", 7, 0, 0, status=Status.OPTION, price=10_000.0, package="busy")]
    answers = ask(base, plan, asked)
    assert "Contribution: 5,500 EUR" in enquiries_in_words(
        answers, best_combinations(base, plan, asked), base
    )


def test_a_plan_is_the_same_with_a_labour_rate_and_without() -> None:
    checks = (visit("A", 7, 0, 7, package="busy"), visit("B", 7, 0, 7, package="busy"))
    assert plan_of(base_of(None, 0.0, *checks)) == plan_of(base_of(40.0, 900.0, *checks))


def test_the_workbook_has_it_beside_the_break_even_price() -> None:
    base = base_of(40.0, 200.0)
    plan = plan_of(base)
    asked = [visit("O", 7, 0, 0, status=Status.OPTION, price=10_000.0, package="busy")]
    answers = ask(base, plan, asked)
    content = enquiries_workbook(answers, best_combinations(base, plan, asked), base, (plan,))
    rows = list(openpyxl.load_workbook(io.BytesIO(content))["Overview"].iter_rows(values_only=True))

    def under(heading: str) -> object:
        above = next(number for number, row in enumerate(rows) if heading in row)
        return rows[above + 1][rows[above].index(heading)]

    assert under("Contribution (EUR)") == pytest.approx(5_500)
    assert under("Contribution per man-hour (EUR)") == pytest.approx(55)
    assert under("Man-hours (h)") == pytest.approx(100)
    assert under("Regular labour that it takes (h)") == pytest.approx(70)
    (row,) = overview_table(answers, base)
    assert row["Contribution (EUR)"] == 5_500
    packages = tuple(replace(package, material_cost=0.0) for package in base.packages)
    uncounted = base.replace(labour_rate=None, packages=packages)
    assert "Contribution (EUR)" not in overview_table(answers, uncounted)[0]
