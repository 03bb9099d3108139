"""Many short annealings: from nothing, and from two good plans crossed over.

Plans differ most by which checks share a bay or lane behind each other. Annealing rarely turns that
over, however long it is: it ends in one of a few orders. Where it begins decides in which, so many
short ones are begun from nothing, and the best plans of different kinds are kept as parents. A
child has the bays of one, or its part of the time, and from the other what still finds room; what
is missing is put in by a short annealing. After Galinier and Hao (1999), who cross colourings of
graphs over by their classes; that a child takes the place of the parent it is most like is
crowding, De Jong (1975). Both from memory, not checked against the text. Now and then the good
plans are joined, all at once.
"""

import time
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from capacity.slots.finding.cooling import Cooling, money_a_check
from capacity.slots.finding.joining import join
from capacity.slots.finding.ruin_recreate import ROUNDS_A_LOOK, RuinRecreate, day_money
from capacity.slots.line.mailbox import Mailbox, is_better
from capacity.slots.program.choice import Choice
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.program import Program, Restricted

Cost = tuple[int, float]
Mask = NDArray[np.bool_]

# First temperatures, as multiples of the plan's money a check, of annealings from nothing and of
# children. One is drawn for each.
FRESH, CHILD = (1.0, 2.0, 4.0), (0.15, 0.3, 1.0)
# By what the rounds of those from nothing are multiplied; one is drawn for each.
FRESH_LENGTHS = (1, 2)
# How often annealings from nothing begin while some plan is known, and how often a child has one
# parent only, what it does not take from it being left to the annealing.
FRESH_SHARE, ALONE_SHARE = 0.3, 0.2
# After so many annealings from nothing that all left more days past than are known, the next are
# twice as long; after so many in all, of which fewer than this share did not, nothing is bred any
# more: in hangars short annealings leave checks out, and long ones serve better.
TRIES_BEFORE_LONGER, LEAST_TRIES, LEAST_HITS = 3, 9, 0.06
# So many annealings in a row, for each plan that is kept, none of which was kept: then others are
# bred apart from these, until the same is said of them, and both are put together.
STALE = 3
# Costs that differ by less are those of one plan, or of its mirror image.
CENT = 0.005
# A plan with so large a share of its checks on other days is one of another kind.
OTHER_KIND = 0.25


