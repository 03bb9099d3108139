"""Our plan against a peer's on the same base: days past ``Latest in`` first, then money."""

from collections.abc import Iterator
from dataclasses import dataclass

from tests.bench.families import Family
from tests.bench.result import Found

CENT = 0.005


@dataclass(frozen=True)
class Pair:
    """What a peer and we found on one base with the same limit."""

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


def pairs(family: Family) -> Iterator[Pair]:
    """Yield the pairs of the seeds that both sides were measured on."""
    for line in family.lines:
        ours = family.ours.get(line.seed)
        if line.found is not None and ours is not None and ours.found is not None:
            yield Pair(line.found, ours.found)
