"""Re-plans of levelled plans: what was worked before today stays where it was.

The plan is that of ``tests/levelled_plan.py``: C1 has 60 h in W01 and 40 h in W02, C2 30 h in W02
and 70 h in W03, with 70 h of mechanics a week. Day 7 is the Monday of W02.
"""

import json
from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta
from random import Random

import pytest

from capacity import InputError, Settings
from capacity.facts import Base, WorkProgress
from capacity.plans.audit import audit
from capacity.plans.levelled import spread_evenly
from capacity.plans.outcome import Impossible
from capacity.plans.plan import Plan, WeekHours
from capacity.plans.weeks import ONE_WEEK, monday_of, monday_of_week
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.asking.standing_plan import standing_plan
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Replanned
from capacity.questions.risk.play import play
from capacity.questions.risk.settings import RiskSettings
from capacity.reports import summary
from capacity.reports.plan_files.asked_plan import read_plan
from capacity.reports.replan.text import replan_in_words
from tests.levelled_plan import SKILL, W01, W02, W03, levelled_base, levelled_plan
from tests.plans.stories import day
from tests.questions.asking_about import planned
from tests.reference.every_rule_bases import every_rule_base
from tests.reference.levelled_bases import with_levelling, with_peak

QUICK = Settings(seconds=5)


def replanned(base: Base, plan: Plan, today: date) -> Replanned:
    answer = replan(base, plan, today, QUICK)
    assert isinstance(answer, Replanned)
    return answer


def hours_of(plan: Plan, check: str) -> dict[str, float]:
    found: defaultdict[str, float] = defaultdict(float)
    for placement in plan.placements:
        for stage in placement.stages if placement.check == check else ():
            for one in stage.hours:
                found[one.week] += one.hours
    return dict(found)


def test_weeks_that_are_over_stay_though_nothing_asks_for_it_any_more() -> None:
    """Without C2 the 40 and 60 h of the even spread would do."""
    base = levelled_base()
    alone = base.replace(checks=base.checks[:1])
    assert hours_of(planned(alone), "C1") == pytest.approx({W01: 40.0, W02: 60.0})
    answer = replanned(alone, levelled_plan(), day(7))
    assert hours_of(answer.plan, "C1") == pytest.approx({W01: 60.0, W02: 40.0}, abs=1e-6)
    assert audit(answer.base, answer.plan).broken == ()


def test_with_nothing_new_nothing_changes() -> None:
    for today in (0, 3, 4, 7, 9, 13, 16):
        answer = replanned(levelled_base(), levelled_plan(), day(today))
        for check in ("C1", "C2"):
            before, now = (hours_of(plan, check) for plan in (levelled_plan(), answer.plan))
            assert now == pytest.approx(before, abs=1e-6), today
        assert answer.found.money == pytest.approx(0.0, abs=1e-6)


def test_the_week_of_today_keeps_the_even_share_of_its_days_that_are_past() -> None:
    """C2 is in from Thursday, day 10: on Saturday half of its 30 h in W02 are done."""
    base = levelled_base()
    heavy = replace(base.checks[1], findings_factor=1.0)
    grown = replace(base.packages[0], stages=(replace(base.packages[0].stages[0], findings=0.2),))
    answer = replanned(base.replace(checks=(heavy,), packages=(grown,)), levelled_plan(), day(12))
    done = {(d.check, h.monday): h.hours for d in answer.base.work_done for h in d.hours}
    assert done == pytest.approx({("C2", day(7)): 15.0})
    # 120 h in all, 15 of them done. W03 has 70 h at hand, so the two days left of W02 take 35.
    assert hours_of(answer.plan, "C2") == pytest.approx({W02: 15.0 + 35.0, W03: 70.0}, abs=1e-6)