@dataclass
class Pool:
    """Good plans of different kinds, in the columns of the whole program.

    All have the same ``days`` past ``Latest in``; ``tries`` is how many annealings from nothing
    there were since these are known, and ``hits`` how many of them came to no more days past.
    ``refused`` is how many in a row were not kept, and ``unjoined`` how many there were since the
    plans were last joined; ``aside`` are plans that were bred as far as they come, while others are
    bred apart from them.
    """

    program: Program
    most: int
    days: int | None = None
    members: list[tuple[Choice, Cost]] = field(default_factory=list)
    tries: int = 0
    hits: int = 0
    refused: int = 0
    unjoined: int = 0
    aside: list[tuple[Choice, Cost]] = field(default_factory=list)

    def begin(self, days: int) -> None:
        """Keep to plans with so many days past; with fewer than before, no other is left.

        What was in vain with more days past is in vain with fewer.
        """
        if days == self.days:
            return
        if not self.is_in_vain or self.days is None or days > self.days:
            self.tries, self.hits = 0, 0
        self.days, self.members, self.aside, self.refused = days, [], [], 0
        self.unjoined = 0

    @property
    def is_apart(self) -> bool:
        """Return whether plans are bred apart from the best ones known."""
        return bool(self.aside)

    def look_round(self, mailbox: Mailbox, best: Choice, cost: Cost) -> None:
        """Take in the best choice known, and the good plans that other sides came to.

        Not while plans are bred apart from these: they wait.
        """
        self.begin(cost[0])
        if not self.is_apart:
            self.welcome(best, cost)
            for plan in mailbox.take_good_plans():
                self.welcome(*plan)

    def turn_if_stale(self) -> None:
        """Set plans aside that are bred as far as they come, or put both parts together."""
        is_stale = self.refused >= STALE * self.most
        if self.aside and is_stale:
            both = sorted([*self.aside, *self.members], key=lambda member: member[1])
            self.aside, self.members, self.refused = [], [], 0
            for member in both[: self.most]:
                self._is_kept(*member)
        elif is_stale:
            self.aside, self.members, self.refused = self.members, [], 0

    @property
    def is_in_vain(self) -> bool:
        """Return whether short annealings from nothing mostly leave more days past than known."""
        return self.tries >= LEAST_TRIES and self.hits < LEAST_HITS * self.tries

    @property
    def fresh_times(self) -> int:
        """Return by how much annealings from nothing are longer than the others."""
        return 2 if self.tries >= TRIES_BEFORE_LONGER and not self.hits else 1

    def wants_fresh(self, rng: np.random.Generator) -> bool:
        """Return whether the next annealing begins from nothing: all of them until it is full."""
        return len(self.members) < self.most or rng.random() < FRESH_SHARE

    def tried(self, *, is_hit: bool) -> None:
        """Count an annealing from nothing."""
        self.tries, self.hits = self.tries + 1, self.hits + is_hit

    def take_in(self, chosen: Choice, cost: Cost) -> bool:
        """Keep a plan if it is good or of another kind; return whether it was kept."""
        is_kept = self._is_kept(chosen, cost)
        self.refused = 0 if is_kept else self.refused + 1
        self.unjoined += 1
        return is_kept

    def to_join(self) -> list[Choice]:
        """Return the plans to be joined now, the best first, and count anew until the next time."""
        self.unjoined = 0
        return [chosen for chosen, _ in sorted(self.members, key=lambda member: member[1])]

    def welcome(self, chosen: Choice, cost: Cost) -> None:
        """Keep a plan that comes from elsewhere, if it is good or of another kind."""
        if self._is_kept(chosen, cost):
            self.refused = 0

    def _is_kept(self, chosen: Choice, cost: Cost) -> bool:
        if cost[0] != self.days or any(abs(cost[1] - own[1]) < CENT for _, own in self.members):
            return False
        member = chosen.copy(), cost
        if len(self.members) < self.most:
            self.members.append(member)
            return True
        unlike = [self._unlike(chosen, other) for other, _ in self.members]
        place = int(np.argmin(unlike))
        if not is_better(cost, self.members[place][1]):
            if unlike[place] < OTHER_KIND:
                return False
            place = max(range(self.most), key=lambda number: self.members[number][1])
            if not is_better(cost, self.members[place][1]):
                return False
        self.members[place] = member
        return True

    def _unlike(self, one: Choice, other: Choice) -> float:
        """Return the share of checks that come in on another day, wherever they stand."""
        days = [np.where(chosen < 0, -1, self.program.in_day[chosen]) for chosen in (one, other)]
        return float((days[0] != days[1]).mean())


