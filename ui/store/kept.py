"""The plan store as the person at this browser uses it."""

import streamlit as st

from capacity.plans.outcome import Planned
from capacity.store.new_plan import new_plan, workbook_file
from capacity.store.opening import default_store
from capacity.store.person import user_of_this_computer
from capacity.store.store import PlanStore
from capacity.store.values import SavedPlan, Status, WorkbookFile
from ui.desk.plan_file import report_bytes
from ui.desk.plan_job import Result
from ui.desk.signed_in import person_signed_in


def store_of_this_person() -> PlanStore:
    """Return the store that this dashboard uses; raises ``StoreError`` where it cannot be had."""
    return _opened(default_store(), person())


def plans_of(store: PlanStore) -> tuple[SavedPlan, ...]:
    """Return all plans, the newest first, read anew only after something was done with one.

    Raises
    ------
    StoreError
        When the store cannot be reached, or the person may not read it.
    """
    return _plans(store.named, store.stamp(), store)


@st.cache_resource(show_spinner=False, max_entries=5)
def _plans(named: str, stamp: tuple[int, int], _store: PlanStore) -> tuple[SavedPlan, ...]:
    return _store.plans()


def person() -> str:
    """Return who is at the browser: by the sign-in, or else whose dashboard it is."""
    return person_signed_in() or user_of_this_computer()


@st.cache_resource(show_spinner=False, max_entries=50)
def _opened(named: str, person: str) -> PlanStore:
    return PlanStore(named, person)


def save_shown(store: PlanStore, result: Result, follows: int | None, comment: str) -> SavedPlan:
    """Save the plan that is shown with its workbook; audited once more on the way.

    Raises
    ------
    InputError, AuditError, StoreError
        When it is no plan of its workbook, breaks a rule, or cannot be saved.
    """
    opened = result.opened
    base = opened.book.base if result.news is None else result.news.read
    assert base is not None
    assert isinstance(result.outcome, Planned)
    if opened.content is None and opened.folder is not None:
        workbook = workbook_file(opened.folder)
    else:
        workbook = WorkbookFile(opened.name, opened.content or b"")
    new, _ = new_plan(base, workbook, report_bytes(result, ".json"), follows)
    return store.save(new, comment)


def in_force_beside(plan: SavedPlan, plans: tuple[SavedPlan, ...]) -> tuple[SavedPlan, ...]:
    """Return the agreed plans, of those shown, whose place a plan would take."""
    return tuple(
        one
        for one in plans
        if one.status is Status.AGREED
        and one.base == plan.base
        and one.id != plan.id
        and one.first_day < plan.until
        and plan.first_day < one.until
    )