def test_what_grew_beyond_the_peak_is_done_in_the_days_that_are_left() -> None:
    """C1 has 60 h in W01, and now takes 300: on its six days left 40 each, above 150 % of 30."""
    base = levelled_base()
    heavy = replace(base.packages[0].stages[0], man_hours={SKILL: 300.0})
    grown = base.replace(
        checks=base.checks[:1], packages=(replace(base.packages[0], stages=(heavy,)),)
    )
    answer = replanned(
        grown.replace(packages=(replace(base.packages[0], stages=(heavy,)),)),
        levelled_plan(),
        day(7),
    )
    assert hours_of(answer.plan, "C1") == pytest.approx({W01: 60.0, W02: 240.0}, abs=1e-6)
    more = replace(heavy, man_hours={SKILL: 40.0})
    less = grown.replace(packages=(replace(base.packages[0], stages=(more,)),))
    answer = replanned(less, levelled_plan(), day(7))
    assert hours_of(answer.plan, "C1") == pytest.approx({W01: 40.0}, abs=1e-6)


def test_work_that_is_over_counts_in_the_weeks_in_which_it_was_done() -> None:
    base = levelled_base()
    heavy = replace(base.packages[0].stages[0], man_hours={SKILL: 110.0})
    answer = replanned(
        base.replace(packages=(replace(base.packages[0], stages=(heavy,)),)),
        levelled_plan(),
        day(14),
    )
    assert hours_of(answer.plan, "C1") == pytest.approx({W01: 66.0, W02: 44.0}, abs=1e-6)


def test_a_plan_of_even_hours_that_may_now_be_levelled_keeps_its_even_past() -> None:
    answer = replanned(levelled_base(), spread_evenly(levelled_plan()), day(7))
    assert hours_of(answer.plan, "C1")[W01] == pytest.approx(40.0)


def test_where_hours_lie_evenly_nothing_is_told_of_what_is_done() -> None:
    base = with_peak(levelled_base(), 1.0)
    answer = replanned(base, spread_evenly(levelled_plan()), day(7))
    assert answer.base.work_done == ()
    assert answer.plan.placements == spread_evenly(levelled_plan()).placements


def test_a_second_re_plan_does_not_take_out_what_was_done_by_the_first() -> None:
    base = levelled_base()
    first = replanned(base, levelled_plan(), day(9))
    again = replanned(base.replace(work_done=first.base.work_done), first.plan, day(10))
    done = [
        {(d.check, h.monday): h.hours for d in one.base.work_done for h in d.hours}
        for one in (first, again)
    ]
    assert done[0]["C1", day(7)] == pytest.approx(40.0 * 2 / 6)
    assert done[1]["C1", day(7)] == pytest.approx(40.0 * 3 / 6)


@pytest.mark.parametrize(
    ("today", "hours", "says"),
    [
        (7, {W01: 59.0, W02: 41.0}, "with 59.00 man-hours of Mechanic in 2027-W01, but 60.00 were"),
        (7, {W01: 61.0, W02: 39.0}, "with 61.00 man-hours of Mechanic in 2027-W01, but 60.00 were"),
        (12, {W01: 60.0, W02: 40.0}, ""),
        (9, {W01: 60.0, W02: 40.0}, ""),
        (9, {W01: 60.0, W02: 13.0, W03: 27.0}, "done there before Wed 13 Jan 2027"),
    ],
)
def test_the_audit_notices_a_plan_that_changes_what_was_worked(
    today: int, hours: dict[str, float], says: str
) -> None:
    answer = replanned(levelled_base(), levelled_plan(), day(today))
    first, *others = answer.plan.placements
    stage = first.stages[0]
    stated = tuple(WeekHours(SKILL, week, amount) for week, amount in hours.items())
    changed = replace(first, stages=(replace(stage, hours=stated),))
    broken = " ".join(audit(answer.base, Plan((changed, *others))).broken)
    assert says in broken
    assert bool(broken) == bool(says)


def test_an_enquiry_beside_a_re_planned_plan_leaves_the_past_alone() -> None:
    base = levelled_base()
    answer = replanned(base.replace(checks=base.checks[:1]), levelled_plan(), day(7))
    standing = standing_plan(answer.base, answer.plan)
    assert hours_of(standing.plan, "C1") == pytest.approx({W01: 60.0, W02: 40.0}, abs=1e-6)
    # Not so without what is known of the past: then all of it is levelled.
    forgotten = standing_plan(answer.base.replace(work_done=()), answer.plan)
    assert hours_of(forgotten.plan, "C1") == pytest.approx({W01: 40.0, W02: 60.0}, abs=1e-6)


