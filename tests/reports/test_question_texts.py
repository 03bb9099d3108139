"""Terminal texts of questions: the risk of a plan, the crews of some weeks."""

from dataclasses import replace

from capacity.crews.assign import assign_crews
from capacity.crews.crew_settings import CrewSettings
from capacity.questions.risk.settings import RiskSettings
from capacity.questions.risk.simulated import risk_of
from capacity.reports.crews.text import crews_in_words
from capacity.reports.crews.workbook import crew_weeks, shift_lists
from capacity.reports.risk.text import risk_in_words
from tests.plans.stories import PLENTY, base, check, package, placed, plan, stage

WORK = package(stage("Open", 2, hours=40), stage("Repair", 3, "Open", hours=60, findings=0.5))
BASE = base(
    check(package="Heavy"),
    packages=(WORK,),
    crews=(replace(PLENTY, heads=3),),
)
PLAN = plan(placed("C1", 5, ("Open", 5, 7), ("Repair", 7, 10)))


def test_the_risk_names_the_check_its_day_and_the_buffer():
    text = risk_in_words(risk_of(BASE, PLAN, RiskSettings(draws=200, default_spread=0.5)), BASE)
    assert "Checks least likely to be out by their day:\n  C1" in text
    assert "by Thu 14 Jan 2027 (planned)" in text
    assert "planning aid" in text


def test_the_crews_tell_hours_goals_and_what_nobody_is_there_for():
    # 3 people give 30 h a day and 20 % overtime; 40 h in two days and 90 h in three.
    settings = CrewSettings(weeks=2, seconds=5, workers=1, overtime_hours=0, call_in=False)
    staffed = assign_crews(BASE, PLAN, settings)
    text = crews_in_words(staffed, BASE)
    assert "Demand 130 h; assigned 130 h, of that overtime 0.0 h" in text
    assert "overload: 0.0 h (proven minimum)" in text
    assert "overload 0.0 h" in text


def test_a_shift_list_has_a_line_a_crew_and_stage_with_its_bay():
    settings = CrewSettings(weeks=2, seconds=5, workers=1, overtime_hours=0, call_in=False)
    staffed = assign_crews(BASE, PLAN, settings)
    lists = shift_lists(staffed, PLAN, BASE)
    assert len(lists) == 5
    assert {line.bay for one in lists for line in one.lines} == {"B1"}
    hours = sum(line.hours for one in lists for line in one.lines)
    assert round(hours, 2) == 130
    assert round(sum(week.given for week in crew_weeks(staffed, BASE)), 2) == 130
    assert all(line.people <= 3 for one in lists for line in one.lines)
