"""What changed since the plan before and since the workbook was opened: a line, and marks."""

from collections.abc import Iterator, Mapping

from capacity.facts import Base
from capacity.plans.outcome import Planned
from capacity.plans.plan import Goals, Plan
from capacity.questions.compare.two_plans import compare
from capacity.reports.compare.wording import notes_on_steps, steps_in_words
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.plan.view import View
from capacity.words import LEAST_HOURS, LEAST_MONEY, counted, hours, listed, money
from ui.board.rows import CheckNote, Notes, WeekNote
from ui.desk.desk import Desk
from ui.desk.plan_job import (
    base_before,
    last_plan,
    outcome_at_first,
    outcome_before,
    plan_at_first,
    plan_before,
    result_of,
)
from ui.desk.plan_question import base_of
from ui.manager.risk_job import risk_of_plan_shown
from ui.manager.risk_rows import out_by_its_day, overload_by_week
from ui.rows import TableRow

NAMES = ("the plan before", "this plan")
BEFORE, OPENED = "Since the plan before", "Since the workbook was opened"


def moved_since(now: Plan, before: Plan) -> Mapping[str, str]:
    """Return for each check with another slot than before where it was, in words."""
    old, new = before.slots_by_check(), now.slots_by_check()
    return {
        name: f"was in {stay_in_words(old[name])}" if name in old else "had no slot"
        for name in {*old, *new}
        if old.get(name) != new.get(name)
    }


def change_in_words(now: Plan, before: Plan) -> str:
    """Return how many checks have another slot, have one now, or have none any more."""
    old, new = before.slots_by_check(), now.slots_by_check()
    other = sum(new[name] != slots for name, slots in old.items() if name in new)
    gained, lost = len(new.keys() - old.keys()), len(old.keys() - new.keys())
    told = [f"{counted(other, 'check')} in another slot"] if other else []
    told += [f"{counted(gained, 'check')} with a slot that had none"] if gained else []
    told += [f"{counted(lost, 'check')} without the slot that was theirs"] if lost else []
    return ", ".join(told) or "no check has another slot"


def since_in_words(desk: Desk) -> Iterator[str]:
    """Give a sentence on what changed since the plan before, and since the workbook was opened."""
    now, before, first = last_plan(desk), plan_before(desk), plan_at_first(desk)
    if now is None or before is None:
        return
    said = f"{BEFORE}: {change_in_words(now, before)}{_cost(desk, outcome_before(desk))}"
    if first is not None and first is not before:
        at_first = outcome_at_first(desk)
        said += f". {OPENED}: {change_in_words(now, first)}{_cost(desk, at_first)}"
    yield f"{said}. What moved since the plan before is marked on the board."


def _cost(desk: Desk, then: Planned | None) -> str:
    """Return what the plan costs more or less than another, as the end of a sentence."""
    result = result_of(desk)
    if then is None or result is None or not isinstance(result.outcome, Planned):
        return ""
    told = goals_in_words(result.outcome.audit.goals, then.audit.goals, base_of(result))
    return f"; {told}"


def goals_in_words(now: Goals, then: Goals, base: Base) -> str:
    """Return how a plan compares with an earlier one, goal by goal."""
    past = now.days_past_latest_in - then.days_past_latest_in
    more, over = now.money - then.money, now.overload_hours - then.overload_hours
    told = []
    if past:
        told.append(f"{counted(abs(past), 'more day' if past > 0 else 'fewer day')} past Latest in")
    if abs(more) >= LEAST_MONEY:
        told.append(f"costs {money(abs(more), base)} {'more' if more > 0 else 'less'}")
    if abs(over) >= LEAST_HOURS:
        told.append(f"{hours(abs(over))} {'more' if over > 0 else 'less'} overload")
    return listed(told) or "days past Latest in, cost and overload are the same"


def moved_table(now: Plan, before: Plan, base: Base) -> list[TableRow]:
    """Return a line a check with another slot than before, in the order of the workbook."""
    old, new = before.by_check(), now.by_check()
    moved = moved_since(now, before)
    order = [check.name for check in base.checks]
    names = [name for name in order if name in moved]
    names += sorted(name for name in moved if name not in order)
    return [
        {
            "Check": name,
            "Before": stay_in_words(tuple(old.get(name, ()))),
            "Now": stay_in_words(tuple(new.get(name, ()))),
            "In later by (days)": (new[name][0].in_day - old[name][0].in_day).days
            if name in old and name in new
            else None,
        }
        for name in names
    ]


def cost_steps_of(desk: Desk) -> tuple[list[tuple[str, float]], list[str]] | None:
    """Return what the difference of cost to the plan before is made of, and what to know of it.

    A line and an amount a step: what the workbook changed, and what the plan chose. None where
    the plan before or its workbook is not known.
    """
    result, before, old_base = result_of(desk), outcome_before(desk), base_before(desk)
    if result is None or before is None or old_base is None:
        return None
    now = last_plan(desk)
    assert now is not None
    steps = compare(base_of(result), before.plan, now, old_base=old_base).steps
    if steps is None:
        return None
    return steps_in_words(steps, NAMES), notes_on_steps(steps, NAMES)


def notes_of(desk: Desk, view: View) -> Notes:
    """Return what marks the board beyond the plan: what moved, and the risk where it is known."""
    now, before = view.outcome.plan, plan_before(desk)
    moved = {} if before is None else moved_since(now, before)
    answer = risk_of_plan_shown(desk)
    if answer is None or answer.result.outcome is not view.outcome:
        return Notes({name: CheckNote(moved=was) for name, was in moved.items()})
    out = out_by_its_day(answer.told.risk)
    return Notes(
        {name: CheckNote(out.get(name), "", moved.get(name, "")) for name in {*out, *moved}},
        {
            (week, skill): WeekNote(share)
            for (skill, week), share in overload_by_week(answer.told.risk).items()
        },
    )
