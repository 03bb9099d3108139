"""Overtime, risk, why and worth as data frames say what the answers say."""

from dataclasses import replace

import pytest

from capacity.questions.frames.others import (
    measure_frames,
    overtime_frames,
    risk_comparison_frames,
    risk_frames,
    why_frames,
    worth_frames,
)
from capacity.questions.overtime.measures import try_measures
from capacity.questions.overtime.review import review_overtime
from capacity.questions.risk.compared import compare
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated import risk_of
from capacity.questions.why.explain import explain
from capacity.questions.worth.selling import worth_of
from capacity.settings import Settings
from tests.plans.stories import PLENTY, base, check, day, package, placed, plan, stage

WORK = package(stage("Work", 10, hours=1100, findings=0.1), name="Ten days")
BASE = base(
    check("C1"),
    check("C2", agreed_out=day(20), late_cost_per_day=100.0, latest_in=day(20)),
    packages=(WORK,),
    crews=(replace(PLENTY, heads=10),),
)
PLAN = plan(placed("C1", 5), placed("C2", 15))
DRAWS = RiskSettings(draws=100, default_spread=0.3)


def test_overtime_by_week_and_crew_adds_up():
    frames = overtime_frames(review_overtime(BASE, PLAN))
    assert frames["weeks"]["overtime"].sum() == pytest.approx(frames["crews"]["overtime"].sum())
    assert frames["weeks"]["overtime"].sum() > 0


def test_measures_have_a_row_each():
    measures = try_measures(BASE, PLAN, Settings(seconds=4))
    frame = measure_frames(measures)["measures"]
    assert list(frame["what"]) == [measure.what for measure in measures.measures]
    assert list(frame["saves"]) == [measure.saves for measure in measures.measures]


def test_the_risk_has_a_row_a_check_and_two_plans_are_compared():
    risk = risk_of(BASE, PLAN, DRAWS)
    frames = risk_frames(risk)
    assert dict(zip(frames["checks"]["check"], frames["checks"]["on_day"], strict=True)) == {
        one.check: one.on_day for one in risk.checks
    }
    figures = risk_comparison_frames(compare(BASE, PLAN, PLAN, DRAWS))["figures"]
    assert (figures["difference"] == 0).all()


def test_what_is_in_the_way_of_a_better_day_is_in_a_row():
    # C2 goes home on day 25, five days late; C1 has the one bay from day 5 to 15.
    frame = why_frames(explain(BASE, PLAN, Settings(seconds=5), check="C2"))["places"]
    taken = frame[~frame["is_free"]]
    assert set(taken["by"]) == {"C1"}
    assert (taken["out"] < day(25)).all()


def test_worth_has_a_row_a_change():
    worths = worth_of(BASE, PLAN, Settings(seconds=6))
    frame = worth_frames(worths)["worths"]
    assert list(frame["saves"]) == [worth.saves for worth in worths.worths]
    assert len(frame) > 0
