"""What each measure takes away, worked out on paper.

Source of the figures: arithmetic. Ten mechanics give 700 h a week, 70 each; then 140 h of
overtime at 60, 175 h of contract labour at 80, and 500 an hour that nobody is there for.
"""

from dataclasses import replace
from threading import Event

import pytest

from capacity.facts import Base, Closure, Crew
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.overtime.first_look import first_look
from capacity.questions.overtime.measures import (
    Figures,
    How,
    Measure,
    Measures,
    figures_of,
    try_measures,
)
from capacity.questions.overtime.trials import trials_of
from capacity.reports.overtime.wording import tried_in_words
from capacity.settings import Settings
from tests.plans.stories import FIRST_DAY, base, day, plan
from tests.questions.overtime_stories import (
    TEN,
    booked,
    fixed,
    package,
    stands,
    ten_mechanics,
    visit,
)

SECONDS = 5.0


def pulled(made: Plan, story: Base) -> Measures:
    """Pull all measures of a plan that stands."""
    assert audit(story, made).broken == ()
    measures = try_measures(story, made, Settings(seconds=SECONDS))
    assert measures.now == figures_of(audit(story, made))
    return measures


def of_kind(measures: Measures, kind: str) -> list[Measure]:
    return [measure for measure in measures.measures if measure.kind == kind]


def only(measures: Measures, kind: str) -> Measure:
    (measure,) = of_kind(measures, kind)
    return measure


def short_weeks(*asked: float, **changes: object) -> tuple[Plan, Base]:
    """Return fixed checks, a week each, that ask so many hours of the first weeks."""
    visits = tuple(visit(hours) for hours in dict.fromkeys(asked))
    names = [f"C{number}" for number in range(1, len(asked) + 1)]
    spans = list(zip(names, asked, range(0, 7 * len(asked), 7), strict=True))
    checks = [fixed(name, visit(hours), first) for name, hours, first in spans]
    placements = [stands(name, visit(hours), first) for name, hours, first in spans]
    return plan(*placements), ten_mechanics(visits, *checks, **changes)


def test_one_more_head_takes_away_the_hours_that_a_head_gives() -> None:
    # 100 h short: an eleventh head gives 70 of them, at 60 each, over eight weeks of pay.
    measure = only(pulled(*short_weeks(800)), "one more head")
    assert measure.what == "one more head in Ten (Mechanic), all 8 weeks"
    assert measure.how is How.SEARCHED_ANEW
    assert measure.overtime_less == pytest.approx(70)
    assert measure.saves == pytest.approx(70 * 60)
    assert measure.worth == pytest.approx(70 * 60 / 8)
    assert measure.after.overtime_hours == pytest.approx(30)
    assert measure.proven == pytest.approx(30 * 60)
    assert measure.moved == ()


def test_one_more_head_takes_overload_away_first_and_may_stay_longer_too() -> None:
    # 1,115 h: 770 regular, and with 11 heads 154 of overtime and 191 of 192.5 of contract.
    measure = only(pulled(*short_weeks(1115)), "one more head")
    after = 154 * 60 + 191 * 80
    assert measure.after == Figures(
        overtime_hours=pytest.approx(154),
        contract_hours=pytest.approx(191),
        overload_hours=pytest.approx(0, abs=1e-6),
        labour_money=pytest.approx(after),
        days_past=0,
        money=pytest.approx(after),
    )
    assert measure.overtime_less == pytest.approx(-14)
    assert measure.saves == pytest.approx(140 * 60 + 175 * 80 + 100 * 500 - after)


def test_the_head_goes_to_the_largest_crew_of_the_skill() -> None:
    three = Crew("Three", ("Mechanic",), 3, "Daily", FIRST_DAY)
    measure = only(pulled(*short_weeks(1000, crews=(three, TEN))), "one more head")
    assert measure.what.startswith("one more head in Ten ")


def test_a_contract_team_comes_before_overtime_and_costs_its_hours() -> None:
    # 50 h a week by one head in five shifts of 10 h: two heads take all 100 h, at 80 each.
    measure = only(pulled(*short_weeks(800)), "contract team")
    assert measure.what == (
        "a contract team of 2 in Mechanic from Mon 4 Jan 2027 for 1 week, on Day shifts"
    )
    assert measure.how is How.SLOTS_KEPT
    assert measure.overtime_less == pytest.approx(100)
    assert measure.after.contract_hours == pytest.approx(100)
    assert measure.after.labour_money == pytest.approx(100 * 80)
    assert measure.saves == pytest.approx(100 * 60 - 100 * 80)
    assert measure.worth is None


