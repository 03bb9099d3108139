"""Slot plans for an aircraft heavy-maintenance base, with proof.

    import capacity

    base = capacity.read("quarter.xlsx")
    outcome = capacity.plan(base, capacity.Settings(seconds=60))
    capacity.report(base, outcome, "plan.xlsx")

Arguments come in one order: the base, the plan, what is asked, the settings; what may be left out
is given by its name. Whatever is raised on purpose is a ``CapacityError``.

Names are fetched from their modules when first asked for: the two sides of the search are
processes of their own and must not wait for spreadsheet libraries they never use.
"""

import importlib
import importlib.metadata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    __version__: str
    from capacity.crews.assign import Staffed, assign_crews
    from capacity.crews.crew_settings import CrewSearchSettings, CrewSettings, OwnStaffShare
    from capacity.errors import (
        AuditError,
        CapacityError,
        EngineError,
        InputError,
        OutputError,
        SettingsError,
        StoppedError,
        TooLargeError,
    )
    from capacity.facts import Base
    from capacity.inputs.aircraft_on_ground import with_aircraft_on_ground
    from capacity.messages import Level, Message
    from capacity.network.rounds import plan_network
    from capacity.planning import plan
    from capacity.plans.audit import Audit, audit
    from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned, Progress
    from capacity.plans.plan import Placement, Plan
    from capacity.questions.by_hand.answering import ByHand
    from capacity.questions.by_hand.drafts import Draft
    from capacity.questions.by_hand.values import HandMove
    from capacity.questions.compare.two_plans import compare
    from capacity.questions.enquiries.asked import ask, enquiry
    from capacity.questions.enquiries.booking import Booked, book
    from capacity.questions.enquiries.combinations import best_combinations
    from capacity.questions.key_figures.computed import key_figures
    from capacity.questions.learn.learning import learn
    from capacity.questions.overtime.measures import try_measures
    from capacity.questions.overtime.review import review_overtime
    from capacity.questions.replan.move_costs import MoveCosts
    from capacity.questions.replan.replanning import replan
    from capacity.questions.risk.settings import RiskSettings
    from capacity.questions.risk.simulated import risk_of
    from capacity.questions.roll.files import roll_forward
    from capacity.questions.roll.rolled_plan import rolled_plan
    from capacity.questions.why.explain import explain
    from capacity.questions.worth.selling import worth_of
    from capacity.reading import read, read_enquiries, read_network, verify
    from capacity.reports.answers import report
    from capacity.reports.next_workbook import write_next_workbook
    from capacity.reports.plan_files.asked_plan import read_plan
    from capacity.reports.plan_files.plan_from_file import plan_from_file
    from capacity.reports.roll.files import write_rolled
    from capacity.search_settings import SearchSettings
    from capacity.settings import Settings
    from capacity.template.new_workbook import new_workbook
    from capacity.template.placeholders import Placeholders

_HOMES = {
    "capacity.crews.assign": ("Staffed", "assign_crews"),
    "capacity.crews.crew_settings": ("CrewSearchSettings", "CrewSettings", "OwnStaffShare"),
    "capacity.errors": (
        "AuditError",
        "CapacityError",
        "EngineError",
        "InputError",
        "OutputError",
        "SettingsError",
        "StoppedError",
        "TooLargeError",
    ),
    "capacity.facts": ("Base",),
    "capacity.inputs.aircraft_on_ground": ("with_aircraft_on_ground",),
    "capacity.messages": ("Message", "Level"),
    "capacity.network.rounds": ("plan_network",),
    "capacity.planning": ("plan",),
    "capacity.plans.audit": ("Audit", "audit"),
    "capacity.plans.outcome": ("Impossible", "OutOfTime", "Outcome", "Planned", "Progress"),
    "capacity.plans.plan": ("Placement", "Plan"),
    "capacity.questions.by_hand.answering": ("ByHand",),
    "capacity.questions.by_hand.drafts": ("Draft",),
    "capacity.questions.by_hand.values": ("HandMove",),
    "capacity.questions.compare.two_plans": ("compare",),
    "capacity.questions.why.explain": ("explain",),
    "capacity.questions.learn.learning": ("learn",),
    "capacity.questions.key_figures.computed": ("key_figures",),
    "capacity.questions.overtime.measures": ("try_measures",),
    "capacity.questions.replan.move_costs": ("MoveCosts",),
    "capacity.questions.enquiries.booking": ("Booked", "book"),
    "capacity.questions.enquiries.combinations": ("best_combinations",),
    "capacity.questions.enquiries.asked": ("ask", "enquiry"),
    "capacity.questions.overtime.review": ("review_overtime",),
    "capacity.questions.replan.replanning": ("replan",),
    "capacity.questions.risk.simulated": ("risk_of",),
    "capacity.questions.risk.settings": ("RiskSettings",),
    "capacity.questions.roll.files": ("roll_forward",),
    "capacity.questions.roll.rolled_plan": ("rolled_plan",),
    "capacity.questions.worth.selling": ("worth_of",),
    "capacity.reading": ("read", "read_enquiries", "read_network", "verify"),
    "capacity.reports.answers": ("report",),
    "capacity.reports.next_workbook": ("write_next_workbook",),
    "capacity.reports.plan_files.asked_plan": ("read_plan",),
    "capacity.reports.plan_files.plan_from_file": ("plan_from_file",),
    "capacity.reports.roll.files": ("write_rolled",),
    "capacity.search_settings": ("SearchSettings",),
    "capacity.settings": ("Settings",),
    "capacity.template.new_workbook": ("new_workbook",),
    "capacity.template.placeholders": ("Placeholders",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = [
    "Audit",
    "AuditError",
    "Base",
    "Booked",
    "ByHand",
    "CapacityError",
    "CrewSearchSettings",
    "CrewSettings",
    "Draft",
    "EngineError",
    "HandMove",
    "Impossible",
    "InputError",
    "Level",
    "Message",
    "MoveCosts",
    "OutOfTime",
    "Outcome",
    "OutputError",
    "OwnStaffShare",
    "Placeholders",
    "Placement",
    "Plan",
    "Planned",
    "Progress",
    "RiskSettings",
    "SearchSettings",
    "Settings",
    "SettingsError",
    "Staffed",
    "StoppedError",
    "TooLargeError",
    "ask",
    "assign_crews",
    "audit",
    "best_combinations",
    "book",
    "compare",
    "enquiry",
    "explain",
    "key_figures",
    "learn",
    "new_workbook",
    "plan",
    "plan_from_file",
    "plan_network",
    "read",
    "read_enquiries",
    "read_network",
    "read_plan",
    "replan",
    "report",
    "review_overtime",
    "risk_of",
    "roll_forward",
    "rolled_plan",
    "try_measures",
    "verify",
    "with_aircraft_on_ground",
    "worth_of",
    "write_next_workbook",
    "write_rolled",
]


def __getattr__(name: str) -> object:
    """Return a public name from the module it lives in, and the version that is installed."""
    if name == "__version__":
        return importlib.metadata.version("hangar-capacity")
    if name not in _HOME_OF:
        raise AttributeError(f"module 'capacity' has no attribute {name!r}")
    return getattr(importlib.import_module(_HOME_OF[name]), name)
