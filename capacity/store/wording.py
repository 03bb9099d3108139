"""Plans of the store, and what was done with them, in words."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from capacity.store.values import Event, SavedPlan, Status
from capacity.words import day, days, hours

STATUS = {
    Status.DRAFT: "draft",
    Status.AGREED: "agreed, in force",
    Status.SUPERSEDED: "superseded",
}


def plan_in_words(plan: SavedPlan) -> str:
    """Return a plan in one line."""
    last = plan.until - timedelta(days=1)
    figures = plan.figures
    said = [
        f"plan {plan.id} ({plan.plan_number}) of {plan.base}",
        f"{day(plan.first_day)} to {day(last)}",
        f"version {plan.version}",
        STATUS[plan.status],
        f"cost {figures.cost:,.0f} {plan.currency}",
        f"{days(figures.days_past)} past Latest in",
        f"overload {hours(figures.overload_hours)}",
    ]
    return f"{', '.join(said)}; saved by {plan.saved_by}, {moment(plan.saved_at)}"


def plans_in_words(plans: Sequence[SavedPlan]) -> str:
    """Return a line a plan."""
    if not plans:
        return "There is no such plan in the store."
    return "\n".join(plan_in_words(plan) for plan in plans)


def event_in_words(event: Event) -> str:
    """Return what was done with a plan, or said of it, in one line."""
    what = f"{event.by} says" if event.what == "comment" else f"{event.what} by {event.by}"
    said = f": {event.text}" if event.what == "comment" else f", {event.text}" if event.text else ""
    return f"{moment(event.at)} {what}{said}"


def moment(at: datetime) -> str:
    """Return a moment in the zone of this computer, such as ``Mon 4 Jan 2027 07:10``."""
    here = at.astimezone()
    return f"{day(here.date())} {here:%H:%M}"
