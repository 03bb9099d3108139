"""A plan that answers a question, as an outcome that the plan reports can show."""

from capacity.facts import Base
from capacity.planning import versions
from capacity.plans.audit import Audit, Auditor
from capacity.plans.outcome import Planned
from capacity.plans.plan import Plan
from capacity.settings import Settings


def as_outcome(
    plan: Plan,
    base: Base,
    settings: Settings,
    seconds: float,
    stopped_by: str,
    standing: Audit | None = None,
) -> Planned:
    """Return an outcome without a bound: what was proven of the question stands elsewhere.

    Man-hours that cost the same either way are shared out as in the ``standing`` plan.
    """
    auditor = Auditor(base)
    audited = auditor.audit(plan, standing)
    return Planned(
        plan=plan,
        audit=audited,
        bound=None,
        gap=None,
        days_bound=0,
        seconds=seconds,
        stopped_by=stopped_by,
        settings=settings,
        versions=versions(),
        history=(),
        day_shortages=auditor.day_shortages(plan, audited),
    )
