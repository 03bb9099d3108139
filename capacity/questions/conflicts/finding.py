"""Find the conflicts among the checks that have to be placed."""

from collections.abc import Iterator

from capacity.facts import Status
from capacity.questions.conflicts.oracle import Oracle
from capacity.questions.conflicts.places import AllPlaces
from capacity.questions.conflicts.search import Rules, smallest, thinned
from capacity.questions.conflicts.solving import Clock
from capacity.questions.conflicts.values import Conflict, Conflicts
from capacity.slots.rules.families import rules_of
from capacity.slots.rules.rule import Rule

MOST_CONFLICTS = 3
# Different orders of the checks lead to different conflicts; the smallest found is told.
SHARE_FOR_ORDERS = 0.5


def find_conflicts(every: AllPlaces, clock: Clock, *, fixed_only: bool) -> Conflicts:
    """Return whether the checks of a question can all be placed; else conflicts among them.

    ``every`` place of the base is looked at. ``fixed_only`` asks whether the fixed checks can
    stand together, otherwise whether all fixed and booked ones can come in by ``Latest in``.
    Conflicts are looked for among checks of no conflict found before, so that they share
    none; each is proven. What counts as a place is what a plan would consider: its paces,
    waits and in days.
    """
    base = every.base
    asked = tuple(
        check.name
        for check in base.checks
        if check.status is Status.FIXED or (check.status is Status.BOOKED and not fixed_only)
    )
    places = every.narrowed(every.on_time()).of_checks(frozenset(asked))
    rules = rules_of(base, asked, on_time=not fixed_only)
    windows = tuple(rule for rule in rules if rule.kind.asks_for_a_place)
    others = tuple(rule for rule in rules if not rule.kind.asks_for_a_place)
    oracle = Oracle(places, clock)
    verdict = possible = oracle.holds(frozenset(rules))
    found: list[Conflict] = []
    while verdict is False and len(found) < MOST_CONFLICTS:
        conflict = _conflict(oracle, places, windows, others, clock)
        found.append(conflict)
        windows = tuple(rule for rule in windows if rule not in conflict.rules)
        verdict = oracle.holds(frozenset((*windows, *others)))
    return Conflicts(asked, fixed_only, possible, tuple(found), all_told=verdict is True)


def _conflict(
    oracle: Oracle, places: AllPlaces, windows: Rules, others: Rules, clock: Clock
) -> Conflict:
    """Return a conflict: first the checks it takes beside all rules, then the rules."""

    def hold(rules: frozenset[Rule]) -> bool | None:
        return oracle.holds(rules | {*others})

    first, *others_in_turn = _orders(windows, places)
    until = SHARE_FOR_ORDERS * clock.left
    checks = smallest(hold, frozenset(), first)
    for order in others_in_turn:
        if clock.left > until:
            checks = min(checks, smallest(hold, frozenset(), order), key=len)
    few = Oracle(places.of_checks(frozenset(rule.of for rule in checks)), clock)
    needed = smallest(few.holds, frozenset(checks), others)
    in_order = (*(rule for rule in windows if rule in checks), *needed)
    rules, is_smallest = thinned(few.holds, in_order)
    return Conflict(tuple(rule for rule in (*windows, *others) if rule in rules), is_smallest)


def _orders(windows: Rules, places: AllPlaces) -> Iterator[Rules]:
    """Yield the checks with fewest places first, in their own order, and backwards."""
    room = {c.courses.check.name: len(c.course) for c in places.slots.candidates}
    yield tuple(sorted(windows, key=lambda rule: room[rule.of]))
    yield windows
    yield windows[::-1]
