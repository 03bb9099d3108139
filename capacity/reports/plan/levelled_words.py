"""Where levelled hours lie and what that saves, in words."""

from collections.abc import Iterable, Sequence

from capacity.facts import Base
from capacity.plans.levelled import Levelling, StageWeek
from capacity.words import hours, listed, money

LEAST_HOURS = 0.05
"""Hours that show as some, with one decimal."""


def how_levelled(levelling: Levelling, base: Base) -> str:
    """Return one sentence on what levelling saves in the plan's slots."""
    if levelling.moved < LEAST_HOURS:
        return "The man-hours of every stage lie evenly: levelling them would save nothing."
    moved = f"{hours(levelling.moved)} of work lie in another week than evenly"
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


def moved_in_words(weeks: Sequence[StageWeek]) -> str:
    """Return which stages brought hours into a week, and which took some out of it."""
    into = [f"{one.check} {one.stage} {hours(one.moved)}" for one in weeks if one.moved > 0]
    out = [f"{one.check} {one.stage} {hours(-one.moved)}" for one in weeks if one.moved < 0]
    said = []
    if out:
        said.append(f"Hours taken out of this week: {listed(out)}.")
    if into:
        said.append(f"Hours brought into this week: {listed(into)}.")
    return " ".join(said)
