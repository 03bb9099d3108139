"""A plan of the invented quarter, laid and levelled once and judged by the audit."""

from collections import defaultdict
from dataclasses import replace
from datetime import timedelta

import pytest

from capacity.facts import Base
from capacity.plans.audit import Audit, audit
from capacity.plans.levelled import Levelling, levelling_of
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.standing_plan import standing_plan
from capacity.questions.replan.replanning import replan
from capacity.questions.replan.values import Replanned
from capacity.settings import Settings
from tests.samples.places_of_quarter import PLACES, plan_of_quarter


@pytest.fixture(scope="module")
def plan(quarter: Base) -> Plan:
    """Return the plan, with its man-hours where they are cheapest in its slots."""
    return standing_plan(quarter, plan_of_quarter(quarter)).plan


@pytest.fixture(scope="module")
def audited(quarter: Base, plan: Plan) -> Audit:
    """Return what the audit makes of the plan."""
    return audit(quarter, plan)


@pytest.mark.long
def test_two_weeks_later_the_checks_that_are_in_can_go_on(quarter: Base, plan: Plan) -> None:
    """README's example of a re-plan: what is told of checks in work still fits the plan."""
    today = quarter.first_day + timedelta(days=14)
    answer = replan(quarter, plan, today, Settings(seconds=1.0))
    assert isinstance(answer, Replanned)
    assert not set(answer.begun) & set(answer.found.plan.not_placed)
    assert len(answer.begun) > 8


def test_every_booked_check_can_start_by_its_latest_in(plan: Plan, audited: Audit) -> None:
    assert audited.broken == ()
    assert (plan.not_placed, audited.goals.days_past_latest_in) == ((), 0)


def test_three_options_are_taken_and_one_is_not(quarter: Base, plan: Plan) -> None:
    options = {check.name for check in quarter.checks if check.status == "option"}
    assert set(plan.refused) == {"P-05"}
    assert options - set(plan.refused) == {"N-14", "R-10", "W-11"}


def test_the_bays_are_well_used(quarter: Base, plan: Plan) -> None:
    end = quarter.first_day + timedelta(weeks=quarter.weeks)
    used = sum(
        (min(place.out_day, end) - max(place.in_day, quarter.first_day)).days
        for place in plan.placements
        if place.in_day < end
    )
    closed = sum((closure.last - closure.first).days + 1 for closure in quarter.closures)
    # Bay 32 and its two narrow halves are never in use together.
    positions = len(quarter.bays) - 2
    assert 0.75 <= used / (positions * 7 * quarter.weeks - closed) <= 0.90


def test_every_skill_is_asked_for_most_of_what_it_can_give(quarter: Base, audited: Audit) -> None:
    asked: defaultdict[str, float] = defaultdict(float)
    given: defaultdict[str, float] = defaultdict(float)
    for load in audited.weeks[: quarter.weeks * len(quarter.skills)]:
        asked[load.skill] += load.demand
        given[load.skill] += load.regular
    shares = {skill: asked[skill] / given[skill] for skill in asked}
    assert all(0.75 <= share <= 0.90 for share in shares.values()), shares


def test_some_weeks_buy_overtime_and_two_contract_labour_but_none_is_overloaded(
    audited: Audit,
) -> None:
    visible = {(load.week, load.skill) for load in audited.weeks if load.overtime > 100}
    assert visible == {("2027-W02", "Airframe"), ("2027-W04", "Structures")}
    contract = {(load.week, load.skill) for load in audited.weeks if load.contract > 10}
    assert contract == {("2027-W01", "Cabin"), ("2027-W02", "Airframe")}
    assert any(load.overtime == pytest.approx(load.overtime_cap) for load in audited.weeks)
    assert sum(load.contract for load in audited.weeks) > 100
    assert audited.goals.overload_hours == 0


def test_a_contract_crew_and_crews_of_two_skills_give_hours(quarter: Base, audited: Audit) -> None:
    crews = {crew.name: crew for crew in quarter.crews}
    given = [hours for hours in audited.crew_hours if hours.hours > 1]
    assert any(crews[hours.crew].employment == "contract" for hours in given)
    second = {hours.crew for hours in given if hours.skill != crews[hours.crew].skills[0]}
    assert second == {"Systems", "Interiors"}


def test_checks_go_from_maintenance_to_paint_and_back(quarter: Base, plan: Plan) -> None:
    work = {bay.name: bay.work for bay in quarter.bays}
    kinds: defaultdict[str, list[str]] = defaultdict(list)
    for place in sorted(plan.placements, key=lambda place: place.in_day):
        kinds[place.check] += work[place.bay]
    moved = {check: way for check, way in kinds.items() if len(way) > 1}
    assert moved.keys() == {"N-06", "N-13"}
    assert all(way == ["maintenance", "paint", "maintenance"] for way in moved.values())


def stays_in(plan: Plan, bay: str) -> list[Placement]:
    return [place for place in plan.placements if place.bay == bay]


