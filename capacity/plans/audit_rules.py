"""The audit's rules, each by the name under which a plan that breaks it is told."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from capacity.facts import Base, Bay
from capacity.plans import (
    bay_rules,
    day_off_rules,
    equipment_rules,
    floor_rules,
    held_rules,
    levelling_rules,
    listing_rules,
    move_rules,
    shop_rules,
    stage_rules,
    way_rules,
    window_rules,
)
from capacity.plans.plan import Placement, Plan
from capacity.plans.stays import Stay, StayLayout, Visit
from capacity.plans.worked_days import WorkedDays


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule that a plan breaks, by its name, and the sentence that says how."""

    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A plan laid out again from the facts, and what the base alone decides.

    ``placements`` are those of each check of the base in the plan, in order of in day, ``stays``
    the same laid out. ``legs`` is the most placements that each check may have.
    """

    plan: Plan
    base: Base
    placements: tuple[Sequence[Placement], ...]
    stays: tuple[Stay, ...]
    layout: StayLayout
    worked_days: WorkedDays
    legs: Mapping[str, int]
    bays: Mapping[str, Bay]

    @property
    def visits(self) -> list[Visit]:
        """Return every stay in a bay."""
        return [visit for stay in self.stays for visit in stay.visits]


@dataclass(frozen=True, slots=True)
class PlanRule:
    """A rule about the plan as a whole."""

    name: str
    broken: Callable[[LaidOut], Iterator[str]]


@dataclass(frozen=True, slots=True)
class CheckRule:
    """A rule about one check by itself: its placements, and its stay laid out."""

    name: str
    broken: Callable[[LaidOut, Sequence[Placement], Stay], Iterator[str]]


def _stages(plan: LaidOut, placements: Sequence[Placement], stay: Stay) -> Iterator[str]:
    return stage_rules.broken(placements, stay, plan.layout, plan.worked_days)


def _moves(plan: LaidOut, placements: Sequence[Placement], stay: Stay) -> Iterator[str]:
    return move_rules.broken(
        placements, stay, plan.bays, plan.base.longest_wait_days, plan.worked_days
    )


def _moves_on_days_off(plan: LaidOut, placements: Sequence[Placement], stay: Stay) -> Iterator[str]:
    return day_off_rules.broken(placements, plan.base, plan.worked_days)


def _misfits(plan: LaidOut, placements: Sequence[Placement], stay: Stay) -> Iterator[str]:
    for visit in stay.visits:
        if (bay := plan.bays.get(visit.bay)) is not None:
            yield from bay_rules.misfits(visit, bay, plan.base.type(visit.check.type))


def _closed(plan: LaidOut, placements: Sequence[Placement], stay: Stay) -> Iterator[str]:
    for visit in stay.visits:
        if visit.bay in plan.bays:
            yield from bay_rules.closed(visit, plan.base.closures)


EVERY_CHECK_ONCE = PlanRule(
    "every check once", lambda plan: listing_rules.broken(plan.plan, plan.base, plan.legs)
)
CHECK_RULES = (
    CheckRule("window", lambda plan, placements, stay: window_rules.broken(stay, plan.base)),
    CheckRule("stages", _stages),
    CheckRule("levelling", lambda plan, placements, stay: levelling_rules.broken(stay, plan.base)),
    CheckRule("moves", _moves),
    CheckRule("moves on days off", _moves_on_days_off),
    CheckRule("held", lambda plan, placements, stay: held_rules.broken(stay)),
    CheckRule("bay that holds it", _misfits),
    CheckRule("closures", _closed),
)
PLAN_RULES = (
    PlanRule("bays", lambda plan: bay_rules.one_at_a_time(plan.visits, plan.bays)),
    PlanRule("shared floor", lambda plan: floor_rules.broken(plan.visits, plan.bays)),
    PlanRule("ways", lambda plan: way_rules.broken(plan.visits, plan.bays)),
    PlanRule("equipment", lambda plan: equipment_rules.broken(plan.stays, plan.base)),
    PlanRule("shops", lambda plan: shop_rules.broken(plan.stays, plan.base, plan.worked_days)),
)


def rule_names() -> frozenset[str]:
    """Return the name of every rule of the audit."""
    return frozenset(rule.name for rule in (EVERY_CHECK_ONCE, *CHECK_RULES, *PLAN_RULES))


def breaches(plan: LaidOut) -> tuple[Breach, ...]:
    """Return what a plan breaks, each once, in the order in which a planner would look at it."""
    return tuple(dict.fromkeys(_breaches(plan)))


def _breaches(plan: LaidOut) -> Iterator[Breach]:
    yield from _named(EVERY_CHECK_ONCE, EVERY_CHECK_ONCE.broken(plan))
    for placements, stay in zip(plan.placements, plan.stays, strict=True):
        for of_check in CHECK_RULES:
            yield from _named(of_check, of_check.broken(plan, placements, stay))
    for of_plan in PLAN_RULES:
        yield from _named(of_plan, of_plan.broken(plan))


def _named(rule: PlanRule | CheckRule, texts: Iterator[str]) -> Iterator[Breach]:
    return (Breach(rule.name, text) for text in texts)
