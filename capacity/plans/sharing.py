"""Share a week's man-hours out among skills and aircraft, as cheaply as can be."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from math import fsum

from scipy.optimize import linprog

from capacity.errors import EngineError
from capacity.facts import Base, Crew, Employment, Skill

TOLERANCE = 1e-6
"""Man-hours that are no more than a rounding."""

FOREIGN = 1e-7
"""Money an hour that tips the scale to a crew's own skill, and to no other change."""

Asked = Mapping[tuple[str, str], float]
"""Man-hours by skill and aircraft type."""


@dataclass(frozen=True, slots=True)
class Bought:
    """Man-hours on top of the regular ones; of caps, ``overload`` stays 0."""

    overtime: float
    contract: float
    overload: float = 0.0


@dataclass(frozen=True, slots=True)
class SharedWeek:
    """What is bought in each skill, and what each crew gives to each skill.

    ``regular`` is what employed crews give to a skill, with the idle hours of those whose own
    skill it is. ``given`` is by crew and skill, contract crews included.
    """

    regular: Mapping[str, float]
    bought: Mapping[str, Bought]
    caps: Mapping[str, Bought]
    given: Mapping[tuple[str, str], float] = field(default_factory=dict)


def share_week(asked: Asked, hours: Mapping[str, float], base: Base) -> SharedWeek:
    """Return the cheapest sharing of the week; ``hours`` are those of each crew.

    Where every crew has one skill and all types there is nothing to share out: regular
    hours come first, then the cheaper of overtime and contract, then overload.
    """
    caps = {skill.name: _caps(skill, hours, base) for skill in base.skills}
    if all(len(crew.skills) == 1 and not crew.types for crew in base.crews):
        return _each_skill_by_itself(asked, hours, base, caps)
    return _cheapest(asked, hours, base, caps)


def _caps(skill: Skill, hours: Mapping[str, float], base: Base) -> Bought:
    """Return shares of the hours of the employed crews whose own skill it is.

    The hours of contract crews whose own skill it is come on top of the contract cap.
    """
    own = {
        employment: fsum(
            hours[crew.name]
            for crew in base.crews
            if crew.skills[0] == skill.name and crew.employment is employment
        )
        for employment in Employment
    }
    employed = own[Employment.EMPLOYED]
    return Bought(
        overtime=skill.overtime_cap * employed,
        contract=skill.contract_cap * employed + own[Employment.CONTRACT],
    )


def _each_skill_by_itself(
    asked: Asked, hours: Mapping[str, float], base: Base, caps: Mapping[str, Bought]
) -> SharedWeek:
    regular: dict[str, float] = {}
    bought: dict[str, Bought] = {}
    given: dict[tuple[str, str], float] = {}
    for skill in base.skills:
        name = skill.name
        demand = fsum(wanted for (asks, _), wanted in asked.items() if asks == name)
        own = [crew for crew in base.crews if crew.skills[0] == name]
        employed = [crew for crew in own if crew.employment is Employment.EMPLOYED]
        regular[name] = fsum(hours[crew.name] for crew in employed)
        bought[name] = _cheaper_first(skill, max(0.0, demand - regular[name]), caps[name])
        given |= _split(name, employed, min(demand, regular[name]), hours)
        # Contract hours are those of contract crews first, then of others.
        contracted = [crew for crew in own if crew.employment is Employment.CONTRACT]
        there = fsum(hours[crew.name] for crew in contracted)
        given |= _split(name, contracted, min(bought[name].contract, there), hours)
    return SharedWeek(regular, bought, caps, given)


def _cheaper_first(skill: Skill, short: float, caps: Bought) -> Bought:
    """Buy the cheaper of overtime and contract first; what neither holds is overload."""
    if skill.overtime_cost <= skill.contract_cost:
        overtime = min(short, caps.overtime)
        contract = min(short - overtime, caps.contract)
    else:
        contract = min(short, caps.contract)
        overtime = min(short - contract, caps.overtime)
    return Bought(overtime, contract, short - overtime - contract)


def _split(
    skill: str, crews: list[Crew], total: float, hours: Mapping[str, float]
) -> dict[tuple[str, str], float]:
    """Split hours over crews in proportion to what they have."""
    there = fsum(hours[crew.name] for crew in crews)
    if there <= 0:
        return {}
    return {(crew.name, skill): total * hours[crew.name] / there for crew in crews}


