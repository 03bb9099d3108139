"""Plans of the store as rows of tables."""

from collections.abc import Sequence
from datetime import timedelta

from capacity.store.values import Event, SavedPlan
from capacity.store.wording import STATUS, moment
from ui.rows import TableRow


def plan_rows(plans: Sequence[SavedPlan]) -> list[TableRow]:
    """Return a line a plan, in the order given."""
    return [
        {
            "Plan": plan.id,
            "Plan number": plan.plan_number,
            "Base": plan.base,
            "From": plan.first_day,
            "To, included": plan.until - timedelta(days=1),
            "Version": plan.version,
            "Status": STATUS[plan.status],
            f"Cost of the plan ({plan.currency})": round(plan.figures.cost),
            "Days past Latest in": plan.figures.days_past,
            "Overload (h)": round(plan.figures.overload_hours, 1),
            "Made from": "" if plan.follows is None else f"plan {plan.follows}",
            "Saved by": plan.saved_by,
            "Saved": moment(plan.saved_at),
        }
        for plan in plans
    ]


def event_rows(events: Sequence[Event]) -> list[TableRow]:
    """Return a line for whatever was done with a plan or said of it."""
    return [
        {"When": moment(event.at), "Who": event.by, "What": event.what, "Said": event.text}
        for event in events
    ]
