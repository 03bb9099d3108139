"""How bays stand to each other: which are on the way to which, and which share floor."""

from collections.abc import Mapping

from capacity.facts import Base


def bays_on_the_way(base: Base) -> Mapping[str, frozenset[str]]:
    """Return, for every bay, the bays an aircraft passes to reach it, however many."""
    through = {bay.name: bay.reached_through for bay in base.bays}
    ways: dict[str, frozenset[str]] = {}
    for bay in base.bays:
        passed: list[str] = []
        step = bay.reached_through
        while step is not None and step not in passed:
            passed.append(step)
            step = through.get(step)
        ways[bay.name] = frozenset(passed) - {bay.name}
    return ways


def bays_behind(base: Base) -> Mapping[str, frozenset[str]]:
    """Return, for every bay, the bays whose aircraft pass it on their way."""
    ways = bays_on_the_way(base)
    return {
        bay.name: frozenset(name for name, way in ways.items() if bay.name in way)
        for bay in base.bays
    }


def floor_sharers(base: Base) -> Mapping[str, frozenset[str]]:
    """Return, for every bay, the bays that share floor with it; naming one is enough."""
    sharers: dict[str, set[str]] = {bay.name: set() for bay in base.bays}
    for bay in base.bays:
        for other in bay.shares_floor_with - {bay.name}:
            sharers[bay.name].add(other)
            sharers[other].add(bay.name)
    return {name: frozenset(others) for name, others in sharers.items()}


def tied_together(base: Base) -> Mapping[str, int]:
    """Return a number for every bay, the same for bays that ways or floor tie together."""
    ways, sharers = bays_on_the_way(base), floor_sharers(base)
    number = {bay.name: place for place, bay in enumerate(base.bays)}
    for bay in base.bays:
        for other in (ways[bay.name] | sharers[bay.name]) & number.keys():
            old, new = number[other], number[bay.name]
            number = {name: new if at == old else at for name, at in number.items()}
    return number
