"""Candidates: every slot that a check may have. Other rooms come in here and nowhere else."""

from capacity.slots.candidates.bay_groups import BayGroup
from capacity.slots.candidates.bay_misfits import (
    bays_missing,
    bays_that_hold,
    kinds_needed,
    misfits,
)
from capacity.slots.candidates.bay_ties import bays_on_the_way, floor_sharers, tied_together
from capacity.slots.candidates.columns import Columns, columns_of, movable_hours, settled_hours
from capacity.slots.candidates.day_hours import DaysOfStage, days_of_stage, must_lie_on
from capacity.slots.candidates.enumerated import (
    Candidates,
    Courses,
    LaidOut,
    Slots,
    agreed_out_of,
    find_slots,
    lay_out_checks,
    slots_in,
)
from capacity.slots.candidates.fit import fits
from capacity.slots.candidates.levelling import (
    EARLIER,
    LATER,
    LESS,
    LESS_OF_TWO,
    LIMITS,
    MORE,
    MORE_OF_TWO,
    less_of_sets,
    shares_of,
)
from capacity.slots.candidates.many_candidates import days_apart, scope_for
from capacity.slots.candidates.scope import NO_BAYS, Scope
from capacity.slots.candidates.stage_hours import StageHours, hours_of_stage
from capacity.slots.candidates.stays import Stays, leave_of
from capacity.slots.candidates.ways import partly_tried
from capacity.slots.candidates.work import StageWork, kinds_by_leg, legs_of, work_of

__all__ = [
    "EARLIER",
    "LATER",
    "LESS",
    "LESS_OF_TWO",
    "LIMITS",
    "MORE",
    "MORE_OF_TWO",
    "NO_BAYS",
    "BayGroup",
    "Candidates",
    "Columns",
    "Courses",
    "DaysOfStage",
    "LaidOut",
    "Scope",
    "Slots",
    "StageHours",
    "StageWork",
    "Stays",
    "agreed_out_of",
    "bays_missing",
    "bays_on_the_way",
    "bays_that_hold",
    "columns_of",
    "days_apart",
    "days_of_stage",
    "find_slots",
    "fits",
    "floor_sharers",
    "hours_of_stage",
    "kinds_by_leg",
    "kinds_needed",
    "lay_out_checks",
    "leave_of",
    "legs_of",
    "less_of_sets",
    "misfits",
    "movable_hours",
    "must_lie_on",
    "partly_tried",
    "scope_for",
    "settled_hours",
    "shares_of",
    "slots_in",
    "tied_together",
    "work_of",
]
