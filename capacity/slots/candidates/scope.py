"""Which bays are looked at for each check, where all of them together are too many."""

import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from capacity.slots.candidates.bay_groups import BayGroup

NO_BAYS: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Scope:
    """Each check may go into so many groups of bays a leg, drawn by ``seed``.

    With ``most_groups`` None into all of them. The groups of the bays in which a check stands,
    ``own`` by its name, are always among them.
    """

    most_groups: int | None = None
    seed: int = 0
    own: Mapping[str, frozenset[str]] | None = None

    def some_of(
        self, could: Sequence[int], check: str, groups: Sequence[BayGroup]
    ) -> Sequence[int]:
        """Return those of the groups that are looked at, in their order.

        Larger groups are drawn more often, in proportion to their bays.
        """
        most = self.most_groups
        if most is None or len(could) <= most:
            return could
        mine = NO_BAYS if self.own is None else self.own.get(check, NO_BAYS)
        kept = [number for number in could if not mine.isdisjoint(groups[number].bays)]
        others = [number for number in could if number not in kept]
        draw = np.random.default_rng((self.seed, zlib.crc32(check.encode())))
        bays = np.array([len(groups[number].bays) for number in others], dtype=np.float64)
        count = min(len(others), max(0, most - len(kept)))
        drawn = draw.choice(len(others), size=count, replace=False, p=bays / bays.sum())
        return sorted([*kept, *(others[int(place)] for place in drawn)])


EVERY_BAY = Scope()
