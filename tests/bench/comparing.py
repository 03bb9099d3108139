"""Our plan against a peer's, or another one of ours, on the same base.

Days past ``Latest in`` come first, then money.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tests.bench.families import Family
from tests.bench.result import Found

CENT = 0.005


@dataclass(frozen=True)
class Pair:
    """What a peer, or a second run, and we found on one base with the same limit."""

    peer: Found
    ours: Found

    @property
    def verdict(self) -> str:
        """Return whether our plan is ``better``, ``equal`` or ``worse``; no plan is worst."""
        if self.ours.goals is None or self.peer.goals is None:
            planned = self.ours.goals is not None, self.peer.goals is not None
            return {(True, False): "better", (False, True): "worse"}.get(planned, "equal")
        (our_days, our_money), (days, money) = self.ours.goals, self.peer.goals
        if our_days == days and abs(our_money - money) <= CENT:
            return "equal"
        return "better" if (our_days, our_money) < (days, money) else "worse"

    @property
    def saved(self) -> float | None:
        """Return the share of the peer's money that we save; None where we have more days past."""
        if self.ours.goals is None or self.peer.goals is None:
            return None
        (our_days, our_money), (days, money) = self.ours.goals, self.peer.goals
        if our_days > days:
            return None
        return (money - our_money) / max(1.0, abs(money))

    @property
    def apart(self) -> float | None:
        """Return by what share of the better cost the two lie apart.

        None where one has no plan, or they differ in days past.
        """
        if self.ours.goals is None or self.peer.goals is None:
            return None
        (our_days, our_money), (days, money) = self.ours.goals, self.peer.goals
        if our_days != days:
            return None
        return abs(our_money - money) / max(1.0, abs(min(our_money, money)))


def beside_evenly(family: Family) -> Iterator[Pair]:
    """Yield our plans with levelled hours beside those with even ones, the peers of these pairs."""
    for line in family.lines:
        evenly = family.evenly.get(line.seed)
        if line.found is not None and evenly is not None and evenly.found is not None:
            yield Pair(peer=evenly.found, ours=line.found)


def pairs(family: Family) -> Iterator[Pair]:
    """Yield the pairs of the seeds that both sides were measured on."""
    for line in family.lines:
        ours = family.ours.get(line.seed)
        if line.found is not None and ours is not None and ours.found is not None:
            yield Pair(line.found, ours.found)
