"""What shared man-hours cost, told by the cuts of a flow network instead of by a solver.

Kinds of work that draw on the same crews form a family. Let the prices of an hour be
k[0] = 0 < k[1] < ..., and let F[l] be the most of a week's excess hours that pools priced at
k[l] or less can carry. When every pool has one price, the cheapest sharing costs

    sum over l of (k[l + 1] - k[l]) x (excess - F[l])

since the cheapest pools can always be used to their utmost (transversal matroids: Edmonds
and Fulkerson, Transversals and matroid partition, 1965 - from memory). By max-flow min-cut
(Ford and Fulkerson 1956 - from memory), F[l] is the least, over the sets B of crews, of the
hours of B plus what the kinds that only crews of B serve ask or their own pools carry, plus
all that the other kinds ask. A family has few shared crews, so all B are looked at.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from capacity.labour.supply import Floats, Supply

Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]

# Crews beyond so many in a family count for the first kind that they serve: 256 sets of crews.
MOST_CREWS = 8


@dataclass(frozen=True)
class Cuts:
    """The networks of all families, padded to the largest.

    ``family_of`` (kinds,) is -1 for a kind that shares nothing; ``kinds`` (families,
    members) holds -1 where there is no further member; ``group`` (families, members) tells
    the members of one skill. ``steps`` (families, levels) is the rise to the next price;
    ``own`` (families, weeks, levels, members), ``tier`` (families, weeks, levels, groups)
    and ``crews`` (families, weeks, levels, sets) are the hours of pools of one kind, of one
    whole skill, and of each set of shared crews. ``most`` (families, weeks, levels, members) is
    what the largest shared crew that serves a kind has. ``held`` (families, levels, sets, members)
    tells the members that a crew outside the set serves. ``is_exact`` says that the formula
    is the cheapest sharing; otherwise it is a guide.
    """

    family_of: Ints
    kinds: Ints
    group: Ints
    steps: Floats
    own: Floats
    tier: Floats
    crews: Floats
    most: Floats
    held: Mask
    is_exact: bool

    def money(self, excess: Floats) -> float:
        """Return what the excess (weeks, kinds) over the regular hours costs in families."""
        return float(self.money_by_week(excess).sum())

    def money_by_week(self, excess: Floats) -> Floats:
        """Return the same apart, shape (families, weeks)."""
        return self.money_of_weeks(np.arange(len(excess)), excess)

    def money_of_weeks(self, weeks: Ints, excess: Floats) -> Floats:
        """Return what the excess (n, kinds) in some ``weeks`` (n,) costs, shape (families, n)."""
        money = np.zeros((len(self.kinds), len(excess)))
        for family in range(len(self.kinds)):
            members = self.kinds[family] >= 0
            over = np.flatnonzero((excess[:, self.kinds[family][members]] > 0.0).any(axis=1))
            money[family, over] = self._family_money(family, weeks[over], excess[over])
        return money

    def _family_money(self, family: int, weeks: Ints, excess: Floats) -> Floats:
        members = self.kinds[family] >= 0
        asked = excess[:, self.kinds[family][members]]
        total = asked.sum(axis=1)
        groups = np.eye(self.tier.shape[3])[self.group[family][members]]
        whole = asked @ groups
        money = np.zeros(len(excess))
        for level, step in enumerate(self.steps[family]):
            if step <= 0.0:
                continue
            capped = np.minimum(asked, self.own[family][weeks, level][:, members])
            held = self.held[family, level][:, members]
            through = np.where(held, asked[:, None], capped[:, None]) @ groups
            through = through + self.tier[family][weeks, level][:, None]
            carried = np.minimum(whole[:, None], through).sum(axis=2)
            flow = (carried + self.crews[family][weeks, level]).min(axis=1)
            money += step * np.maximum(total - flow, 0.0)
        return money


def cuts_of(supply: Supply, *, at_least: bool = False) -> Cuts:
    """Return the networks of the families of a supply.

    With ``at_least`` the formula never says more than the cheapest sharing costs, exact or not:
    crews too many to be shared out then count in full for each kind that they serve.
    """
    families = [_family(supply, members, at_least) for members in supply.families]
    family_of = np.full(supply.kinds, -1, dtype=np.int64)
    for number, members in enumerate(supply.families):
        family_of[members] = number
    return Cuts(
        family_of=family_of,
        kinds=_padded([f.kinds for f in families], np.int64(-1), 1),
        group=_padded([f.group for f in families], np.int64(0), 1),
        steps=_padded([f.steps for f in families], 0.0, 1),
        own=_padded([f.own for f in families], 0.0, 3),
        tier=_padded([f.tier for f in families], 0.0, 3),
        # A set of crews that is not there must not be the least of all sets.
        crews=_padded([f.crews for f in families], np.inf, 3),
        most=_padded([f.most for f in families], 0.0, 3),
        held=_padded([f.held for f in families], False, 3),
        is_exact=all(f.is_exact for f in families),
    )


@dataclass(frozen=True)
class _Family:
    """One family's part of ``Cuts``, without its first axis."""

    kinds: Ints
    group: Ints
    steps: Floats
    own: Floats
    tier: Floats
    crews: Floats
    most: Floats
    held: Mask
    is_exact: bool


