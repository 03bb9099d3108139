"""Plan anew where a plan stands already, and move no more than is worth it."""

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from threading import Event

import numpy as np
from numpy.typing import NDArray

from capacity.checked_settings import whole_within
from capacity.errors import InputError
from capacity.facts import Base, Status
from capacity.labour.calendar import calendar_of
from capacity.messages import Level, Message
from capacity.plans.audit import Audit, Auditor
from capacity.plans.outcome import Impossible, Progress, relative_gap
from capacity.plans.plan import Plan
from capacity.plans.worked_starts import on_worked_days
from capacity.questions.asking.kept_arrangement import kept_arrangement
from capacity.questions.asking.searching import best_choice, with_fewest_moves
from capacity.questions.asking.single_bays import single_bays
from capacity.questions.replan.begun import begun_of, only_possible, with_begun_fixed
from capacity.questions.replan.changes import MovePrices, changes_of, known_of
from capacity.questions.replan.freezing import freeze_of, freeze_window, frozen, with_holds
from capacity.questions.replan.move_costs import MoveCosts, price_given_up, prices_of
from capacity.questions.replan.reasons import Replacing
from capacity.questions.replan.values import Arrangement, Replanned
from capacity.questions.replan.work_done import work_done_of
from capacity.settings import Settings
from capacity.slots.candidates import Slots, find_slots
from capacity.slots.line.heed import Heed, heeding
from capacity.slots.program.audited import audited
from capacity.slots.program.build import program_over
from capacity.slots.program.choice import Choice
from capacity.slots.program.places import columns_at, old_places
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program
from capacity.words import day

MOST_FREEZE_DAYS = 366


def replan(
    base: Base,
    old_plan: Plan,
    today: date,
    settings: Settings | None = None,
    *,
    move_costs: MoveCosts | None = None,
    freeze_days: int = 0,
    old_base: Base | None = None,
    stop: Event | None = None,
    on_progress: Callable[[Progress], None] | None = None,
    on_plan: Callable[[Plan, Base], None] | None = None,
) -> Replanned | Impossible:
    """Return the best plan found of a base that is no longer what ``old_plan`` was made for.

    What came in before ``today``, or is fixed, keeps its bay and in day; nobody else comes in
    before ``today``. Work that has begun is laid out again from its in day with what the base
    says now: where that is what it said before, what is done keeps its days. A check that has
    begun outside its window, or before the base's first day, is fixed in the base that is
    answered; an option fixed so earns no price any more. The base's first day stays: hours
    before ``today`` are counted in both plans. Work left on a check already in counts from
    ``today``, in the base that is answered too (``work_counts_from``). Where hours are levelled,
    what was worked before ``today`` stays where it was (``work_done``); only the rest is levelled.

    What is due within ``freeze_days`` of ``today`` keeps bay and in day, today's arrivals
    always: that comes before days past ``Latest in``. It moves only where it cannot stay, as
    few checks as can be, and ``freeze`` of the answer says why. Nobody who was told to come
    later is called in within these days, unless its own slot is gone or past ``Latest in``, and
    no option that ``old_plan`` did not take.

    Every move of another check has a price (``MoveCosts``) that is weighed against money; goal
    1 comes first as always. The progress tells money and move prices together. With the
    ``old_base`` that the plan was made for, reasons tell the man-hours by which a check grew;
    without it, only days. ``on_plan`` hears of each better plan, and of what base it is one.

    Raises
    ------
    StoppedError
        When ``stop`` is set before there is a plan.
    InputError
        When ``today`` is after the last in day, or somebody has begun in an unknown bay.
    SettingsError
        When ``freeze_days`` is no whole number from 0 to 366.
    AuditError
        When a plan does not stand up to the audit.
    """
    began = time.monotonic()
    whole_within("freeze_days", freeze_days, 0, MOST_FREEZE_DAYS)
    settings, costs = settings or Settings(), move_costs or MoveCosts()
    old_plan = on_worked_days(old_plan, base)
    before = old_plan.by_check()
    begun = begun_of(base, before, today)
    _refuse_faulty(base, old_plan, today, begun)
    base = base.replace(work_counts_from=today)
    base = base.replace(work_done=work_done_of(old_plan, base, begun, today))
    whole = with_begun_fixed(base, before, begun)
    task = _task(whole, old_plan, begun, today, costs, heeding(stop))
    last = today + timedelta(days=freeze_days)
    known = known_of(old_plan)
    window = freeze_window(task.slots, task.program, before, known, task.held, today, last)
    begin, stays = with_holds(task.moving, task.old, task.held, window)
    alone = plan_of(begin, task.program, task.slots)
    if why := (*_without_place(task, begin), *task.auditor.audit(alone).broken):
        return Impossible(why, time.monotonic() - began)
    near = frozen(task.moving, window, stays)
    old, prices = near.those_of(task.old), task.prices.columns[near.number]
    kept = near.to_whole(kept_arrangement(near.program, task.slots, old, near.found_here(begin)))
    kept_plan = _arrangement(task, kept)
    left = replace(settings, seconds=max(0.0, settings.seconds - (time.monotonic() - began)))
    take = on_plan or (lambda plan, base: None)
    take(kept_plan.plan, whole)

    def accept(chosen: Choice) -> None:
        take(plan_of(near.to_whole(chosen), task.program, task.slots), whole)

    found = best_choice(near.program, near.found_here(kept), left, stop, on_progress, accept)
    chosen = near.to_whole(with_fewest_moves(near.program, old, found.chosen, prices))
    new = _arrangement(task, chosen, kept_plan.audit)
    replacing = Replacing(whole, task.slots, task.program, task.old, chosen, old_base)
    freeze = freeze_of(old_plan, new.plan, window, stays, replacing)
    total = new.money + new.move_price
    return Replanned(
        base=whole,
        today=today,
        found=new,
        kept=kept_plan,
        changes=changes_of(before, known, new.plan, replacing, task.prices, freeze),
        begun=tuple(check.name for check in whole.checks if check.name in begun),
        freeze=freeze,
        bound=found.bound,
        gap=relative_gap(total, found.bound),
        stopped_by=found.stopped_by,
        seconds=time.monotonic() - began,
        notes=found.notes,
        settings=settings,
    )


