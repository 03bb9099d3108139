"""Moves by hand in bases whose answers are worked out on paper.

Costs are (weeks' hours bought x price) and (days x cost per day), common practice, no source.
"""

from dataclasses import replace

import pytest

from capacity import AuditError, InputError
from capacity.facts import Base, Closure, Package, Skill, Stage, Status
from capacity.plans.plan import Plan
from capacity.questions.by_hand.answering import ByHand
from capacity.questions.by_hand.drafts import Draft, figures_of, next_name
from capacity.questions.by_hand.values import HandMove, Limit
from capacity.questions.by_hand.wording import costs_in_words, verdict_in_words
from capacity.slots.rules.bay_days import ONE_AT_A_TIME
from capacity.slots.rules.closures import CLOSURE
from capacity.slots.rules.moves_on_days_off import COMES_IN
from capacity.slots.rules.rule import Rule
from tests.reference import stories
from tests.reference.stories import bays, day, fixed, visit
from tests.samples.laid_plan import laid_plan

Places = tuple[tuple[str, str, int], ...]


def by_hand(base: Base, *places: tuple[str, str, int]) -> ByHand:
    return ByHand(base, plan_of(base, *places))


def plan_of(base: Base, *places: tuple[str, str, int]) -> Plan:
    return laid_plan(base, [(name, bay, day(number)) for name, bay, number in places])


def to(name: str, bay: str, number: int) -> HandMove:
    return HandMove(name, bay, day(number))


def two_visits(**changes: object) -> Base:
    """A stays 5 days and is agreed out on day 8, at 100 a day; X stays 5 days."""
    a = visit("A", 5, 0, 5, agreed_out=day(8), late_cost_per_day=100.0, early_cost_per_day=10.0)
    return stories.base(bays(2), visit("X", 5, 0, 10), a, **changes)


def test_a_free_slot_is_legal_and_its_cost_is_told_by_kind() -> None:
    base = two_visits()
    found = by_hand(base, ("X", "B1", 0), ("A", "B2", 0)).answer((), to("A", "B2", 4))
    # 4 interval days at 10 are no longer lost, and it is out on day 9, a day late at 100.
    assert found.is_legal
    assert found.costs_more == pytest.approx(100.0 - 40.0)
    assert (found.late_days, found.days_past) == ((0, 1), (0, 0))
    assert {pair.name: pair.more for pair in found.money if pair.more} == {
        "early days": -40.0,
        "late days": 100.0,
        "money": 60.0,
    }
    assert verdict_in_words(found, base) == (
        "Legal: A into B2 on Fri 8 Jan 2027, out on Wed 13 Jan 2027."
    )
    assert list(costs_in_words(found, base)) == [
        "The plan costs 60 EUR more (unused interval -40 EUR, days late out +100 EUR).",
        "A is 1 day late out, 0 days before.",
    ]


def test_who_is_in_the_way_and_what_it_would_cost_without_them() -> None:
    base = two_visits()
    found = by_hand(base, ("X", "B1", 0), ("A", "B2", 0)).answer((), to("A", "B1", 4))
    assert not found.is_legal
    assert [(b.rule, b.by) for b in found.in_the_way] == [(Rule(ONE_AT_A_TIME, "B1"), ("X",))]
    assert found.costs_more == pytest.approx(60.0)
    assert found.audit is not None
    assert found.audit.broken  # by the audit's own words
    assert verdict_in_words(found, base) == ("Not legal: A into B1 on Fri 8 Jan 2027: taken by X.")
    assert next(costs_in_words(found, base)).startswith(
        "If nothing were in the way, the plan would cost 60 EUR more ("
    )


def test_a_move_that_is_kept_is_there_for_the_next_one() -> None:
    desk = by_hand(two_visits(), ("X", "B1", 0), ("A", "B2", 0))
    away = to("X", "B1", 10)
    assert desk.answer((away,), to("A", "B1", 4)).is_legal
    plan, audit = desk.plan_after((away, to("A", "B1", 4)))
    assert audit.broken == ()
    assert [(p.check, p.bay, p.in_day) for p in plan.placements] == [
        ("A", "B1", day(4)),
        ("X", "B1", day(10)),
    ]
    with pytest.raises(InputError, match="cannot be moved into B1 on Fri 8 Jan 2027 any more"):
        desk.plan_after((to("A", "B1", 4),))


