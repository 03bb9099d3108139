"""Can these rules hold together? The oracle behind a smallest conflict."""

from dataclasses import replace

import numpy as np

from capacity.questions.conflicts.places import AllPlaces
from capacity.questions.conflicts.rows import RuleRows
from capacity.questions.conflicts.solving import Clock, placed_together
from capacity.slots.program.program import Program
from capacity.slots.rules.rows import stacked
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.windows import FIXED_PLACE, LATEST_IN


class Oracle:
    """Answers for any part of the rules of some places; what was proven is remembered."""

    def __init__(self, places: AllPlaces, clock: Clock) -> None:
        """Prepare for places that hold only the candidates that answer the question."""
        self._program = places.program()
        self._columns = places.columns()
        self._closed = places.closed(self._columns)
        self._rows = RuleRows(self._columns, places.opened)
        self._clock = clock
        self._programs: dict[frozenset[Rule], Program] = {}
        self._proven: dict[frozenset[Rule], bool] = {}

    def holds(self, rules: frozenset[Rule]) -> bool | None:
        """Return whether the rules can hold together; None when that is not proven in time."""
        if rules not in self._proven:
            verdict = self._solve(rules)
            if verdict is None:
                return None
            self._proven[rules] = verdict
        return self._proven[rules]

    def _solve(self, rules: frozenset[Rule]) -> bool | None:
        if any(r.kind == LATEST_IN and Rule(FIXED_PLACE, r.of) in rules for r in rules):
            return False
        names = {rule.of for rule in rules if rule.kind.asks_for_a_place}
        must = np.array([name in names for name in self._program.checks], dtype=np.bool_)
        may = must[self._columns.check]
        for rule in rules:
            if rule in self._closed:
                may &= ~self._closed[rule]
        restricted = self._ruled(
            frozenset(r for r in rules if not r.kind.asks_for_a_place)
        ).restricted_to(may)
        return placed_together(restricted.program, must, self._clock).holds

    def _ruled(self, rules: frozenset[Rule]) -> Program:
        """Return the program with the rows of some rules only."""
        if rules not in self._programs:
            rows = stacked([*self._rows.of(rules)], len(self._columns.check))
            self._programs[rules] = replace(
                self._program,
                footprint=rows.matrix.T.tocsr(),
                capacity=rows.capacity,
                row_names=rows.names,
                lazy=np.zeros(len(rows.names), dtype=np.bool_),
            )
        return self._programs[rules]
