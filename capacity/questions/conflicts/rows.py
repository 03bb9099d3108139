"""The rows of a program sorted by the rules that a person knows."""

from collections.abc import Hashable, Iterator
from dataclasses import replace

from capacity.facts import Base
from capacity.questions.conflicts.pairs import floor_by_pairs, ways_by_pairs
from capacity.questions.conflicts.rules import Kind, Rule, other_families
from capacity.slots.candidates.columns import Columns
from capacity.slots.rules.bay_days import bay_days
from capacity.slots.rules.equipment import equipment
from capacity.slots.rules.floor_shared import floor_shared
from capacity.slots.rules.rows import Rows
from capacity.slots.rules.shop_windows import shop_windows
from capacity.slots.rules.ways_clear import ways_clear


class RuleRows:
    """Rows over some columns for any part of the rules; each family is asked only once."""

    def __init__(self, columns: Columns, base: Base) -> None:
        """Prepare for columns in which every bay is a group of its own."""
        self._columns = columns
        self._base = base
        self._number = {group.bays[0]: n for n, group in enumerate(columns.slots.groups)}
        self._known: dict[Hashable, Rows] = {}

    def of(self, rules: frozenset[Rule]) -> Iterator[tuple[Rule, Rows]]:
        """Yield the rows that hold when only these rules do, each with the rule they are for.

        A changeover tells nothing of a bay that takes any number of aircraft, nor an outage
        of equipment of which there is enough. The rows of all ways stand under one of them.
        Ways and floors are told pair by pair where a bay may take any number of aircraft.
        """
        single = {rule.of for rule in rules if rule.kind is Kind.ONE_AT_A_TIME}
        ways = [rule for rule in rules if rule.kind is Kind.WAY]
        for rule in rules:
            match rule.kind:
                case Kind.ONE_AT_A_TIME:
                    yield rule, self.of_bay(rule.of, Rule(Kind.CHANGEOVER, rule.of) in rules)
                case Kind.FLOOR:
                    yield rule, self.of_floor(rule.of, rule.other, {rule.of, rule.other} <= single)
                case Kind.EQUIPMENT:
                    rows = [r.row for r in rules if r.kind is Kind.OUTAGE and r.of == rule.of]
                    yield rule, self.of_equipment(rule.of, frozenset(rows))
                case Kind.SHOP:
                    yield rule, self.of_shop(rule.of)
                case Kind.OTHER:
                    yield rule, self.of_other(rule.of)
        if ways:
            yield (
                ways[0],
                self.of_ways(frozenset(rule.of for rule in ways), single >= {*self._number}),
            )

    def of_bay(self, bay: str, with_changeover: bool) -> Rows:
        """Return the rows of one aircraft at a time in a bay."""
        key = (Kind.ONE_AT_A_TIME, bay, with_changeover)
        if key not in self._known:
            number, slots = self._number[bay], self._columns.slots
            groups = list(slots.groups)
            if not with_changeover:
                groups[number] = replace(groups[number], changeover_days=0)
            columns = replace(
                self._columns,
                slots=replace(slots, groups=tuple(groups)),
                visits=self._columns.visits.of_groups([number]),
            )
            self._known[key] = bay_days(columns, self._base)
        return self._known[key]

    def of_ways(self, inner: frozenset[str], all_single: bool) -> Rows:
        """Return the rows of clear ways into the ``inner`` bays, all others being free.

        ``all_single`` says that there is one aircraft at a time in every bay.
        """
        key = (Kind.WAY, inner, all_single)
        if key not in self._known:
            bays = tuple(
                bay if bay.name in inner else replace(bay, reached_through=None)
                for bay in self._base.bays
            )
            rows = ways_clear if all_single else ways_by_pairs
            self._known[key] = rows(self._columns, self._base.replace(bays=bays))
        return self._known[key]

    def of_floor(self, bay: str, other: str, both_single: bool) -> Rows:
        """Return the rows of two bays on one floor, in which there is one aircraft at a time."""
        key = (Kind.FLOOR, bay, other, both_single)
        if key not in self._known and not both_single:
            self._known[key] = floor_by_pairs(self._columns, bay, other)
        if key not in self._known:
            bays = tuple(
                replace(b, shares_floor_with=frozenset({other} if b.name == bay else ()))
                for b in self._base.bays
            )
            self._known[key] = floor_shared(self._columns, self._base.replace(bays=bays))
        return self._known[key]

    def of_equipment(self, pool: str, outages: frozenset[int]) -> Rows:
        """Return the rows of one pool with some of the base's outages."""
        key = (Kind.EQUIPMENT, pool, outages)
        if key not in self._known:
            base = self._base.replace(
                equipment=tuple(e for e in self._base.equipment if e.name == pool),
                equipment_outages=tuple(
                    outage for n, outage in enumerate(self._base.equipment_outages) if n in outages
                ),
            )
            self._known[key] = equipment(self._columns, base)
        return self._known[key]

    def of_shop(self, shop: str) -> Rows:
        """Return the rows of one shop."""
        key = (Kind.SHOP, shop)
        if key not in self._known:
            base = self._base.replace(shops=tuple(s for s in self._base.shops if s.name == shop))
            self._known[key] = shop_windows(self._columns, base)
        return self._known[key]

    def of_other(self, family: str) -> Rows:
        """Return all rows of a family that is told as a whole."""
        key = (Kind.OTHER, family)
        if key not in self._known:
            self._known[key] = other_families()[family](self._columns, self._base)
        return self._known[key]
