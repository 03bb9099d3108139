"""Enquiries whose answer can be worked out on paper."""

from dataclasses import replace
from threading import Event

import pytest

from capacity import InputError, Settings
from capacity.facts import Base, Check, Package, Skill, Stage, Status
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.enquiries.asked import ask, enquiry
from capacity.questions.enquiries.combinations import best_combinations
from tests.questions.asking_about import planned
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit

DEAR = Skill("Mechanic", 50.0, 0.5, 70.0, 0.0)
QUICK = Settings(seconds=10)


def option(name: str, days: int, first: int, last: int, price: float, **changes: object) -> Check:
    return visit(name, days, first, last, status=Status.OPTION, price=price, **changes)


def busy_base(*checks: Check) -> Base:
    """Weeks of 70 regular hours and 35 of overtime in two bays; a busy visit asks 100 a week."""
    asks = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 100.0}),))
    base = stories.base(bays(2), *checks, skills=(DEAR,))
    return base.replace(packages=(*base.packages, asks))


def plan_of(base: Base) -> Plan:
    plan = planned(base)
    assert plan is not None
    return plan


def test_an_enquiry_is_told_what_the_hours_it_asks_would_cost() -> None:
    base = busy_base(visit("A", 7, 0, 0))
    asked = option("O", 7, 0, 0, price=1499.0, package="busy")
    (answer,) = ask(base, plan_of(base), [asked])
    assert answer.break_even == pytest.approx(30 * 50.0)
    (slot,) = answer.slots
    assert (slot.bays, slot.in_day, slot.out_day, slot.pace) == (("B2",), day(0), day(7), "normal")
    (more,) = answer.hours_more
    assert (more.week, more.skill) == ("2027-W01", "Mechanic")
    assert (more.overtime, more.contract, more.overload) == (pytest.approx(30.0), 0.0, 0.0)
    assert answer.overloads == ()


def test_it_is_told_where_it_would_overload_somebody() -> None:
    base = busy_base(visit("A", 7, 0, 0, package="busy"))
    asked = option("O", 7, 0, 0, price=0.0, package="busy")
    (answer,) = ask(base, plan_of(base), [asked])
    # 200 hours asked, 70 regular, 35 overtime: 95 that nobody does; 30 of overtime bought before.
    assert answer.break_even == pytest.approx(5 * 50.0 + 95 * base.overload_cost)
    assert [more.overload for more in answer.overloads] == [pytest.approx(95.0)]


def test_own_early_and_late_days_are_part_of_the_cost() -> None:
    base = stories.base(bays(1), visit("A", 5, 4, 4))
    asked = option(
        "O", 4, 0, 9, price=0.0, early_cost_per_day=10.0, late_cost_per_day=100.0, agreed_out=day(5)
    )
    (answer,) = ask(base, plan_of(base), [asked])
    # Before A: in on day 0, nine days early. Behind A: in on day 9, out on 13, eight days late.
    assert [(s.in_day, s.early_days, s.late_days, s.cost) for s in answer.slots] == [
        (day(0), 9, 0, pytest.approx(90.0)),
        (day(9), 0, 8, pytest.approx(800.0)),
    ]
    (on_time,) = ask(base, plan_of(base), [asked], on_time_only=True)
    assert [slot.in_day for slot in on_time.slots] == [day(0)]


def test_another_moves_for_it_when_it_may() -> None:
    # B alone stands on day 3 for nothing; for the enquiry it would have to come in three days
    # early, at 10 a day.
    base = stories.base(bays(1), visit("B", 3, 0, 3, early_cost_per_day=10.0))
    asked = option("O", 3, 3, 3, price=5.0)
    plan = plan_of(base)
    (answer,) = ask(base, plan, [asked])
    assert (answer.slots, answer.in_the_way, answer.with_moves) == ((), ("B",), None)
    assert not answer.proven_no_way  # nobody has looked
    (answer,) = ask(base, plan, [asked], may_move=["B"], settings=QUICK)
    moved = answer.with_moves
    assert moved is not None
    assert moved.break_even == answer.lowest_break_even == pytest.approx(30.0)
    assert (moved.proven, moved.least_break_even) == (True, pytest.approx(30.0))
    assert [(move.check, move.days) for move in moved.moves] == [("B", -3)]
    assert (moved.costs.early, moved.costs.early_of_others) == (0.0, pytest.approx(30.0))
    whole = base.replace(checks=(*base.checks, replace(asked, price=moved.break_even)))
    after = audit(whole, moved.plan)
    assert after.broken == ()
    assert after.goals.money == pytest.approx(audit(base, plan).goals.money, abs=0.005)


def test_nobody_is_made_to_start_past_its_lawful_day_for_an_enquiry() -> None:
    base = stories.base(bays(1), visit("B", 3, 3, 3))
    asked = option("O", 3, 3, 3, price=1e6)
    (answer,) = ask(base, plan_of(base), [asked], may_move=None, settings=QUICK)
    assert answer.with_moves is None
    assert answer.proven_no_way


