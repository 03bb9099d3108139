"""Where the planner says so, aircraft come in, move and leave on days that the base works."""

from collections.abc import Iterator, Sequence

from capacity.facts import Base
from capacity.plans.plan import Placement
from capacity.plans.worked_days import WorkedDays
from capacity.words import day as as_day


def broken(placements: Sequence[Placement], base: Base, worked_days: WorkedDays) -> Iterator[str]:
    """Tell the days off on which a check comes in, moves or leaves; those gone by stand."""
    check, first = placements[0].check, placements[0]
    days = [(first.in_day, f"comes into {first.bay}", base.comes_in_on_days_off)]
    days += [(p.out_day, f"leaves {p.bay}", base.leaves_on_days_off) for p in placements]
    for day, what, may in days:
        if not may and day >= base.work_left_from and day not in worked_days:
            yield f"{check} {what} on {as_day(day)}, a day off."
