"""The pool of good plans that all sides which find plans work on, kept by the coordinator."""

from capacity.slots.line.mailbox import is_better
from capacity.slots.line.reports import GoodPlan
from capacity.slots.program.choice import Choice
from capacity.slots.program.program import Program

# So many plans are kept.
MOST = 24
# Two plans of which no more than this share of checks has another slot are of one kind.
SAME_KIND = 0.1


class GoodPlans:
    """Plans that are good and of different kinds, in the columns of one program.

    All have as few days past ``Latest in`` as the best one. Of plans of one kind the cheapest is
    kept, and so the best one always is. Nothing here counts as an answer: what a side makes of a
    plan is told, audited and compared like any other.
    """

    def __init__(self, program: Program, most: int = MOST) -> None:
        """Begin with none."""
        self._program, self._most = program, most
        self._plans: list[tuple[Choice, tuple[int, float]]] = []

    @property
    def plans(self) -> tuple[tuple[Choice, tuple[int, float]], ...]:
        """Return the plans with their costs, the best one first."""
        return tuple(self._plans)

    def take_in(self, chosen: Choice) -> GoodPlan | None:
        """Keep a plan that keeps all rows and is of its own kind or the best of it.

        It takes the place of worse ones of its kind, and of the worst where there are too many.
        Returns the plan if it was kept, with its cost.
        """
        if not self._program.holds(chosen):
            return None
        cost = self._program.cost(chosen)
        best_days = self._plans[0][1][0] if self._plans else cost[0]
        if cost[0] > best_days:
            return None
        if cost[0] < best_days:
            self._plans = []
        alike = [self._is_same_kind(chosen, other) for other, _ in self._plans]
        for is_alike, (_, other) in zip(alike, self._plans, strict=True):
            if is_alike and not is_better(cost, other):
                return None
        kept = [plan for plan, is_alike in zip(self._plans, alike, strict=True) if not is_alike]
        mine = chosen.copy(), cost
        self._plans = sorted([*kept, mine], key=lambda plan: plan[1])[: self._most]
        return GoodPlan(*mine) if any(plan is mine for plan in self._plans) else None

    def _is_same_kind(self, one: Choice, other: Choice) -> bool:
        """Return whether hardly any check has another slot: other bays, or another in day."""
        program = self._program
        both = (one >= 0) & (other >= 0)
        is_other = (one >= 0) != (other >= 0)
        mine, theirs = one[both], other[both]
        is_other[both] = (program.place[mine] != program.place[theirs]) | (
            program.in_day[mine] != program.in_day[theirs]
        )
        return bool(is_other.mean() <= SAME_KIND)
