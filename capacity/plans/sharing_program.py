"""A week of some skills as columns and rows: which hours go to which work, which are bought."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import fsum

from capacity.facts import Crew, Employment
from capacity.plans.sharing_rows import Rows
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

TIE = 2.5e-7
"""Money an hour, times a rank, that settles equal prices and no others.

Far below any difference of prices that money shows, far above the solver's tolerance.
"""

FOREIGN = 4
"""Rank of an hour in another skill than the crew's own, on top of that of its source."""

EMPLOYED, OVERTIME, CONTRACT_CREW, CONTRACT_CAP, OVERLOAD = 0, 1, 2, 3, 8
"""Ranks of the sources."""

Terms = list[tuple[int, float]]
"""Columns with their factors."""


@dataclass(frozen=True, slots=True)
class WeekPart:
    """What is asked in a part of a week, and the hours that each crew has in it.

    Of the hours of contract crews some are ``guaranteed``: they cost nothing more.
    """

    asked: AskedInWeek
    hours: HoursByCrew
    guaranteed: HoursByCrew = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class GroupWeek:
    """A week of the skills of a group, whole or in parts.

    Hours of a crew lie in the part in which they are; overtime and the contract cap are those
    of the whole week. ``near`` are the hours of each skill in another plan, to which ties go.
    """

    group: SkillGroup
    parts: tuple[WeekPart, ...]
    near: Mapping[str, SkillWeek] | None = None


@dataclass(frozen=True, slots=True)
class _Pool:
    """Crews alike in own skill, skills, types and employment."""

    crews: tuple[Crew, ...]

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
    """``asked`` hours of one skill in one part that the same ``pools``, by number, can do."""

    part: int
    skill: str
    pools: tuple[int, ...]
    asked: float


