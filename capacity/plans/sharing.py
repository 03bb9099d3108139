"""Share the man-hours of weeks out among skills and aircraft types, as cheaply as can be."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from math import fsum

from scipy.optimize import linprog
from scipy.sparse import csr_array

from capacity.errors import EngineError
from capacity.facts import Crew, Employment
from capacity.plans.skill_groups import SkillGroup
from capacity.plans.week_hours import (
    AskedInWeek,
    HoursByCrew,
    SharedWeek,
    SkillWeek,
    asked_of,
    hours_of,
    split_over,
)

EXACT = 1e-9
"""Tolerance of the solver, in hours and in money an hour."""

TIE = 2.5e-7
"""Money an hour, times a rank, that settles equal prices and no others.

Far below any difference of prices that money shows, far above the solver's tolerance.
"""

FOREIGN = 4
"""Rank of an hour in another skill than the crew's own, on top of that of its source."""

EMPLOYED, OVERTIME, CONTRACT_CREW, CONTRACT_CAP, OVERLOAD = 0, 1, 2, 3, 8
"""Ranks of the sources."""


@dataclass(frozen=True, slots=True)
class GroupWeek:
    """What is asked in a week of the skills of a group, and the hours that each crew has."""

    group: SkillGroup
    asked: AskedInWeek
    hours: HoursByCrew


@dataclass(frozen=True, slots=True)
class _Pool:
    """Crews alike in own skill, skills, types and employment, and their hours together."""

    crews: tuple[Crew, ...]
    hours: float

    def does(self, skill: str, aircraft: str) -> bool:
        """Return whether they have the skill and are authorised on the type."""
        crew = self.crews[0]
        return skill in crew.skills and (not crew.types or aircraft in crew.types)

    @property
    def is_employed(self) -> bool:
        """Whether their hours are regular ones."""
        return self.crews[0].employment is Employment.EMPLOYED

    @property
    def own(self) -> str:
        """Their own skill."""
        return self.crews[0].skills[0]


@dataclass(frozen=True, slots=True)
class _Tier:
    """Hours that can be bought in a skill, for work on any type, up to ``cap`` if any."""

    skill: str
    rank: int
    cost: float
    cap: float | None


@dataclass(frozen=True, slots=True)
class _Kind:
    """``asked`` hours of one skill that the same ``pools``, by number, can do."""

    skill: str
    pools: tuple[int, ...]
    asked: float


class _Rows:
    """Rows that add columns up and hold the sum to a right-hand side."""

    def __init__(self) -> None:
        self.sides: list[float] = []
        self._columns: list[int] = []
        self._ends = [0]

    def add(self, columns: Iterable[int], side: float) -> None:
        """Add the row ``sum of columns`` against ``side``."""
        self.sides.append(side)
        self._columns.extend(columns)
        self._ends.append(len(self._columns))

    def matrix(self, width: int) -> csr_array:
        """Return the rows as a matrix of ones."""
        ones = [1.0] * len(self._columns)
        return csr_array((ones, self._columns, self._ends), shape=(len(self.sides), width))


def cheapest_sharing(weeks: Iterable[GroupWeek], last_resort: float) -> Iterator[SharedWeek]:
    """Minimise the money of what crews give to kinds of work and of what is bought.

    For each pool of crews ``given <= hours``, for each kind of work ``given <= asked``, for
    each skill ``given + bought = asked``. Hours bought come at their cost and contract crews
    at the contract cost of the skill they give to; overload costs ``last_resort``. Among
    equally cheap sharings, crews stay in their own skill; then overtime comes before contract,
    and contract crews before the contract cap. Weeks do not depend on each other: they are in
    one program because that is faster.
    """
    programs = [_Program(week, last_resort) for week in weeks]
    prices: list[float] = []
    at_most, equal = _Rows(), _Rows()
    for program in programs:
        program.add_to(at_most, equal, first=len(prices))
        prices += program.prices
    if not prices:
        return
    solved = linprog(  # type: ignore[call-overload] # its stubs know dense matrices only
        prices,
        A_ub=at_most.matrix(len(prices)),
        b_ub=at_most.sides,
        A_eq=equal.matrix(len(prices)),
        b_eq=equal.sides,
        bounds=list(chain.from_iterable(program.bounds for program in programs)),
        method="highs",
        options={"primal_feasibility_tolerance": EXACT, "dual_feasibility_tolerance": EXACT},
    )
    if solved.x is None:
        raise EngineError(f"the man-hours could not be shared out: {solved.message}")
    values = iter(solved.x.tolist())
    for program in programs:
        yield program.read([_hours(next(values)) for _ in program.prices])


def _hours(value: float) -> float:
    """Return what the solver says, without the dust below its tolerance."""
    return value if value > EXACT else 0.0


