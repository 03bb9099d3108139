"""What every change that could undo a conflict is tried with."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from capacity.facts import Base, Bay, Check
from capacity.questions.conflicts.solving import Clock
from capacity.questions.conflicts.trials import (
    Ground,
    Price,
    TriedBase,
    Wanted,
    ground_of,
    trial_on,
)
from capacity.slots.rules.changes import Change, FewestOf, OneChange
from capacity.slots.rules.families import tied
from capacity.slots.rules.rule import Rule


@dataclass(frozen=True)
class Found:
    """A change that helps, by an ``amount``, with the trial that shows it."""

    change: Change
    rule: Rule
    amount: int
    days: int
    is_least: bool
    trial: TriedBase
    bay: str = ""


Tried = Found | bool | None
"""A change that helps; False for one that does not, None where neither was proven."""


@dataclass(frozen=True)
class Case:
    """A base in which what is ``wanted`` cannot be had, and the time to find changes.

    ``ground`` is its program, ``rules`` are those in conflict. What does not help the
    conflict's ``own`` checks does not help all, and they are few and quickly tried.
    """

    ground: Ground
    wanted: Wanted
    rules: tuple[Rule, ...]
    clock: Clock

    @property
    def own(self) -> frozenset[str]:
        """Return the checks in the conflict."""
        return frozenset(rule.of for rule in self.rules if rule.kind.asks_for_a_place)

    @property
    def base(self) -> Base:
        """Return the base as it is."""
        return self.ground.base

    def check(self, name: str) -> Check:
        """Return a check of the base."""
        return self.base.check(name)

    def bay(self, name: str) -> Bay:
        """Return a bay of the base."""
        return self.base.bay(name)

    def with_check(self, changed: Check) -> Base:
        """Return the base with a check changed."""
        return self.base.replace(
            checks=tuple(changed if c.name == changed.name else c for c in self.base.checks)
        )

    def trial(
        self, base: Base, wanted: Wanted | None = None, of: str = "", price: Price | None = None
    ) -> TriedBase:
        """Try a base with all that is wanted; see ``trial_on``."""
        wanted = wanted or self.wanted
        is_known = base is self.base and not wanted.bound
        ground = self.ground if is_known else ground_of(base, bays_apart=bool(wanted.bound))
        return trial_on(ground, wanted, self.clock, of, price)

    def trial_of_few(
        self, base: Base, wanted: Wanted | None = None, of: str = "", price: Price | None = None
    ) -> TriedBase:
        """Try a base with the conflict's own checks only; what fails here fails with all."""
        wanted = wanted or self.wanted
        few = replace(wanted, checks=wanted.checks & self.own)
        about = tied(self.base, self.own)
        small = base.replace(checks=tuple(c for c in base.checks if c.name in about))
        ground = ground_of(small, bays_apart=bool(wanted.bound))
        return trial_on(ground, few, self.clock, of, price)

    def found(
        self,
        change: Change,
        rule: Rule,
        amount: int,
        base: Base,
        *,
        days: int | None = None,
        is_least: bool = True,
        wanted: Wanted | None = None,
        bay: str = "",
    ) -> Tried:
        """Return the change if all that is wanted can be had with it.

        ``days`` that somebody's date gives are the amount where they are not told.
        """
        few = self.trial_of_few(base, wanted).answer.holds
        if few is not True:
            return few
        trial = self.trial(base, wanted)
        if not trial.answer.holds:
            return trial.answer.holds
        given = abs(amount) if days is None else days
        return Found(change, rule, amount, given, is_least, trial, bay)

    def least(
        self,
        rule: Rule,
        base: Base,
        price: Price,
        found: Callable[[TriedBase, bool], Tried],
        wanted: Wanted | None = None,
    ) -> Tried:
        """Find the least change by the ``price`` of a check's courses in an open ``base``.

        ``found`` makes the change that a trial's answer shows; what is least for the few and
        helps all is least for all.
        """
        for trying in (self.trial_of_few, self.trial):
            trial = trying(base, wanted, rule.of, price)
            if trial.answer.chosen is None:
                return trial.answer.holds
            tried = found(trial, trial.answer.is_least)
            if isinstance(tried, Found):
                return tried
        return tried

    def with_change(self, rule: Rule, one: OneChange) -> Tried:
        """Try one changed base; a check that it has no more is wanted no more."""
        there = frozenset(check.name for check in one.after.checks)
        wanted = replace(self.wanted, checks=self.wanted.checks & there)
        return self.found(
            one.change, rule, one.number, one.after, days=one.days, wanted=wanted, bay=one.bay
        )

    def with_fewest(self, rule: Rule, some: FewestOf) -> Tried:
        """Find the least number from 1 to the most that helps, halving the range."""
        change, days, after = some.change, some.days, some.after
        helps_few = _first(1, some.most, lambda n: self.trial_of_few(after(n)).answer.holds)
        if not isinstance(helps_few, tuple):
            return helps_few
        number, is_least = helps_few
        tried = self.found(change, rule, number, after(number), days=days, is_least=is_least)
        if isinstance(tried, Found):
            return tried
        helps = _first(number + 1, some.most, lambda n: self.trial(after(n)).answer.holds)
        if not isinstance(helps, tuple):
            return helps
        is_least = helps[1] and is_least and tried is False
        return self.found(change, rule, helps[0], after(helps[0]), days=days, is_least=is_least)


def _first(
    least: int, most: int, holds: Callable[[int], bool | None]
) -> tuple[int, bool] | bool | None:
    """Return the first number that holds, and whether all below are proven not to.

    Once a number holds all above do; otherwise the verdict on ``most`` is returned.
    """
    if least > most:
        return False
    verdict = holds(most)
    if verdict is not True:
        return verdict
    too_few, is_first = least - 1, True
    while most - too_few > 1:
        middle = (too_few + most) // 2
        verdict = holds(middle)
        if verdict:
            most = middle
        else:
            too_few, is_first = middle, is_first and verdict is False
    return most, is_first
