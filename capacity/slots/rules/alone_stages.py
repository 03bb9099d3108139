"""Some stages are done alone: nothing else goes on at the aircraft meanwhile."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from capacity.cells import Where, cells
from capacity.facts import Base
from capacity.slots.rules.family import Family
from capacity.slots.rules.rule import Rule, RuleKind, nothing_helps


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield each stage that is done alone, and the base in which it need not be."""
    for package in base.packages:
        if package.name in packages:
            for stage in package.stages:
                if stage.alone and len(package.stages) > 1:
                    rule = Rule(ALONE, package.name, stage.name)
                    yield rule, _beside_others(base, package.name, stage.name)


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


def _holds(rule: Rule, base: Base, where: Where) -> str:
    at = cells(where, "Packages", f"{rule.of}: {rule.other}", "Alone")
    return f"'{rule.other}' of {rule.of} is done alone {at}"


ALONE = RuleKind("alone", _holds, None, nothing_helps)

ALONE_STAGES = Family(
    name="stages done alone", kinds=(ALONE,), audited_as=frozenset({"stages"}), lifted=_lifted
)
