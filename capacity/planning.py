"""From a base to an audited plan: the whole way, in the order in which it is gone."""

import contextlib
import importlib.metadata
import platform
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from threading import Event

import numpy as np

from capacity.errors import StoppedError
from capacity.facts import Base, Status
from capacity.labour.available import available_hours
from capacity.labour.calendar import Calendar, calendar_of
from capacity.plans.audit import Audit, Auditor
from capacity.plans.day_by_day import DayShortage
from capacity.plans.listing import lies_within, listed_anew
from capacity.plans.outcome import (
    Impossible,
    Outcome,
    OutOfTime,
    Planned,
    Progress,
    Refusal,
    relative_gap,
)
from capacity.plans.plan import Plan
from capacity.plans.worked_starts import on_worked_days
from capacity.search_settings import SearchSettings
from capacity.settings import Settings
from capacity.slots.candidates import Slots, days_apart, lay_out_checks, scope_for
from capacity.slots.finding.cheapest_fill import cheapest_fill
from capacity.slots.line.heed import Heed, heeding
from capacity.slots.line.mailbox import is_better
from capacity.slots.program.audited import audited
from capacity.slots.program.build import Built
from capacity.slots.program.choice import Choice
from capacity.slots.program.first_come import first_come
from capacity.slots.program.going_on import still_standing
from capacity.slots.program.plan_of import plan_of
from capacity.slots.search.fixed_first import fixed_first
from capacity.slots.search.large_search import Large, bays_of, search_in_parts
from capacity.slots.search.refusals import refusals_of
from capacity.slots.search.searching import Incumbent, look_last, search

# Where a choice came from.
EARLIER = "earlier plan"
PACKAGES = ("hangar-capacity", "ortools", "highspy", "numba", "numpy", "holidays")


def plan(
    base: Base,
    settings: Settings | None = None,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Event | None = None,
    begin: Plan | None = None,
    on_plan: Callable[[Plan], None] | None = None,
) -> Outcome:
    """Return the best audited plan that can be found in the time, with its proof.

    The search begins with the plan made by feel, or with what still stands of an earlier plan
    to ``begin`` with, its gaps filled, unless that is worse. An earlier plan that still keeps
    all rules is never answered with a worse one.

    ``on_progress`` is called about ten times a second; setting ``stop`` or pressing Ctrl-C
    ends the search with the best plan so far, or soon with ``OutOfTime`` where there is none.
    Every choice is audited before it counts; ``on_plan`` hears at once of each plan that counts,
    so that the last one can be kept also when the work breaks down later.

    Raises
    ------
    AuditError
        When a choice does not stand up to the audit, or costs other than claimed.
    EngineError
        When a solver breaks down.
    """
    began = time.monotonic()
    settings = settings or Settings()
    tell = on_progress or (lambda progress: None)
    take = on_plan or (lambda plan: None)
    heed = heeding(stop, settings.search.seconds_to_first_plan)
    begin = None if begin is None else on_worked_days(begin, base)
    _multiply_once()
    try:
        calendar = calendar_of(base)
        whole = _laid_out(base, calendar, settings, heed, begin)
        ground = whole.ground(0, bays_of(begin), heed)
        slots, program = ground.slots, ground.program
        auditor = Auditor(base)
        settled = fixed_first(program, slots, settings.search, heed)
        alone = plan_of(settled, program, slots)
        if why := (*_fixed_without_place(alone, base), *auditor.audit(alone).broken):
            return Impossible(why, time.monotonic() - began)
        incumbent = Incumbent(program, first_come(program, slots, settled))
        earlier = _standing_whole(begin, base, calendar, auditor)
        if begin is not None:
            _go_on_from(begin, incumbent, slots, settled, settings.search)
        best = audited(incumbent.chosen, program, slots, auditor)
        take(best[0])
        history = [incumbent.progress(time.monotonic() - began)]
    except (KeyboardInterrupt, StoppedError):
        return OutOfTime(time.monotonic() - began)

    def accept(chosen: Choice) -> None:
        nonlocal best
        best = audited(chosen, ground.program, ground.slots, auditor)
        take(best[0])

    def move_to(part: Built) -> Plan:
        nonlocal ground
        ground = part
        return best[0]

    def hear(progress: Progress) -> None:
        if _improves(progress, history[-1]):
            history.append(progress)
        tell(progress)

    reserve = _seconds_for_options(base, settings)
    searching = replace(settings, seconds=settings.seconds - reserve)
    stop = stop or Event()
    if whole.is_whole:
        search(incumbent, searching, accept, hear, stop, began)
    else:
        incumbent = search_in_parts(
            whole, ground, incumbent, searching, accept, hear, move_to, stop, began
        )
    slots, program = ground.slots, ground.program
    left = min(
        settings.seconds - (time.monotonic() - began), settings.search.most_seconds_for_options
    )
    refusals: tuple[Refusal, ...] = ()
    # The plan stands; only the reasons are missing.
    with contextlib.suppress(KeyboardInterrupt, MemoryError):
        if incumbent.stopped_by == "stop":
            left = 0.0
        while True:
            chosen, refusals = refusals_of(
                program, slots, incumbent.chosen, replace(settings, seconds=max(0.0, left))
            )
            if chosen is incumbent.chosen:
                break
            accept(chosen)
            incumbent.chosen = chosen
            if not look_last(incumbent, accept, settings.search.seconds_to_look_again):
                break
            refusals, left = (), 0.0
    bound, days_bound = incumbent.bound, incumbent.days_bound
    if earlier is not None and is_better(_cost(earlier[1]), _cost(best[1])):
        # Nothing that the search looks at is as good: what it proves is not about this plan.
        best, bound, days_bound = earlier, None, 0
        take(best[0])
    money = best[1].goals.money
    shortages: tuple[DayShortage, ...] = ()
    with contextlib.suppress(KeyboardInterrupt, MemoryError):  # the plan stands without them
        shortages = auditor.day_shortages(*best)
    return Planned(
        plan=best[0],
        audit=best[1],
        bound=bound,
        gap=relative_gap(money, bound),
        days_bound=days_bound,
        seconds=time.monotonic() - began,
        stopped_by=incumbent.stopped_by,
        settings=settings,
        versions=versions(),
        history=tuple(history),
        faults=tuple(incumbent.faults),
        notes=tuple(incumbent.notes),
        refusals=refusals,
        day_shortages=shortages,
    )


