"""The last descent: no single check's move, and no move of two, that would save anything is left.

A move is any other column of a check, or leaving it out; of two checks both move, each to any
column that finds room once both have left their places. So swaps are among them, and an option
in for another one. Whatever two checks save together is told from what each of them asks by
itself: the money for man-hours of a week is convex and rises faster the more is asked of any kind
(transportation problems: Topkis, Supermodularity and complementarity, 1998 - from memory), so

    money(left + one + other) >= money(left + one) + money(left + other) - money(left)

with ``left`` what all others ask. Most pairs of columns are too dear by that already; the others
are priced exactly.
"""

import contextlib
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array

from capacity.slots.finding.free_moves import FreeMoves, fit_together, free_moves, with_column
from capacity.slots.finding.levelled_descent import LevelledDescent
from capacity.slots.finding.move_tables import Moves, moves_of
from capacity.slots.finding.week_costs import WeekMoney
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

# What a choice found here is said to come from.
SOURCE = "search"
# Less than this is a rounding, not a saving.
LEAST = 1e-5
# Pairs of columns that are looked at together.
PAIRS_AT_ONCE = 512
# With more checks than so many, it is not worked out who can never be in whose way.
MANY_CHECKS = 600


@dataclass(frozen=True)
class Priced:
    """What a check's moves add to the money beside others that stand.

    ``money`` (moves,) is a lower bound; ``entry`` (entries,) is that of each entry of its table, on
    top of ``base`` (weeks,), a lower bound of the money for what is asked without the check.
    """

    money: Floats
    entry: Floats
    base: Floats


class _MovesOfAll:
    """The moves of each check, laid out when they are first asked for."""

    def __init__(self, program: Program) -> None:
        self._program = program
        self._made: dict[int, Moves] = {}

    def __len__(self) -> int:
        return len(self._program.checks)

    def __getitem__(self, check: int) -> Moves:
        if check not in self._made:
            self._made[check] = moves_of(self._program, check)
        return self._made[check]


