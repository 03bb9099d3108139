"""The outcome in lines for a terminal."""

from collections.abc import Iterator, Sequence
from itertools import islice

from capacity.facts import Base
from capacity.messages import Message
from capacity.plans.outcome import Impossible, Outcome, OutOfTime, Planned
from capacity.reports.kit.cell_text import printable
from capacity.reports.kit.issue import plan_number
from capacity.reports.kit.left_out import left_out
from capacity.reports.plan.day_messages import day_lines
from capacity.reports.plan.levelled_words import how_levelled
from capacity.reports.plan.view import View, view_of
from capacity.reports.plan.wording import (
    CAUTION,
    COUNTED_BY_DAY,
    ENDED_BY,
    bought,
    how_dear,
    how_loaded,
    how_punctual,
    levels,
    work_left_counts_from,
    worst_first,
)
from capacity.words import counted, day

MOST_WEEKS, MOST_NAMES, MOST_PLACEMENTS = 5, 6, 15
"""Lines shown of each list; the workbook has all of them."""

COLUMN_WIDTHS = (14, 12, 10, 16, 16)


def describe(base: Base, outcome: Outcome, messages: Sequence[Message] = ()) -> str:
    """Return what came out, in plain text of some 40 lines at the most."""
    match outcome:
        case Planned():
            lines = list(_planned(view_of(base, outcome, messages)))
        case Impossible():
            lines = ["There is no plan: the fixed checks conflict with each other."]
            lines += [f"  - {sentence}" for sentence in outcome.why]
            lines.append("capacity explain WORKBOOK names what conflicts and the ways out.")
        case OutOfTime():
            lines = [
                f"No plan was found in {outcome.seconds:.0f} s. Allow more seconds and try again."
            ]
    return "\n".join(printable(line).rstrip() for line in lines)


def _planned(view: View) -> Iterator[str]:
    outcome, base, plan = view.outcome, view.base, view.outcome.plan
    yield f"Slot plan of {base.name} from {day(base.first_day)}, {counted(base.weeks, 'week')}"
    yield f"Plan {plan_number(plan)}; the same number is on every sheet of it."
    yield how_punctual(outcome, base)
    yield how_dear(outcome, base)
    yield how_loaded(outcome)
    if base.counts_days:
        yield COUNTED_BY_DAY
    if view.levelling is not None:
        yield how_levelled(view.levelling, base)
    if left := work_left_counts_from(base):
        yield left
    ended_by = ENDED_BY.get(outcome.stopped_by, outcome.stopped_by)
    yield f"Search: {outcome.seconds:.0f} s; ended by {ended_by}."
    for note in outcome.notes:
        yield str(note)
    if plan.not_placed:
        yield f"NO SLOT: {_names(view, plan.not_placed)}"
    lapsed = [name for name in plan.refused if view.base.has_lapsed(view.base.check(name))]
    if refused := [name for name in plan.refused if name not in lapsed]:
        yield f"Options not taken: {_names(view, refused)}"
    if lapsed:
        yield f"Options lapsed: {_names(view, lapsed)}"
    yield from _weeks(view)
    yield from day_lines(outcome.day_shortages)
    yield from _placements(view)
    if view.messages:
        yield f"Messages on workbook and plan: {levels(view.messages)}"
    yield CAUTION


def _names(view: View, names: Sequence[str]) -> str:
    shown = ", ".join(f"{n} ({view.base.check(n).aircraft})" for n in names[:MOST_NAMES])
    more = len(names) - MOST_NAMES
    return f"{shown} and {more} more" if more > 0 else shown


def _weeks(view: View) -> Iterator[str]:
    worst = worst_first(view.outcome.audit.weeks)
    if worst:
        yield "Weeks that buy hours, most overload first:"
    for load in worst[:MOST_WEEKS]:
        yield f"  {load.week}  {load.skill:<14}  {', '.join(bought(load))}"
    yield from left_out(worst, MOST_WEEKS)


def _placements(view: View) -> Iterator[str]:
    if not view.placements:
        return
    yield _columns("Check", "Aircraft", "Bay", "In", "Out", "")
    for placement in islice(view.placements, MOST_PLACEMENTS):
        yield _columns(
            placement.check,
            view.base.check(placement.check).aircraft,
            placement.bay,
            day(placement.in_day),
            day(placement.out_day),
            view.remarks_at(placement),
        )
    yield from left_out(view.placements, MOST_PLACEMENTS, "slot")


def _columns(*cells: str) -> str:
    fixed = zip(cells, COLUMN_WIDTHS, strict=False)
    return "  " + " ".join([*(f"{cell:<{width}}" for cell, width in fixed), cells[-1]])
