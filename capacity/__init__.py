"""Slot plans for an aircraft heavy-maintenance base, with proof.

    import capacity

    base = capacity.read("quarter.xlsx")
    outcome = capacity.plan(base, capacity.Settings(seconds=60))
    capacity.report(outcome, base, "plan.xlsx")

Names are fetched from their modules when first asked for: the two sides of the search are
processes of their own and must not wait for spreadsheet libraries they never use.
"""

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from capacity.crews.assign import Staffed, assign_crews
    from capacity.crews.crew_settings import CrewSettings
    from capacity.errors import AuditError, CapacityError, EngineError, InputError, OutputError
    from capacity.facts import Base
    from capacity.findings import Finding, Level
    from capacity.planning import plan
    from capacity.plans.audit import Audit, audit
    from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned, Progress
    from capacity.plans.plan import Placement, Plan
    from capacity.questions.comparing import compare
    from capacity.questions.explain import explain
    from capacity.questions.levers import pull_levers
    from capacity.questions.move_costs import MoveCosts
    from capacity.questions.offer_sets import best_sets
    from capacity.questions.offers import ask, offer
    from capacity.questions.overtime_review import review_overtime
    from capacity.questions.replan import replan
    from capacity.questions.risk import risk_of
    from capacity.questions.risk_settings import RiskSettings
    from capacity.questions.worth import worth_of
    from capacity.reading import check, read, read_offers
    from capacity.reports import report
    from capacity.reports.asked_plan import read_plan
    from capacity.reports.plan_from_summary import plan_from_summary
    from capacity.settings import Settings

_HOMES = {
    "capacity.crews.assign": ("Staffed", "assign_crews"),
    "capacity.crews.crew_settings": ("CrewSettings",),
    "capacity.errors": ("AuditError", "CapacityError", "EngineError", "InputError", "OutputError"),
    "capacity.facts": ("Base",),
    "capacity.findings": ("Finding", "Level"),
    "capacity.planning": ("plan",),
    "capacity.plans.audit": ("Audit", "audit"),
    "capacity.plans.outcome": ("Impossible", "OutOfTime", "Outcome", "Planned", "Progress"),
    "capacity.plans.plan": ("Placement", "Plan"),
    "capacity.questions.comparing": ("compare",),
    "capacity.questions.explain": ("explain",),
    "capacity.questions.levers": ("pull_levers",),
    "capacity.questions.move_costs": ("MoveCosts",),
    "capacity.questions.offer_sets": ("best_sets",),
    "capacity.questions.offers": ("ask", "offer"),
    "capacity.questions.overtime_review": ("review_overtime",),
    "capacity.questions.replan": ("replan",),
    "capacity.questions.risk": ("risk_of",),
    "capacity.questions.risk_settings": ("RiskSettings",),
    "capacity.questions.worth": ("worth_of",),
    "capacity.reading": ("check", "read", "read_offers"),
    "capacity.reports": ("report",),
    "capacity.reports.asked_plan": ("read_plan",),
    "capacity.reports.plan_from_summary": ("plan_from_summary",),
    "capacity.settings": ("Settings",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "Audit",
    "AuditError",
    "Base",
    "CapacityError",
    "CrewSettings",
    "EngineError",
    "Finding",
    "Impossible",
    "InputError",
    "Level",
    "MoveCosts",
    "OutOfTime",
    "Outcome",
    "OutputError",
    "Placement",
    "Plan",
    "Planned",
    "Progress",
    "RiskSettings",
    "Settings",
    "Staffed",
    "ask",
    "assign_crews",
    "audit",
    "best_sets",
    "check",
    "compare",
    "explain",
    "offer",
    "plan",
    "plan_from_summary",
    "pull_levers",
    "read",
    "read_offers",
    "read_plan",
    "replan",
    "report",
    "review_overtime",
    "risk_of",
    "worth_of",
]


def __getattr__(name: str) -> object:
    """Return a public name from the module it lives in."""
    if name not in _HOME_OF:
        raise AttributeError(f"module 'capacity' has no attribute {name!r}")
    return getattr(importlib.import_module(_HOME_OF[name]), name)
