"""Every stage has its equipment on every day: no pool lends more pieces than it has."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from capacity.facts import Base, EquipmentOutage
from capacity.plans.stays import Stay
from capacity.plans.worked_days import ONE_DAY
from capacity.words import day as as_day
from capacity.words import listed

Held = Mapping[date, Sequence[str]]
"""The stages that hold a piece of one pool on each day, such as ``Swing of C1``."""


def broken(stays: Iterable[Stay], base: Base) -> Iterator[str]:
    """On each day, ``pieces held <= number - pieces out of use``.

    A stage holds one piece of each pool that it names over ``[first, until)``, days off
    included; one in work has it from the day on which the work goes on. A pool that the
    base does not have has no pieces.
    """
    numbers = {equipment.name: equipment.number for equipment in base.equipment}
    for pool, held in sorted(_held_by_pool(stays).items()):
        outages = [outage for outage in base.equipment_outages if outage.equipment == pool]
        yield from _overdrawn(pool, held, numbers.get(pool, 0), outages)


def _held_by_pool(stays: Iterable[Stay]) -> Mapping[str, Held]:
    held: defaultdict[str, defaultdict[date, list[str]]] = defaultdict(lambda: defaultdict(list))
    for stay in stays:
        for stage in stay.stages:
            for pool in stage.work.equipment:
                day = stage.holds_from or stage.first
                while day < stage.until:
                    held[pool][day].append(f"{stage.work.stage} of {stay.check.name}")
                    day += ONE_DAY
    return held


def _overdrawn(
    pool: str, held: Held, number: int, outages: Sequence[EquipmentOutage]
) -> Iterator[str]:
    """Tell the first and the last day on which the same stages are too many, once."""
    short: defaultdict[tuple[tuple[str, ...], int], list[date]] = defaultdict(list)
    for day, holders in sorted(held.items()):
        pieces = max(0, number - _out_of_use(day, outages))
        if len(holders) > pieces:
            short[tuple(holders), pieces].append(day)
    for (stages, pieces), days in short.items():
        yield (
            f"{pool}: {pieces} available {_span(days[0], days[-1])}, too few for {listed(stages)}."
        )


def _span(first: date, last: date) -> str:
    return f"on {as_day(first)}" if first == last else f"from {as_day(first)} to {as_day(last)}"


def _out_of_use(day: date, outages: Iterable[EquipmentOutage]) -> int:
    return sum(outage.number for outage in outages if outage.first <= day <= outage.last)
