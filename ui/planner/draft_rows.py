"""Drafts, and the moves of one, as rows of tables."""

from collections.abc import Sequence

from capacity.facts import Base
from capacity.plans.plan import Plan
from capacity.questions.by_hand.drafts import Draft, DraftFigures
from capacity.reports.plan.stay_columns import stay_in_words
from capacity.words import listed
from ui.rows import TableRow


def move_rows(draft: Draft, before: Plan, after: Plan) -> list[TableRow]:
    """Return a row a check that was moved: where it was and where it is held."""
    old, new = before.by_check(), after.by_check()
    names = [*(move.check for move in draft.held), *draft.off_the_bays]
    return [
        {
            "Check": name,
            "In the plan": stay_in_words(old.get(name, ())),
            "In the draft": stay_in_words(new.get(name, ())),
            "Held": "bay and in day" if name not in draft.off_the_bays else "not held",
        }
        for name in names
    ]


def figure_rows(figures: Sequence[DraftFigures], base: Base) -> list[TableRow]:
    """Return a row a draft, all beside the plan that each begins with."""
    return [
        {
            "Draft": one.name,
            f"Cost of the plan ({base.currency})": round(one.cost),
            f"More than its plan ({base.currency})": round(one.costs_more),
            "Days past Latest in": one.days_past,
            "Days late out": one.late_days,
            "Overload (h)": round(one.overload_hours, 1),
            "Overtime and contract (h)": round(one.bought_hours, 1),
            "No slot": listed(one.no_slot) or "none",
            "Checks moved": len(one.moved),
        }
        for one in figures
    ]
