"""What the sheets show: an outcome with its facts, ready to be looked up by name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from operator import attrgetter

from capacity.facts import Base, Check, Stage
from capacity.messages import Message
from capacity.plans.audit import CheckAccount
from capacity.plans.levelled import Levelling, levelling_of
from capacity.plans.outcome import Planned
from capacity.plans.plan import Placement, Plan
from capacity.reports.plan.messages import Where, plan_messages
from capacity.reports.plan.wording import late_in, late_out
from capacity.words import listed


@dataclass(frozen=True, slots=True)
class View:
    """The outcome, the base, the messages, and what the sheets look up.

    ``messages`` speak of the input and of the plan. ``stages`` are those of a check by name.
    ``placements`` are in order of in day. A check that moves between bays has several:
    ``first_of`` are those it comes in with, ``last_of`` those it leaves from. ``levelling`` is
    None where all hours lie evenly.
    """

    outcome: Planned
    base: Base
    messages: tuple[Message, ...]
    stages: Mapping[str, Mapping[str, Stage]]
    accounts: Mapping[str, CheckAccount]
    placements: tuple[Placement, ...]
    first_of: Mapping[str, Placement]
    last_of: Mapping[str, Placement]
    levelling: Levelling | None = None

    def account_at(self, placement: Placement) -> CheckAccount | None:
        """Return the account of the placement's check, only where it comes in."""
        first = self.first_of[placement.check] is placement
        return self.accounts.get(placement.check) if first else None

    def account_leaving(self, placement: Placement) -> CheckAccount | None:
        """Return the account of the placement's check, only where it leaves the base."""
        last = self.last_of[placement.check] is placement
        return self.accounts.get(placement.check) if last else None

    def agreed_out(self, placement: Placement) -> date | None:
        """Return the day on which the placement's check is agreed to be out, if there is one."""
        account = self.accounts.get(placement.check)
        check = self.base.check(placement.check)
        return check.agreed_out if account is None else check.agreed_out_from(account.in_day)

    @property
    def has_wanted_costs(self) -> bool:
        """Whether days away from ``Wanted in`` cost anything for some check."""
        return any(check.wanted_cost_per_day for check in self.base.checks)

    def remarks_at(self, placement: Placement) -> str:
        """Return what is late where it is: coming in, or leaving; and from where it goes on."""
        came, leaves = self.account_at(placement), self.account_leaving(placement)
        is_first = self.first_of[placement.check] is placement
        said = [
            _held(self.base.check(placement.check))
            if is_first
            else f"goes on from {placement.stage_from}",
            "its work here is done; it waits to move" if self._waits(placement) else "",
            late_in(came) if came else "",
            late_out(leaves) if leaves else "",
        ]
        return "; ".join(filter(None, said))

    def _waits(self, placement: Placement) -> bool:
        """Return whether nothing is left to do at a placement that the check moves on from."""
        return not placement.stages and self.last_of[placement.check] is not placement


def _held(check: Check) -> str:
    """Return in what a check is held without being fixed; empty when it is not."""
    held = [("day", check.held_in is not None), ("bay", check.held_bay is not None)]
    named = [f"its {what}" for what, is_held in held if is_held]
    return f"held in {listed(named)}" if named else ""


def view_of(
    base: Base, outcome: Planned, messages: Sequence[Message], where: Where | None = None
) -> View:
    """Return the view of an outcome, with the messages about the input and those about it."""
    view = view_without_messages(base, outcome)
    return replace(view, messages=(*messages, *plan_messages(outcome, base, where)))


def view_without_messages(base: Base, outcome: Planned) -> View:
    """Return the view of an outcome in a fraction of the time: there are no messages in it."""
    placements = in_turn(outcome.plan)
    return View(
        outcome=outcome,
        base=base,
        messages=(),
        stages={check.name: base.stages_of(check.name) for check in base.checks},
        accounts=outcome.audit.by_check(),
        placements=placements,
        first_of={placement.check: placement for placement in reversed(placements)},
        last_of={placement.check: placement for placement in placements},
        levelling=levelling_of(outcome.plan, base, outcome.audit),
    )


def in_turn(plan: Plan) -> tuple[Placement, ...]:
    """Return the placements in order of in day, those of one day by name."""
    return tuple(sorted(plan.placements, key=attrgetter("in_day", "check")))
