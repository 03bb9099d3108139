"""What changed since the plan before and since the workbook was opened: a line, and marks."""

from collections.abc import Iterator, Mapping

from capacity.plans.plan import Plan
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.reports.plan.view import View
from capacity.words import counted
from ui.board.rows import CheckNote, Notes, WeekNote
from ui.desk.desk import Desk
from ui.desk.plan_job import last_plan, plan_at_first, plan_before
from ui.manager.risk_job import risk_of_plan_shown
from ui.manager.risk_rows import out_by_its_day, overload_by_week

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
    said = f"{BEFORE}: {change_in_words(now, before)}"
    if first is not None and first is not before:
        said += f". {OPENED}: {change_in_words(now, first)}"
    yield f"{said}. What moved since the plan before is marked on the board."


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
