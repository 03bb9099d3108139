"""Ruin and recreate: take a few related checks out, put each back where it is cheapest."""

import math
import time
from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

from capacity.slots.placing import Placing
from capacity.slots.program import Program

# Rounds between two looks at the clock; a round takes well under a millisecond.
ROUNDS_A_LOOK = 50
# Share of the money at which a worse plan is accepted one time in e, first and last.
WARM, COLD = 0.01, 0.0001


class RuinRecreate:
    """Simulated annealing whose moves take 2 to ``most`` related checks out and back in."""

    def __init__(self, program: Program, rng: np.random.Generator) -> None:
        """Prepare the pricing of the program; ``rng`` is the only source of chance."""
        self.program = program
        self.rng = rng
        self.day_money = day_money(program)
        self.placing = Placing(program, self.day_money)
        self.kin = _kinship(program)

    def start_from(self, chosen: NDArray[np.int64]) -> None:
        """Place the checks as chosen."""
        for check, column in enumerate(chosen):
            self.placing.take_out(check)
        for check, column in enumerate(chosen):
            if column >= 0:
                self.placing.put_in(check, int(column))

    def improve(
        self, seconds: float, on_better: Callable[[NDArray[np.int64]], None], most: int = 8
    ) -> NDArray[np.int64]:
        """Search for ``seconds``, tell every better choice, and return the best one.

        The temperature falls from warm to cold over the time given.
        """
        placing, rng = self.placing, self.rng
        value = self.placing.value
        best, best_value = placing.chosen.copy(), value
        began = time.monotonic()
        share = 0.0
        while share < 1.0:
            base = abs(value) % self.day_money
            temperature = max(1.0, base * WARM * (COLD / WARM) ** share)
            for _ in range(ROUNDS_A_LOOK):
                out = self._related(int(rng.integers(2, most + 1)))
                before = placing.chosen[out]
                self._recreate(out)
                new = self.placing.value
                if new <= value or rng.random() < math.exp((value - new) / temperature):
                    value = new
                    if new < best_value - 1e-6:
                        best, best_value = placing.chosen.copy(), new
                        on_better(best)
                else:
                    self._put_back(out, before)
            share = (time.monotonic() - began) / seconds
        self.start_from(best)
        return best

    def _related(self, count: int) -> NDArray[np.int64]:
        """Return up to ``count`` checks: a random one and those most akin to it, blurred."""
        anchor = int(self.rng.integers(len(self.program.checks)))
        nearness = self.kin[anchor] * self.rng.random(len(self.kin)) ** 2
        nearness[anchor] = np.inf
        count = min(int(count), len(nearness))
        return np.argpartition(-nearness, count - 1)[:count]

    def _recreate(self, out: NDArray[np.int64]) -> None:
        for check in out:
            self.placing.take_out(int(check))
        for check in self.rng.permutation(out):
            column, _ = self.placing.cheapest(int(check))
            if column >= 0:
                self.placing.put_in(int(check), column)

    def _put_back(self, out: NDArray[np.int64], before: NDArray[np.int64]) -> None:
        for check in out:
            self.placing.take_out(int(check))
        for check, column in zip(out, before, strict=True):
            if column >= 0:
                self.placing.put_in(int(check), int(column))


def day_money(program: Program) -> float:
    """Return more money than any two choices can differ by: what a day past counts."""
    spread = [
        float(np.ptp(program.money[a:b], axis=0)) + float(abs(program.money[a:b]).max())
        for a, b in _slices(program)
        if b > a
    ]
    hours = [
        float(program.man_hours[program.course[a]].sum()) for a, b in _slices(program) if b > a
    ]
    dearest = float(program.tier_costs.max(initial=0.0))
    return 1.0 + sum(spread) + dearest * (sum(hours) + float(program.asked.sum()))


def _slices(program: Program) -> Iterator[tuple[int, int]]:
    return zip(program.first_column[:-1].tolist(), program.first_column[1:].tolist(), strict=True)


def _kinship(program: Program) -> NDArray[np.float64]:
    """Return how much each pair of checks can be in each other's way, shape (checks, checks)."""
    checks = len(program.checks)
    rows = np.zeros((checks, len(program.capacity)))
    cells = np.zeros((checks, len(program.regular)))
    for number, (first, until) in enumerate(_slices(program)):
        if until > first:
            rows[number] = program.footprint[np.arange(first, until)].sum(axis=0) > 0
            cells[number] = (
                program.man_hours[program.course[first:until]].max(axis=0).toarray().ravel()
            )
    cells /= np.maximum(np.linalg.norm(cells, axis=1, keepdims=True), 1e-9)
    rows /= np.maximum(np.linalg.norm(rows, axis=1, keepdims=True), 1e-9)
    return rows @ rows.T + cells @ cells.T + 0.05