def _family(supply: Supply, members: Ints, at_least: bool) -> _Family:
    price = supply.pool_price[:, members]
    pools = np.flatnonzero(
        np.isfinite(price).any(axis=1) & (supply.pool_hours < np.inf).all(axis=1)
    )
    price, hours = price[pools], supply.pool_hours[pools]
    serves = np.isfinite(price)
    groups, group = np.unique(supply.skill_of[members], return_inverse=True)
    is_own = serves.sum(axis=1) == 1
    is_tier = np.array([_is_whole_group(row, group) for row in serves], dtype=bool) & ~is_own
    crews = np.flatnonzero(~is_own & ~is_tier)
    crews = crews[np.argsort(-hours[crews].sum(axis=1), kind="stable")]
    too_many = crews[MOST_CREWS:]
    crews = crews[:MOST_CREWS]
    for pool in too_many[: 0 if at_least else None]:
        serves[pool, np.flatnonzero(serves[pool])[1:]] = False
    is_own[too_many] = True
    finite = np.isfinite(supply.pool_price[:, members])
    levels = np.unique(np.append(supply.pool_price[:, members][finite], 0.0))[:-1]
    sets = np.arange(2 ** len(crews))
    inside = (sets[:, None] >> np.arange(len(crews))) & 1 == 1
    weeks, shape = hours.shape[1], (len(levels), len(sets), len(members))
    own = np.zeros((weeks, len(levels), len(members)))
    tier = np.zeros((weeks, len(levels), len(groups)))
    of_crews = np.zeros((weeks, len(levels), len(sets)))
    most = np.zeros((weeks, len(levels), len(members)))
    held = np.zeros(shape, dtype=bool)
    for number, level in enumerate(levels):
        there = serves & (price <= level)
        own[:, number] = hours[is_own].T @ there[is_own]
        for pool in np.flatnonzero(is_tier & there.any(axis=1)):
            tier[:, number, group[there[pool]][0]] += hours[pool]
        of_crews[:, number] = (hours[crews] * there[crews].any(axis=1)[:, None]).T @ inside.T
        most[:, number] = (hours[crews].T[:, :, None] * there[crews]).max(axis=1, initial=0.0)
        held[number] = ~inside @ there[crews].astype(float) > 0
    one_price = all(len(np.unique(row[np.isfinite(row)])) == 1 for row in price)
    return _Family(
        kinds=members,
        group=group.astype(np.int64),
        steps=np.diff(np.append(levels, supply.pool_price[:, members][finite].max())),
        own=own,
        tier=tier,
        crews=of_crews,
        most=most,
        held=held,
        is_exact=one_price and not len(too_many),
    )


def _is_whole_group(row: Mask, group: Ints) -> bool:
    """Return whether a pool serves all members of one skill and no others."""
    mine = np.unique(group[row])
    return len(mine) == 1 and bool((row == (group == mine[0])).all())


def _padded(arrays: Sequence[NDArray[Any]], filler: Any, axes: int) -> NDArray[Any]:
    """Stack arrays of so many axes, filled up to the largest."""
    shape: tuple[int, ...] = tuple(
        np.max([array.shape for array in arrays] or [(0,) * axes], axis=0)
    )
    whole = np.full((len(arrays), *shape), filler)
    for number, array in enumerate(arrays):
        corner = tuple(slice(length) for length in array.shape)
        whole[number][corner] = array
    return whole
