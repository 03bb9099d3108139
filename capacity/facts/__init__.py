"""The planner's world as frozen values: no solver, no file format, no arithmetic.

A variant of any of them is ``dataclasses.replace(fact, field=value)``.
"""

from capacity.facts.base import EVERY_WEEKDAY, Base
from capacity.facts.bays import AircraftType, Bay, Closure, sizes_exceeded
from capacity.facts.checks import Check, Status
from capacity.facts.crews import Absence, Crew, Employment, Licence, Pattern, Shift, Skill
from capacity.facts.days import CalendarDays
from capacity.facts.delivered import DeliveredStage
from capacity.facts.equipment import Equipment, EquipmentOutage, Shop, ShopLoop
from capacity.facts.extra_work import ExtraReason, ExtraWork, with_extra
from capacity.facts.functions import Function, FunctionAbsence, FunctionStaff
from capacity.facts.network import Network, SharedEnquiry
from capacity.facts.packages import Package, Stage
from capacity.facts.planning_period import is_cut, last_day_of, weeks_cut_off, weeks_until
from capacity.facts.progress import WorkProgress, latest_by_stage, leaves_on
from capacity.facts.ready_dates import ReadyDate
from capacity.facts.work_done import DoneHours, WorkDone

__all__ = [
    "EVERY_WEEKDAY",
    "Absence",
    "AircraftType",
    "Base",
    "Bay",
    "CalendarDays",
    "Check",
    "Closure",
    "Crew",
    "DeliveredStage",
    "DoneHours",
    "Employment",
    "Equipment",
    "EquipmentOutage",
    "ExtraReason",
    "ExtraWork",
    "Function",
    "FunctionAbsence",
    "FunctionStaff",
    "Licence",
    "Network",
    "Package",
    "Pattern",
    "ReadyDate",
    "SharedEnquiry",
    "Shift",
    "Shop",
    "ShopLoop",
    "Skill",
    "Stage",
    "Status",
    "WorkDone",
    "WorkProgress",
    "is_cut",
    "last_day_of",
    "latest_by_stage",
    "leaves_on",
    "sizes_exceeded",
    "weeks_cut_off",
    "weeks_until",
    "with_extra",
]