def _laid_out(
    base: Base, calendar: Calendar, settings: Settings, heed: Heed, begin: Plan | None
) -> Large:
    """Return the base laid out in time, and how much of it is looked at together.

    Raises
    ------
    TooLargeError
        When it is more than the time given holds.
    """
    apart = days_apart(base, settings)
    stated = begin.by_check() if begin else {}
    laid = lay_out_checks(base, calendar, heed, stated, days_apart=apart)
    scope = scope_for(laid, settings)
    return Large(base, available_hours(base, calendar), laid, scope, apart)


def _multiply_once() -> None:
    """Let the library that multiplies matrices take its memory now.

    OpenBLAS ends the whole process where it finds none, which later on would take a plan along.
    """
    square = np.ones((300, 300))
    np.matmul(square, square)


def _seconds_for_options(base: Base, settings: Settings) -> float:
    """Return the part of the time that is kept to explain refused options."""
    options = sum(check.status is Status.OPTION for check in base.checks)
    search = settings.search
    return min(search.options_share * settings.seconds, search.seconds_an_option * options)


def _go_on_from(
    plan: Plan, incumbent: Incumbent, slots: Slots, settled: Choice, settings: SearchSettings
) -> None:
    """Let what still stands of a plan be the incumbent, unless that is worse."""
    program = incumbent.program
    if {p.check for p in plan.placements}.isdisjoint(program.checks):
        return
    kept = still_standing(plan, program, slots, settled, settings)
    for chosen in (first_come(program, slots, kept), cheapest_fill(program, slots, kept)):
        if not is_better(incumbent.cost, program.cost(chosen)):
            incumbent.chosen, incumbent.source = chosen, EARLIER


def _standing_whole(
    plan: Plan | None, base: Base, calendar: Calendar, auditor: Auditor
) -> tuple[Plan, Audit] | None:
    """Return an earlier plan with its audit, None when it breaks rules of the base."""
    if plan is None:
        return None
    listed = listed_anew(plan, base)
    if not lies_within(listed, base, calendar.origin, calendar.date(len(calendar.worked))):
        return None
    audit = auditor.audit(listed)
    return None if audit.broken else (listed, audit)


def _fixed_without_place(made: Plan, base: Base) -> tuple[str, ...]:
    """Return a sentence for each fixed check that cannot stand beside the other fixed ones."""
    fixed = {check.name: check for check in base.checks if check.status is Status.FIXED}
    return tuple(
        f"{name} is fixed in bay {fixed[name].fixed_bay} from {fixed[name].fixed_in}, but finds no "
        "way on from there, at any of its paces and within "
        f"{base.longest_wait_days} days of waiting: its bay is closed or taken, or there is "
        "no further bay, turn at a shop or equipment for it."
        for name in made.not_placed
        if name in fixed
    )


def versions() -> dict[str, str]:
    """Return the versions of what the answer depends on.

    They are looked up along a copy of the path: while a search of the list itself goes on,
    another thread may take an entry off it, and the search then passes one over.
    """
    found = {"python": platform.python_version()}
    path = list(sys.path)
    for package in PACKAGES:
        one = next(iter(importlib.metadata.distributions(name=package, path=path)), None)
        if one is None:
            raise importlib.metadata.PackageNotFoundError(package)
        found[package] = one.version
    return found


def _cost(audit: Audit) -> tuple[int, float]:
    return audit.goals.days_past_latest_in, audit.goals.money


def _improves(progress: Progress, last: Progress) -> bool:
    better = (progress.days_past, progress.money) < (last.days_past, last.money)
    return better or progress.bound != last.bound
