"""What one more bay, head or day is worth: searched anew with and without it, never a dual."""

import time
from collections.abc import Callable, Collection
from dataclasses import replace
from threading import Event

import numpy as np

from capacity.errors import InputError
from capacity.facts import Base
from capacity.plans.audit import Audit, Auditor
from capacity.plans.plan import Plan
from capacity.questions.asking.kept_arrangement import kept_arrangement
from capacity.questions.asking.places import choice_of
from capacity.questions.asking.searching import best_choice
from capacity.questions.asking.standing_plan import standing_plan
from capacity.questions.worth.trials import trials_of
from capacity.questions.worth.values import Searched, Worth, Worths
from capacity.settings import Settings
from capacity.slots.program.audited import audited
from capacity.slots.program.build import build
from capacity.slots.program.places import columns_at, old_places
from capacity.slots.rules.one_more import More, OneMore
from capacity.slots.rules.ready_dates import READY_AT_ONCE

SAME = 0.005


def worth_of(
    base: Base,
    plan: Plan,
    settings: Settings | None = None,
    *,
    more: Collection[More] | None = None,
    of: Collection[str] | None = None,
    stop: Event | None = None,
    on_worth: Callable[[Worth], None] | None = None,
) -> Worths:
    """Tell what one more bay of each size, head of each skill and day of each date would save.

    The plan is searched with all checks free to move; from the best plan found then, each
    change and the plan without any are searched for the same time, so that nothing is put
    down to a change that a longer search finds without it. ``more`` and ``of`` restrict the
    changes to some kinds, and to some bays, skills, crews and checks; without them dates are
    moved only for checks that passed them, and heads added only to skills that buy hours.
    What is worth most stands first: days past ``Latest in``, then money. ``settings.seconds``
    bounds the whole.

    Raises
    ------
    InputError
        When the plan is none of this base's.
    AuditError
        When a plan found does not stand up to the audit.
    """
    began, stop = time.monotonic(), stop or Event()
    settings = settings or Settings()
    seconds = settings.seconds
    least = settings.search.least_seconds_a_worth
    now = standing_plan(base, plan).audit
    trials = list(trials_of(base, now, more, of))
    set_up = time.monotonic() - began
    # Two searches without a change come first; building each program takes time, too.
    most = max(1, int(seconds / (set_up + least)) - 2)
    not_tried = [trial.what for trial in trials[most:]]
    trials = trials[:most]
    share = max(least, (seconds - set_up) / (2 + len(trials)))
    first = _searched(base, plan, share, settings, stop)
    without = first
    if not _is_proven(first):
        again = _searched(base, first.plan, share, settings, stop)
        without = _better_proven(first, again)
    worths: list[Worth] = []
    for trial in trials:
        if stop.is_set() or time.monotonic() - began > seconds + share:
            not_tried.append(trial.what)
            continue
        found = _tried(trial, first, without, share, settings, stop)
        if found is None or stop.is_set():
            not_tried.append(trial.what)
            continue
        worths.append(found)
        if on_worth is not None:
            on_worth(found)
    worths.sort(key=lambda worth: (-worth.saves_days, -worth.saves))
    return Worths(
        now.goals.days_past_latest_in, now.goals.money, without, tuple(worths), tuple(not_tried)
    )


def _searched(
    base: Base,
    plan: Plan,
    seconds: float,
    settings: Settings,
    stop: Event,
    *,
    days_change: bool = False,
) -> Searched:
    """Search from a plan with all checks free; building the program counts as its time.

    Interchangeable bays stay together here: it does not matter who has which of them. Where the
    ``days_change`` that stages have, checks that cannot be run as before begin elsewhere.
    """
    began = time.monotonic()
    built = build(base)
    slots, program = built.slots, built.program
    if days_change:
        old = columns_at(old_places(slots, plan.by_check()), program)
        start = kept_arrangement(program, slots, old, np.full_like(old, -1))
    else:
        start = choice_of(plan, slots, program)
    left = max(0.5 * seconds, seconds - (time.monotonic() - began))
    timed = Settings(left, settings.seed, workers=settings.workers)
    found = best_choice(program, start, timed, stop)
    made, audit = audited(found.chosen, program, slots, Auditor(base))
    return _of(made, audit, found.bound, found.days_bound)


def _of(plan: Plan, audit: Audit, bound: float | None, days_bound: int) -> Searched:
    goals = audit.goals
    return Searched(plan, goals.days_past_latest_in, goals.money, bound, days_bound)


def _is_proven(found: Searched) -> bool:
    is_least = found.bound is not None and found.money - found.bound <= SAME
    return is_least and found.has_fewest_days


def _better_proven(first: Searched, again: Searched) -> Searched:
    """Return the later search with the higher of the bounds that hold for it."""
    days = max(first.days_bound, again.days_bound)
    if first.days_past != again.days_past:
        return replace(again, days_bound=days)
    bounds = [bound for bound in (first.bound, again.bound) if bound is not None]
    return replace(again, days_bound=days, bound=max(bounds, default=None))


def _tried(
    trial: OneMore,
    start: Searched,
    without: Searched,
    seconds: float,
    settings: Settings,
    stop: Event,
) -> Worth | None:
    """Return what a change is worth; None where the plan does not stand with it."""
    try:
        days_change = trial.more == READY_AT_ONCE
        after = _searched(trial.base, start.plan, seconds, settings, stop, days_change=days_change)
    except InputError:
        return None
    after = _at_least_as_good(after, without, trial.base)
    least, most = _bounds(trial.more, without, after)
    return Worth(
        more=trial.more,
        of=trial.of,
        what=trial.what,
        base=trial.base,
        after=after,
        saves_days=without.days_past - after.days_past,
        saves=without.money - after.money,
        least=least,
        most=most,
        row=trial.row,
    )


def _at_least_as_good(after: Searched, without: Searched, base: Base) -> Searched:
    """Return the plan without the change, priced with it, where that is the better one."""
    audit = Auditor(base).audit(without.plan)
    goals = audit.goals
    if audit.broken or (goals.days_past_latest_in, goals.money) >= (after.days_past, after.money):
        return after
    same_days = goals.days_past_latest_in == after.days_past
    return _of(without.plan, audit, after.bound if same_days else None, after.days_bound)


def _bounds(more: More, without: Searched, after: Searched) -> tuple[float | None, float | None]:
    """Return proven bounds of what the change saves with both plans searched to the end.

    bound without - money after <= saved <= money without - bound after, where the fewest
    days past are proven, and the same, with and without. Only a later ``Latest in`` can cost
    anything: early days are counted from it.
    """
    if without.days_past != after.days_past:
        return None, None
    if not (without.has_fewest_days and after.has_fewest_days):
        return None, None
    least = None if without.bound is None else without.bound - after.money
    if not more.can_cost:
        least = max(0.0, least or 0.0)
    most = None if after.bound is None else without.money - after.bound
    return least, most
