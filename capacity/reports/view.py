"""What the sheets show: an outcome with its facts, ready to be looked up by name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter

from capacity.facts import Base, Bay, Check, Stage
from capacity.findings import Finding
from capacity.plans.audit import CheckAccount
from capacity.plans.outcome import Planned
from capacity.plans.plan import Placement


@dataclass(frozen=True, slots=True)
class View:
    """The outcome, the base, the findings, and what the sheets look up.

    ``stages`` are those of a package by name. ``placements`` are in order of in day.
    ``first_of`` are the placements that carry the figures of their check: where a check moves
    between bays, the first one.
    """

    outcome: Planned
    base: Base
    findings: tuple[Finding, ...]
    checks: Mapping[str, Check]
    bays: Mapping[str, Bay]
    stages: Mapping[str, Mapping[str, Stage]]
    accounts: Mapping[str, CheckAccount]
    placements: tuple[Placement, ...]
    first_of: Mapping[str, Placement]

    def account_at(self, placement: Placement) -> CheckAccount | None:
        """Return the account of the placement's check, only at its first placement."""
        first = self.first_of[placement.check] is placement
        return self.accounts.get(placement.check) if first else None


def view_of(outcome: Planned, base: Base, findings: Sequence[Finding]) -> View:
    """Return the view of an outcome."""
    placements = tuple(sorted(outcome.plan.placements, key=attrgetter("in_day", "check")))
    return View(
        outcome=outcome,
        base=base,
        findings=tuple(findings),
        checks={check.name: check for check in base.checks},
        bays={bay.name: bay for bay in base.bays},
        stages={p.name: {stage.name: stage for stage in p.stages} for p in base.packages},
        accounts={account.check: account for account in outcome.audit.accounts},
        placements=placements,
        first_of={placement.check: placement for placement in reversed(placements)},
    )