@pytest.mark.parametrize(
    ("move", "limits", "words"),
    [
        (to("A", "B2", -1), [Limit.TOO_EARLY, Limit.BEFORE_THE_PLAN], "before its Earliest in"),
        (to("A", "B2", 13), [Limit.TOO_LATE], "the longest delay, 7 days (Base), past its Latest"),
        (to("A", "B2", 70), [Limit.TOO_LATE, Limit.AFTER_THE_PLAN], "the last day of the plan"),
        (to("O", "B2", 6), [Limit.TOO_LATE], "past its Latest in, Sat 9 Jan 2027 (Checks), as no"),
        (to("F", "B2", 0), [Limit.FIXED], "it is fixed in B1 on Mon 4 Jan 2027 (Checks)"),
        (HandMove("F"), [Limit.FIXED], "F off the bays: it is fixed in B1"),
        (to("A", "Low", 0), [Limit.BAY], "Low cannot hold it: "),
    ],
)  # fmt: skip
def test_limits_of_the_check_itself(move: HandMove, limits: list[Limit], words: str) -> None:
    low = replace(bays(1)[0], name="Low", max_tail_m=9.0)
    option = visit("O", 3, 0, 5, status=Status.OPTION)
    a = visit("A", 5, 0, 5)
    base = stories.base((*bays(2), low), fixed("F", 5, 0, "B1"), a, option)
    found = by_hand(base, ("F", "B1", 0), ("A", "B2", 0)).answer((), move)
    assert [limit.limit for limit in found.limits] == limits
    assert not found.is_legal
    assert words in verdict_in_words(found, base)


def test_a_lapsed_option_and_one_that_earns_its_price() -> None:
    base = stories.base(
        bays(1),
        visit("L", 3, 0, 5, status=Status.OPTION, decide_by=day(-1), price=500.0),
        visit("O", 3, 0, 5, status=Status.OPTION, price=700.0),
    )
    desk = by_hand(base)
    assert [limit.limit for limit in desk.answer((), to("L", "B1", 0)).limits] == [Limit.LAPSED]
    taken = desk.answer((), to("O", "B1", 0))
    assert taken.is_legal
    assert taken.costs_more == pytest.approx(-700.0)
    off = desk.answer((to("O", "B1", 0),), HandMove("O"))
    assert off.is_legal
    assert off.costs_more == pytest.approx(700.0)


def test_off_the_bays_counts_the_longest_delay_and_a_day() -> None:
    base = two_visits()
    found = by_hand(base, ("X", "B1", 0), ("A", "B2", 0)).answer((), HandMove("X"))
    assert found.is_legal
    assert found.plan is not None
    assert found.plan.not_placed == ("X",)
    assert found.audit is not None
    assert found.audit.goals.days_past_latest_in == 8
    assert verdict_in_words(found, base) == "Legal: X off the bays; it has no slot then."
    assert "8 days more past Latest in: 8 in all, 0 before; a check without a slot" in " ".join(
        costs_in_words(found, base)
    )


def test_closures_and_days_off_are_named() -> None:
    closed = two_visits(closures=(Closure("B2", day(6), day(7)),))
    places = ("X", "B1", 0), ("A", "B2", 0)
    found = by_hand(closed, *places).answer((), to("A", "B2", 4))
    assert [blocker.rule for blocker in found.in_the_way] == [Rule(CLOSURE, "B2", row=0)]
    off = two_visits(
        working_weekdays=frozenset(range(5)), comes_in_on_days_off=False, leaves_on_days_off=False
    )
    found = by_hand(off, *places).answer((), to("A", "B2", 5))
    assert [blocker.rule for blocker in found.in_the_way] == [COMES_IN]


def test_a_held_check_is_held_where_it_is_put() -> None:
    base = two_visits()
    held = replace(base.checks[1], held_in=day(0), held_bay="B2")
    base = base.replace(checks=(base.checks[0], held))
    desk = by_hand(base, ("X", "B1", 0), ("A", "B2", 0))
    move = to("A", "B2", 3)
    assert desk.answer((), move).is_legal
    after = desk.base_after((move,)).check("A")
    assert (after.held_bay, after.held_in) == ("B2", day(3))
    assert desk.base_after((move, HandMove("A"))).check("A").held_in is None


