"""The first line of an answer says what is so, on the bases and plans of the tiny example."""

from dataclasses import replace
from pathlib import Path

import pytest

import capacity
from capacity.facts import Base
from capacity.inputs import read_book
from capacity.plans.plan import Plan
from capacity.questions.conflicts.values import Conflict, Conflicts
from capacity.questions.why.explain import Explanation, explain
from capacity.questions.why.in_one_line import NOTHING, in_one_line
from capacity.questions.why.values import Why
from capacity.settings import Settings

BASE = read_book(Path(capacity.__file__).parents[1] / "sample_inputs" / "tiny.xlsx").base
NAMES = [check.name for check in BASE.checks]


def why(name: str, **values: object) -> Why:
    return replace(
        Why(name, (), 0, 0, 0, 0.0, 0.0, 0, 0.0, 0.0, (), ()),
        **values,  # type: ignore[arg-type]
    )


def told(*whys: Why, conflicts: Conflicts | None = None, base: Base = BASE) -> str:
    return in_one_line(Explanation(conflicts, tuple(whys), ()), base)


def test_nothing_to_explain_is_said():
    assert told() == NOTHING


def test_one_check_without_a_better_place():
    assert told(why(NAMES[1])) == (
        f"In short: {NAMES[1]}: no slot, no other day or bay would be better."
    )


def test_several_checks_are_counted_and_the_worst_named():
    line = told(*[why(name) for name in NAMES[:3]])
    assert line.startswith("In short: 3 checks did not get their wish: ")
    assert line.count("no slot") + line.count("not taken") == 3
    assert "\n" not in line


@pytest.mark.parametrize(
    ("possible", "said"),
    [
        (True, "In short: all fixed and booked checks can come in by their Latest in."),
        (None, "In short: whether all fixed and booked checks can come in by their Latest in was "),
        (False, "In short: not all fixed and booked checks can come in by their Latest in, 1 con"),
    ],
)
def test_the_question_is_answered(possible, said):
    conflicts = (Conflict((), is_smallest=True),) if possible is False else ()
    found = Conflicts(tuple(NAMES), fixed_only=False, possible=possible, conflicts=conflicts)
    assert told(conflicts=found).startswith(said)


def test_two_fixed_checks_in_one_bay_are_answered_with_the_least_change():
    fixed = [c for c in BASE.checks if c.fixed_bay is not None]
    one = fixed[0] if fixed else BASE.checks[0]
    other = next(c for c in BASE.checks if c.name != one.name and c.type == one.type)
    bay, day = one.fixed_bay or BASE.bays[0].name, one.fixed_in or BASE.first_day
    both = {
        c.name: replace(c, status=type(c.status)("fixed"), fixed_bay=bay, fixed_in=day)
        for c in (one, other)
    }
    base = BASE.replace(checks=tuple(both.get(c.name, c) for c in BASE.checks))
    line = in_one_line(explain(base, settings=Settings(seconds=10.0)), base)
    assert line.startswith("In short: not all fixed checks can be in their bays on their days")
    assert ", the least change that helps: " in line


def test_a_check_of_a_plan_is_answered_with_who_is_in_the_way():
    plan = Plan((), tuple(c.name for c in BASE.checks if c.status != "option"))
    found = explain(
        BASE,
        replace(plan, refused=tuple(c.name for c in BASE.checks if c.status == "option")),
        Settings(seconds=5.0),
        check=plan.not_placed[-1],
    )
    line = in_one_line(found, BASE)
    assert line.startswith(f"In short: {plan.not_placed[-1]}: no slot, ")
