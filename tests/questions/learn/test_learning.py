"""What is learnt from delivered checks, by hand."""

from dataclasses import replace
from datetime import date

import pytest

from capacity.facts import DeliveredStage, Package, Stage
from capacity.questions.learn.learning import findings_share, learn
from capacity.reports.learn.text import learnt_in_words
from capacity.reports.learn.wording import proposals
from tests.bases import small_base

INSPECT = Stage("inspect", "maintenance", 4, {"mechanic": 100.0}, findings=0.3, findings_spread=0.2)
LIGHT = Package("light", (Stage("open", "maintenance", 1, {"mechanic": 20.0}), INSPECT))


def visit(check: str, opened: float | None, inspected: float | None, **more: object):
    """Return the two stages of a delivered check, with the man-hours booked on each."""
    facts = {
        "planned_in": date(2026, 12, 1), "actual_in": date(2026, 12, 1),
        "planned_out": date(2026, 12, 8), "actual_out": date(2026, 12, 9),
        "agreed_out": date(2026, 12, 8),
    } | more  # fmt: skip
    return (
        DeliveredStage(check, "light", "open", routine_hours=20.0, planned_hours=20.0,
                       planned_days=1, actual_days=1, actual_hours=opened, **facts),
        DeliveredStage(check, "light", "inspect", routine_hours=100.0, planned_hours=130.0,
                       planned_days=4, actual_days=5, actual_hours=inspected, **facts),
    )  # fmt: skip


def base_with(*visits: tuple[DeliveredStage, ...]):
    rows = tuple(row for rows in visits for row in rows)
    return small_base(packages=(LIGHT,), checks=(), crews=(), skills=(), delivered=rows)


def where(sheet: str, name: str, heading: str) -> str:
    return f"{sheet}!{name}/{heading}"


def test_findings_days_and_hours_of_a_stage_by_hand():
    learnt = learn(base_with(visit("A", 20.0, 140.0), visit("B", 22.0, 160.0)))
    (package,) = learnt.packages
    opened, inspect = package.stages
    assert (learnt.visits, package.visits, inspect.visits) == (2, 2, 2)
    assert inspect.findings.mean == pytest.approx(0.5)  # 40 % and 60 %
    assert inspect.findings.deviation == pytest.approx(0.02**0.5)
    assert inspect.proposed_spread == pytest.approx(0.02**0.5 / 0.5)
    assert (inspect.planned_findings, inspect.planned_spread, inspect.planned_days) == (0.3, 0.2, 4)
    assert (inspect.days.mean, inspect.proposed_days) == (5.0, 5)
    assert inspect.hours.mean == pytest.approx((140 / 130 + 160 / 130) / 2)
    assert opened.findings.mean == pytest.approx(0.05)
    # Whole visits: 160 - 120 of 120, and 182 - 120 of 120.
    assert package.findings.mean == pytest.approx((40 / 120 + 62 / 120) / 2)
    assert (package.stay.mean, package.planned_stay.mean, package.days_late.mean) == (8, 7, 1)


def test_extra_work_and_the_findings_factor_are_left_out():
    row = replace(visit("A", None, 190.0)[1], extra_hours=30.0, findings_factor=1.5)
    assert findings_share(row) == pytest.approx((190 - 30 - 100) / 100 / 1.5)
    assert findings_share(replace(row, findings_factor=0.0)) is None
    assert findings_share(replace(row, routine_hours=0.0)) is None
    assert findings_share(replace(row, actual_hours=None)) is None


def test_less_than_routine_proposes_no_findings_and_no_spread():
    stage = learn(base_with(visit("A", 20.0, 90.0), visit("B", 20.0, 80.0))).packages[0].stages[1]
    assert stage.findings.mean == pytest.approx(-0.15)
    assert (stage.proposed_findings, stage.proposed_spread) == (0.0, None)


def test_what_nobody_reported_is_not_learnt_from_and_named():
    silent = tuple(
        replace(row, actual_in=None, actual_out=None, actual_days=None)
        for row in visit("Q", None, None)
    )
    learnt = learn(base_with(silent, visit("A", 20.0, 140.0)))
    assert learnt.silent == ("Q",)
    assert learnt.packages[0].stages[1].findings.number == 1
    text = learnt_in_words(learnt, base_with(), where)
    assert "nothing is learnt from: 'Q'" in text
    assert "1 visit only: fewer than 5" in text


def test_a_visit_with_hours_missing_is_no_whole_one():
    (package,) = learn(base_with(visit("A", None, 140.0))).packages
    assert package.findings is None
    assert package.stages[1].findings.number == 1


def test_hours_of_the_check_as_a_whole_go_before_its_stages():
    whole = replace(visit("A", None, None)[0], stage="", routine_hours=120.0, actual_hours=180.0)
    (package,) = learn(base_with((*visit("A", None, None), whole))).packages
    assert package.findings.mean == pytest.approx(0.5)
    assert [stage.stage for stage in package.stages] == ["open", "inspect"]


def test_a_name_that_comes_again_is_another_visit():
    later = {"planned_in": date(2027, 6, 1), "planned_out": date(2027, 6, 8)}
    assert learn(base_with(visit("A", 20.0, 140.0), visit("A", 20.0, 150.0, **later))).visits == 2


def test_a_stage_that_the_workbook_no_longer_has_gets_no_proposal():
    base = base_with(visit("A", 20.0, 140.0)).replace(packages=())
    stage = learn(base).packages[0].stages[1]
    assert stage.planned_days is None
    assert list(proposals(stage, where)) == []


def test_proposals_name_the_cell_and_only_what_differs():
    learnt = learn(base_with(visit("A", 20.0, 140.0), visit("B", 20.0, 160.0)))
    opened, inspect = learnt.packages[0].stages
    assert list(proposals(opened, where)) == []
    assert list(proposals(inspect, where)) == [
        "Findings % 30 -> 50 (Packages!light: inspect/Findings %)",
        "Findings spread % 20 -> 28.3 (Packages!light: inspect/Findings spread %)",
        "Days 4 -> 5 (Packages!light: inspect/Days)",
    ]


def test_without_delivered_checks_it_says_so():
    text = learnt_in_words(learn(base_with()), base_with(), where)
    assert "nothing to learn from yet" in text
