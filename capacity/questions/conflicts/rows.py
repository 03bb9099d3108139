"""The rows of a program sorted by the rules that a person knows."""

from collections.abc import Iterator

from capacity.facts import Base
from capacity.slots.candidates import Columns
from capacity.slots.rules.families import packing_families
from capacity.slots.rules.family import Rules
from capacity.slots.rules.rows import Rows


class RuleRows:
    """Rows over some columns for any part of the rules; each is made only once."""

    def __init__(self, columns: Columns, base: Base) -> None:
        """Prepare for columns in which every bay is a group of its own."""
        self._columns = columns
        self._base = base
        self._known: dict[Rules, Rows] = {}

    def of(self, rules: Rules) -> Iterator[Rows]:
        """Yield the rows that hold when only these rules do."""
        for family, packing in packing_families():
            mine = frozenset(rule for rule in rules if rule.kind in family.kinds)
            for part in packing.parts(mine, rules, self._base):
                if part not in self._known:
                    self._known[part] = packing.exact(part, self._columns, self._base)
                yield self._known[part]
