"""What would take overtime away: each lever tried on the plan, not guessed."""

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from math import fsum
from threading import Event

from capacity.errors import InputError
from capacity.facts import Base
from capacity.plans.audit import Audit, audit
from capacity.plans.plan import Placement, Plan
from capacity.questions.lever_trials import Trial, trials_of
from capacity.questions.searching import best_choice, with_no_move_in_vain
from capacity.questions.standing_plan import StandingPlan, stand
from capacity.settings import Settings

LEAST_SECONDS = 1.0


class How(StrEnum):
    """How a lever was tried."""

    SLOTS_KEPT = "slots kept"
    SEARCHED_ANEW = "searched anew"


@dataclass(frozen=True, slots=True)
class Figures:
    """What the labour and the whole of a plan come to."""

    overtime_hours: float
    contract_hours: float
    overload_hours: float
    labour_money: float
    days_past: int
    money: float


@dataclass(frozen=True, slots=True)
class Lever:
    """One thing to change, and what the plan comes to with it.

    ``after`` is audited on the changed base; ``proven`` is the least money that it could
    come to, where that was proven. ``saves`` is what it takes off the money of the plan,
    dearer contract hours and lateness it causes taken into account. ``worth`` says up to
    what price it pays, where its own price is not in the workbook: money a week a head.
    """

    kind: str
    what: str
    how: How
    after: Figures
    overtime_less: float
    saves: float
    proven: float | None
    worth: float | None
    moved: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Levers:
    """The plan as it is, what a search without any lever finds, and the levers by effect.

    Where there is no lever to try there is no search, and ``without`` is the plan as it is.

    Levers searched anew are compared with ``without``, so that nothing is put down to a lever
    that a longer search finds without it. Those with the slots kept are compared with
    ``now``.
    """

    now: Figures
    without: Figures
    levers: tuple[Lever, ...]
    not_tried: tuple[str, ...]

    def compared_with(self, lever: Lever) -> Figures:
        """Return the figures that a lever's own are compared with."""
        return self.without if lever.how is How.SEARCHED_ANEW else self.now


def pull_levers(
    plan: Plan,
    base: Base,
    seconds: float = 60.0,
    seed: int = 1,
    stop: Event | None = None,
    on_lever: Callable[[Lever], None] | None = None,
) -> Levers:
    """Try the levers that could take overtime off a plan, and rank them by what they save.

    The dearest weeks and skills say which: one more head in the skill, a contract team for
    these weeks, a check with work in them moved by up to a week, a bay open again. Each is
    audited; those that change the base are searched anew from the plan with all checks free
    to move, in equal parts of the time that setting up leaves. First come levers with fewer
    days past ``Latest in``. A lever whose search ``stop`` cuts short counts as not tried.
    """
    began, stop = time.monotonic(), stop or Event()
    now = figures_of(audit(plan, base))
    trials = trials_of(plan, base)
    if not trials:
        return Levers(now, now, (), ())
    searched = [trial for trial in trials if trial.search]
    before = time.monotonic()
    standing = stand(base, plan, may_move=None)
    set_up = time.monotonic() - before
    left = seconds - (time.monotonic() - began) - len(searched) * set_up
    share = max(LEAST_SECONDS, 0.9 * left / (1 + len(searched)))
    without, _, _ = _searched(standing, share, seed, stop)
    levers: list[Lever] = []
    not_tried: list[str] = []
    for trial in trials:
        late = time.monotonic() - began > seconds and trial.search
        if stop.is_set() or late:
            not_tried.append(trial.what)
            continue
        lever = _pulled(trial, plan, base, now, without, share, seed, stop)
        if lever is None or (trial.search and stop.is_set()):
            not_tried.append(trial.what)
        else:
            levers.append(lever)
            if on_lever is not None:
                on_lever(lever)
    tried = Levers(now, without, tuple(levers), tuple(not_tried))
    return replace(tried, levers=tuple(sorted(levers, key=lambda lever: _rank(lever, tried))))


def _rank(lever: Lever, tried: Levers) -> tuple[float, ...]:
    days_less = tried.compared_with(lever).days_past - lever.after.days_past
    return -days_less, -lever.saves, -lever.overtime_less


def figures_of(found: Audit) -> Figures:
    """Return the figures of an audit."""
    return Figures(
        overtime_hours=fsum(load.overtime for load in found.weeks),
        contract_hours=fsum(load.contract for load in found.weeks),
        overload_hours=found.goals.overload_hours,
        labour_money=found.overtime_money + found.contract_money + found.overload_money,
        days_past=found.goals.days_past_latest_in,
        money=found.goals.money,
    )


def _pulled(
    trial: Trial,
    plan: Plan,
    base: Base,
    now: Figures,
    without: Figures,
    seconds: float,
    seed: int,
    stop: Event,
) -> Lever | None:
    """Try a lever; None where it has no place in this plan."""
    if trial.search:
        try:
            standing = stand(trial.base, plan, may_move=None)
        except InputError:
            return None
        after, bound, made = _searched(standing, seconds, seed, stop)
        before, how = without, How.SEARCHED_ANEW
    else:
        found = audit(trial.plan, trial.base)
        if found.broken:
            return None
        after, bound, made = _with_pay(figures_of(found), found, trial), None, trial.plan
        before, how = now, How.SLOTS_KEPT
    if after.days_past > before.days_past:
        return None
    saves = before.money - after.money
    return Lever(
        kind=trial.kind,
        what=trial.what,
        how=how,
        after=after,
        overtime_less=before.overtime_hours - after.overtime_hours,
        saves=saves,
        proven=bound,
        worth=saves / trial.head_weeks if trial.head_weeks else None,
        moved=tuple(_moved(plan, made)),
    )


def _with_pay(after: Figures, found: Audit, trial: Trial) -> Figures:
    """Add what a team of the trial is paid for the hours that it gives."""
    hours = fsum(given.hours for given in found.crew_hours if given.crew == trial.paid_crew)
    pay = hours * trial.paid_cost
    return replace(
        after,
        contract_hours=after.contract_hours + hours,
        labour_money=after.labour_money + pay,
        money=after.money + pay,
    )


def _searched(
    standing: StandingPlan, seconds: float, seed: int, stop: Event
) -> tuple[Figures, float | None, Plan]:
    """Search from the plan that stands; return figures, proven money and plan."""
    settings = Settings(seconds=seconds, seed=seed)
    found = best_choice(standing.program, standing.chosen, settings, stop)
    chosen = with_no_move_in_vain(standing.program, standing.chosen, found.chosen)
    made, audited = standing.plan_with(chosen)
    return figures_of(audited), found.bound, made


def _moved(before: Plan, after: Plan) -> Iterator[str]:
    """Return the checks that stand elsewhere, in order of their name."""

    def places(plan: Plan) -> dict[str, list[Placement]]:
        by_check: dict[str, list[Placement]] = {}
        for placement in plan.placements:
            by_check.setdefault(placement.check, []).append(placement)
        return by_check

    first, second = places(before), places(after)
    for name in sorted({*first, *second}):
        if first.get(name) != second.get(name):
            yield name