def test_an_option_is_given_up_for_an_enquiry_that_pays_more() -> None:
    base = stories.base(bays(1), option("B", 3, 3, 3, price=400.0))
    (answer,) = ask(
        base, plan_of(base), [option("O", 3, 3, 3, price=0.0)], may_move=None, settings=QUICK
    )
    moved = answer.with_moves
    assert moved is not None
    assert moved.break_even == moved.costs.prices_of_others == pytest.approx(400.0)
    assert [(move.check, move.after) for move in moved.moves] == [("B", ())]


def test_what_moves_alone_would_save_is_not_credited_to_the_enquiry() -> None:
    late = visit("B", 3, 0, 5, early_cost_per_day=10.0)
    base = stories.base(bays(1), late)
    # A plan that is not the best: B comes in on day 2, three days early, for nothing.
    at_two = plan_of(base.replace(checks=(replace(late, latest_in=day(2)),)))
    asked = option("O", 2, 0, 0, price=0.0)
    (answer,) = ask(base, at_two, [asked], may_move=None, settings=QUICK)
    moved = answer.with_moves
    assert moved is not None
    assert moved.better_without == pytest.approx(30.0)
    assert moved.break_even == pytest.approx(0.0)


def test_a_set_stop_leaves_out_the_search_only() -> None:
    stop = Event()
    stop.set()
    base = stories.base(bays(1), visit("B", 3, 0, 5))
    asked = option("O", 2, 0, 9, price=0.0)
    (answer,) = ask(base, plan_of(base), [asked], may_move=None, stop=stop)
    assert answer.with_moves is None
    assert answer.break_even == pytest.approx(0.0)


def test_an_enquiry_by_phone_comes_in_so_that_it_is_out_as_agreed() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    asked = enquiry(base, "Twin", "4 days", day(2), agreed_out=day(12), price=7.0)
    assert (asked.latest_in, asked.status, asked.price) == (day(8), Status.OPTION, 7.0)
    (answer,) = ask(base, plan_of(base), [asked])
    assert {slot.in_day for slot in answer.slots} == {day(5), day(6), day(7), day(8)}
    assert enquiry(base, "Twin", "4 days", day(2)).latest_in == base.last_in_day


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({"type": "Twinn"}, "'Twinn' is not in the sheet Aircraft types"),
        ({"package": "nothing"}, "'nothing' is not in the sheet Packages"),
        ({"name": "A"}, "'A' is already a check in the base's workbook"),
        ({"status": Status.BOOKED}, "is booked"),
        ({"latest_in": day(1)}, "is before Earliest in"),
        ({"remaining": 0.5}, "not for an enquiry"),
        ({"earliest_in": day(-9), "latest_in": day(-8)}, "8 days before the First day"),
        (
            {"earliest_in": day(700), "latest_in": day(701)},
            "the last day on which a check can come in under this plan",
        ),
        ({"agreed_out": day(2)}, "Agreed out Wed 6 Jan 2027 is not after"),
    ],
)
def test_a_faulty_enquiry_is_refused_with_what_is_wrong(
    changes: dict[str, object], what: str
) -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    faulty = replace(option("O", 4, 2, 9, price=1.0), **changes)
    with pytest.raises(InputError, match=what) as caught:
        ask(base, plan_of(base), [faulty])
    assert all(message.where and message.remedy for message in caught.value.messages)


def test_who_may_move_must_be_known() -> None:
    base = stories.base(bays(1), visit("A1", 5, 0, 0))
    with pytest.raises(InputError, match="'A2' is not a check in the workbook"):
        ask(base, plan_of(base), [option("O", 4, 2, 9, price=1.0)], may_move=["A2"])


def test_a_plan_of_another_base_is_told_by_the_checks_that_do_not_fit() -> None:
    plan = plan_of(stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 6, 6)))
    other = stories.base(bays(1), visit("A", 5, 0, 0), visit("B", 5, 7, 7))
    with pytest.raises(InputError, match="B in B1 from Sun 10 Jan 2027") as caught:
        ask(other, plan, [option("O", 4, 2, 9, price=1.0)])
    assert len(caught.value.messages) == 1


def test_without_enquiries_there_is_nothing_to_answer() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    plan = plan_of(base)
    assert ask(base, plan, []) == ()
    answer = best_combinations(base, plan, [])
    assert (answer.best.names, answer.best.gain, answer.runners_up) == ((), 0.0, ())
    empty = stories.base(bays(1))
    assert best_combinations(empty, plan_of(empty), []).best.proven


def test_a_base_in_which_everything_is_fixed_takes_enquiries_too() -> None:
    base = stories.base(bays(1), fixed("F", 5, 0, "B1"))
    (answer,) = ask(base, plan_of(base), [option("O", 4, 2, 9, price=1.0)], may_move=None)
    assert answer.cheapest is not None
    assert answer.cheapest.in_day == day(5)


def test_nobody_can_hold_an_aircraft_that_fits_no_bay() -> None:
    base = stories.base(bays(1), visit("A", 5, 0, 0))
    base = base.replace(types=(*base.types, replace(base.types[0], name="Broad", span_m=90.0)))
    asked = option("O", 4, 2, 9, price=1.0, type="Broad")
    (answer,) = ask(base, plan_of(base), [asked], may_move=None, settings=QUICK)
    assert (answer.slots, answer.in_the_way, answer.proven_no_way) == ((), (), True)
    assert [price.slot for price in answer.curve] == [None, None]


