"""Interchangeable bays as one group with a count: far fewer columns, no symmetry.

Bays may share a group when the same checks fit them, they do the same work and need the same
changeover, no other
bay is on their way, behind them or on their floor, and they are shut on the same days but for
a shut spell at the very start (a check already in, a closure that began earlier). Whatever
stays keep the count on every day can then be given bays one by one in order of their in days:
an aircraft that comes in finds at least one bay of the group that is open and empty, and an
open bay stays open until a day on which all of them are shut together.
"""

from collections import defaultdict
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True)
class BayUse:
    """A bay as the search sees it: who fits, when it is shut.

    ``shut`` is a (days,) mask of closures; ``taken`` a (days,) mask of fixed checks and
    the changeover behind them; ``fits`` holds the movable checks that fit and want some of
    its ``work``; before ``opens`` the bay cannot be used. A bay that has to be used from a
    day on says so by ``used_from``. On days of ``no_moves`` a fixed check stands in its
    way; on days of ``to_be_clear`` one behind it moves, so no stay may lie over them. A
    ``tied`` bay has others on its way, behind it or on its floor, or somebody bound to it,
    and is no other's equal.
    """

    name: str
    fits: frozenset[str]
    changeover_days: int
    shut: NDArray[np.bool_]
    taken: NDArray[np.bool_]
    no_moves: NDArray[np.bool_]
    to_be_clear: NDArray[np.bool_]
    tied: bool = False
    opens: int = 0
    work: frozenset[str] = frozenset()
    used_from: int | None = None


@dataclass(frozen=True)
class BayGroup:
    """Interchangeable bays. ``opens`` is the day number from which each can be used.

    No stay touches a day of ``shut``; no stay with its changeover touches one of ``taken``;
    none comes in or leaves on one of ``no_moves`` or lies over one of ``to_be_clear``.
    ``usable`` counts the bays that can be used on each day. All have shape (days,).
    """

    bays: tuple[str, ...]
    opens: tuple[int, ...]
    changeover_days: int
    fits: frozenset[str]
    work: frozenset[str]
    shut: NDArray[np.bool_]
    taken: NDArray[np.bool_]
    usable: NDArray[np.int64]
    no_moves: NDArray[np.bool_]
    to_be_clear: NDArray[np.bool_]

    @property
    def title(self) -> str:
        """Return the bays' names as a person would list them."""
        return ", ".join(self.bays)


def group_bays(bays: list[BayUse], first_day: int, shortest_stay_days: int) -> list[BayGroup]:
    """Return the groups in the order of their first bay.

    ``first_day`` is the first day on which a movable check may come in. A gap between fixed
    checks that is shorter than ``shortest_stay_days`` can never be used and counts as shut.
    """
    alike: dict[tuple[object, ...], list[BayUse]] = defaultdict(list)
    for bay in bays:
        opens = _opening_day(bay, first_day, shortest_stay_days)
        open_bay = replace(
            bay, opens=opens, shut=_from(opens, bay.shut), taken=_from(opens, bay.taken)
        )
        own = bay.name if bay.tied else None
        masks = (open_bay.shut.tobytes(), open_bay.taken.tobytes())
        key = (own, bay.fits, bay.work, bay.changeover_days, *masks)
        alike[key].append(open_bay)
    return [_group(members) for members in alike.values()]


def _opening_day(bay: BayUse, first_day: int, shortest: int) -> int:
    if bay.used_from is not None:
        return min(bay.used_from, first_day)
    blocked = bay.shut | bay.taken
    opens = first_day
    while (spell := blocked[opens : opens + shortest]).any():
        opens += int(np.flatnonzero(spell)[-1]) + 1
    return opens


def _from(day: int, mask: NDArray[np.bool_]) -> NDArray[np.bool_]:
    return mask & (np.arange(len(mask)) >= day)


def _group(alike: list[BayUse]) -> BayGroup:
    """Make one group of bays that differ at most in the day from which they can be used."""
    any_bay = alike[0]
    opens = np.array([bay.opens for bay in alike])
    days = np.arange(len(any_bay.shut))
    shut = any_bay.shut | (days < opens.min())
    return BayGroup(
        bays=tuple(bay.name for bay in alike),
        opens=tuple(bay.opens for bay in alike),
        changeover_days=any_bay.changeover_days,
        fits=any_bay.fits,
        work=any_bay.work,
        shut=shut,
        taken=any_bay.taken,
        no_moves=any_bay.no_moves,
        to_be_clear=any_bay.to_be_clear,
        usable=(days[:, None] >= opens).sum(axis=1) * ~(shut | any_bay.taken),
    )
