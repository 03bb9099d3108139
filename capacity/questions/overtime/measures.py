"""What would take overtime away: each measure tried on the plan, not guessed."""

import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from enum import StrEnum
from math import fsum
from threading import Event

from capacity.errors import InputError, StoppedError
from capacity.facts import Base
from capacity.plans.audit import Audit, Auditor, audit
from capacity.plans.plan import Plan
from capacity.questions.asking.searching import best_choice, with_no_move_in_vain
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from capacity.questions.overtime.trials import Attempt, Trial, attempts_of
from capacity.settings import Settings


class How(StrEnum):
    """How a measure was tried."""

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
class Measure:
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
class Measures:
    """The plan as it is, what a search without any measure finds, and the measures by effect.

    Where there is no measure to try there is no search, and ``without`` is the plan as it is.

    Measures searched anew are compared with ``without``, so that nothing is put down to a measure
    that a longer search finds without it. Those with the slots kept are compared with
    ``now``. ``not_tried`` are those that there was no time for; ``no_place`` were tried and
    have none in this plan. ``seconds`` is the wall time that all took.
    """

    now: Figures
    without: Figures
    measures: tuple[Measure, ...]
    not_tried: tuple[str, ...]
    no_place: tuple[str, ...] = ()
    seconds: float = 0.0

    def compared_with(self, measure: Measure) -> Figures:
        """Return the figures that a measure's own are compared with."""
        return self.without if measure.how is How.SEARCHED_ANEW else self.now


def try_measures(
    base: Base,
    plan: Plan,
    settings: Settings | None = None,
    *,
    stop: Event | None = None,
    on_measure: Callable[[Measure], None] | None = None,
) -> Measures:
    """Try the measures that could take overtime off a plan, and rank them by what they save.

    The dearest weeks and skills say which: a contract team for these weeks, a check with work
    in them moved by up to a week, one more head in the skill, a bay open again. Each is
    audited. Those that change the base are searched anew from the plan with all checks free
    to move, for the same time each, as many as there is time for; the first few in any case,
    unless ``settings.seconds`` would be passed by more than a fifth and 5 s. First come
    measures with fewer days past ``Latest in``. A measure whose search ``stop`` cuts short
    counts as not tried.
    """
    began, stop = time.monotonic(), stop or Event()
    settings = settings or Settings()
    now = audit(base, plan)
    set_up = _SetUp(base, plan, stop)
    attempts = attempts_of(plan, base, set_up.standing)
    if not attempts:
        figures = figures_of(now)
        return Measures(figures, figures, (), (), seconds=time.monotonic() - began)
    pulling = _Pulling(plan, base, now, set_up, began, settings, stop, on_measure)
    for attempt in attempts:
        pulling.attempt(attempt, sum(other.search for other in attempts))
    return pulling.told()


class _SetUp:
    """The plan with all checks free to move, built once, and the seconds that this took."""

    def __init__(self, base: Base, plan: Plan, stop: Event) -> None:
        self.base, self.plan, self.stop = base, plan, stop
        self.seconds = 0.0
        self._standing: StandingPlan | None = None

    def standing(self) -> StandingPlan:
        """Return it; raises ``StoppedError`` soon after the stop is set."""
        if self._standing is None:
            before = time.monotonic()
            self._standing = standing_plan(self.base, self.plan, may_move=None, stop=self.stop)
            self.seconds = time.monotonic() - before
        return self._standing