def test_an_enquiry_without_a_place_gains_nothing_by_itself() -> None:
    """B1 is taken by A on days 0 to 6; O needs it on day 3, and P comes behind for 7 EUR."""
    base = stories.base(bays(1), visit("A", 7, 0, 0))
    asked = [option("O", 2, 3, 3, price=9.0), option("P", 2, 7, 9, price=7.0)]
    answer = best_combinations(base, plan_of(base), asked, QUICK, runners_up=3)
    assert [(one.check, one.gain) for one in answer.alone] == [("O", None), ("P", 7.0)]
    assert (answer.best.names, answer.best.gain) == (("P",), 7.0)
    # Behind it none is all that is left, since O has no place.
    assert [(one.names, one.gain) for one in answer.runners_up] == [((), 0.0)]


def test_a_combination_gains_its_prices_less_what_it_costs() -> None:
    """100 h in a week of 70 are 30 h of overtime at 50: 1,500 EUR of a price of 2,000.

    P costs nothing and brings 40; in the same bay a week later.
    """
    base = busy_base(visit("A", 7, 0, 0))
    asked = [
        option("O", 7, 0, 0, price=2000.0, package="busy"),
        option("P", 7, 7, 7, price=40.0),
    ]
    answer = best_combinations(base, plan_of(base), asked, QUICK, runners_up=2)
    told = (answer.best, *answer.runners_up)
    assert [one.names for one in told] == [("O", "P"), ("O",), ("P",)]
    assert [one.gain for one in told] == pytest.approx([540, 500, 40])
    assert [one.most_gain for one in told] == pytest.approx([540, 500, 40])
    assert all(one.proven and one.gain_of_moves == 0 and one.moves == () for one in told)
    assert [one.costs.overtime for one in told] == pytest.approx([1500, 1500, 0])
    assert [enquiry.price for enquiry in answer.best.enquiries] == [2000.0, 40.0]
    assert [one.gain for one in answer.alone] == pytest.approx([500, 40])


@pytest.mark.parametrize(
    ("first", "last", "weeks"),
    [
        (0, 6, ["2027-W01"]),
        (0, 7, ["2027-W01", "2027-W02"]),
        (6, 13, ["2027-W01", "2027-W02"]),
        # A window that began before the plan does is asked from its first day on.
        (-9, 3, ["2027-W01"]),
    ],
)
def test_the_curve_has_the_weeks_of_the_window_and_no_other(
    first: int, last: int, weeks: list[str]
) -> None:
    """Both days of the window count; day 0 is a Monday, and so is day 7."""
    base = stories.base(bays(1))
    (answer,) = ask(base, Plan(()), [option("O", 2, first, last, price=0.0)])
    assert [week.week for week in answer.curve] == weeks
    assert [week.cost for week in answer.curve] == [0.0] * len(weeks)


def test_the_lowest_break_even_price_is_the_cheaper_of_two_ways() -> None:
    """With nobody moved O is out three days late, at 100; with B three days early, at 10, it is 30.

    The other way round B's days cost 1,000, and O is late.
    """
    for early, lowest in ((10.0, 30.0), (1000.0, 300.0)):
        base = stories.base(bays(1), visit("B", 3, 0, 3, early_cost_per_day=early))
        late = {"late_cost_per_day": 100.0, "agreed_out": day(6)}
        asked = option("O", 3, 3, 6, price=0.0, **late)
        (answer,) = ask(base, plan_of(base), [asked], may_move=["B"], settings=QUICK)
        assert answer.break_even == pytest.approx(300.0)
        assert answer.lowest_break_even == pytest.approx(lowest)


def test_an_enquiry_to_an_empty_base_is_accepted() -> None:
    base = stories.base(bays(1))
    answer = best_combinations(base, Plan(()), [option("O", 2, 0, 0, price=9.0)], QUICK)
    assert (answer.best.names, answer.best.gain) == (("O",), 9.0)


def test_a_promise_of_days_moves_with_each_slot() -> None:
    """Five days of work: with four agreed every slot is a day late out, with five none is."""
    of = stories.base(stories.bays(1), stories.visit("A", 5, 0, 0))
    plan = planned(of)
    assert plan is not None
    for agreed_days, late in ((4, 1), (5, 0)):
        asked = enquiry(
            of, "Twin", "5 days", day(5), agreed_days=agreed_days, late_cost_per_day=70.0
        )
        (answer,) = ask(of, plan, [asked])
        assert {slot.late_days for slot in answer.slots} == {late}
        assert {slot.costs.late for slot in answer.slots} == {70.0 * late}
        (strict,) = ask(of, plan, [asked], on_time_only=True)
        assert bool(strict.slots) == (late == 0)
    with pytest.raises(InputError, match="both given"):
        enquiry(of, "Twin", "5 days", day(5), agreed_days=4, agreed_out=day(12))
