"""A choice as a plan, which the audit has confirmed."""

from capacity.errors import AuditError
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan
from capacity.slots.candidates import Slots
from capacity.slots.program.choice import Choice
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program

# Claimed and recomputed money may differ by the rounding of long sums, not by a cent.
CENT = 0.005


def audited(
    chosen: Choice,
    program: Program,
    slots: Slots,
    auditor: Auditor,
    standing: Audit | None = None,
) -> tuple[Plan, Audit]:
    """Return a choice as a plan with its audit; hours that cost the same as in ``standing``.

    Raises
    ------
    AuditError
        When the plan breaks a rule, or has other days or money than the search claims.
    """
    made = plan_of(chosen, program, slots)
    audit = auditor.audit(made, standing)
    days, money = program.cost(chosen)
    broken, goals = list(audit.broken), audit.goals
    if (found := goals.days_past_latest_in) != days:
        broken.append(f"the search claims {days} days past Latest in, the audit finds {found}")
    if abs(goals.money - money) > CENT:
        broken.append(f"the search claims money {money:.2f}, the audit {goals.money:.2f}")
    if broken:
        raise AuditError(broken)
    return made, audit
