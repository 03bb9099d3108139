"""Changes to bays, equipment and shops that could undo a conflict."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from math import ceil

from capacity.facts import Base, Bay
from capacity.questions.conflicts.case import Case, Tried
from capacity.questions.conflicts.rules import Kind, Rule
from capacity.questions.conflicts.stay_rules import MORE_DAYS_TO_WAIT
from capacity.questions.conflicts.values import Change

ABOUT_BAYS = frozenset({Kind.ONE_AT_A_TIME, Kind.CLOSURE, Kind.WAY, Kind.FLOOR})


def opens_sooner(case: Case, rule: Rule) -> Tried:
    """End a closure some days sooner, as few as can be."""
    closure = case.base.closures[rule.row]
    return case.fewest(
        Change.OPENS_SOONER,
        rule,
        (closure.last - closure.first).days,
        lambda days: _closed(case, rule, closure.first, closure.last - timedelta(days=days)),
    )


def closes_later(case: Case, rule: Rule) -> Tried:
    """Begin a closure some days later, as few as can be."""
    closure = case.base.closures[rule.row]
    return case.fewest(
        Change.CLOSES_LATER,
        rule,
        (closure.last - closure.first).days,
        lambda days: _closed(case, rule, closure.first + timedelta(days=days), closure.last),
    )


def open_again(case: Case, rule: Rule) -> Tried:
    """Take a closure away."""
    closure = case.base.closures[rule.row]
    others = tuple(c for n, c in enumerate(case.base.closures) if n != rule.row)
    days = (closure.last - closure.first).days + 1
    return case.found(Change.OPEN_AGAIN, rule, 1, case.base.replace(closures=others), days=days)


def _closed(case: Case, rule: Rule, first: date, last: date) -> Base:
    closures = list(case.base.closures)
    closures[rule.row] = replace(closures[rule.row], first=first, last=last)
    return case.base.replace(closures=tuple(closures))


def shorter_changeover(case: Case, rule: Rule) -> Tried:
    """Turn a bay round in some days less, as few as can be."""
    bay = case.bay(rule.of)
    return case.fewest(
        Change.SHORTER_CHANGEOVER,
        rule,
        bay.changeover_days,
        lambda days: case.with_bay(replace(bay, changeover_days=bay.changeover_days - days)),
    )


def in_use_again(case: Case, rule: Rule) -> Tried:
    """Take an outage away."""
    outage = case.base.equipment_outages[rule.row]
    others = tuple(o for n, o in enumerate(case.base.equipment_outages) if n != rule.row)
    base = case.base.replace(equipment_outages=others)
    days = (outage.last - outage.first).days + 1
    return case.found(Change.IN_USE_AGAIN, rule, 1, base, days=days)


def more_equipment(case: Case, rule: Rule, most: int) -> Tried:
    """Add pieces to a pool, as few as can be and at the most so many."""

    def more(pieces: int) -> Base:
        pools = tuple(
            replace(pool, number=pool.number + pieces) if pool.name == rule.of else pool
            for pool in case.base.equipment
        )
        return case.base.replace(equipment=pools)

    return case.fewest(Change.MORE_EQUIPMENT, rule, most, more, days=0)


def faster_shop(case: Case, rule: Rule) -> Tried:
    """Raise a shop's rate by whole items a day, as few as can be."""

    def faster(items: int) -> Base:
        shops = tuple(
            replace(shop, items_per_day=shop.items_per_day + items)
            if shop.name == rule.of
            else shop
            for shop in case.base.shops
        )
        return case.base.replace(shops=shops)

    items = {loop.package: 0 for loop in case.base.shop_loops}
    for loop in case.base.shop_loops:
        items[loop.package] += loop.items if loop.shop == rule.of else 0
    # At this rate all items that are wanted at all could be done in one day.
    most = sum(items.get(check.package, 0) for check in case.base.checks)
    return case.fewest(Change.FASTER_SHOP, rule, ceil(most), faster, days=0)


def longer_wait(case: Case, rule: Rule) -> Tried:
    """Let aircraft wait some days longer for a bay or a shop, as few as can be."""
    most = case.base.longest_wait_days
    return case.fewest(
        Change.LONGER_WAIT,
        rule,
        MORE_DAYS_TO_WAIT,
        lambda days: case.base.replace(longest_wait_days=most + days),
        days=0,
    )


def bays_to_add(case: Case) -> Iterator[tuple[Rule, Bay]]:
    """Yield one bay of each size that the conflict is about, with the rule that names it."""
    sizes: set[tuple[object, ...]] = set()
    for rule in case.rules:
        if rule.kind not in ABOUT_BAYS:
            continue
        bay = case.bay(rule.of)
        size = (bay.max_span_m, bay.max_length_m, bay.max_tail_m, bay.work, bay.docking)
        if size not in sizes:
            sizes.add(size)
            yield rule, bay


def one_bay_more(case: Case, rule: Rule, bay: Bay) -> Tried:
    """Add a bay of the same size, with a way of its own, that is never closed."""
    base = case.base.replace(bays=(*case.base.bays, further_bay(bay, case.base)))
    return case.found(Change.FURTHER_BAY, rule, 1, base, days=0, bay=bay.name)


def further_bay(bay: Bay, base: Base) -> Bay:
    """Return a bay of the same size and work, with a way and a floor of its own."""
    taken, number = {b.name for b in base.bays}, 2
    while (name := f"{bay.name} ({number})") in taken:
        number += 1
    return replace(bay, name=name, reached_through=None, shares_floor_with=frozenset())