def breed(mailbox: Mailbox, rows: LazyRows, seconds: float, seed: int, pool: Pool) -> None:
    """Anneal shortly, again and again, from nothing and from crossed plans of the pool.

    Ends early where that is in vain.
    """
    until = time.monotonic() + min(seconds, mailbox.seconds_left)
    rng = np.random.default_rng(seed)
    restricted: Restricted | None = None
    timing = mailbox.task.settings.search
    while time.monotonic() < until:
        chosen, cost = mailbox.best
        pool.begin(days := cost[0])
        if pool.is_in_vain:
            return
        pool.turn_if_stale()
        pool.look_round(mailbox, chosen, cost)
        if restricted is None or restricted.program.days_allowed != days:
            restricted = rows.within(days)
            search = RuinRecreate(restricted.program, restricted.program.no_choice(), seed)
            money_each = money_a_check(mailbox.program, chosen)
        if pool.unjoined >= timing.annealings_between_joins and len(pool.members) > 1:
            seconds = min(timing.seconds_to_join, until - time.monotonic())
            joined = join(restricted, pool.to_join(), timing.most_joined_columns, seconds)
            if joined is not None and _told_or_breaks(mailbox, rows, pool, joined):
                restricted = None
                continue
        is_fresh = pool.wants_fresh(rng)
        start = restricted.program.no_choice()
        if not is_fresh:
            start = _child(restricted, pool, rng)
        search.begin_again(start, int(rng.integers(2**31)))
        rounds = timing.short_rounds_a_check * len(start)
        if is_fresh:
            rounds *= int(rng.choice(FRESH_LENGTHS)) * pool.fresh_times
        cooling = Cooling(
            float(rng.choice(FRESH if is_fresh else CHILD)), day_money(mailbox.program)
        )
        looks = max(1, rounds // ROUNDS_A_LOOK)
        for look in range(looks):
            search.rounds(ROUNDS_A_LOOK, *cooling.at(look / looks, money_each))
            mailbox.flush()
            if time.monotonic() > until:
                break
        if is_fresh:
            pool.tried(is_hit=search.costs.best_days <= days)
        if search.costs.best_days > days:
            continue
        if _told_or_breaks(mailbox, rows, pool, restricted.to_whole(search.best)):
            restricted = None


def _told_or_breaks(mailbox: Mailbox, rows: LazyRows, pool: Pool, chosen: Choice) -> bool:
    """Tell a choice if it is the best, and others if it is a good one; or take in what it breaks.

    Returns whether it breaks rows that were not in the program yet.
    """
    if rows.broken_by(chosen):
        return True
    cost = mailbox.program.cost(chosen)
    if is_better(cost, mailbox.best[1]):
        mailbox.tell_choice(chosen, "search")
    if pool.take_in(chosen, cost):
        mailbox.share(chosen)
    return False


def _child(restricted: Restricted, pool: Pool, rng: np.random.Generator) -> Choice:
    """Return a child of two plans of the pool, or of one and nothing, in restricted columns."""
    one, other = (pool.members[int(n)][0] for n in rng.integers(len(pool.members), size=2))
    mine, theirs = restricted.found_here(one), restricted.found_here(other)
    if one is other or rng.random() < ALONE_SHARE:
        theirs = restricted.program.no_choice()
    return crossed(restricted.program, mine, theirs, rng)


def crossed(program: Program, one: Choice, other: Choice, rng: np.random.Generator) -> Choice:
    """Return a choice with some places of ``one``, or its part of the time, the rest of ``other``.

    What finds no room any more beside the part of ``one`` is left out.
    """
    kept = _some_places(program, one, rng) if rng.random() < 0.5 else _some_time(program, one, rng)
    child = np.where(kept, one, -1)
    slack, foot = program.slack(child), program.footprint
    for check in rng.permutation(np.flatnonzero(~kept & (other >= 0))):
        entries = slice(foot.indptr[other[check]], foot.indptr[other[check] + 1])
        left = slack[foot.indices[entries]] - foot.data[entries]
        if (left >= 0.0).all():
            child[check] = other[check]
            slack[foot.indices[entries]] = left
    return child


def _some_places(program: Program, chosen: Choice, rng: np.random.Generator) -> Mask:
    """Return which checks stand in some of the places, drawn at random."""
    placed = chosen >= 0
    places = np.unique(program.place[chosen[placed]])
    drawn = places[rng.random(len(places)) < rng.random()]
    kept: Mask = placed & np.isin(program.place[chosen], drawn)
    return kept


def _some_time(program: Program, chosen: Choice, rng: np.random.Generator) -> Mask:
    """Return which checks come in between two days drawn at random, or which do not."""
    placed = chosen >= 0
    if not placed.any():
        return placed
    day = program.in_day[chosen]
    first, last = np.sort(rng.choice(day[placed], 2))
    inside = (day >= first) & (day <= last)
    kept: Mask = placed & (inside if rng.random() < 0.5 else ~inside)
    return kept