def test_a_contract_team_is_paid_what_it_gives_and_no_cap_grows() -> None:
    # 140 and 60 h are bought, in the mean 100: two heads leave 40 h of overtime in the first
    # week and are paid 60 h in the second.
    measure = only(pulled(*short_weeks(840, 760)), "contract team")
    assert measure.what.startswith("a contract team of 2 ")
    assert measure.after.overtime_hours == pytest.approx(40)
    assert measure.after.contract_hours == pytest.approx(100 + 60)
    assert measure.saves == pytest.approx(160 * 60 - 160 * 80)


def test_a_contract_team_takes_overload_away() -> None:
    # 415 h are bought; nine heads may give 450 h and give all of it.
    measure = only(pulled(*short_weeks(1115)), "contract team")
    assert measure.what.startswith("a contract team of 9 ")
    assert measure.after.overload_hours == pytest.approx(0, abs=1e-6)
    assert measure.after.contract_hours == pytest.approx(415)
    assert measure.saves == pytest.approx(140 * 60 + 175 * 80 + 100 * 500 - 415 * 80)


def test_a_team_a_run_of_weeks() -> None:
    # Weeks one and two belong together, week four stands alone and is cheaper.
    made, story = short_weeks(800, 800, 0, 720)
    teams = of_kind(pulled(made, story), "contract team")
    assert sorted(team.what for team in teams) == [
        "a contract team of 1 in Mechanic from Mon 25 Jan 2027 for 1 week, on Day shifts",
        "a contract team of 2 in Mechanic from Mon 4 Jan 2027 for 2 weeks, on Day shifts",
    ]


def two_in_one_week(last: int = 7) -> tuple[Plan, Base]:
    """Two checks of 690 h side by side in the first week, where 365 h are too many."""
    work = visit(690)
    checks = [booked(name, work, 0, last) for name in ("C1", "C2")]
    made = plan(stands("C1", work), stands("C2", work, bay="B2"))
    return made, ten_mechanics((work,), *checks)


def test_a_check_moved_a_week_takes_the_overload_away() -> None:
    measures = pulled(*two_in_one_week())
    for measure in of_kind(measures, "a check moved"):
        name = measure.what.split()[0]
        assert measure.what.startswith(f"{name} 7 days later, into B")
        assert measure.what.endswith(" on Mon 11 Jan 2027")
        assert measure.how is How.SLOTS_KEPT
        assert measure.after == Figures(0, 0, 0, 0, 0, 0)
        assert measure.overtime_less == pytest.approx(140)
        assert measure.saves == pytest.approx(140 * 60 + 175 * 80 + 365 * 500)
        assert measure.moved == (name,)
    assert len(of_kind(measures, "a check moved")) == 2


def test_a_check_moved_less_than_a_week_takes_its_days_along() -> None:
    # By a day at the most: 690 / 7 h of one check fall into the next week.
    measure = of_kind(pulled(*two_in_one_week(last=1)), "a check moved")[0]
    assert " 1 day later, " in measure.what
    assert measure.after.overload_hours == pytest.approx(365 - 690 / 7)


def test_the_last_check_in_can_be_moved_out_of_its_week() -> None:
    # No other check is there so late: without it the plan would end weeks before.
    work = visit(800)
    story = ten_mechanics((work,), booked("C1", work, 14, 21))
    measure = only(pulled(plan(stands("C1", work, 14)), story), "a check moved")
    # Over two weeks the 800 h keep below 700 h each.
    assert measure.after.overtime_hours == 0
    assert measure.saves == pytest.approx(100 * 60)


def test_fixed_checks_are_not_moved() -> None:
    assert of_kind(pulled(*short_weeks(800)), "a check moved") == []


def closed_bay(late_cost: float = 100.0) -> tuple[Plan, Base]:
    """Two checks, the second waiting ten days for the bay of the first; the other is closed.

    The first asks 770 h of its first seven days, so that 70 h of overtime are bought.
    """
    heavy, light = visit(1100, days=10), visit(0, days=10)
    waiting = booked("C2", light, 0, 0, agreed_out=day(10), late_cost_per_day=late_cost)
    story = ten_mechanics(
        (heavy, light),
        fixed("C1", heavy),
        waiting,
        closures=(Closure("B2", day(0), day(20), "door"),),
        longest_delay_days=12,
    )
    return plan(stands("C1", heavy), stands("C2", light, 10)), story


def test_a_bay_open_again_takes_lateness_away() -> None:
    measures = pulled(*closed_bay())
    assert (measures.without.days_past, measures.without.money) == (10, pytest.approx(1000 + 4200))
    measure = only(measures, "a bay open again")
    assert measure.what == "B2 open from Mon 4 Jan 2027 to Sun 24 Jan 2027 (door)"
    assert measure.after.days_past == 0
    assert measure.after.money == pytest.approx(4200)
    assert measure.saves == pytest.approx(10 * 100)
    assert measure.overtime_less == pytest.approx(0, abs=1e-6)
    assert measure.moved == ("C2",)