class _Program:
    """One week of one group: a column for each pool and kind of work it can do, and each tier."""

    def __init__(self, week: GroupWeek, last_resort: float) -> None:
        self._week = week
        self._pools = list(_pools(week))
        self._kinds = list(_kinds(week, self._pools))
        self._tiers = list(_tiers(week, last_resort))
        self._arcs = [(number, kind) for kind in self._kinds for number in kind.pools]

    @property
    def prices(self) -> list[float]:
        """Money an hour of each column."""
        contract = {skill.name: skill.contract_cost for skill in self._week.group.skills}
        prices = []
        for number, kind in self._arcs:
            pool = self._pools[number]
            foreign = FOREIGN * (pool.own != kind.skill)
            if pool.is_employed:
                prices.append(TIE * (EMPLOYED + foreign))
            else:
                prices.append(contract[kind.skill] + TIE * (CONTRACT_CREW + foreign))
        return prices + [tier.cost + TIE * tier.rank for tier in self._tiers]

    @property
    def bounds(self) -> list[tuple[float, float | None]]:
        """Least and most hours of each column."""
        return [(0.0, None) for _ in self._arcs] + [(0.0, tier.cap) for tier in self._tiers]

    def add_to(self, at_most: _Rows, equal: _Rows, first: int) -> None:
        """Add the rows; the columns are numbered from ``first`` on."""
        of_pool: defaultdict[int, list[int]] = defaultdict(list)
        of_kind: defaultdict[_Kind, list[int]] = defaultdict(list)
        of_skill: defaultdict[str, list[int]] = defaultdict(list)
        for column, (number, kind) in enumerate(self._arcs, start=first):
            of_pool[number].append(column)
            of_kind[kind].append(column)
            of_skill[kind.skill].append(column)
        for column, tier in enumerate(self._tiers, start=first + len(self._arcs)):
            of_skill[tier.skill].append(column)
        for number, columns in of_pool.items():
            at_most.add(columns, self._pools[number].hours)
        for kind, columns in of_kind.items():
            at_most.add(columns, kind.asked)
        for skill, columns in of_skill.items():
            equal.add(columns, asked_of(skill, self._week.asked))

    def read(self, values: Sequence[float]) -> SharedWeek:
        """Split what pools give over their crews; idle hours stay in the crew's own skill."""
        gives: list[defaultdict[str, float]] = [defaultdict(float) for _ in self._pools]
        for (number, kind), value in zip(self._arcs, values, strict=False):
            gives[number][kind.skill] += value
        given: dict[tuple[str, str], float] = {}
        regular = {skill.name: 0.0 for skill in self._week.group.skills}
        contracted, idle_contract = dict(regular), dict(regular)
        for pool, gone in zip(self._pools, gives, strict=True):
            idle = max(0.0, pool.hours - fsum(gone.values()))
            for skill, total in gone.items():
                given |= split_over(pool.crews, skill, total, self._week.hours)
                (regular if pool.is_employed else contracted)[skill] += total
            (regular if pool.is_employed else idle_contract)[pool.own] += idle
        bought = dict(zip(self._tiers, values[len(self._arcs) :], strict=True))
        there = {name: contracted[name] + idle_contract[name] for name in regular}
        return SharedWeek(
            {name: _skill_week(name, regular, contracted, there, bought) for name in regular},
            given,
        )


def _skill_week(
    skill: str,
    regular: Mapping[str, float],
    contracted: Mapping[str, float],
    there: Mapping[str, float],
    bought: Mapping[_Tier, float],
) -> SkillWeek:
    """``contracted`` is what contract crews give, ``there`` the most that they could give."""
    hours = {tier.rank: value for tier, value in bought.items() if tier.skill == skill}
    caps = {tier.rank: tier.cap or 0.0 for tier in bought if tier.skill == skill}
    return SkillWeek(
        regular=regular[skill],
        overtime=hours[OVERTIME],
        contract=contracted[skill] + hours[CONTRACT_CAP],
        overload=hours[OVERLOAD],
        overtime_cap=caps[OVERTIME],
        contract_cap=there[skill] + caps[CONTRACT_CAP],
    )


def _pools(week: GroupWeek) -> Iterator[_Pool]:
    """Put crews together that are alike."""
    alike: defaultdict[tuple[object, ...], list[Crew]] = defaultdict(list)
    for crew in week.group.crews:
        key = (crew.skills[0], frozenset(crew.skills), crew.types, crew.employment)
        alike[key].append(crew)
    for crews in alike.values():
        yield _Pool(tuple(crews), hours_of(crews, week.hours))


def _kinds(week: GroupWeek, pools: Sequence[_Pool]) -> Iterator[_Kind]:
    """Put together, skill by skill, what is asked by types that the same pools can do."""
    asked: defaultdict[tuple[str, tuple[int, ...]], list[float]] = defaultdict(list)
    skills = {skill.name for skill in week.group.skills}
    for (skill, aircraft), wanted in sorted(week.asked.items()):
        if skill in skills and wanted > 0:
            able = (number for number, pool in enumerate(pools) if pool.does(skill, aircraft))
            asked[skill, tuple(able)].append(wanted)
    for (skill, able_pools), wanted_hours in asked.items():
        yield _Kind(skill, able_pools, fsum(wanted_hours))


def _tiers(week: GroupWeek, last_resort: float) -> Iterator[_Tier]:
    """Overtime and contract within shares of the own employed crews' hours, then overload."""
    for skill in week.group.skills:
        employed = hours_of(week.group.own(skill, Employment.EMPLOYED), week.hours)
        overtime, contract = skill.overtime_cap * employed, skill.contract_cap * employed
        yield _Tier(skill.name, OVERTIME, skill.overtime_cost, overtime)
        yield _Tier(skill.name, CONTRACT_CAP, skill.contract_cost, contract)
        yield _Tier(skill.name, OVERLOAD, last_resort, None)
