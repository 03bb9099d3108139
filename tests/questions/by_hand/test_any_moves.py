"""Any moves in random bases, held to the audit, to the program that plans, and to themselves."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from random import Random

import numpy as np
import pytest

from capacity.facts import Base
from capacity.labour.calendar import calendar_of
from capacity.plans.audit import audit
from capacity.plans.plan import Plan
from capacity.questions.asking.places import only_places
from capacity.questions.asking.single_bays import single_bays
from capacity.questions.by_hand.answering import ByHand
from capacity.questions.by_hand.drafts import Draft
from capacity.questions.by_hand.held import held_at
from capacity.questions.by_hand.values import HandAnswer, HandMove, Limit
from capacity.search_settings import SearchSettings
from capacity.slots.candidates import find_slots
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.line.heed import nobody_stops
from capacity.slots.program.build import build, program_over
from capacity.slots.program.first_come import first_come
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.places import old_places
from capacity.slots.program.plan_of import plan_of
from capacity.slots.search.fixed_first import fixed_first
from tests.quick_and_long import some_of
from tests.reference.levelled_bases import with_levelling
from tests.reference.random_bases import small_base
from tests.slots.rich_bases import rich_base

MOVES = 12


def base_of(seed: int) -> Base:
    rng = Random(seed)
    base = rng.choice([rich_base, small_base])(rng)
    if rng.random() < 0.3:
        base = base.replace(comes_in_on_days_off=False, leaves_on_days_off=False)
    return with_levelling(base, rng) if seed % 3 == 2 else base


def plan_by_feel(base: Base) -> Plan | None:
    """Return the plan made first come, first served; None where fixed checks conflict."""
    built = build(base)
    program, slots = built.program, built.slots
    settled = fixed_first(program, slots, SearchSettings(), nobody_stops)
    plan = plan_of(first_come(program, slots, settled), program, slots)
    return None if audit(base, plan).broken else plan


def any_move(base: Base, rng: Random) -> HandMove:
    """Most of them near the window of their check, some before or after the plan."""
    check = rng.choice(base.checks)
    if rng.random() < 0.1:
        return HandMove(check.name)
    in_day = check.earliest_in + timedelta(days=rng.randint(-1, 6))
    if rng.random() < 0.2:
        in_day = base.first_day + timedelta(days=rng.randint(-3, 7 * base.weeks + 3))
    return HandMove(check.name, rng.choice(base.bays).name, in_day)


def moves_made(desk: ByHand, rng: Random) -> Iterator[tuple[Draft, HandAnswer]]:
    """Yield answers, and the draft that each was asked in; some that are legal are kept."""
    draft = Draft("any")
    for _ in range(MOVES):
        answer = desk.answer(draft.moves, any_move(desk.base, rng))
        yield draft, answer
        if answer.is_legal and rng.random() < 0.5:
            draft = draft.with_move(answer.move)


def least_money(base: Base, plan: Plan, answer: HandAnswer) -> float | None:
    """Return the least that the program that plans can do with the move fixed; None for nothing.

    All others have one place, their own; the one moved is held, and may take any pace and wait.
    """
    held = held_at(base, answer.move)
    slots = single_bays(find_slots(held, calendar_of(held), stated=plan.by_check()))
    names = [candidates.courses.check.name for candidates in slots.candidates]
    others = np.array([name != answer.move.check for name in names], dtype=np.bool_)
    slots = only_places(slots, old_places(slots, plan.by_check()), others)
    program = program_over(slots, held)
    start = np.where(others & (np.diff(program.first_column) > 0), program.first_column[:-1], -1)
    number = names.index(answer.move.check)
    if not len(program.free_columns(number, program.slack(start))):
        return None
    start[number] = program.free_columns(number, program.slack(start))[0]
    # Nobody may be left out, for days or for money: that would be another plan.
    program = replace(program, unplaced_past=np.full(len(program.checks), 1000, dtype=np.int64))
    program = replace(program, days_allowed=program.days_past(start))
    solved = branch_and_cut(money_form(program), start, 5)
    assert solved.chosen is not None
    return program.cost(solved.chosen)[1]


@pytest.mark.parametrize("seed", some_of(range(14), quick=2))
def test_what_is_legal_passes_the_audit_and_what_is_not_is_refused(seed: int) -> None:
    base, rng = base_of(seed), Random(seed)
    plan = plan_by_feel(base)
    if plan is None:
        return
    desk = ByHand(base, plan)
    for draft, answer in moves_made(desk, rng):
        if answer.plan is None:
            assert answer.limits
            continue
        held = held_at(desk.base_after(draft.moves), answer.move)
        found = audit(held, answer.plan)
        assert answer.audit is not None
        assert found.goals.days_past_latest_in == answer.audit.goals.days_past_latest_in
        assert found.goals.money == pytest.approx(answer.audit.goals.money, abs=0.01)
        if any(limit.limit is Limit.FIXED for limit in answer.limits) and answer.move.is_off:
            continue  # no search makes a plan without a fixed check; the audit lists it
        assert answer.is_legal == (not found.broken)
        if answer.is_legal:
            others = {
                n: s for n, s in answer.plan.slots_by_check().items() if n != answer.move.check
            }
            before = answer.plan_before.slots_by_check()
            assert others == {n: s for n, s in before.items() if n != answer.move.check}


@pytest.mark.parametrize("seed", some_of(range(14), quick=1))
def test_the_course_is_the_cheapest_that_the_program_has(seed: int) -> None:
    base, rng = base_of(seed), Random(100 + seed)
    plan = plan_by_feel(base)
    if plan is None:
        return
    desk = ByHand(base, plan)
    for draft, answer in moves_made(desk, rng):
        fixed = any(limit.limit is Limit.FIXED for limit in answer.limits)
        if answer.move.is_off or fixed or answer.priced < answer.courses:
            continue
        least = least_money(desk.base_after(draft.moves), answer.plan_before, answer)
        assert (least is not None) == answer.is_legal
        if least is not None:
            assert answer.audit is not None
            assert answer.audit.goals.money == pytest.approx(least, abs=0.01)


@pytest.mark.parametrize("seed", some_of(range(6), quick=1))
def test_moves_undone_and_done_again_lead_to_the_same_plan(seed: int) -> None:
    base, rng = base_of(seed), Random(200 + seed)
    plan = plan_by_feel(base)
    if plan is None:
        return
    desk = ByHand(base, plan)
    drafts = [draft for draft, _ in moves_made(desk, rng)]
    last = drafts[-1]
    plans = [desk.plan_after(last.moves[:n]) for n in range(len(last.moves) + 1)]
    back = last
    for made in reversed(plans):
        assert desk.plan_after(back.moves) == made
        back = back.undo()
    assert back.moves == ()
    # On another desk, as after a restart, the moves lead to the same plan.
    anew = ByHand(base, plan)
    for made in plans:
        assert anew.plan_after(back.moves) == made
        back = back.redo()
