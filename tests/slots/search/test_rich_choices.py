"""The search and the audit, which share no code, agree on bases that use every rule at once."""

from random import Random

import numpy as np
import pytest
from hypothesis import assume
from hypothesis import strategies as st

import capacity
from capacity.facts import Status
from capacity.slots.program.linear_form import money_form
from tests.quick_and_long import holds_for
from tests.slots.building import Built, Choice, built, columns_of_check, nothing, some_choice
from tests.slots.rich_bases import rich_base


def fixed_are_placed(made: Built, chosen: Choice) -> bool:
    return all(
        chosen[number] >= 0 or candidates.courses.check.status is not Status.FIXED
        for number, candidates in enumerate(made.slots.candidates)
    )


def settled_stands(made: Built) -> bool:
    """Say whether a fixed check without any choice left can stand at all."""
    return not made.slots.settled or not made.audited(nothing(made.program)).broken


def any_choice(made: Built, rng: Random) -> Choice:
    """Take any column for each check, whatever the others take."""
    columns = [columns_of_check(made.program, n) for n in range(len(made.program.checks))]
    return np.array([rng.choice([-1, *own.tolist()]) for own in columns], dtype=np.int64)


@holds_for(quick=16, long=80, rng=st.randoms(use_true_random=False))
def test_a_choice_that_keeps_the_rows_stands_up_to_the_audit_and_costs_the_same(
    rng: Random,
) -> None:
    made = built(rich_base(rng))
    chosen = some_choice(made.program, rng)
    assume(settled_stands(made) and fixed_are_placed(made, chosen))
    audit = made.audited(chosen)
    assert audit.broken == ()
    days, money = made.program.cost(chosen)
    assert audit.goals.days_past_latest_in == days
    assert audit.goals.money == pytest.approx(money, abs=0.005)


@holds_for(quick=16, long=80, rng=st.randoms(use_true_random=False))
def test_a_choice_breaks_a_row_when_the_audit_finds_a_broken_rule(rng: Random) -> None:
    made = built(rich_base(rng))
    chosen = any_choice(made, rng)
    assume(settled_stands(made) and fixed_are_placed(made, chosen))
    if made.program.holds(chosen):
        assert made.audited(chosen).broken == ()
        return
    try:
        audit = made.audited(chosen)
    except capacity.errors.EngineError:
        return  # too many stays for a group of bays: no plan can be written down
    assert audit.broken != ()


@holds_for(quick=10, long=40, rng=st.randoms(use_true_random=False))
def test_a_choice_costs_the_same_in_the_linear_form(rng: Random) -> None:
    made = built(rich_base(rng))
    chosen = some_choice(made.program, rng)
    form = money_form(made.program)
    entries = form.entries_of(chosen)
    assert form.cost @ entries + form.offset == pytest.approx(
        made.program.cost(chosen)[1], abs=1e-4
    )
    rows = form.matrix @ entries
    assert (rows >= form.row_lower - 1e-6).all()
    assert (rows <= form.row_upper + 1e-6).all()
    assert (entries <= form.upper + 1e-6).all()


@holds_for(quick=2, long=12, rng=st.randoms(use_true_random=False))
def test_every_rich_base_is_planned_to_proof_or_said_to_be_impossible(rng: Random) -> None:
    outcome = capacity.plan(rich_base(rng), capacity.Settings(seconds=20))
    if isinstance(outcome, capacity.Planned):
        assert outcome.stopped_by == "proof"
    else:
        assert isinstance(outcome, capacity.Impossible)
