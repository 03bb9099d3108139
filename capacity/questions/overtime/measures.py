"""What would take overtime away: each measure tried on the plan, not guessed."""

import time
from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import replace
from threading import Event

from capacity.errors import InputError, StoppedError, TooLargeError
from capacity.facts import Base
from capacity.plans.audit import Audit, audit
from capacity.plans.plan import Plan
from capacity.questions.asking.searching import best_choice, with_no_move_in_vain
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from capacity.questions.overtime.first_look import first_look, measure_of
from capacity.questions.overtime.trials import Attempt, Trial, attempts_of
from capacity.questions.overtime.values import Figures, How, Measure, Measures, figures_of
from capacity.settings import Settings

__all__ = ["Figures", "How", "Measure", "Measures", "figures_of", "try_measures"]


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
    in them moved by up to a week, one more head in the skill, a bay open again. Each is looked at
    and audited, however short the time is: with the slots kept, or one check moved. Then those
    that change the base are searched anew from the plan with all checks free to move, those that
    promise most by their first look in front, for the same time each, as many as there is time
    for; two of them in any case, unless ``settings.seconds`` would be passed by more than a fifth
    and 5 s. First come measures with fewer days past ``Latest in``. A measure that is found again
    by a search is listed again; one whose search ``stop`` cuts short keeps its first look, and
    those not looked at yet count as not tried.
    """
    began, stop = time.monotonic(), stop or Event()
    settings = settings or Settings()
    now = audit(base, plan)
    set_up = _SetUp(base, plan, stop)
    attempts = attempts_of(plan, base, set_up.with_some_free)
    if not attempts:
        figures = figures_of(now)
        return Measures(figures, figures, (), (), seconds=time.monotonic() - began)
    pulling = _Pulling(plan, base, now, set_up, began, settings, stop, on_measure)
    for attempt in attempts:
        pulling.look_at(attempt)
    pulling.search_anew()
    return pulling.told()


class _SetUp:
    """The plan with all checks free to move, built once, and the seconds that this took.

    Where that is too large, as ``is_too_large`` then tells, it is built with some of them free.
    """

    def __init__(self, base: Base, plan: Plan, stop: Event) -> None:
        self.base, self.plan, self.stop = base, plan, stop
        self.seconds = 0.0
        self._standing: StandingPlan | None = None
        self._some: StandingPlan | None = None
        self.is_too_large = False

    def with_some_free(self, names: Collection[str]) -> StandingPlan:
        """Return it with the checks of some names free to move, or with all of them."""
        if self._some is None:
            before = time.monotonic()
            try:
                self._some = self.standing()
            except TooLargeError:
                self.is_too_large = True
                self._some = standing_plan(self.base, self.plan, may_move=names, stop=self.stop)
                self.seconds = time.monotonic() - before
        return self._some

    def standing(self) -> StandingPlan:
        """Return it with all free; raises ``StoppedError`` soon after the stop is set.

        Raises ``TooLargeError`` for a plan that cannot be searched as a whole.
        """
        if self._standing is None:
            before = time.monotonic()
            self._standing = standing_plan(self.base, self.plan, may_move=None, stop=self.stop)
            self.seconds = time.monotonic() - before
        return self._standing


class _Pulling:
    """Measures one after the other within the time: a first look at each, then searches."""

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
        self.began, self.seconds, self.stop = began, settings.seconds, stop
        self.settings = settings
        self.timing = settings.search
        self.on_measure = on_measure or (lambda measure: None)
        self.without: Audit | None = None
        self.share = 0.0
        self.searches = 0
        self.build_seconds = 0.0
        self.looked_at: list[tuple[Trial, Measure]] = []
        self.measures: dict[str, Measure] = {}
        self.not_tried: list[str] = []
        self.no_place: list[str] = []

    @property
    def left(self) -> float:
        """Seconds until the time is up."""
        return self.seconds - (time.monotonic() - self.began)

    def look_at(self, attempt: Attempt) -> None:
        """Look at a measure with slots kept or one check moved, unless somebody has stopped."""
        if self.stop.is_set():
            self.not_tried.append(attempt.what)
            return
        try:
            trial = attempt.make()
            measure = None if trial is None else self._looked_at(trial)
        except (InputError, TooLargeError):
            measure = None
        except StoppedError:
            self.not_tried.append(attempt.what)
            return
        if measure is None or trial is None:
            (self.not_tried if self.stop.is_set() else self.no_place).append(attempt.what)
            return
        if trial.search:
            self.looked_at.append((trial, measure))
        self._tell(measure)

    def _looked_at(self, trial: Trial) -> Measure | None:
        before = time.monotonic()
        measure = first_look(trial, self.plan, self.now, self.stop, self._may_build)
        if trial.opened is not None:
            self.build_seconds = time.monotonic() - before
        return measure

    def _may_build(self) -> bool:
        """Return whether there is time to lay places out for a first look.

        No more than half of the time goes there, so that the rest is left for searches.
        """
        expected = self.build_seconds or self.set_up.seconds
        return self.left - expected >= self.seconds / 2

    def _tell(self, measure: Measure) -> None:
        self.measures[measure.what] = measure
        self.on_measure(measure)

    def search_anew(self) -> None:
        """Search with those that can be, the most promising first, while there is time."""
        most_first = sorted(self.looked_at, key=lambda looked: _rank(looked[1], self.now_figures))
        for trial, _ in most_first:
            if self.stop.is_set() or self.set_up.is_too_large:
                return
            try:
                measure = self._searched(trial, len(most_first))
            except TooLargeError:
                self.set_up.is_too_large = True
                return
            except (StoppedError, InputError):
                continue
            if measure is not None and not self.stop.is_set():
                self._tell(measure)

    @property
    def now_figures(self) -> Figures:
        """What the plan comes to as it is."""
        return figures_of(self.now)

    def _searched(self, trial: Trial, searches: int) -> Measure | None:
        before = self._without(searches)
        late = self.left - self.set_up.seconds - self.share
        timing, slack = self.timing, 0.0
        if self.searches < timing.first_measures:
            slack = timing.measures_slack_share * self.seconds + timing.measures_slack_seconds
        if late + slack < 0 or self.stop.is_set():
            return None
        self.searches += 1
        standing = standing_plan(trial.base, self.plan, may_move=None, stop=self.stop)
        found, bound, made = _searched(standing, self.settings, self.share, self.stop, before)
        return measure_of(
            trial,
            self.plan,
            made,
            figures_of(before),
            figures_of(found),
            How.SEARCHED_ANEW,
            bound,
        )

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
            self.without, _, _ = _searched(standing, self.settings, self.share, self.stop, self.now)
        return self.without

    def told(self) -> Measures:
        """Return what came out, ranked."""
        without = self.now
        if not self.set_up.is_too_large:
            with suppress(StoppedError, TooLargeError):
                without = self._without(0)
        tried = Measures(
            figures_of(self.now),
            figures_of(without),
            tuple(self.measures.values()),
            tuple(self.not_tried),
            tuple(self.no_place),
            time.monotonic() - self.began,
            self.set_up.is_too_large,
        )
        ranked = sorted(tried.measures, key=lambda r: _rank(r, tried.compared_with(r)))
        return replace(tried, measures=tuple(ranked))


def _rank(measure: Measure, before: Figures) -> tuple[float, ...]:
    days_less = before.days_past - measure.after.days_past
    return -days_less, -measure.saves, -measure.overtime_less


def _searched(
    standing: StandingPlan, settings: Settings, seconds: float, stop: Event, near: Audit
) -> tuple[Audit, float | None, Plan]:
    """Search from the plan that stands; return audit, proven money and plan."""
    timed = Settings(seconds=seconds, seed=settings.seed, workers=settings.workers)
    found = best_choice(standing.program, standing.chosen, timed, stop)
    chosen = with_no_move_in_vain(standing.program, standing.chosen, found.chosen)
    made, _ = standing.plan_with(chosen)
    return standing.auditor.audit(made, near), found.bound, made