@dataclass(frozen=True)
class _Task:
    """Everything that the search and the telling of its result need.

    ``program`` costs money, ``moving`` money and move prices. ``old`` is the plan before in
    columns, -1 where its place is gone; ``held`` (checks,) are those that have begun or are
    fixed.
    """

    base: Base
    slots: Slots
    program: Program
    moving: Program
    prices: MovePrices
    old: Choice
    held: NDArray[np.bool_]
    auditor: Auditor


def _task(
    base: Base, old_plan: Plan, begun: frozenset[str], today: date, costs: MoveCosts, heed: Heed
) -> _Task:
    before = old_plan.by_check()
    calendar = calendar_of(base)
    slots = only_possible(
        single_bays(find_slots(base, calendar, heed, before, every_day=True)), before, begun, today
    )
    program = program_over(slots, base, heed)
    checks = [candidates.courses.check for candidates in slots.candidates]
    held = np.array(
        [check.status is Status.FIXED or check.name in begun for check in checks], dtype=np.bool_
    )
    # More than all others together: who is in already is never given up for them.
    most = (base.longest_delay_days + 1) * (len(base.checks) + 1)
    program = replace(program, unplaced_past=np.where(held, most, program.unplaced_past))
    day = calendar.number(today)
    olds = [before.get(check.name, []) for check in checks]
    columns = [
        prices_of(candidates, old, slots, day, costs)
        for candidates, old in zip(slots.candidates, olds, strict=True)
    ]
    prices = MovePrices(
        columns=np.concatenate([np.empty(0), *columns]),
        given_up=np.array(
            [price_given_up(c, o, slots, day, costs) for c, o in zip(checks, olds, strict=True)],
            dtype=np.float64,
        ),
    )
    return _Task(
        base=base,
        slots=slots,
        program=program,
        moving=_with_prices(program, prices),
        prices=prices,
        old=columns_at(old_places(slots, before), program),
        held=held,
        auditor=Auditor(base),
    )


def _with_prices(program: Program, prices: MovePrices) -> Program:
    """Return the program with move prices as part of the money.

    The price of refusing an option is in the settled money, and off it in each of its columns.
    """
    return replace(
        program,
        money=program.money + prices.columns - prices.given_up[program.check_of],
        settled_money=program.settled_money + float(prices.given_up.sum()),
    )


def _arrangement(task: _Task, chosen: Choice, standing: Audit | None = None) -> Arrangement:
    plan, audit = audited(chosen, task.program, task.slots, task.auditor, standing)
    return Arrangement(plan, audit, task.prices.in_all(chosen))


def _without_place(task: _Task, begin: Choice) -> tuple[str, ...]:
    """Return a sentence for each check that is in already but cannot stand there any more."""
    return tuple(
        f"{task.program.checks[number]} is in already, or fixed, but cannot go on from there "
        "with the others that are: its bay is closed or taken, or it finds no further bay, "
        "piece of equipment or turn at a shop."
        for number in np.flatnonzero(task.held & (begin < 0))
    )


def _refuse_faulty(base: Base, plan: Plan, today: date, begun: frozenset[str]) -> None:
    messages = []
    if today > base.last_in_day:
        what = (
            f"today, {day(today)}, is after {day(base.last_in_day)}, the last day on which a check "
            "can come in."
        )
        messages.append(Message(Level.ERROR, "today", what, "Correct it, or raise Weeks."))
    bays = {bay.name for bay in base.bays}
    for placement in plan.placements:
        if placement.check in begun and placement.bay not in bays and placement.in_day < today:
            what = f"{placement.check} is in {placement.bay}, a bay that the base does not have."
            remedy = "Add the bay, or correct the plan."
            messages.append(Message(Level.ERROR, f"placements, {placement.check}", what, remedy))
    if messages:
        raise InputError(messages)
