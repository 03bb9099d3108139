"""One more bay as a way out of a conflict."""

from collections.abc import Iterator

from capacity.facts import Bay
from capacity.questions.conflicts.case import Case, Tried
from capacity.slots.rules.bay_days import FURTHER_BAY, further_bay, size_of
from capacity.slots.rules.rule import Rule


def bays_to_add(case: Case) -> Iterator[tuple[Rule, Bay]]:
    """Yield one bay of each size that the conflict is about, with the rule that names it."""
    sizes: set[tuple[object, ...]] = set()
    for rule in case.rules:
        if not rule.kind.bay_helps:
            continue
        bay = case.bay(rule.of)
        if size_of(bay) not in sizes:
            sizes.add(size_of(bay))
            yield rule, bay


def one_bay_more(case: Case, rule: Rule, bay: Bay) -> Tried:
    """Add a bay of the same size, with a way of its own, that is never closed."""
    base = case.base.replace(bays=(*case.base.bays, further_bay(bay, case.base)))
    return case.found(FURTHER_BAY, rule, 1, base, days=0, bay=bay.name)