class SharingProgram:
    """One week of one group: a column for each pool and kind of work it can do, and each tier.

    For each part of the week and pool of crews ``given <= hours``, for each kind of work ``given
    <= asked``, for each skill ``given + bought = asked``; what is bought in all parts of the
    week keeps to the caps. A pool with a guarantee has a second column for each kind of work, for
    hours within it: for each part of the week ``within <= guaranteed``.
    """

    def __init__(self, week: GroupWeek, last_resort: float) -> None:
        """Lay out the columns; overload costs ``last_resort`` an hour."""
        self.week = week
        self._pools = list(_pools(week.group))
        self._hours = [[hours_of(p.crews, part.hours) for p in self._pools] for part in week.parts]
        self._kinds = [
            kind for number in range(len(week.parts)) for kind in _kinds(week, number, self._pools)
        ]
        self._tiers = list(_tiers(week, last_resort))
        self._arcs = [(number, kind) for kind in self._kinds for number in kind.pools]
        self._guaranteed = [
            [fsum(part.guaranteed.get(crew.name, 0.0) for crew in p.crews) for p in self._pools]
            for part in week.parts
        ]
        # Once more those of crews with a guarantee: the hours within it.
        self._within = [(n, k) for n, k in self._arcs if self._guaranteed[k.part][n] > 0]
        self._by_the_hour = len(self._arcs)
        self._arcs += self._within
        self._bought = [(part, tier) for part in range(len(week.parts)) for tier in self._tiers]

    @property
    def costs(self) -> list[float]:
        """Money an hour of each column."""
        contract = {skill.name: skill.contract_cost for skill in self.week.group.skills}
        given = [
            0.0 if self._pools[number].is_employed else contract[kind.skill]
            for number, kind in self._arcs[: self._by_the_hour]
        ]
        given += [0.0] * len(self._within)
        return given + [tier.cost for _, tier in self._bought]

    @property
    def ranks(self) -> list[int]:
        """Rank of each column among those of the same price."""
        given = []
        for number, kind in self._arcs:
            pool = self._pools[number]
            source = EMPLOYED if pool.is_employed else CONTRACT_CREW
            given.append(source + FOREIGN * (pool.own != kind.skill))
        return given + [tier.rank for _, tier in self._bought]

    @property
    def bounds(self) -> list[tuple[float, float | None]]:
        """Least and most hours of each column."""
        return [(0.0, None) for _ in self._arcs] + [(0.0, tier.cap) for _, tier in self._bought]

    def add_to(self, at_most: Rows, equal: Rows, first: int) -> None:
        """Add the rows; the columns are numbered from ``first`` on."""
        of_pool: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        of_kind: defaultdict[_Kind, list[int]] = defaultdict(list)
        of_skill: defaultdict[tuple[int, str], list[int]] = defaultdict(list)
        of_tier: defaultdict[_Tier, list[int]] = defaultdict(list)
        for column, (number, kind) in enumerate(self._arcs, start=first):
            of_pool[kind.part, number].append(column)
            of_kind[kind].append(column)
            of_skill[kind.part, kind.skill].append(column)
        sure: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
        for column, (number, kind) in enumerate(self._within, start=first + self._by_the_hour):
            sure[kind.part, number].append(column)
        for (part, number), columns in sure.items():
            at_most.add(columns, self._guaranteed[part][number])
        for column, (part, tier) in enumerate(self._bought, start=first + len(self._arcs)):
            of_skill[part, tier.skill].append(column)
            of_tier[tier].append(column)
        for (part, number), columns in of_pool.items():
            at_most.add(columns, self._hours[part][number])
        for kind, columns in of_kind.items():
            at_most.add(columns, kind.asked)
        for (part, skill), columns in of_skill.items():
            equal.add(columns, asked_of(skill, self.week.parts[part].asked))
        for tier, columns in of_tier.items():
            if tier.cap is not None and len(columns) > 1:
                at_most.add(columns, tier.cap)

    def told(self) -> Iterator[tuple[str, str, Terms, float]]:
        """Yield what is stated of each skill as a sum of columns, from 0 on, and a constant.

        Regular hours are those given to the skill by employed crews and the idle ones of those
        whose own skill it is: ``own hours + given to it by others - given by own to others``.
        """
        for skill in self.week.group.skills:
            name = skill.name
            regular, contract = Terms(), Terms()
            for column, (number, kind) in enumerate(self._arcs):
                pool = self._pools[number]
                sign = (kind.skill == name) - (pool.own == name)
                if pool.is_employed and sign:
                    regular.append((column, float(sign)))
                elif not pool.is_employed and kind.skill == name:
                    contract.append((column, 1.0))
            bought = self._columns_bought(name)
            own = fsum(
                hours
                for part in self._hours
                for pool, hours in zip(self._pools, part, strict=True)
                if pool.is_employed and pool.own == name
            )
            yield name, "regular", regular, own
            yield name, "overtime", bought[OVERTIME], 0.0
            yield name, "contract", contract + bought[CONTRACT_CAP], 0.0
            yield name, "overload", bought[OVERLOAD], 0.0

    def _columns_bought(self, skill: str) -> Mapping[int, Terms]:
        """Return the columns in which hours of a skill are bought, by rank."""
        columns: defaultdict[int, Terms] = defaultdict(list)
        for column, (_, tier) in enumerate(self._bought, start=len(self._arcs)):
            if tier.skill == skill:
                columns[tier.rank].append((column, 1.0))
        return columns

    def read(self, values: Sequence[float]) -> SharedWeek:
        """Split what pools give over their crews; idle hours stay in the crew's own skill."""
        given: defaultdict[tuple[str, str], float] = defaultdict(float)
        regular = {skill.name: 0.0 for skill in self.week.group.skills}
        contracted, idle_contract = dict(regular), dict(regular)
        gives: defaultdict[tuple[int, int], defaultdict[str, float]]
        gives = defaultdict(lambda: defaultdict(float))
        for (number, kind), value in zip(self._arcs, values, strict=False):
            gives[kind.part, number][kind.skill] += value
        for part, there in enumerate(self._hours):
            for number, pool in enumerate(self._pools):
                gone = gives[part, number]
                idle = max(0.0, there[number] - fsum(gone.values()))
                for skill, total in gone.items():
                    hours = self.week.parts[part].hours
                    for key, value in split_over(pool.crews, skill, total, hours).items():
                        given[key] += value
                    (regular if pool.is_employed else contracted)[skill] += total
                (regular if pool.is_employed else idle_contract)[pool.own] += idle
        bought: defaultdict[_Tier, float] = defaultdict(float)
        for (_, tier), value in zip(self._bought, values[len(self._arcs) :], strict=True):
            bought[tier] += value
        guaranteed = dict.fromkeys(regular, 0.0)
        for (_, kind), value in zip(self._within, values[self._by_the_hour :], strict=False):
            guaranteed[kind.skill] += value
        most = {name: contracted[name] + idle_contract[name] for name in regular}
        return SharedWeek(
            {
                name: replace(
                    _skill_week(name, regular, contracted, most, bought),
                    guaranteed=guaranteed[name],
                )
                for name in regular
            },
            dict(given),
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


def _pools(group: SkillGroup) -> Iterator[_Pool]:
    """Put crews together that are alike."""
    alike: defaultdict[tuple[object, ...], list[Crew]] = defaultdict(list)
    for crew in group.crews:
        key = (crew.skills[0], frozenset(crew.skills), crew.types, crew.employment)
        alike[key].append(crew)
    for crews in alike.values():
        yield _Pool(tuple(crews))


def _kinds(week: GroupWeek, part: int, pools: Sequence[_Pool]) -> Iterator[_Kind]:
    """Put together, skill by skill, what is asked by types that the same pools can do."""
    asked: defaultdict[tuple[str, tuple[int, ...]], list[float]] = defaultdict(list)
    skills = {skill.name for skill in week.group.skills}
    for (skill, aircraft), wanted in sorted(week.parts[part].asked.items()):
        if skill in skills and wanted > 0:
            able = (number for number, pool in enumerate(pools) if pool.does(skill, aircraft))
            asked[skill, tuple(able)].append(wanted)
    for (skill, able_pools), wanted_hours in asked.items():
        yield _Kind(part, skill, able_pools, fsum(wanted_hours))


def _tiers(week: GroupWeek, last_resort: float) -> Iterator[_Tier]:
    """Overtime and contract within shares of the own employed crews' hours, then overload."""
    for skill in week.group.skills:
        crews = week.group.own(skill, Employment.EMPLOYED)
        employed = fsum(hours_of(crews, part.hours) for part in week.parts)
        overtime, contract = skill.overtime_cap * employed, skill.contract_cap * employed
        yield _Tier(skill.name, OVERTIME, skill.overtime_cost, overtime)
        yield _Tier(skill.name, CONTRACT_CAP, skill.contract_cost, contract)
        yield _Tier(skill.name, OVERLOAD, last_resort, None)
