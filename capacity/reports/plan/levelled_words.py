"""Where levelled hours lie and what that saves, in words."""

from collections.abc import Iterable

from capacity.facts import Base
from capacity.plans.levelled import Levelling, StageWeek
from capacity.words import LEAST_HOURS, hours, money


def how_levelled(levelling: Levelling, base: Base) -> str:
    """Return one sentence on what levelling saves in the plan's slots."""
    if levelling.moved < LEAST_HOURS:
        return "The man-hours of every stage lie evenly: levelling them would save nothing."
    moved = f"{hours(levelling.moved)} of work lie in another week than if spread evenly"
    return f"{moved}; in the same slots that saves {money(levelling.saved, base)}."


def where_hours_lie(weeks: Iterable[StageWeek]) -> str:
    """Return for each skill whose hours are moved where they lie.

    Such as ``Cabin: 120 h in 2027-W01 (evenly 180 h), 160 h in 2027-W02 (evenly 100 h)``.
    """
    by_skill: dict[str, list[StageWeek]] = {}
    for one in weeks:
        by_skill.setdefault(one.skill, []).append(one)
    told = [
        f"{skill}: {', '.join(_week(one) for one in mine)}"
        for skill, mine in by_skill.items()
        if any(abs(one.moved) >= LEAST_HOURS for one in mine)
    ]
    return "; ".join(told)


def _week(one: StageWeek) -> str:
    return f"{hours(one.hours)} in {one.week} (evenly {hours(one.evenly)})"
