"""A base with one of its rules taken away at a time, to see whether that rule decides anything."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TypeVar

from capacity.facts import Base, Employment, Package, Status

Fact = TypeVar("Fact")


def _all(facts: Iterable[Fact], **changes: object) -> tuple[Fact, ...]:
    return tuple(replace(fact, **changes) for fact in facts)  # type: ignore[type-var]


def _stages(base: Base, **changes: object) -> tuple[Package, ...]:
    return tuple(replace(p, stages=_all(p.stages, **changes)) for p in base.packages)


def _one_kind_of_work(base: Base) -> Base:
    works = frozenset().union(*(bay.work for bay in base.bays))
    return base.replace(bays=_all(base.bays, work=works))


WITHOUT: dict[str, Callable[[Base], Base]] = {
    "ways": lambda base: base.replace(bays=_all(base.bays, reached_through=None)),
    "shared floor": lambda base: base.replace(bays=_all(base.bays, shares_floor_with=frozenset())),
    "changeover": lambda base: base.replace(bays=_all(base.bays, changeover_days=0)),
    "closures": lambda base: base.replace(closures=()),
    "docking": lambda base: base.replace(types=_all(base.types, docking=None)),
    "moves": _one_kind_of_work,
    "waiting": lambda base: base.replace(longest_wait_days=0),
    "outages": lambda base: base.replace(equipment_outages=()),
    "equipment": lambda base: base.replace(packages=_stages(base, equipment=())),
    "alone": lambda base: base.replace(packages=_stages(base, alone=False)),
    "paces": lambda base: base.replace(
        packages=_stages(base, shortest_days=None, longest_days=None)
    ),
    "loops": lambda base: base.replace(shop_loops=()),
    "turns": lambda base: base.replace(
        shops=tuple(
            replace(shop, name=f"{shop.name} {package.name}")
            for shop in base.shops
            for package in base.packages
        ),
        shop_loops=tuple(
            replace(loop, shop=f"{loop.shop} {loop.package}") for loop in base.shop_loops
        ),
    ),
    "second skills": lambda base: base.replace(
        crews=tuple(replace(crew, skills=crew.skills[:1]) for crew in base.crews)
    ),
    "type authorisations": lambda base: base.replace(crews=_all(base.crews, types=frozenset())),
    "contract crews": lambda base: base.replace(
        crews=tuple(crew for crew in base.crews if crew.employment is Employment.EMPLOYED)
    ),
    "absences": lambda base: base.replace(absences=()),
    "holidays": lambda base: base.replace(holidays=None),
    "prices": lambda base: base.replace(checks=_all(base.checks, price=0.0)),
    "work done already": lambda base: base.replace(checks=_all(base.checks, remaining=None)),
    "fixed checks": lambda base: base.replace(
        checks=tuple(check for check in base.checks if check.status is not Status.FIXED)
    ),
}
