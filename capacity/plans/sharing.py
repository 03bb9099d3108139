"""Share the man-hours of weeks out among skills and aircraft types, as cheaply as can be."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import fsum

from capacity.plans.sharing_program import OVERLOAD, TIE, GroupWeek, SharingProgram
from capacity.plans.sharing_rows import Rows
from capacity.plans.simplex import EXACT, Simplex
from capacity.plans.week_hours import TOLERANCE, SharedWeek, SkillWeek

WEIGHTS = {"regular": 1e-3, "overtime": 1.0, "contract": 1.0, "overload": 1.0}
"""What an hour away from another plan counts: hours bought come before regular ones."""


def cheapest_sharing(weeks: Iterable[GroupWeek], last_resort: float) -> Iterator[SharedWeek]:
    """Minimise the money of what crews give to kinds of work and of what is bought.

    The rows are those of ``SharingProgram``. Hours bought come at their cost and contract crews
    at the contract cost of the skill they give to; overload costs ``last_resort``. Among
    equally cheap sharings the one comes first that is nearest to the hours of another plan,
    where a week has such: least ``sum of |hours - hours there|`` over skills and sources. Then
    crews stay in their own skill; then overtime comes before contract, and contract crews
    before the contract cap. Weeks do not depend on each other.
    """
    for week in weeks:
        program = SharingProgram(week, last_resort)
        vertex = _cheapest(program)
        told = program.read(_hours(vertex, program))
        if week.near is not None and not _is_near(told, week.near):
            _go_nearest(vertex, program, week.near)
            told = program.read(_hours(vertex, program))
        yield told


def _cheapest(program: SharingProgram) -> Simplex:
    """Return the cheapest hours, found from overload for everything that is asked."""
    at_most, equal = Rows(), Rows()
    program.add_to(at_most, equal, first=0)
    costs, ranks = program.costs, program.ranks
    vertex = Simplex(len(costs))
    for terms, side in equal.each():
        (overload,) = (column for column, _ in terms if ranks[column] == OVERLOAD)
        vertex.add([term for term in terms if term[0] != overload], side, overload)
    for terms, side in at_most.each():
        vertex.add(terms, side)
    if len(program.week.parts) == 1:  # with several parts a row holds the sum of them
        for column, (_, most) in enumerate(program.bounds):
            if most is not None:
                vertex.add([(column, 1.0)], most)
    pairs = enumerate(zip(costs, ranks, strict=True))
    vertex.minimise({column: cost + TIE * rank for column, (cost, rank) in pairs})
    return vertex


def _go_nearest(vertex: Simplex, program: SharingProgram, near: Mapping[str, SkillWeek]) -> None:
    """Go to hours that cost no more money and no more overload, nearest to another plan.

    For each skill and source ``hours - more + less = hours there``, with ``more`` and ``less``
    at their weight; money and overload are held to what is the least. Money is counted in
    hours of the dearest, so that sums stay small beside the tolerance.
    """
    costs, ranks, values = program.costs, program.ranks, _hours(vertex, program)
    dearest = max([1.0, *costs])
    money = [cost / dearest for cost in costs]
    for limited in (money, [float(rank == OVERLOAD) for rank in ranks]):
        terms = [(column, factor) for column, factor in enumerate(limited) if factor]
        vertex.add(terms, fsum(factor * values[column] for column, factor in terms))
    prices = {column: TIE * rank for column, rank in enumerate(ranks)}
    for skill, source, terms_told, constant in program.told():
        further = getattr(near[skill], source) - constant
        further -= fsum(factor * values[column] for column, factor in terms_told)
        more, less = vertex.further_column(), vertex.further_column()
        prices[more] = prices[less] = WEIGHTS[source]
        there = getattr(near[skill], source) - constant
        if further >= 0:
            vertex.add([*terms_told, (more, -1.0)], there, less)
        else:
            turned = [(column, -factor) for column, factor in terms_told]
            vertex.add([*turned, (less, -1.0)], -there, more)
    vertex.minimise(prices)


def _hours(vertex: Simplex, program: SharingProgram) -> Sequence[float]:
    """Return the hours of the program's columns, without the dust below the tolerance."""
    hours = [vertex.now(column) for column in range(len(program.costs))]
    return [value if value > EXACT else 0.0 for value in hours]


def _is_near(week: SharedWeek, near: Mapping[str, SkillWeek]) -> bool:
    """Return whether the week has the hours of the other plan already."""
    return all(
        abs(getattr(here, source) - getattr(near[skill], source)) <= TOLERANCE
        for skill, here in week.skills.items()
        for source in WEIGHTS
    )
