"""Every way to place a few single-stage visits, and which rules forbid each of them.

Plain day arithmetic over the facts, with nothing of the program in it. Only for bases that
work every day, whose packages are a single stage at one pace.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

from capacity.facts import Base, Check, Status
from capacity.slots.rules.bay_days import CHANGEOVER, ONE_AT_A_TIME
from capacity.slots.rules.closures import CLOSURE
from capacity.slots.rules.equipment import EQUIPMENT, OUTAGE
from capacity.slots.rules.floor_shared import FLOOR
from capacity.slots.rules.period import PERIOD
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.ways_clear import WAY
from capacity.slots.rules.windows import FIXED_PLACE, LATEST_IN, WINDOW

Clash = frozenset[Rule]


@dataclass(frozen=True)
class Visit:
    check: Check
    bay: str
    first: int
    until: int


def feasible_rule_sets(base: Base, rules: tuple[Rule, ...]) -> "RuleSets":
    """Lay out every combination of places once."""
    checks = [check for check in base.checks if check.status is not Status.OPTION]
    ways = [[None, *_places(check, base)] for check in checks]
    seen: set[frozenset[Clash]] = set()
    for chosen in product(*ways):
        clashes = {
            frozenset({_asks(check)})
            for check, visit in zip(checks, chosen, strict=True)
            if visit is None
        }
        clashes |= set(_clashes([v for v in chosen if v is not None], base, set(rules)))
        seen.add(frozenset(clashes))
    return RuleSets(rules, tuple(seen))


@dataclass(frozen=True)
class RuleSets:
    """A rule set can hold when some combination has no clash made of rules of the set only."""

    rules: tuple[Rule, ...]
    combinations: tuple[frozenset[Clash], ...]

    def can_hold(self, rules: frozenset[Rule]) -> bool:
        return any(not any(clash <= rules for clash in found) for found in self.combinations)

    def minimal_conflicts(self) -> set[Clash]:
        """Try every subset, small ones first."""
        found: set[Clash] = set()
        for size in range(1, len(self.rules) + 1):
            for some in map(frozenset, combinations(self.rules, size)):
                if not any(known <= some for known in found) and not self.can_hold(some):
                    found.add(some)
        return found


def _asks(check: Check) -> Rule:
    fixed = check.status is Status.FIXED
    return Rule(FIXED_PLACE if fixed else WINDOW, check.name)


def _days(check: Check, base: Base) -> int:
    (stage,) = next(package for package in base.packages if package.name == check.package).stages
    return stage.days


def _places(check: Check, base: Base) -> Iterator[Visit]:
    aircraft = next(a for a in base.types if a.name == check.type)
    length = _days(check, base)
    if check.fixed_in is not None:
        first = (check.fixed_in - base.first_day).days
        yield Visit(check, check.fixed_bay or "", first, first + length)
        return
    earliest = max(0, (check.earliest_in - base.first_day).days)
    for bay in base.bays:
        if aircraft.span_m <= bay.max_span_m:
            for first in range(earliest, (check.latest_in - base.first_day).days + 1):
                yield Visit(check, bay.name, first, first + length)


def _clashes(visits: list[Visit], base: Base, rules: set[Rule]) -> Iterator[Clash]:
    """Yield the sets of rules that forbid visits; those of which not all are asked, too."""
    bays = {bay.name: bay for bay in base.bays}
    for visit in visits:
        late = Rule(LATEST_IN, visit.check.name)
        if late in rules:
            yield frozenset({late, _asks(visit.check)})
        if visit.first >= 7 * base.weeks:
            yield frozenset({Rule(PERIOD, "Weeks")})
        for row, closure in enumerate(base.closures):
            first = (closure.first - base.first_day).days
            last = (closure.last - base.first_day).days
            if closure.bay == visit.bay and visit.first <= last and first < visit.until:
                yield frozenset({Rule(CLOSURE, closure.bay, row=row)})
    for one, other in combinations(visits, 2):
        first, second = sorted((one, other), key=lambda visit: visit.first)
        overlap = second.first < first.until
        if one.bay == other.bay:
            changeover = bays[one.bay].changeover_days
            if overlap:
                yield frozenset({Rule(ONE_AT_A_TIME, one.bay)})
            elif second.first < first.until + changeover:
                at_once = Rule(ONE_AT_A_TIME, one.bay)
                yield frozenset({at_once, Rule(CHANGEOVER, one.bay)})
        shared = {bays[one.bay].name} & bays[other.bay].shares_floor_with
        shared |= {bays[other.bay].name} & bays[one.bay].shares_floor_with
        if shared and overlap:
            yield frozenset({Rule(FLOOR, *sorted((one.bay, other.bay)))})
        for inner, outer in ((one, other), (other, one)):
            if bays[inner.bay].reached_through == outer.bay and any(
                outer.first < day < outer.until for day in (inner.first, inner.until)
            ):
                yield frozenset({Rule(WAY, inner.bay, outer.bay)})
    yield from _short_equipment(visits, base)


def _short_equipment(visits: list[Visit], base: Base) -> Iterator[Clash]:
    for pool in base.equipment:
        holders = [
            visit
            for visit in visits
            for package in base.packages
            if package.name == visit.check.package and pool.name in package.stages[0].equipment
        ]
        for day in {d for visit in holders for d in range(visit.first, visit.until)}:
            held = sum(visit.first <= day < visit.until for visit in holders)
            rows = [
                (row, outage.number)
                for row, outage in enumerate(base.equipment_outages)
                if outage.equipment == pool.name
                and (outage.first - base.first_day).days <= day
                and day <= (outage.last - base.first_day).days
            ]
            # Any choice of the outages that leaves too few pieces forbids it.
            for size in range(len(rows) + 1):
                for some in combinations(rows, size):
                    if held > pool.number - sum(out for _, out in some):
                        yield frozenset(
                            {
                                Rule(EQUIPMENT, pool.name),
                                *(Rule(OUTAGE, pool.name, row=row) for row, _ in some),
                            }
                        )