@dataclass(frozen=True, slots=True)
class _Source:
    """Hours that can go to some kinds of work, in ``skill`` only or, None, in the crew's."""

    crews: tuple[Crew, ...]
    word: str
    skill: str | None
    room: float | None


def _cheapest(
    asked: Asked, hours: Mapping[str, float], base: Base, caps: Mapping[str, Bought]
) -> SharedWeek:
    """Minimise the money: a variable a source and kind of work that it can do.

    Every kind is given what it asks, and no source gives more than it has.
    """
    kinds = [kind for kind, wanted in asked.items() if wanted > 0]
    sources = _sources(hours, base)
    skills = {skill.name: skill for skill in base.skills}
    arcs = [
        (source, kind, _price(source, kind, skills[kind[0]], base))
        for source in sources
        for kind in kinds
        if _does(source, kind)
    ]
    flows = [0.0] * len(arcs)
    if arcs:
        bounded = [(source, source.room) for source in sources if source.room is not None]
        solved = linprog(
            [price for _, _, price in arcs],
            A_ub=[[float(of is source) for of, _, _ in arcs] for source, _ in bounded],
            b_ub=[room for _, room in bounded],
            A_eq=[[float(into == kind) for _, into, _ in arcs] for kind in kinds],
            b_eq=[asked[kind] for kind in kinds],
            method="highs",
        )
        if solved.x is None:
            raise EngineError(f"the week's man-hours could not be shared out: {solved.message}")
        flows = [max(0.0, float(flow)) for flow in solved.x]
    into: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    given: defaultdict[tuple[str, str], float] = defaultdict(float)
    used: defaultdict[int, float] = defaultdict(float)
    for (source, (skill, _), _), flow in zip(arcs, flows, strict=True):
        into[source.word, skill].append(flow)
        used[id(source)] += flow
        for (crew, name), part in _split(skill, list(source.crews), flow, hours).items():
            given[crew, name] += part
    idle: defaultdict[str, list[float]] = defaultdict(list)
    for source in sources:
        if source.word == "employed" and source.room is not None:
            idle[source.crews[0].skills[0]].append(max(0.0, source.room - used[id(source)]))
    return SharedWeek(
        regular={name: fsum([*into["employed", name], *idle[name]]) for name in skills},
        bought={
            name: Bought(
                overtime=fsum(into["overtime", name]),
                contract=fsum([*into["cap", name], *into["contract", name]]),
                overload=fsum(into["overload", name]),
            )
            for name in skills
        },
        caps=caps,
        given=dict(given),
    )


def _sources(hours: Mapping[str, float], base: Base) -> list[_Source]:
    """Return crews, those alike together, then what can be bought in each skill."""
    alike: defaultdict[tuple[object, ...], list[Crew]] = defaultdict(list)
    for crew in base.crews:
        key = (crew.skills[0], frozenset(crew.skills), crew.types, crew.employment)
        alike[key].append(crew)
    sources = [
        _Source(tuple(crews), crews[0].employment.value, None, fsum(hours[c.name] for c in crews))
        for crews in alike.values()
    ]
    for skill in base.skills:
        employed = fsum(
            hours[crew.name]
            for crew in base.crews
            if crew.skills[0] == skill.name and crew.employment is Employment.EMPLOYED
        )
        sources += [
            _Source((), "overtime", skill.name, skill.overtime_cap * employed),
            _Source((), "cap", skill.name, skill.contract_cap * employed),
            _Source((), "overload", skill.name, None),
        ]
    return sources


def _does(source: _Source, kind: tuple[str, str]) -> bool:
    """Bought hours work on any aircraft, crews on those of their types."""
    skill, aircraft = kind
    if source.skill is not None:
        return source.skill == skill
    crew = source.crews[0]
    return skill in crew.skills and (not crew.types or aircraft in crew.types)


def _price(source: _Source, kind: tuple[str, str], skill: Skill, base: Base) -> float:
    money = {
        "employed": 0.0,
        "contract": skill.contract_cost,
        "overtime": skill.overtime_cost,
        "cap": skill.contract_cost,
        "overload": base.overload_cost,
    }[source.word]
    is_foreign = bool(source.crews) and source.crews[0].skills[0] != kind[0]
    return money + FOREIGN * is_foreign