def test_the_plan_file_of_a_re_plan_tells_what_is_done() -> None:
    base = levelled_base()
    base = base.replace(checks=base.checks[:1])
    answer = replanned(base, levelled_plan(), day(7))
    outcome = as_outcome(answer.plan, answer.base, QUICK, 1.0, "time")
    told = summary(answer.base, outcome, (), workbook=base)
    asked = read_plan(base, json.dumps(told))
    assert asked.base.work_done == answer.base.work_done
    assert asked.plan.placements == answer.plan.placements
    made = told["made"]
    assert isinstance(made, dict)
    made["work_done"][0]["hours"][0]["hours"] = 50.0
    with pytest.raises(InputError, match="were done there"):
        read_plan(base, json.dumps(told))


def test_what_stays_as_it_was_worked_is_said() -> None:
    said = (
        "Levelled man-hours worked before Mon 11 Jan 2027 stay in their weeks (1 check in work or "
        "done); only what is left is levelled anew."
    )
    answer = replanned(levelled_base(), levelled_plan(), day(7))
    assert said in replan_in_words(answer)
    rigid = replanned(with_peak(levelled_base(), 1.0), spread_evenly(levelled_plan()), day(7))
    assert "man-hours worked before" not in replan_in_words(rigid)


def test_simulations_leave_the_past_alone() -> None:
    """Nothing is drawn of C1: 60 and 40 h as planned, and not 40 and 60 as from nothing."""
    base = levelled_base()
    answer = replanned(base.replace(checks=base.checks[:1]), levelled_plan(), day(7))
    forgotten = answer.base.replace(work_done=())
    for made_on, hours in ((answer.base, (60.0, 40.0)), (forgotten, (40.0, 60.0))):
        played = play(answer.plan, made_on, RiskSettings(draws=2), made_on)
        assert played.demand[:2, 0] == pytest.approx(hours)


def test_where_progress_is_told_the_past_asks_nothing_and_nothing_is_told_of_it() -> None:
    base = levelled_base().replace(progress=(WorkProgress("C1", day(7), done=0.6),))
    answer = replanned(base, levelled_plan(), day(10))
    assert {done.check for done in answer.base.work_done} == set()
    assert sum(hours_of(answer.plan, "C1").values()) == pytest.approx(40.0)
    later = replanned(base, levelled_plan(), day(12))
    assert {done.check for done in later.base.work_done} == {"C2"}


@pytest.mark.parametrize("news", [False, True])
@pytest.mark.parametrize("seed", [8, 12, 17, 62])
def test_past_weeks_of_any_levelled_plan_stay(seed: int, news: bool) -> None:
    base = with_levelling(every_rule_base(Random(seed)), Random(seed))
    plan = planned(base)
    if plan is None:
        return
    today = max(base.first_day, plan.placements[0].in_day) + timedelta(days=5 + seed % 9)
    if today > base.last_in_day:
        return
    changed = base
    if news:  # everybody who is not in yet asks for more
        changed = base.replace(
            checks=tuple(
                c if c.earliest_in < today else replace(c, findings_factor=c.findings_factor + 1.0)
                for c in base.checks
            )
        )
    answer = replan(changed, plan, today, QUICK)
    if isinstance(answer, Impossible):
        return
    assert audit(answer.base, answer.plan).broken == ()
    # Without news the plan before is as good as it was, wherever work is not counted from today.
    of_stage = {(p.check, s.stage): s for p in answer.plan.placements for s in p.stages}
    for told in answer.base.work_done:
        now = of_stage[told.check, told.stage]
        if now.first != told.first or not now.hours:
            continue
        for one in told.hours:
            stated = sum(
                h.hours
                for h in now.hours
                if h.skill == one.skill and monday_of_week(h.week) == one.monday
            )
            if one.monday + ONE_WEEK <= today:
                assert stated == pytest.approx(one.hours, abs=1e-6)
            else:
                assert stated >= one.hours - 1e-6
                assert one.monday == monday_of(today)
