"""The optimum once more: by a mixed-integer program of its own, and by trying everything."""

from itertools import combinations, product
from math import inf

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, OptimizeResult, milp

from capacity.facts import Base, Status
from tests.reference.plain_dates import Cell, Way, tiers, value, ways_of


def clash_of_fixed(base: Base) -> bool:
    """Say whether the fixed checks cannot stand, by themselves or together."""
    fixed = [ways_of(base, check) for check in base.checks if check.status is Status.FIXED]
    standing = [ways[0] for ways in fixed if ways]
    return len(standing) < len(fixed) or any(a.clashes(b) for a, b in combinations(standing, 2))


def best_by_trying(base: Base) -> tuple[int, float]:
    """Return the least days past and money over all ways to place everything."""
    choices: list[list[Way | None]] = []
    for check in base.checks:
        left_out: list[Way | None] = [] if check.status is Status.FIXED else [None]
        choices.append([*left_out, *ways_of(base, check)])
    best = (10**9, inf)
    for choice in product(*choices):
        chosen = [way for way in choice if way is not None]
        if not any(a.clashes(b) for a, b in combinations(chosen, 2)):
            best = min(best, value(base, chosen))
    return best


# What ``milp`` returns when the solver inside broke down; seen once, with its presolve on.
SOLVE_ERROR = 4


def best_by_milp(base: Base) -> tuple[int, float]:
    """Return the least days past, and the least money at that, from ``scipy.optimize.milp``.

    Every bay by itself, a row for each of its days; no groups, no rounding of hours.
    """
    ways = [way for check in base.checks for way in ways_of(base, check)]
    cells = sorted({cell for way in ways for cell in way.man_hours})
    program = _Program(base, ways, cells)
    days = round(program.least(program.past).fun)
    money = program.least(program.money, days).fun
    return days, money


class _Program:
    """Columns: the ways, then each check left out, then hours bought by cell and tier."""

    def __init__(self, base: Base, ways: list[Way], cells: list[Cell]) -> None:
        """Lay out costs and rows densely; the bases are small."""
        checks = base.checks
        bought = [(cell, *tier) for cell in cells for tier in tiers(base, cell)]
        hours = [width for _, width, _ in bought]
        self.size = len(ways) + len(checks) + len(bought)
        left_out_days = [
            0 if check.status is Status.OPTION else base.longest_delay_days + 1 for check in checks
        ]
        self.past = np.array([*(w.past for w in ways), *left_out_days, *[0] * len(bought)], float)
        self.money = np.array(
            [*(w.money for w in ways), *[0.0] * len(checks), *(cost for _, _, cost in bought)]
        )
        must = [check.status is Status.FIXED for check in checks]
        self.bounds = Bounds(0, [*[1] * len(ways), *(1 - np.array(must, int)), *hours])
        self.integrality = np.repeat([1, 0], [len(ways) + len(checks), len(bought)])
        self.rows: list[LinearConstraint] = []
        for number, check in enumerate(checks):
            row = [float(way.check == check.name) for way in ways]
            self._add(row, {len(ways) + number: 1.0}, 1, 1)
        for bay in base.bays:
            self._one_at_a_time([way.bay == bay.name for way in ways], ways)
        for cell in cells:
            row = [way.man_hours[cell] for way in ways]
            first = len(ways) + len(checks)
            buys = {first + n: -1.0 for n, tier in enumerate(bought) if tier[0] == cell}
            self._add(row, buys, -inf, 0)

    def _add(self, row: list[float], more: dict[int, float], low: float, high: float) -> None:
        whole = np.zeros(self.size)
        whole[: len(row)] = row
        for column, factor in more.items():
            whole[column] = factor
        self.rows.append(LinearConstraint(whole, low, high))

    def _one_at_a_time(self, in_bay: list[bool], ways: list[Way]) -> None:
        for day in {way.first for way in ways}:
            stands = [
                float(mine and way.first <= day < way.ready)
                for mine, way in zip(in_bay, ways, strict=True)
            ]
            self._add(stands, {}, 0, 1)

    def least(self, cost: np.ndarray, days: int | None = None) -> OptimizeResult:
        """Solve to the end, with at most ``days`` past where that is given."""
        within = [] if days is None else [LinearConstraint(self.past, 0, days)]
        for presolve in (True, False):
            result = milp(
                cost,
                integrality=self.integrality,
                bounds=self.bounds,
                constraints=[*self.rows, *within],
                options={"mip_rel_gap": 0.0, "presolve": presolve},
            )
            if result.status != SOLVE_ERROR:
                break
        assert result.success, result.message
        return result
