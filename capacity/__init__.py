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
    from capacity.errors import AuditError, CapacityError, EngineError, InputError, OutputError
    from capacity.facts import Base
    from capacity.findings import Finding, Level
    from capacity.planning import plan
    from capacity.plans.audit import Audit, audit
    from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned, Progress
    from capacity.plans.plan import Placement, Plan
    from capacity.reading import check, read
    from capacity.reports import report
    from capacity.settings import Settings

_HOMES = {
    "capacity.errors": ("AuditError", "CapacityError", "EngineError", "InputError", "OutputError"),
    "capacity.facts": ("Base",),
    "capacity.findings": ("Finding", "Level"),
    "capacity.planning": ("plan",),
    "capacity.plans.audit": ("Audit", "audit"),
    "capacity.plans.outcome": ("Impossible", "OutOfTime", "Outcome", "Planned", "Progress"),
    "capacity.plans.plan": ("Placement", "Plan"),
    "capacity.reading": ("check", "read"),
    "capacity.reports": ("report",),
    "capacity.settings": ("Settings",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "Audit",
    "AuditError",
    "Base",
    "CapacityError",
    "EngineError",
    "Finding",
    "Impossible",
    "InputError",
    "Level",
    "OutOfTime",
    "Outcome",
    "OutputError",
    "Placement",
    "Plan",
    "Planned",
    "Progress",
    "Settings",
    "audit",
    "check",
    "plan",
    "read",
    "report",
]


def __getattr__(name: str) -> object:
    """Return a public name from the module it lives in."""
    if name not in _HOME_OF:
        raise AttributeError(f"module 'capacity' has no attribute {name!r}")
    return getattr(importlib.import_module(_HOME_OF[name]), name)
