"""An aircraft waits only so long for its next bay or its turn at a shop."""

from collections.abc import Collection, Iterator

from capacity.cells import Where, cells
from capacity.facts import Base
from capacity.slots.rules.changes import Amount, Change, FewestOf, Help
from capacity.slots.rules.family import Family
from capacity.slots.rules.rule import Rule, RuleKind
from capacity.slots.rules.shop_windows import shops_of
from capacity.words import days

# No turn and no bay is further off than that.
MORE_DAYS_TO_WAIT = 7


def _lifted(base: Base, packages: Collection[str]) -> Iterator[tuple[Rule, Base]]:
    """Yield the longest wait where checks may have to wait, and the base with a longer one."""
    if shops_of(base, packages) or any(_moves(base, name) for name in packages):
        yield THE_LONGEST_WAIT, _longer(base, MORE_DAYS_TO_WAIT)


def _moves(base: Base, name: str) -> bool:
    """Return whether checks of a package may have to move from one bay to another."""
    mine = [base.package_of(check) for check in base.checks if check.package == name]
    return any(len({stage.work for stage in package.stages}) > 1 for package in mine)


def _longer(base: Base, number: int) -> Base:
    return base.replace(longest_wait_days=base.longest_wait_days + number)


def _helps(rule: Rule, base: Base, checks: Collection[str]) -> Iterator[Help]:
    """Let aircraft wait some days longer."""

    def longer(number: int) -> Base:
        return _longer(base, number)

    yield FewestOf(LONGER_WAIT, MORE_DAYS_TO_WAIT, longer, days=0)


def _holds(rule: Rule, base: Base, where: Where) -> str:
    return (
        f"an aircraft waits up to {days(base.longest_wait_days)} for its next bay or "
        f"its turn at a shop {_at(where)}"
    )


def _says_longer(amount: Amount, where: Where) -> str:
    longest = days(amount.base.longest_wait_days + amount.number)
    return f"let aircraft wait up to {longest} for a bay or a shop {_at(where)}"


def _at(where: Where) -> str:
    return cells(where, "Base", "Longest wait days", "Value")


LONGER_WAIT = Change("longer wait", 12, _says_longer)

WAIT = RuleKind("longest wait", _holds, None, _helps)
THE_LONGEST_WAIT = Rule(WAIT, "Longest wait days")

LONGEST_WAIT = Family(
    name="longest wait",
    kinds=(WAIT,),
    audited_as=frozenset({"stages", "moves"}),
    lifted=_lifted,
)