class LastDescent:
    """A choice that is bettered by single moves and moves of two until none saves anything.

    ``chosen`` is the best so far at any time. ``is_done`` says whether everything was looked at.
    """

    def __init__(self, program: Program, chosen: Choice) -> None:
        """Begin with a choice that keeps all rows."""
        self.program, self.is_done = program, False
        self._price_of = WeekMoney(program.hours)
        # Moves are sorted out by the rows that often bind, and then held against all.
        often = np.flatnonzero(~program.lazy)
        is_all = len(often) == len(program.lazy)
        self._often = program.footprint if is_all else csr_array(program.footprint[:, often])
        self._few_rows = replace(program, footprint=self._often)
        self._moves = _MovesOfAll(program)
        self._version = 0
        self._changed = np.zeros(len(program.checks), dtype=np.int64)
        self._stand(chosen)

    def begin_again(self, chosen: Choice) -> None:
        """Begin with another choice that keeps all rows."""
        self._stand(chosen)

    def run(self, until: float) -> None:
        """Descend until nothing saves anything, or the clock (monotonic) says ``until``."""
        looked_at = np.full((len(self._moves),) * 2, -1, dtype=np.int64)
        self.is_done = not self.program.size
        while not self.is_done and self._descend_by_one(until):
            before = self._version
            for one, other in self._pairs():
                if looked_at[one, other] >= max(self._changed[one], self._changed[other]):
                    continue
                if time.monotonic() > until:
                    return
                version = self._version
                if not self._move_two(one, other):
                    looked_at[one, other] = version
            self.is_done = self._version == before

    def _descend_by_one(self, until: float) -> bool:
        """Move single checks while it saves anything; return whether there was time for it."""
        quiet, check = 0, 0
        while quiet < len(self._moves):
            if time.monotonic() > until:
                return False
            quiet = 0 if self._move_one(check) else quiet + 1
            check = (check + 1) % len(self._moves)
        return True

    def _pairs(self) -> Iterator[tuple[int, int]]:
        """Yield the pairs of checks that could be in each other's way, or share hours."""
        for one in range(len(self._moves)):
            for other in np.flatnonzero(self._meets[one][one + 1 :]) + one + 1:
                yield one, int(other)

    @cached_property
    def _meets(self) -> Mask:
        """Return which checks share a row or a week, whatever they do, (checks, checks)."""
        checks, foot = len(self._moves), self.program.footprint
        if checks > MANY_CHECKS:
            return np.ones((checks, checks), dtype=np.bool_)
        rows, weeks = [], np.zeros((checks, self.program.hours.supply.weeks))
        for check in range(checks):
            first, until = foot.indptr[self.program.first_column[check : check + 2]]
            is_taken = np.zeros(foot.shape[1], dtype=np.bool_)
            is_taken[foot.indices[first:until]] = True
            rows.append(np.flatnonzero(is_taken))
            weeks[check, self._moves[check].week] = 1.0
        indptr = np.cumsum([0, *map(len, rows)])
        ones = np.ones(indptr[-1])
        of_rows = csr_array((ones, np.concatenate(rows), indptr), shape=(checks, foot.shape[1]))
        meets: Mask = ((of_rows @ of_rows.T).toarray() + weeks @ weeks.T) > 0
        return meets

    def _stand(self, chosen: Choice, moved: Sequence[int] | None = None) -> None:
        """Take in a choice that differs in the checks ``moved``, None when in any."""
        program, supply = self.program, self.program.hours.supply
        placed = np.flatnonzero(chosen >= 0)
        foot = program.footprint[chosen[placed]]
        self.chosen = chosen
        self._slack = program.capacity - foot.sum(axis=0)
        self._standing = self._standing_rows(placed)
        self._load = program.load(chosen).reshape(supply.regular.shape)
        weeks = np.arange(supply.weeks)
        self._paid = self._price_of.exact(weeks, self._load)
        # The most that any two checks could ask on top: where that is free, nobody shares hours.
        most = np.sort(program.most_asked, axis=0)[-2:].sum(axis=0).reshape(supply.regular.shape)
        self._is_tense = self._price_of.at_least(weeks, self._load + most) > 0.0
        if moved is None:
            self._free_of: dict[int, FreeMoves] = {}
            self._priced_of: dict[int, Priced] = {}
            return
        self._version += 1
        for check in np.flatnonzero(self._meets[list(moved)].any(axis=0)):
            self._changed[check] = self._version
            self._free_of.pop(int(check), None)
            self._priced_of.pop(int(check), None)

    def _standing_rows(self, placed: Choice) -> csc_array:
        """Return what each check takes of the rows that often bind, (checks, rows)."""
        foot = self._often[self.chosen[placed]].tocoo()
        shape = (len(self._moves), self._often.shape[1])
        return csc_array((foot.data, (placed[foot.row], foot.col)), shape=shape)

    def _free(self, check: int) -> FreeMoves:
        if check not in self._free_of:
            slack = self._slack[~self.program.lazy]
            self._free_of[check] = free_moves(
                self._few_rows, self._standing, self.chosen, check, slack
            )
        return self._free_of[check]

    def _asked(self, check: int) -> tuple[Choice, Floats]:
        """Return the weeks in which a check asks something, and what it asks there."""
        moves = self._moves[check]
        course = moves.course[moves.number_of(int(self.chosen[check]))]
        entries = slice(*moves.entry_of[course : course + 2])
        return moves.week[entries], moves.hours[entries]

    def _priced(self, check: int) -> Priced:
        """Return what the moves of a check add beside all others as they stand."""
        if check not in self._priced_of:
            moves, (weeks, hours) = self._moves[check], self._asked(check)
            left, base = self._load.copy(), self._paid.copy()
            left[weeks] -= hours
            base[weeks] = self._price_of.at_least(weeks, left[weeks])
            entry = self._price_of.at_least(moves.week, left[moves.week] + moves.hours)
            entry -= base[moves.week]
            self._priced_of[check] = Priced(_added(moves, entry), entry, base)
        return self._priced_of[check]

    def _priced_beside(
        self, check: int, to: Choice, left: Floats, base: Floats, weeks: Choice
    ) -> Floats:
        """Return the same once another check, that asked something in ``weeks``, has left too.

        Only of the moves ``to`` (n,), shape (n,).
        """
        moves, priced = self._moves[check], self._priced(check)
        is_left = np.zeros(len(base), dtype=np.bool_)
        is_left[weeks] = True
        is_wanted = np.zeros(moves.courses, dtype=np.bool_)
        is_wanted[moves.course[to]] = True
        anew = np.flatnonzero(is_left[moves.week] & is_wanted[moves.of])
        if not len(anew):
            return priced.money[to]
        entry, week = priced.entry.copy(), moves.week[anew]
        entry[anew] = self._price_of.at_least(week, left[week] + moves.hours[anew]) - base[week]
        return _added(moves, entry)[to]

    def _move_one(self, check: int) -> bool:
        """Move a check where that saves most; return whether it saves anything."""
        moves, priced = self._moves[check], self._priced(check)
        here = moves.number_of(int(self.chosen[check]))
        weeks, _ = self._asked(check)
        budget = moves.money[here] + (self._paid[weeks] - priced.base[weeks]).sum()
        to = np.append(self._free(check).alone, len(moves.money) - 1)
        past = moves.past[to]
        saves = (past < moves.past[here]) | (
            (past == moves.past[here]) & (priced.money[to] < budget - LEAST)
        )
        to = to[saves]
        to = to[np.lexsort((priced.money[to], moves.past[to]))]
        return self._take_best((check,), (to,))

    def _move_two(self, one: int, other: int) -> bool:
        """Move two checks where that saves something; return whether it does."""
        if self.chosen[one] < 0 and self.chosen[other] < 0:
            return False  # what they could do together, each could do by itself
        free = self._free(one), self._free(other)
        moves = self._moves[one], self._moves[other]
        if other not in free[0].freed and one not in free[1].freed:
            tense = np.zeros(len(self._paid))
            for mine in moves:
                tense[np.unique(mine.week)] += self._is_tense[np.unique(mine.week)]
            if tense.max(initial=0.0) < 2.0:
                return False
        to = [
            np.append(mine.beside(who), len(theirs.money) - 1)
            for mine, theirs, who in zip(free, moves, (other, one), strict=True)
        ]
        costs, budget = self._money_of_two(one, other, to)
        past = [mine.past[ways] for mine, ways in zip(moves, to, strict=True)]
        here = [m.number_of(int(self.chosen[c])) for m, c in zip(moves, (one, other), strict=True)]
        days = sum(int(mine.past[at]) for mine, at in zip(moves, here, strict=True))
        for n, others in ((0, 1), (1, 0)):
            least_past, least_cost = past[others].min(), costs[others].min()
            may = (past[n] + least_past < days) | (
                (past[n] + least_past <= days) & (costs[n] + least_cost < budget - LEAST)
            )
            to[n], costs[n], past[n] = to[n][may], costs[n][may], past[n][may]
            if not may.any():
                return False
        together, cost = past[0][:, None] + past[1], costs[0][:, None] + costs[1]
        i, j = np.nonzero((together < days) | ((together == days) & (cost < budget - LEAST)))
        order = np.lexsort((cost[i, j], together[i, j]))
        return self._take_best((one, other), (to[0][i[order]], to[1][j[order]]))

    def _money_of_two(self, one: int, other: int, to: list[Choice]) -> tuple[list[Floats], float]:
        """Return what moves ``to`` of either add once both have left, and what they cost now.

        Both from below, on top of the same base.
        """
        left, base = self._load.copy(), self._paid.copy()
        asked = self._asked(one), self._asked(other)
        for weeks, hours in asked:
            left[weeks] -= hours
        both = np.union1d(asked[0][0], asked[1][0])
        base[both] = self._price_of.at_least(both, left[both])
        budget = float((self._paid[both] - base[both]).sum())
        for check in (one, other):
            moves = self._moves[check]
            budget += float(moves.money[moves.number_of(int(self.chosen[check]))])
        added = [
            self._priced_beside(check, ways, left, base, weeks)
            for check, ways, (weeks, _) in ((one, to[0], asked[1]), (other, to[1], asked[0]))
        ]
        return added, budget

    def _take_best(self, checks: tuple[int, ...], to: tuple[Choice, ...]) -> bool:
        """Go through moves of one or two checks, (n,) each, until some save something.

        They are priced exactly. Returns whether any do.
        """
        if not len(to[0]):
            return False
        moves = [self._moves[check] for check in checks]
        spans = [mine.span for mine in moves if len(mine.week)]
        span = min((s[0] for s in spans), default=0), max((s[1] for s in spans), default=0)
        slack, left, days = self._slack, self._load[slice(*span)].copy(), 0
        now = float(self._paid[slice(*span)].sum())
        for check, mine in zip(checks, moves, strict=True):
            here = mine.number_of(int(self.chosen[check]))
            slack = with_column(slack, self.program.footprint, int(self.chosen[check]), 1.0)
            left -= mine.asks(np.array([here]), span)[0]
            days, now = days + int(mine.past[here]), now + float(mine.money[here])
        for begin in range(0, len(to[0]), PAIRS_AT_ONCE):
            some = [ways[begin : begin + PAIRS_AT_ONCE] for ways in to]
            columns = [mine.columns_of(ways) for mine, ways in zip(moves, some, strict=True)]
            fits = fit_together(self.program.footprint, slack, columns)
            if not fits.any():
                continue
            some = [ways[fits] for ways in some]
            past = np.zeros(len(some[0]), dtype=np.int64)
            money, loads = np.zeros(len(past)), np.repeat(left[None], len(past), axis=0)
            for mine, ways in zip(moves, some, strict=True):
                past, money = past + mine.past[ways], money + mine.money[ways]
                loads += mine.asks(ways, span)
            enough = np.where(past < days, np.inf, now - LEAST) - money
            money = money + self._money_of(loads, span, enough)
            saves = (past < days) | ((past == days) & (money < now - LEAST))
            if saves.any():
                best = np.flatnonzero(saves)[np.lexsort((money[saves], past[saves]))[0]]
                chosen = self.chosen.copy()
                chosen[list(checks)] = [column[fits][best] for column in columns]
                self._stand(chosen, checks)
                return True
        return False

    def _money_of(self, loads: Floats, span: tuple[int, int], enough: Floats) -> Floats:
        """Return the money for ``loads`` (n, weeks, kinds) over a span of weeks, shape (n,).

        For those that cost ``enough`` (n,) or more, only that they do.
        """
        count, width, kinds = loads.shape
        weeks, flat = np.tile(np.arange(*span), count), loads.reshape(-1, kinds)
        money = self._price_of.at_least(weeks, flat).reshape(count, width).sum(axis=1)
        if not self._price_of.is_exact and (near := np.flatnonzero(money < enough)).size:
            weeks, flat = np.tile(np.arange(*span), len(near)), loads[near].reshape(-1, kinds)
            money[near] = self._price_of.exact(weeks, flat).reshape(len(near), width).sum(axis=1)
        in_all: Floats = money
        return in_all


def descent_of(program: Program, chosen: Choice) -> LastDescent | LevelledDescent:
    """Return the descent for a program, its man-hours levelled or not."""
    if program.hours.are_levelled:
        return LevelledDescent(program, chosen)
    return LastDescent(program, chosen)


def descended(program: Program, chosen: Choice, seconds: float) -> tuple[Choice, bool]:
    """Return what a choice comes to by such moves, and whether all of them were looked at.

    Takes about so many ``seconds`` at the most. Ctrl-C ends it with what it has.
    """
    until = time.monotonic() + seconds
    descent: LastDescent | LevelledDescent | None = None
    with contextlib.suppress(KeyboardInterrupt):
        descent = descent_of(program, chosen)
        descent.run(until)
    if descent is None:
        return chosen, False
    return descent.chosen, descent.is_done


def _added(moves: Moves, entry: Floats) -> Floats:
    """Return the money of moves when each entry of their table adds so much."""
    labour = np.bincount(moves.of, entry, minlength=moves.courses)
    added: Floats = moves.money + labour[moves.course]
    return added
