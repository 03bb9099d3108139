"""Every family of rules explains itself: its rows, its words, what would help, the audit's name.

The bases are those of the examples of every rule, in each of which one rule is in the way, and
one with a family of rules that the tool does not have.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray

import capacity
from capacity.cells import sheet_only
from capacity.facts import Base, EquipmentOutage
from capacity.plans.audit import audit
from capacity.plans.audit_rules import rule_names
from capacity.plans.plan import Plan
from capacity.questions.conflicts.places import AllPlaces, all_places
from capacity.slots.rules.changes import Amount, DateMoved
from capacity.slots.rules.families import families
from capacity.slots.rules.family import Family
from capacity.slots.rules.floor_shared import FLOOR_SHARED
from capacity.slots.rules.rows import Rows
from capacity.slots.rules.rule import Met, Rule
from capacity.slots.rules.ways_clear import WAYS_CLEAR
from tests.questions.arrivals import TUGS, with_tugs
from tests.questions.conflicts.test_every_rule import EXAMPLES, answered, jacked, one_at_a_time
from tests.reference.stories import day, visit

FAMILIES = families()
EVERY_FAMILY = (*FAMILIES, TUGS)
MOST_CHOICES = 400
# Where the man-hours of a stage lie takes no place away: no family of these rules.
NOT_ABOUT_SLOTS = {"levelling"}

every_family = pytest.mark.parametrize("family", EVERY_FAMILY, ids=lambda family: family.name)


@dataclass(frozen=True)
class Case:
    """A base, and the families of rules that it has."""

    base: Base
    families: tuple[Family, ...]

    @property
    def asked(self) -> frozenset[Rule]:
        """Return all rules that can be left out one by one."""
        checks = self.base.checks
        return frozenset(r for f in self.families for r in f.rules(self.base, checks, True))

    @property
    def rules(self) -> frozenset[Rule]:
        """Return those and the rules about how long checks stay."""
        packages = {check.package for check in self.base.checks}
        return self.asked | {
            rule for f in self.families for rule, _ in f.lifted(self.base, packages)
        }


@cache
def cases() -> dict[str, Case]:
    found = {name: Case(example.make(), FAMILIES) for name, example in EXAMPLES.items()}
    out = EquipmentOutage("Jack set", day(2), day(3), 1)
    two_outages = jacked(2, out, out, checks=(visit("B", 5, 2, 2),))  # neither alone is in the way
    return found | {
        "two outages": Case(two_outages, FAMILIES),
        "arrivals": Case(with_tugs(one_at_a_time()), EVERY_FAMILY),
    }


def rules_of_family(family: Family) -> list[tuple[Rule, Base]]:
    return [
        (rule, case.base)
        for case in cases().values()
        for rule in sorted(case.rules, key=str)
        if rule.kind in family.kinds
    ]


def test_every_family_and_every_kind_has_a_name_of_its_own() -> None:
    names = [family.name for family in EVERY_FAMILY]
    of_kinds = [kind.name for family in EVERY_FAMILY for kind in family.kinds]
    assert len(names) == len(set(names))
    assert len(of_kinds) == len(set(of_kinds))


@every_family
def test_it_has_rules_of_each_of_its_kinds(family: Family) -> None:
    assert {rule.kind for rule, _ in rules_of_family(family)} == set(family.kinds)


@every_family
def test_it_says_what_holds_and_on_which_sheet(family: Family) -> None:
    for rule, base in rules_of_family(family):
        said = rule.kind.holds(rule, base, sheet_only)
        sheets = ("Base", "Bays", "Bay closures", "Checks", "Equipment", "Equipment outages")
        assert any(f"({sheet})" in said for sheet in (*sheets, "Packages", "Shops", "Ready dates"))
        assert rule.of in said or "(Base)" in said


@every_family
def test_it_says_what_is_in_the_way_of_a_place_if_it_takes_any_away(family: Family) -> None:
    met = Met(("X", "Y"), frozenset())
    for rule, base in rules_of_family(family):
        if rule.kind.blocks is None:
            assert family.packing is None
        else:
            said = rule.kind.blocks(rule, met, base, sheet_only)
            assert ("X and Y" in said) is (family.packing is not None)


@every_family
def test_it_says_what_would_help(family: Family) -> None:
    for rule, base in rules_of_family(family):
        for help_ in rule.kind.helps(rule, base, ["A", "B"]):
            after = base
            if not isinstance(help_, DateMoved):
                after = help_.after if isinstance(help_.after, Base) else help_.after(1)
                assert after != base
            bay = base.bays[0].name
            said = help_.change.says(Amount(rule.of, rule.row, 1, base, after, bay), sheet_only)
            assert "(" in said
            assert said == said.rstrip(".;")


@every_family
def test_the_audit_knows_the_names_by_which_it_is_told(family: Family) -> None:
    names = rule_names() | ({"arrivals"} if family is TUGS else set())
    assert family.audited_as
    assert family.audited_as <= names


def test_no_rule_of_the_audit_is_of_no_family() -> None:
    told = frozenset[str]().union(*(family.audited_as for family in FAMILIES))
    assert rule_names() - told == NOT_ABOUT_SLOTS


def choices(places: AllPlaces) -> Iterator[NDArray[np.int64]]:
    """Yield choices of a column or none for each check: all, or some drawn where they are many."""
    columns = places.columns()
    count = np.bincount(columns.check, minlength=len(places.names))
    first = np.concatenate(([0], np.cumsum(count)))[:-1]
    if np.prod(count + 1) <= MOST_CHOICES:
        for places_of in product(*(range(-1, n) for n in count)):
            yield np.array([f + n for f, n in zip(first, places_of, strict=True) if n >= 0], int)
        return
    rng = np.random.default_rng(1)
    for _ in range(MOST_CHOICES):
        drawn = rng.integers(-1, count)
        yield (first + drawn)[drawn >= 0]


def keeps(chosen: NDArray[np.int64], rows: list[Rows]) -> bool:
    return all((each.matrix[:, chosen].sum(axis=1) <= each.capacity + 1e-9).all() for each in rows)


@pytest.mark.parametrize("name", [*EXAMPLES, "two outages", "arrivals"])
def test_the_rows_of_the_program_the_exact_ones_and_those_that_block_say_the_same(
    name: str,
) -> None:
    """With all rules asked, each choice keeps the rows of all families in each form, or in none."""
    case = cases()[name]
    places = all_places(case.base)
    columns, base = places.columns(), places.opened
    packings = [(family, family.packing) for family in case.families if family.packing is not None]
    program = [packing.rows(columns, base) for _, packing in packings]
    exact = [
        packing.exact(part, columns, base)
        for family, packing in packings
        for part in packing.parts(
            frozenset(rule for rule in case.asked if rule.kind in family.kinds), case.asked, base
        )
    ]
    blocking = [
        some.rows(columns, base) for _, packing in packings for some in packing.blocking(case.base)
    ]
    kept = [
        (keeps(chosen, program), keeps(chosen, exact), keeps(chosen, blocking))
        for chosen in choices(places)
    ]
    assert kept
    for in_program, by_rules, not_blocked in kept:
        assert in_program == by_rules == not_blocked


def plan_of(base: Base) -> Plan:
    outcome = capacity.plan(base, capacity.Settings(seconds=4))
    assert isinstance(outcome, capacity.Planned)
    return outcome.plan


def plans_that_break(family: Family) -> Iterator[tuple[Base, Plan]]:
    """Yield plans of bases in which a rule of a family is eased, with the base in which it is not.

    The eased bases are those of the ways out, those with a rule about stays lifted, and for ties
    of bays those without any.
    """
    for name, example in EXAMPLES.items():
        if example.kind not in family.kinds:
            continue
        base, _, found = answered(name)
        assert found.conflicts is not None
        for conflict in found.conflicts.conflicts:
            for way in conflict.ways_out:
                if way.rule.kind in family.kinds:
                    yield base, way.plan
        for _, eased in family.lifted(base, {check.package for check in base.checks}):
            yield base, plan_of(eased)
        if family in (WAYS_CLEAR, FLOOR_SHARED):
            apart = tuple(
                replace(bay, reached_through=None, shares_floor_with=frozenset())
                for bay in base.bays
            )
            yield base, plan_of(base.replace(bays=apart))


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_the_audit_tells_a_plan_that_breaks_it_by_that_name(family: Family) -> None:
    told = {
        breach.rule
        for base, plan in plans_that_break(family)
        for breach in audit(base, plan).breaches
    }
    assert told & family.audited_as
