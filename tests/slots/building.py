"""A base on its way to a program, and choices to try on it."""

from dataclasses import dataclass
from random import Random

import numpy as np

from capacity.facts import Base
from capacity.plans.audit import Audit, audit
from capacity.slots.candidates import Slots
from capacity.slots.finding.ruin_recreate import RuinRecreate
from capacity.slots.program.build import build
from capacity.slots.program.choice import Choice
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program

# A temperature and the price of a day past, in money.
WARM, DAY = 5000.0, 1e6


@dataclass(frozen=True)
class Built:
    """A base with its slots and program."""

    base: Base
    slots: Slots
    program: Program

    def audited(self, chosen: Choice) -> Audit:
        """Audit the plan that a choice stands for."""
        return audit(self.base, plan_of(chosen, self.program, self.slots))


def built(base: Base) -> Built:
    """Go from the facts to the program."""
    made = build(base)
    return Built(base, made.slots, made.program)


def some_choice(program: Program, rng: Random) -> Choice:
    """Place the checks in any order on any column that still stands; leave some out."""
    chosen = nothing(program)
    slack = program.capacity.copy()
    for check in rng.sample(range(len(program.checks)), len(program.checks)):
        columns = columns_of_check(program, check)
        standing = columns[program.fits(columns, slack)]
        if len(standing) and rng.random() < 0.9:
            chosen[check] = rng.choice(standing.tolist())
            slack -= program.footprint[[chosen[check]]].sum(axis=0)
    return chosen


def annealed(made: Built, seed: int) -> Choice:
    """Return a choice that a few warm rounds come to from nothing."""
    search = RuinRecreate(made.program, nothing(made.program), seed)
    search.rounds(300, WARM, DAY)
    return search.best


def nothing(program: Program) -> Choice:
    """Leave every check out."""
    return np.full(len(program.checks), -1, dtype=np.int64)


def columns_of_check(program: Program, check: int) -> Choice:
    return program.columns_of(check)


def keeps_rows(program: Program, chosen: Choice) -> bool:
    """Say whether a choice keeps all rows, each check's column being one of its own."""
    placed = chosen[chosen >= 0]
    own = program.check_of[placed] == np.flatnonzero(chosen >= 0)
    used = program.footprint[placed].sum(axis=0)
    return bool(own.all() and (used <= program.capacity + 1e-9).all())
