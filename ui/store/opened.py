"""A plan of the store on a desk: read and audited once, however many people open it."""

from dataclasses import dataclass
from hashlib import sha256

import streamlit as st

from capacity.inputs.limited import Wanted, always
from capacity.store.store import PlanStore
from capacity.store.values import SavedPlan, WorkbookFile
from ui.desk.desk import JOB_NUMBERS, Desk
from ui.desk.opened_workbook import OpenedBook, opened_from_bytes
from ui.desk.plan_job import PLAN, PlanWithNews
from ui.desk.saved_plan import plan_of_file

PLANS_CACHED = 20
"""Plans kept for whoever opens them next; one of a year of 300 checks takes some 10 MB."""


@dataclass(frozen=True, slots=True)
class StoredPlan:
    """A plan with its workbook, and the number under which what is worked out of it is kept."""

    number: int
    opened: OpenedBook
    plan: PlanWithNews


def open_stored(
    desk: Desk, store: PlanStore, plan: SavedPlan, still_wanted: Wanted = always
) -> None:
    """Put a plan of the store and its workbook on a desk; at a fault the desk stays as it is.

    Raises
    ------
    InputError
        When the workbook cannot be read any more, or the plan is none of it.
    StoreError
        When the store cannot be reached, or has lost them.
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    workbook, file = store.workbook(plan.id), store.plan_file(plan.id)
    digests = sha256(workbook.content).hexdigest(), sha256(file).hexdigest()
    found = _read(workbook.name, f"{plan.plan_number}.json", digests, workbook, file, still_wanted)
    desk.open(found.opened)
    desk.put(PLAN, found.opened, found.plan, found.number)


@st.cache_resource(max_entries=PLANS_CACHED, show_spinner=False)
def _read(
    name: str,
    file_name: str,
    digests: tuple[str, str],
    _workbook: WorkbookFile,
    _file: bytes,
    _still_wanted: Wanted,
) -> StoredPlan:
    """Return a plan as its files have it, which the hashes tell from any other."""
    opened = opened_from_bytes(name, _workbook.content, still_wanted=_still_wanted)
    plan = plan_of_file(opened, file_name, _file, _still_wanted)
    return StoredPlan(next(JOB_NUMBERS), opened, plan)
