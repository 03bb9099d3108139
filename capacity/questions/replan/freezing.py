"""The freeze window: what is due within it stays, in day and bay, unless it cannot."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from capacity.errors import AuditError
from capacity.facts import Base, Check, Status
from capacity.plans.held_slots import called_in, moved_visits, visits_due
from capacity.plans.plan import Placement, Plan
from capacity.questions.asking.kept_arrangement import SECONDS, held_first
from capacity.questions.replan.reasons import Replacing, in_the_way, reasons
from capacity.questions.replan.values import BrokenHold, Cause, Freeze, Reason
from capacity.slots.candidates import Candidates, Slots
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.choice import Choice
from capacity.slots.program.going_on import kept_beside
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.program import Program, Restricted


@dataclass(frozen=True)
class FreezeWindow:
    """What is due from ``today`` to ``last``, both included, among the columns of a program.

    ``due`` (checks,) are the checks with a visit due; ``keeps`` (columns,) the columns that
    have every visit due where and when it was, and those of all other checks. ``holds``
    (checks,) are those of them that are to stay: an own column keeps them, not past
    ``Latest in``. ``comes_early`` (columns,) are those that would call a check in within the
    window that was asked to come later, and could, or an option that was not taken.
    """

    today: date
    last: date
    due: NDArray[np.bool_]
    holds: NDArray[np.bool_]
    keeps: NDArray[np.bool_]
    comes_early: NDArray[np.bool_]


def freeze_window(
    slots: Slots,
    program: Program,
    before: Mapping[str, Sequence[Placement]],
    known: frozenset[str],
    held: NDArray[np.bool_],
    today: date,
    last: date,
) -> FreezeWindow:
    """Return the window over the columns of ``program``; ``held`` (checks,) are in or fixed.

    ``known`` are the checks that the plan before speaks of, with a slot or not.

    A check that is in already moves between bays when it was planned to; one that the workbook
    fixes comes in as the workbook says.
    """
    due, keeps, early = [], [np.empty(0, dtype=np.bool_)], [np.empty(0, dtype=np.bool_)]
    for number, candidates in enumerate(slots.candidates):
        check = candidates.courses.check
        old = list(before.get(check.name, ()))
        visits = visits_due(old[1:] if check.status is Status.FIXED else old, today, last)
        due.append(bool(visits))
        keeps.append(_keeping(candidates, visits, slots))
        columns = program.columns_of(number)
        own = program.in_day[columns] <= slots.calendar.number(last)
        if not old:
            was_left_out = check.name in known and check.status is Status.OPTION
            own &= was_left_out and not held[number]
        elif held[number] or old[0].in_day <= last:
            own[:] = False
        else:
            own &= (_keeping(candidates, old[:1], slots) & (program.past[columns] == 0)).any()
        early.append(own)
    is_due, keep = np.array(due, dtype=np.bool_), np.concatenate(keeps)
    possible = np.zeros(len(is_due), dtype=np.bool_)
    possible[program.check_of[keep & (program.past == 0)]] = True
    return FreezeWindow(today, last, is_due, is_due & possible, keep, np.concatenate(early))


def _keeping(
    candidates: Candidates, visits: Sequence[Placement], slots: Slots
) -> NDArray[np.bool_]:
    """Return which candidates have all of the visits, shape (candidates,).

    A visit begins with a leg in its bay, on its day, with another bay before or none.
    """
    groups = candidates.groups
    days = candidates.courses.stays.edges[candidates.course][:, : groups.shape[1]]
    begins = np.ones(groups.shape, dtype=np.bool_)
    begins[:, 1:] = groups[:, 1:] != groups[:, :-1]
    keeps = np.ones(len(candidates.course), dtype=np.bool_)
    for visit in visits:
        bay = np.array([group.bays == (visit.bay,) for group in slots.groups], dtype=np.bool_)
        day = slots.calendar.number(visit.in_day)
        keeps &= (begins & bay[groups] & (days == day)).any(axis=1)
    return keeps


def with_holds(
    program: Program, old: Choice, held: NDArray[np.bool_], window: FreezeWindow
) -> tuple[Choice, NDArray[np.bool_]]:
    """Return a choice of who is in, fixed or to stay, and which holds are kept (checks,).

    Who is in or fixed comes first. Then as few holds as can be are broken, of those as few as
    can be by leaving a check without a slot; the rest is the least money, move prices counted.
    A check whose hold is broken is left out of the choice unless it is in already.
    """
    first = np.where(held | window.holds, old, -1)
    if (first[held | window.holds] >= 0).all() and program.holds(first):
        return first, window.holds
    if not window.holds.any():
        return held_first(program, old, held), window.holds
    weight = 1 + int(window.holds.sum())
    broken = window.holds[program.check_of] & ~window.keeps
    unplaced = np.where(window.holds, weight + 1, 0)
    most = (weight + 1) ** 2
    counting = replace(
        program,
        past=np.where(broken, weight, 0).astype(np.int64),
        unplaced_past=np.where(held, most + unplaced, unplaced).astype(np.int64),
        settled_past=0,
        days_allowed=None,
    )
    restricted = counting.restricted_to((held | window.holds)[program.check_of])
    solved = branch_and_cut(days_form(restricted.program), None, SECONDS)
    if solved.chosen is None:
        begin = held_first(program, old, held)
        begin = kept_beside(begin, np.where(window.holds, old, -1), program)
    else:
        allowed = restricted.program.days_past(solved.chosen)
        form = money_form(replace(restricted.program, days_allowed=allowed))
        cheapest = branch_and_cut(form, solved.chosen, SECONDS)
        best = solved.chosen if cheapest.chosen is None else cheapest.chosen
        begin = restricted.to_whole(best)
    kept = window.holds & (begin >= 0)
    kept[kept] = window.keeps[begin[kept]]
    return np.where(held | kept, begin, -1), kept


def frozen(program: Program, window: FreezeWindow, kept: NDArray[np.bool_]) -> Restricted:
    """Return the program in which the ``kept`` (checks,) stay, and nobody is called in early.

    Who stays is never left out for others.
    """
    columns = ~(kept[program.check_of] & ~window.keeps) & ~window.comes_early
    if columns.all() and not kept.any():
        return Restricted(program, np.arange(program.size))
    most = 1 + int(program.unplaced_past.max(initial=0)) + int(program.past.max(initial=0))
    most *= 1 + len(program.checks)
    never_out = np.where(kept, np.maximum(program.unplaced_past, most), program.unplaced_past)
    return replace(program, unplaced_past=never_out).restricted_to(columns)


def freeze_of(
    before: Plan, after: Plan, window: FreezeWindow, kept: NDArray[np.bool_], replacing: Replacing
) -> Freeze:
    """Return what the window held and what it could not, told from the two plans alone.

    Raises
    ------
    AuditError
        When a check moved that was to stay, or came in early that was not to.
    """
    base, program = replacing.base, replacing.program
    names = np.array(program.checks, dtype=object)
    moved = list(moved_visits(_left_to_us(before, base), after, window.today, window.last))
    early = set(called_in(before, after, window.today, window.last))
    wrong = sorted({*moved} & {*names[kept]})
    wrong += sorted(early & {*names[program.check_of[window.comes_early]]})
    if wrong:
        raise AuditError([f"{name} moved, though the freeze window holds it." for name in wrong])
    there = after.by_check()
    is_due = {*names[window.due]}
    held = [n for n in before.by_check() if n in is_due and n not in moved and n in there]
    olds = before.by_check()
    return Freeze(
        last=window.last,
        held=tuple(held),
        broken=tuple(
            BrokenHold(name, tuple(_why(base.check(name), olds[name], window, replacing)))
            for name in moved
            if name in is_due
        ),
    )


def _left_to_us(plan: Plan, base: Base) -> Plan:
    """Return the plan without the visits that the workbook itself fixes."""
    fixed = {check.name for check in base.checks if check.status is Status.FIXED}
    first = {(name, placements[0].in_day) for name, placements in plan.by_check().items()}
    kept = (p for p in plan.placements if p.check not in fixed or (p.check, p.in_day) not in first)
    return replace(plan, placements=tuple(kept))


def _why(
    check: Check, before: list[Placement], window: FreezeWindow, replacing: Replacing
) -> Iterator[Reason]:
    """Yield why a check that was due cannot stay."""
    program = replacing.program
    number = program.checks.index(check.name)
    columns = program.columns_of(number)
    keeping = columns[window.keeps[columns]]
    if not len(keeping):
        yield from reasons(check, before, replacing)
        return
    in_time = keeping[program.past[keeping] == 0]
    if not len(in_time):
        yield Reason(Cause.PAST_LATEST_IN, days=int(program.past[keeping].min()))
        return
    others = replacing.new.copy()
    others[number] = -1
    slack = program.slack(others)
    blocked = [c for c in in_time if not program.fits(np.array([c]), slack)[0]]
    column = np.array([blocked[0] if blocked else in_time[0]], dtype=np.int64)
    yield Reason(Cause.DISPLACED, by=in_the_way(column, slack, others, replacing))