class _Pulling:
    """Measures one after the other within the time, those without a search first."""

    def __init__(
        self,
        plan: Plan,
        base: Base,
        now: Audit,
        set_up: _SetUp,
        began: float,
        settings: Settings,
        stop: Event,
        on_measure: Callable[[Measure], None] | None,
    ) -> None:
        self.plan, self.base, self.now, self.set_up = plan, base, now, set_up
        self.began, self.seconds, self.seed, self.stop = (
            began,
            settings.seconds,
            settings.seed,
            stop,
        )
        self.timing = settings.search
        self.on_measure = on_measure or (lambda measure: None)
        self.without: Audit | None = None
        self.share = 0.0
        self.searches = 0
        self.measures: list[Measure] = []
        self.not_tried: list[str] = []
        self.no_place: list[str] = []

    @property
    def left(self) -> float:
        """Seconds until the time is up."""
        return self.seconds - (time.monotonic() - self.began)

    def attempt(self, attempt: Attempt, searches: int) -> None:
        """Try a measure, one of so many that are searched, if there is time for it."""
        if self.stop.is_set():
            self.not_tried.append(attempt.what)
            return
        try:
            measure = (
                self._searched(attempt, searches) if attempt.search else self._audited(attempt)
            )
        except StoppedError:
            measure = None
            self.not_tried.append(attempt.what)
        if measure is not None:
            self.measures.append(measure)
            self.on_measure(measure)

    def _audited(self, attempt: Attempt) -> Measure | None:
        trial = attempt.make()
        measure = None
        if trial is not None:
            measure = _pulled(trial, self.plan, self.now, self.now, 0.0, self.seed, self.stop)
        if measure is None:
            (self.not_tried if self.stop.is_set() else self.no_place).append(attempt.what)
        return measure

    def _searched(self, attempt: Attempt, searches: int) -> Measure | None:
        before = self._without(searches)
        late = self.left - self.set_up.seconds - self.share
        timing, slack = self.timing, 0.0
        if self.searches < timing.first_measures:
            slack = timing.measures_slack_share * self.seconds + timing.measures_slack_seconds
        trial = attempt.make()
        if late + slack < 0 or self.stop.is_set() or trial is None:
            self.not_tried.append(attempt.what)
            return None
        self.searches += 1
        measure = _pulled(trial, self.plan, self.now, before, self.share, self.seed, self.stop)
        if self.stop.is_set():
            measure = None
            self.not_tried.append(attempt.what)
        elif measure is None:
            self.no_place.append(attempt.what)
        return measure

    def _without(self, searches: int) -> Audit:
        """Search without any measure first, which says how much time each search has."""
        if self.without is None:
            standing = self.set_up.standing()
            one, left = self.set_up.seconds, self.left
            timing, good = self.timing, self.timing.good_seconds_a_measure
            affordable = int((left - good) / (one + good))
            tried = min(searches, max(timing.first_measures, affordable))
            share = 0.9 * (left - tried * one) / (1 + tried)
            share = share if searches else min(share, good)
            self.share = max(timing.least_seconds_a_measure, share)
            self.without, _, _ = _searched(standing, self.share, self.seed, self.stop, self.now)
        return self.without

    def told(self) -> Measures:
        """Return what came out, ranked."""
        without = self.now
        with suppress(StoppedError):
            without = self._without(0)
        tried = Measures(
            figures_of(self.now),
            figures_of(without),
            tuple(self.measures),
            tuple(self.not_tried),
            tuple(self.no_place),
            time.monotonic() - self.began,
        )
        return replace(tried, measures=tuple(sorted(tried.measures, key=lambda r: _rank(r, tried))))


def _rank(measure: Measure, tried: Measures) -> tuple[float, ...]:
    days_less = tried.compared_with(measure).days_past - measure.after.days_past
    return -days_less, -measure.saves, -measure.overtime_less


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
    now: Audit,
    without: Audit,
    seconds: float,
    seed: int,
    stop: Event,
) -> Measure | None:
    """Try a measure; None where it has no place in this plan.

    Hours that cost the same are told as in the plan that it is compared with.
    """
    if trial.search:
        try:
            standing = standing_plan(trial.base, plan, may_move=None, stop=stop)
        except InputError:
            return None
        found, bound, made = _searched(standing, seconds, seed, stop, without)
        after, before, how = figures_of(found), figures_of(without), How.SEARCHED_ANEW
    else:
        audits = _audits_in_its_slots(trial, now)
        if not audits:
            return None
        after = min((_with_pay(figures_of(a), a, trial) for a in audits), key=lambda f: f.money)
        bound, made = None, trial.plan
        before, how = figures_of(now), How.SLOTS_KEPT
    if after.days_past > before.days_past:
        return None
    saves = before.money - after.money
    return Measure(
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


def _audits_in_its_slots(trial: Trial, now: Audit) -> list[Audit]:
    """Return what the plan of a trial comes to; none where it breaks a rule.

    With its hours where they are, and, where the base lets them give, levelled anew: who is paid
    on top may be worth less work than who is there anyhow.
    """
    found = Auditor(trial.base).audit(trial.plan, now)
    if found.broken:
        return []
    if not any(stage.hours for placement in trial.plan.placements for stage in placement.stages):
        return [found]
    return [found, standing_plan(trial.base, trial.plan).audit]


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
    standing: StandingPlan, seconds: float, seed: int, stop: Event, near: Audit
) -> tuple[Audit, float | None, Plan]:
    """Search from the plan that stands; return audit, proven money and plan."""
    settings = Settings(seconds=seconds, seed=seed)
    found = best_choice(standing.program, standing.chosen, settings, stop)
    chosen = with_no_move_in_vain(standing.program, standing.chosen, found.chosen)
    made, _ = standing.plan_with(chosen)
    return standing.auditor.audit(made, near), found.bound, made


def _moved(before: Plan, after: Plan) -> Iterator[str]:
    """Return the checks that stand elsewhere, in order of their name."""
    first, second = before.slots_by_check(), after.slots_by_check()
    for name in sorted({*first, *second}):
        if first.get(name) != second.get(name):
            yield name
