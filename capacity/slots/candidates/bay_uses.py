"""Each bay as the search sees it: who fits, and what closures and fixed checks leave of it."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Bay, Check
from capacity.labour.calendar import Calendar
from capacity.slots.candidates.bay_groups import BayUse
from capacity.slots.candidates.bay_ties import bays_behind, bays_on_the_way, floor_sharers
from capacity.slots.candidates.fit import fits
from capacity.slots.candidates.work import StageWork, kinds_by_leg

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class FixedStay:
    """A fixed check in its bay over the day numbers ``[first, until)``."""

    bay: str
    first: int
    until: int


def bay_uses(
    base: Base,
    calendar: Calendar,
    movable: list[tuple[Check, tuple[StageWork, ...]]],
    fixed: list[FixedStay],
) -> list[BayUse]:
    """Return the bays in the order of the base.

    A fixed check among the ``movable`` ones stands in its bay from its in day on, whatever
    else is chosen for it.
    """
    needs = {check.name: set(kinds_by_leg(work)) for check, work in movable}
    all_needs = set().union(*needs.values()) - {""}
    fixed_in: dict[str | None, date] = {}
    for check, _ in movable:
        if check.fixed_in is not None:
            before = fixed_in.get(check.fixed_bay, check.fixed_in)
            fixed_in[check.fixed_bay] = min(before, check.fixed_in)
    held = {check.held_bay for check, _ in movable}
    ways, behind, sharers = bays_on_the_way(base), bays_behind(base), floor_sharers(base)
    days = len(calendar.worked)

    def standing(bays: frozenset[str]) -> Mask:
        """Return the days on which a fixed check stands in one of the bays."""
        return _days(days, [(stay.first, stay.until) for stay in fixed if stay.bay in bays])

    def inside(bays: frozenset[str]) -> Mask:
        """Return the days strictly inside a fixed check's stay in one of the bays."""
        return _days(days, [(stay.first + 1, stay.until) for stay in fixed if stay.bay in bays])

    def moves(bays: frozenset[str]) -> Mask:
        """Return the days on which a fixed check moves into or out of one of the bays."""
        own = [stay for stay in fixed if stay.bay in bays]
        return _days(days, [(day, day + 1) for stay in own for day in (stay.first, stay.until)])

    def use(bay: Bay) -> BayUse:
        changeover = bay.changeover_days
        mine = [(stay.first, stay.until + changeover) for stay in fixed if stay.bay == bay.name]
        begins = fixed_in.get(bay.name)
        return BayUse(
            name=bay.name,
            work=bay.work & all_needs,
            fits=frozenset(
                check.name
                for check, _ in movable
                if fits(bay, base.type(check.type)) and needs[check.name] & (bay.work | {""})
            ),
            changeover_days=changeover,
            shut=_closed(bay, base, calendar) | standing(sharers[bay.name]),
            taken=_days(days, mine),
            no_moves=inside(ways[bay.name]),
            to_be_clear=moves(behind[bay.name]),
            tied=bool(
                ways[bay.name]
                or behind[bay.name]
                or sharers[bay.name]
                or begins
                or bay.name in held
            ),
            used_from=None if begins is None else calendar.number(begins),
        )

    return [use(bay) for bay in base.bays]


def _closed(bay: Bay, base: Base, calendar: Calendar) -> Mask:
    spells = [
        (calendar.number(closure.first), calendar.number(closure.last) + 1)
        for closure in base.closures
        if closure.bay == bay.name
    ]
    return _days(len(calendar.worked), spells)


def _days(days: int, spells: list[tuple[int, int]]) -> Mask:
    """Return the days that lie in one of the half-open spells, shape (days,)."""
    mask = np.zeros(days, dtype=np.bool_)
    for first, until in spells:
        mask[max(0, first) : max(0, until)] = True
    return mask
