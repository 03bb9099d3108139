"""The rules that make a check stay longer: days off, stages done alone, shops, longest wait.

They change the days of a stay and not who may stand where, so they are no rows of a program:
what they do is seen by laying the check out once more with one of them lifted.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from capacity.facts import Base, Check
from capacity.facts.base import EVERY_WEEKDAY
from capacity.labour.calendar import calendar_of
from capacity.questions.conflicts.rules import Kind, Rule
from capacity.slots.candidates.enumerated import find_slots

# By so much a rule is lifted where it is a number: no shop is busy, no turn or bay so far off.
MORE_ITEMS_A_DAY, MORE_DAYS_TO_WAIT = 1e6, 7


def lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield each rule about the stays of checks of some packages, and the base without it."""
    if base.working_weekdays != EVERY_WEEKDAY or base.holidays is not None:
        every_day = base.replace(working_weekdays=EVERY_WEEKDAY, holidays=None)
        yield Rule(Kind.DAYS_OFF, "Working days"), every_day
    for package in base.packages:
        if package.name in packages:
            for stage in package.stages:
                if stage.alone and len(package.stages) > 1:
                    rule = Rule(Kind.ALONE, package.name, stage.name)
                    yield rule, _beside_others(base, package.name, stage.name)
    shops = {loop.shop for loop in base.shop_loops if loop.package in packages}
    for shop in base.shops:
        if shop.name in shops:
            quick = replace(shop, items_per_day=shop.items_per_day + MORE_ITEMS_A_DAY)
            others = tuple(quick if other is shop else other for other in base.shops)
            yield Rule(Kind.SHOP, shop.name), base.replace(shops=others)
    if shops or any(_moves(base, name) for name in packages):
        longer = base.longest_wait_days + MORE_DAYS_TO_WAIT
        yield Rule(Kind.WAIT, "Longest wait days"), base.replace(longest_wait_days=longer)


def _beside_others(base: Base, package: str, stage: str) -> Base:
    """Return the base in which a stage need not be done alone."""
    packages = tuple(
        replace(
            p,
            stages=tuple(replace(s, alone=s.alone and s.name != stage) for s in p.stages),
        )
        if p.name == package
        else p
        for p in base.packages
    )
    return base.replace(packages=packages)


def _moves(base: Base, name: str) -> bool:
    """Return whether checks of a package may have to move from one bay to another."""
    return any(len({s.work for s in p.stages}) > 1 for p in base.packages if p.name == name)


@dataclass(frozen=True, slots=True)
class ShorterStay:
    """A rule without which a check that comes in on a day could be out ``days`` sooner."""

    rule: Rule
    out_day: date
    days: int


def shorter_stays(check: Check, base: Base, in_day: date) -> tuple[ShorterStay, ...]:
    """Return the rules that keep a check that comes in on a day from being out sooner.

    Each is lifted by itself and the check laid out alone, at its quickest; ``out_day`` is the
    day on which it would be out, whatever else is in its way.
    """
    out_day = _soonest_out(check, base, in_day)
    found = []
    for rule, without in lifted(base, {check.package}):
        sooner = _soonest_out(check, without, in_day)
        if out_day is not None and sooner is not None and sooner < out_day:
            found.append(ShorterStay(rule, sooner, (out_day - sooner).days))
    return tuple(found)


def _soonest_out(check: Check, base: Base, in_day: date) -> date | None:
    """Return the first day on which the check can be out; None where it can come in nowhere."""
    alone = replace(check, earliest_in=in_day, latest_in=in_day)
    if check.fixed_in is not None:
        alone = replace(check, fixed_in=in_day)
    small = base.replace(checks=(alone,), closures=(), longest_delay_days=0, equipment_outages=())
    calendar = calendar_of(small)
    slots = find_slots(small, calendar, last_in_day=in_day)
    courses = slots.settled[0] if slots.settled else slots.candidates[0].courses
    on_day = courses.stays.in_day == calendar.number(in_day)
    if not on_day.any():
        return None
    first = int(np.min(courses.stays.out_day[on_day]))
    return calendar.origin + timedelta(days=first)