def test_a_first_look_moves_one_check_into_the_bay_and_searches_nothing() -> None:
    made, story = closed_bay()
    now = audit(story, made)
    (trial,) = (one for one in trials_of(made, story) if one.opened is not None)
    told = first_look(trial, made, now, Event(), lambda: True)
    assert told is not None
    assert (told.how, told.moved, told.after.days_past) == (How.FIRST_LOOK, ("C2",), 0)
    assert told.saves == pytest.approx(10 * 100)
    in_no_time = first_look(trial, made, now, Event(), lambda: False)
    assert in_no_time is not None
    assert (in_no_time.how, in_no_time.moved, in_no_time.saves) == (How.FIRST_LOOK, (), 0)


def test_a_first_look_counts_no_place_that_was_free_with_the_bay_closed() -> None:
    # Both bays are free a week on, when the closure is over: no doing of the bay's.
    made, story = two_in_one_week()
    later = Closure("B2", day(40), day(45))
    story = story.replace(closures=(later,))
    (trial,) = (one for one in trials_of(made, story) if one.opened is not None)
    told = first_look(trial, made, audit(story, made), Event(), lambda: True)
    assert told is not None
    assert (told.moved, told.saves) == ((), 0)


def test_how_well_each_was_looked_at_is_said_in_one_sentence() -> None:
    made, story = closed_bay()
    tried = try_measures(story, made, Settings(seconds=SECONDS))
    assert tried_in_words(replace(tried, seconds=3.2)) == (
        "3 measures tried in 3 s: 2 searched anew and 1 audited in the slots of this plan (there "
        "is no more to try of them)."
    )
    looked = tuple(
        replace(m, how=How.FIRST_LOOK) if m.how is How.SEARCHED_ANEW else m for m in tried.measures
    )
    assert tried_in_words(replace(tried, measures=looked, seconds=3.2)) == (
        "3 measures tried in 3 s: 1 audited in the slots of this plan (there is no more to try "
        "of them) and 2 at a first look only, with slots kept or one check moved. Allow more "
        "seconds to search for those of the first look too."
    )


def test_days_past_rank_before_money() -> None:
    # One more head saves all 4,200 of overtime, the bay 1,000 and ten days past Latest in.
    measures = pulled(*closed_bay())
    assert [measure.kind for measure in measures.measures] == [
        "a bay open again",
        "one more head",
        "contract team",
    ]
    assert measures.measures[1].saves == pytest.approx(4200)


def test_what_a_longer_search_finds_is_put_down_to_no_measure() -> None:
    # A search without any measure moves a check a week on and buys nothing more.
    made, story = two_in_one_week()
    measures = pulled(made, story)
    assert measures.now.money == pytest.approx(140 * 60 + 175 * 80 + 365 * 500)
    assert measures.without.money == 0
    head = only(measures, "one more head")
    assert measures.compared_with(head) == measures.without
    assert (head.saves, head.overtime_less, head.worth) == (0, 0, 0)
    moved = of_kind(measures, "a check moved")[0]
    assert measures.compared_with(moved) == measures.now


def test_measures_are_ranked_by_what_they_save() -> None:
    measures = pulled(*two_in_one_week())
    saved = [measure.saves for measure in measures.measures]
    assert saved == sorted(saved, reverse=True)
    assert len(saved) == 4


def test_where_nothing_is_bought_there_is_no_measure() -> None:
    quiet = base(closures=(Closure("B1", day(30), day(40)),))
    made = plan(stands("C1", package(*quiet.packages[0].stages), 5))
    measures = pulled(made, quiet)
    assert (measures.measures, measures.not_tried) == ((), ())
    assert measures.without == measures.now
    assert trials_of(made, quiet) == ()


def test_a_skill_without_people_of_its_own_gets_no_head() -> None:
    made, story = short_weeks(100, crews=())
    measures = pulled(made, story)
    assert of_kind(measures, "one more head") == []
    team = only(measures, "contract team")
    assert team.saves == pytest.approx(100 * 500 - 100 * 80)


@pytest.mark.parametrize("night", [False, True])
def test_a_team_works_the_longest_day_shift(night: bool) -> None:
    long = replace(short_weeks(800)[1].shifts[0], name="Long", hours=12.0, night=night)
    made, story = short_weeks(800)
    measure = only(pulled(made, story.replace(shifts=(*story.shifts, long))), "contract team")
    assert measure.what.endswith("on Day shifts" if night else "on Long shifts")


def test_a_check_is_moved_by_a_week_at_the_most() -> None:
    """Ten days of 100 h a day each, side by side: day 8 would be cheaper still than day 7."""
    work = visit(1000, days=10)
    story = ten_mechanics((work,), *(booked(name, work, 0, 20) for name in ("C1", "C2")))
    made = plan(stands("C1", work), stands("C2", work, bay="B2"))
    moved = [trial.what for trial in trials_of(made, story) if trial.kind == "a check moved"]
    assert len(moved) == 2
    assert all(" 7 days later, " in what for what in moved)
