"""Share the man-hours of weeks out among skills and aircraft types, as cheaply as can be."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate, chain, pairwise
from math import fsum

from scipy.optimize import linprog
from scipy.sparse import csr_array

from capacity.errors import EngineError
from capacity.plans.sharing_program import OVERLOAD, TIE, GroupWeek, SharingProgram
from capacity.plans.sharing_rows import Rows
from capacity.plans.week_hours import TOLERANCE, SharedWeek, SkillWeek

EXACT = 1e-9
"""Tolerance of the solver, in hours and in money an hour."""

WEIGHTS = {"regular": 1e-3, "overtime": 1.0, "contract": 1.0, "overload": 1.0}
"""What an hour away from another plan counts: hours bought come before regular ones."""


def cheapest_sharing(weeks: Iterable[GroupWeek], last_resort: float) -> Iterator[SharedWeek]:
    """Minimise the money of what crews give to kinds of work and of what is bought.

    The rows are those of ``SharingProgram``. Hours bought come at their cost and contract crews
    at the contract cost of the skill they give to; overload costs ``last_resort``. Among
    equally cheap sharings the one comes first that is nearest to the hours of another plan,
    where a week has such: least ``sum of |hours - hours there|`` over skills and sources. Then
    crews stay in their own skill; then overtime comes before contract, and contract crews
    before the contract cap. Weeks do not depend on each other: they are in one program because
    that is faster.
    """
    programs = [SharingProgram(week, last_resort) for week in weeks]
    found = _cheapest(programs)
    told = [program.read(values) for program, values in zip(programs, found, strict=True)]
    apart = [n for n, week in enumerate(told) if not _is_near(week, programs[n].week.near)]
    nearest = _nearest([programs[n] for n in apart], [found[n] for n in apart])
    for number, values in zip(apart, nearest, strict=True):
        told[number] = programs[number].read(values)
    yield from told


def _cheapest(programs: Sequence[SharingProgram]) -> list[list[float]]:
    """Return the hours of each program's columns."""
    at_most, equal = Rows(), Rows()
    prices: list[float] = []
    for program in programs:
        program.add_to(at_most, equal, first=len(prices))
        prices += [
            cost + TIE * rank for cost, rank in zip(program.costs, program.ranks, strict=True)
        ]
    bounds = list(chain.from_iterable(program.bounds for program in programs))
    values = _solved(prices, at_most, equal, bounds)
    ends = accumulate((len(program.costs) for program in programs), initial=0)
    return [values[first:end] for first, end in pairwise(ends)]


def _nearest(
    programs: Sequence[SharingProgram], cheapest: Sequence[Sequence[float]]
) -> list[list[float]]:
    """Return hours that cost no more money and no more overload, nearest to another plan.

    For each skill and source ``hours - more + less = hours there``, with ``more`` and ``less``
    at their weight; money and overload are held to what is the least. Money is counted in
    hours of the dearest, so that sums stay small beside the solver's tolerance.
    """
    at_most, equal = Rows(), Rows()
    prices: list[float] = []
    bounds: list[tuple[float, float | None]] = []
    spans: list[slice] = []
    for program, values in zip(programs, cheapest, strict=True):
        first, costs, ranks = len(prices), program.costs, program.ranks
        program.add_to(at_most, equal, first)
        prices += [TIE * rank for rank in ranks]
        bounds += program.bounds
        spans.append(slice(first, len(prices)))
        dearest = max([1.0, *costs])
        money = [cost / dearest for cost in costs]
        for limited in (money, [float(rank == OVERLOAD) for rank in ranks]):
            least = fsum(factor * hours for factor, hours in zip(limited, values, strict=True))
            terms = ((first + n, factor) for n, factor in enumerate(limited) if factor)
            at_most.add_weighted(terms, least)
        for skill, source, terms_told, constant in program.told():
            more, less = len(prices), len(prices) + 1
            prices += [WEIGHTS[source]] * 2
            bounds += [(0.0, None)] * 2
            there = getattr((program.week.near or {})[skill], source)
            moved = [(first + column, factor) for column, factor in terms_told]
            equal.add_weighted([*moved, (more, -1.0), (less, 1.0)], there - constant)
    values = _solved(prices, at_most, equal, bounds)
    return [values[span] for span in spans]


def _is_near(week: SharedWeek, near: Mapping[str, SkillWeek] | None) -> bool:
    """Return whether the week has the hours of the other plan already, or there is none."""
    return near is None or all(
        abs(getattr(here, source) - getattr(near[skill], source)) <= TOLERANCE
        for skill, here in week.skills.items()
        for source in WEIGHTS
    )


def _solved(
    prices: Sequence[float],
    at_most: Rows,
    equal: Rows,
    bounds: Sequence[tuple[float, float | None]],
) -> list[float]:
    """Solve the linear program; return the hours without the dust below the tolerance."""
    if not prices:
        return []
    solved = linprog(  # type: ignore[call-overload] # its stubs know dense matrices only
        prices,
        A_ub=_matrix(at_most, len(prices)),
        b_ub=at_most.sides,
        A_eq=_matrix(equal, len(prices)),
        b_eq=equal.sides,
        bounds=bounds,
        method="highs",
        options={"primal_feasibility_tolerance": EXACT, "dual_feasibility_tolerance": EXACT},
    )
    if solved.x is None:
        raise EngineError(f"the man-hours could not be shared out: {solved.message}")
    return [value if value > EXACT else 0.0 for value in solved.x.tolist()]


def _matrix(rows: Rows, width: int) -> csr_array:
    """Return the factors of the rows as a matrix of so many columns."""
    shape = (len(rows.sides), width)
    return csr_array((rows.factors, rows.columns, rows.ends), shape=shape)
