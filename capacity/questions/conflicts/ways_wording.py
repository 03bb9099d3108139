"""A way out of a conflict in a planner's sentence."""

from capacity.cells import Where, sheet_only
from capacity.facts import Base
from capacity.questions.conflicts.values import WayOut
from capacity.words import days, money


def way_text(way: WayOut, base: Base, where: Where = sheet_only) -> str:
    """Return what to change, by how much, and what the plan with it comes to."""
    past = f"has {days(way.days_past)} past Latest in and " if way.days_past else ""
    least = ""
    if way.bound is not None and way.money - way.bound > max(1.0, 1e-3 * abs(way.money)):
        least = f", not less than {money(way.bound, base)}"
    return (
        f"{_change(way, base, where)}. The plan found with it {past}costs "
        f"{money(way.money, base)}{least}."
    )


def _change(way: WayOut, base: Base, where: Where) -> str:
    said = way.change.says(way.amount_of(base), where)
    if not way.change.has_least:
        return said
    return f"{said}; {'fewer do not help' if way.is_least else 'whether fewer help is not proven'}"