def test_the_wide_position_and_its_two_halves_are_used_in_turn(plan: Plan) -> None:
    wide = stays_in(plan, "Bay 32")
    left, right = stays_in(plan, "Bay 32 left"), stays_in(plan, "Bay 32 right")
    assert {place.check for place in wide} == {"W-04", "W-09"}
    assert {place.check for place in (*left, *right)} == {"N-07", "N-10", "N-13"}
    assert max(left[0].in_day, right[0].in_day) < min(left[0].out_day, right[0].out_day)


def test_the_bay_behind_is_entered_on_the_day_on_which_its_way_is_clear(
    quarter: Base, plan: Plan
) -> None:
    assert {place.check for place in stays_in(plan, "Bay 35")} == {"R-03", "R-09"}
    a_day_earlier = PLACES.replace("R-03 Bay 35       2027-01-24", "R-03 Bay 35       2027-01-23")
    assert a_day_earlier != PLACES
    broken = audit(quarter, plan_of_quarter(quarter, a_day_earlier)).broken
    assert any("R-02 is in its way in bay Bay 34" in sentence for sentence in broken)


@pytest.mark.parametrize("asking", ["2 of R-01 and 2 of R-02", "2 of R-05 and 2 of R-06"])
def test_propellers_that_are_not_waited_for_are_too_many_for_the_shop(
    quarter: Base, asking: str
) -> None:
    broken = audit(quarter, plan_of_quarter(quarter, waiting="")).broken
    assert any(f"too few for the 4 sent to it: {asking}" in sentence for sentence in broken)


@pytest.mark.parametrize("pool", ["Jack set", "Tail dock", "Tank ventilation set", "Rescue kit"])
def test_with_one_piece_fewer_the_plan_could_not_stand(
    quarter: Base, plan: Plan, pool: str
) -> None:
    fewer = tuple(
        replace(known, number=known.number - (known.name == pool)) for known in quarter.equipment
    )
    broken = audit(replace(quarter, equipment=fewer), plan).broken
    assert broken
    assert all(sentence.startswith(pool) for sentence in broken)


def test_one_flexible_stage_is_run_faster_and_one_slower_than_usual(
    quarter: Base, plan: Plan
) -> None:
    usual = {s.name: s.days for package in quarter.packages for s in package.stages}
    days = {
        (place.check, stage.stage): (stage.until - stage.first).days
        for place in plan.placements
        for stage in place.stages
        if stage.stage in ("Floor beams repaired", "Wiring for the new seats")
    }
    assert days.keys() == {
        ("W-05", "Floor beams repaired"),
        ("W-08", "Wiring for the new seats"),
        ("W-11", "Wiring for the new seats"),
    }
    # No holiday falls into the first two; Easter Monday into the last.
    assert days["W-05", "Floor beams repaired"] == usual["Floor beams repaired"] - 1
    assert days["W-08", "Wiring for the new seats"] == usual["Wiring for the new seats"]
    assert days["W-11", "Wiring for the new seats"] == usual["Wiring for the new seats"] + 1 + 1


def test_gear_swings_find_nobody_else_at_work(quarter: Base, plan: Plan) -> None:
    for place in plan.placements:
        swings = [stage for stage in place.stages if stage.stage == "Gear swing"]
        for swing in swings:
            others = [stage for stage in place.stages if stage != swing]
            assert all(o.until <= swing.first or swing.until <= o.first for o in others)


def test_somebody_goes_home_late_and_somebody_comes_early(audited: Audit) -> None:
    assert [a.check for a in audited.accounts if a.late_money > 0] == ["N-02"]
    assert sum(account.early_money > 0 for account in audited.accounts) >= 5


def test_the_money_is_that_of_the_proven_plan(audited: Audit) -> None:
    # Measured: the search proved that no plan costs less.
    assert audited.goals.money == pytest.approx(28_092.15, abs=0.01)


@pytest.fixture(scope="module")
def levelling(quarter: Base, plan: Plan, audited: Audit) -> Levelling:
    """Return what levelling does to the plan."""
    found = levelling_of(plan, quarter, audited)
    assert found is not None
    return found


def test_evenly_in_the_same_slots_it_would_cost_more_than_ten_times_as_much(
    quarter: Base, audited: Audit, levelling: Levelling
) -> None:
    evenly = audit(quarter, plan_of_quarter(quarter))
    assert levelling.saved == pytest.approx(evenly.goals.money - audited.goals.money)
    assert evenly.goals.money > 10 * audited.goals.money


def test_what_is_put_off_is_work_that_may_wait(quarter: Base, levelling: Levelling) -> None:
    packages = {check.name: check.package for check in quarter.checks}
    gives = {
        (package.name, stage.name)
        for package in quarter.packages
        for stage in package.stages
        if stage.daily_peak > 1
    }
    moved = [week for week in levelling.weeks if abs(week.moved) > 1]
    assert len({week.check for week in moved}) > 10
    assert {(packages[week.check], week.stage) for week in moved} <= gives
    # Hours are put off and none are added.
    assert sum(week.moved for week in levelling.weeks) == pytest.approx(0, abs=1e-6)