def test_nobody_who_is_in_moves_in_a_plan_that_was_made_again() -> None:
    base = two_visits(work_counts_from=day(2))
    desk = by_hand(base, ("X", "B1", 0), ("A", "B2", 3))
    assert [x.limit for x in desk.answer((), to("X", "B1", 4)).limits] == [Limit.IN_ALREADY]
    assert [x.limit for x in desk.answer((), to("A", "B2", 1)).limits] == [Limit.BEFORE_TODAY]
    found = desk.answer((), HandMove("X"))
    assert "it came in before Wed 6 Jan 2027, the day of the re-plan" in verdict_in_words(
        found, base
    )


def test_overload_that_comes_is_told_by_week_and_skill() -> None:
    # Weeks of 70 regular hours, no more than 35 of overtime; each visit asks 60 in its week.
    work = Package("busy", (Stage("Work", "maintenance", 7, {"Mechanic": 60.0}),))
    busy = [visit(name, 7, 0, 7, package="busy") for name in "AX"]
    base = stories.base(bays(2), *busy, skills=(Skill("Mechanic", 50.0, 0.5, 70.0, 0.0),))
    base = base.replace(packages=(*base.packages, work))
    found = by_hand(base, ("A", "B1", 0), ("X", "B2", 7)).answer((), to("X", "B2", 0))
    assert found.costs_more == pytest.approx(35 * 50.0 + 15 * base.overload_cost)
    assert list(costs_in_words(found, base))[1:] == [
        "Overload comes: 15 h of Mechanic in 2027-W01.",
        "More overtime and contract labour: 35 h of Mechanic in 2027-W01.",
    ]


def test_the_cheapest_pace_is_taken() -> None:
    # At its normal pace of 4 days A is out on day 6, two days late; at 2 days it is on time.
    paced = Package("paced", (Stage("Work", "maintenance", 4, shortest_days=2, longest_days=5),))
    a = visit("A", 4, 0, 5, package="paced", agreed_out=day(4), late_cost_per_day=100.0)
    base = stories.base(bays(1), a)
    base = base.replace(packages=(*base.packages, paced))
    found = by_hand(base, ("A", "B1", 0)).answer((), to("A", "B1", 2))
    assert (found.after[0].out_day, found.costs_more) == (day(4), pytest.approx(0.0))
    assert (found.courses, found.priced) == (4, 4)


def test_unknown_names_are_told_all_at_once() -> None:
    desk = by_hand(two_visits(), ("X", "B1", 0), ("A", "B2", 0))
    with pytest.raises(InputError) as fault:
        desk.answer((), to("Y", "B3", 0))
    assert [message.where for message in fault.value.messages] == ["check", "bay"]


def test_a_plan_that_breaks_a_rule_is_no_beginning() -> None:
    with pytest.raises(AuditError):
        by_hand(two_visits(), ("X", "B1", 0), ("A", "B1", 0))


def test_undo_and_redo() -> None:
    one, two, three = to("A", "B2", 3), to("X", "B1", 4), to("A", "B2", 2)
    draft = Draft("Draft A").with_move(one).with_move(two)
    assert draft.undo().redo() == draft
    assert draft.undo().undo().undo() == draft.undo().undo()
    assert draft.undo().moves == (one,)
    assert draft.undo().with_move(three).redo().moves == (one, three)
    assert draft.with_move(three).held == (three, two)
    off = draft.with_move(HandMove("A"))
    assert (off.held, off.off_the_bays) == ((two,), ("A",))


def test_drafts_side_by_side() -> None:
    base = two_visits()
    desk = by_hand(base, ("X", "B1", 0), ("A", "B2", 0))
    first = desk.plan_after(())
    plan, audit = desk.plan_after((to("A", "B2", 4), to("X", "B1", 3)))
    figures = figures_of("Draft A", plan, audit, *first)
    assert (figures.costs_more, figures.late_days, figures.days_past) == (60.0, 1, 0)
    assert [(move.check, move.days) for move in figures.moved] == [("X", 3), ("A", 4)]
    assert next_name(["Draft A", "Mine"]) == "Draft B"
