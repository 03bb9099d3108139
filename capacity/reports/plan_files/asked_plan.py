"""A plan file to ask about: its plan on its base, refused where its figures cannot be right."""

from collections.abc import Iterator
from dataclasses import dataclass
from os import PathLike

from capacity.errors import InputError
from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.audit import Audit, audit
from capacity.plans.plan import Plan
from capacity.reports.plan_files.base_of import (
    PLAN_AGAIN,
    base_of_plan_file,
    changes_in_words,
    changes_since,
    notes_about,
    refuse_other_base,
    when,
)
from capacity.reports.plan_files.json_reader import error
from capacity.reports.plan_files.plan_from_file import plan_of
from capacity.reports.plan_files.written import PlanFile, Stated, read_plan_file
from capacity.words import days, hours, money

LEAST_MONEY, LEAST_HOURS = 0.01, 0.01
"""Smaller differences are the rounding of the file."""

MOST_WEEKS = 3


@dataclass(frozen=True, slots=True)
class AskedPlan:
    """A plan with the base that it is a plan of, and what is to be said of its file.

    ``base`` is the one given, with the day from which work left counts and the checks held by
    the re-plan that made it: ask every question on it.
    """

    plan: Plan
    base: Base
    notes: tuple[Message, ...]


def read_plan(base: Base, source: str | PathLike[str]) -> AskedPlan:
    """Return the plan of a plan file, to be asked about, whose figures are those of ``base``.

    Raises
    ------
    InputError
        When the file cannot be read, is of another base, names what the base does not have,
        breaks rules of the base, or states other figures than the plan comes to with it: then
        its answers would be about no plan that anybody made.
    """
    file = read_plan_file(source)
    refuse_other_base(file, base)
    whole = base_of_plan_file(file, base)
    try:
        plan = plan_of(file, whole)
    except InputError as fault:
        raise InputError([*_since(file, base), *fault.messages]) from fault
    if file.stated is not None and (others := list(_other_figures(file, audit(whole, plan), base))):
        raise InputError([*_since(file, base), *others])
    return AskedPlan(plan, whole, notes_about(file, base))


def _since(file: PlanFile, base: Base) -> Iterator[Message]:
    """Say what has changed in the workbook, or that nothing has."""
    if file.made is None:
        return
    if changes := changes_since(file.made, base):
        what = (
            f"the workbook has changed since the plan was made ({when(file.made)}): "
            f"{changes_in_words(changes)}."
        )
    else:
        what = (
            "the workbook is the one that the plan was made for, so the file was changed by hand, "
            "or "
            f"another version of this program wrote it ({file.made.version})."
        )
    yield error(file.name, what, PLAN_AGAIN)


def _other_figures(file: PlanFile, found: Audit, base: Base) -> Iterator[Message]:
    """Compare goals and man-hours asked; how dearer hours are shared between skills may differ."""
    stated, goals = file.stated, found.goals
    assert stated is not None
    past = round(stated.days_past)
    if past != goals.days_past_latest_in:
        now = days(goals.days_past_latest_in)
        what = f"it states {days(past)} past Latest in; with this workbook the plan has {now}."
        yield error(file.name, what, PLAN_AGAIN)
    if abs(stated.money - goals.money) > LEAST_MONEY:
        what = (
            f"it states a cost of {money(stated.money, base)}; with this workbook the plan costs "
            f"{money(goals.money, base)}."
        )
        yield error(file.name, what, PLAN_AGAIN)
    if other := list(_other_demand(stated, found)):
        more = (
            f", and {len(other) - MOST_WEEKS} weeks and skills more" if other[MOST_WEEKS:] else ""
        )
        what = (
            f"it states other man-hours than this workbook demands: {', '.join(other[:MOST_WEEKS])}"
        )
        yield error(file.name, f"{what}{more}.", PLAN_AGAIN)


def _other_demand(stated: Stated, found: Audit) -> Iterator[str]:
    if not stated.demand:
        return
    asked = {(load.week, load.skill): load.demand for load in found.weeks}
    for key in sorted({*stated.demand, *asked}):
        before, now = stated.demand.get(key, 0.0), asked.get(key, 0.0)
        if abs(before - now) > LEAST_HOURS:
            yield f"{key[0]} {key[1]} {hours(before)}, now {hours(now)}"
