"""Search a base that is too large to be looked at all together.

What finds plans, one side or several, has a part at a time: every check with all its courses, in
some bays, drawn anew for each part, those of the best plan always among them. The side that proves
has the courses of all checks without bays (``course_program``), so that its bounds hold for every
plan. All work at once, as they do on smaller bases.
"""

import contextlib
import queue
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from threading import Event

import numpy as np

from capacity.errors import StoppedError
from capacity.facts import Base, Status
from capacity.labour.supply import Supply
from capacity.messages import Level, Message
from capacity.plans.outcome import Progress
from capacity.plans.plan import Plan
from capacity.search_settings import SearchSettings
from capacity.settings import Settings
from capacity.slots.candidates import NO_BAYS, LaidOut, Scope, slots_in
from capacity.slots.line.ended_early import SEARCH
from capacity.slots.line.heed import Heed, heeding, nobody_stops
from capacity.slots.line.mailbox import is_better
from capacity.slots.line.naming import PROVING
from capacity.slots.line.reports import (
    Begun,
    Failed,
    FoundChoice,
    GoodPlan,
    MoneyBound,
    Task,
)
from capacity.slots.line.side_process import SideProcess, Sides, Word, started
from capacity.slots.program.build import Built
from capacity.slots.program.choice import Choice
from capacity.slots.program.going_on import still_standing
from capacity.slots.program.lane_order_program import course_program
from capacity.slots.program.program import Program, build_program
from capacity.slots.search.fixed_first import fixed_first
from capacity.slots.search.good_plans import GoodPlans
from capacity.slots.search.searching import (
    NO_MEMORY,
    Incumbent,
    drained,
    note_once,
    share,
    take_in,
    tell_of_failure,
)


@dataclass(frozen=True)
class Large:
    """A base laid out, with the scope of its first part; its in days are so many days apart."""

    base: Base
    supply: Supply
    laid: LaidOut
    scope: Scope
    days_apart: int

    @property
    def is_whole(self) -> bool:
        """Whether the first part is everything there is."""
        return self.scope.most_groups is None and self.days_apart == 1

    def least_money(self, program: Program) -> float:
        """Return what every plan costs at the least: each option pays, no further hour is bought.

        ``program`` is that of any part; what is settled is the same in all of them.
        """
        prices = sum(c.check.price for c in self.laid.movable if c.check.status is Status.OPTION)
        return program.settled_money + program.hours.money(program.asked) - prices

    def note(self) -> Message:
        """Return what a person should know of a plan of parts."""
        bays = "in some bays at a time" if self.scope.most_groups is not None else "in all bays"
        days = "" if self.days_apart == 1 else f", with in days {self.days_apart} days apart"
        bound = (
            "The bound holds for all plans."
            if self.days_apart == 1
            else ("The bound holds for all plans, and is far from close.")
        )
        return Message(
            Level.NOTE,
            SEARCH,
            f"the base has more slots than can be looked at together: each check was looked at "
            f"{bays}{days}. {bound}",
            "Allow more seconds, or plan hangar by hangar.",
        )

    def ground(
        self, turn: int, own: Mapping[str, frozenset[str]], heed: Heed = nobody_stops
    ) -> Built:
        """Return the part of a turn, with the bays that checks have of their ``own``."""
        scope = replace(self.scope, seed=self.scope.seed + turn, own=own)
        slots = slots_in(self.laid, scope, heed)
        return Built(slots, build_program(slots, self.base, self.supply, heed))


Accept = Callable[[Choice], None]
Hear = Callable[[Incumbent], None]


def search_in_parts(
    large: Large,
    ground: Built,
    incumbent: Incumbent,
    settings: Settings,
    accept: Accept,
    on_progress: Callable[[Progress], None],
    move_to: Callable[[Built], Plan],
    stop: Event,
    began: float,
) -> Incumbent:
    """Better the incumbent part by part until the time is up, somebody stops it, or it is proven.

    Returns the last incumbent, whose choice is in the columns of the last part. ``accept`` sees
    every choice before it counts; ``move_to`` hears of each further part before choices are
    of it, and gives the best plan. ``began`` is the clock at the start of the whole run, when
    the first part was made too. Ctrl-C counts as a stop.
    """
    timing = settings.search
    kept = max(timing.least_seconds_for_audit, timing.audit_share * settings.seconds)
    until = began + settings.seconds - kept
    seconds_of_making = time.monotonic() - began
    note_once(incumbent, large.note())
    incumbent.money_bounds.append(MoneyBound(incumbent.cost[0], large.least_money(ground.program)))

    def hear(incumbent: Incumbent) -> None:
        on_progress(incumbent.progress(time.monotonic() - began))

    prover: Prover | None = None
    try:
        prover = Prover(large, ground, incumbent, until, settings)
        turn = 0
        while True:
            left = until - time.monotonic()
            a_part = timing.times_of_making_a_part * seconds_of_making
            others = int(left // max(timing.least_seconds_a_part, a_part)) - 1
            end = until - left * others / (others + 1) if others > 0 else until
            searching = replace(settings, seed=settings.seed + turn)
            _search_part(incumbent, accept, prover, hear, stop, end, searching)
            if stop.is_set():
                incumbent.stopped_by = "stop"
            if incumbent.stopped_by != "time" or others <= 0:
                return incumbent
            turn, making = turn + 1, time.monotonic()
            ground, incumbent = _next_part(large, ground, incumbent, turn, move_to, stop, timing)
            prover.stand_on(ground)
            seconds_of_making = time.monotonic() - making
    except (KeyboardInterrupt, StoppedError):
        incumbent.stopped_by = "stop"
        return incumbent
    except MemoryError:
        incumbent.stopped_by = "fault"
        note_once(incumbent, NO_MEMORY)
        return incumbent
    finally:
        if prover is not None:
            prover.end()


def _next_part(
    large: Large,
    ground: Built,
    incumbent: Incumbent,
    turn: int,
    move_to: Callable[[Built], Plan],
    stop: Event,
    timing: SearchSettings,
) -> tuple[Built, Incumbent]:
    """Return the part of a turn, and what stands in its columns."""
    best = move_to(ground)
    own = bays_of(best)
    further = large.ground(turn, own, heeding(stop))
    settled = fixed_first(further.program, further.slots, timing, heeding(stop))
    chosen = still_standing(best, further.program, further.slots, settled, timing)
    if is_better(incumbent.cost, further.program.cost(chosen)):
        return ground, incumbent  # the plan is not wholly in the part: then it is left out
    there = replace(incumbent, program=further.program, chosen=chosen)
    move_to(further)
    return further, there


def bays_of(plan: Plan | None) -> dict[str, frozenset[str]]:
    """Return the bays in which each check of a plan stands."""
    placements = () if plan is None else plan.placements
    bays: dict[str, frozenset[str]] = {}
    for placement in placements:
        bays[placement.check] = bays.get(placement.check, NO_BAYS) | {placement.bay}
    return bays


def _search_part(
    incumbent: Incumbent,
    accept: Accept,
    prover: "Prover",
    on_progress: Hear,
    stop: Event,
    until: float,
    settings: Settings,
) -> None:
    if time.monotonic() >= until:
        return
    task = Task(incumbent.program, incumbent.chosen, until, settings)
    has_failed, pool = False, GoodPlans(incumbent.program)
    with Sides(task) as sides:
        # A side that broke down is started again in the next part; the proof goes on meanwhile.
        while sides.running or (has_failed and prover.is_running):
            if time.monotonic() >= until or stop.is_set():
                return
            words = drained(sides.words, settings.search.seconds_between_looks)
            # The last choice of each side is its best; only one is audited, as that takes long.
            choices = {name: word for name, word in words if isinstance(word, FoundChoice)}
            cost = {name: incumbent.program.cost(word.chosen) for name, word in choices.items()}
            best = min(choices, key=cost.__getitem__, default=None)
            if best is not None and take_in(choices[best], incumbent, accept):
                prover.hear(incumbent)
                sides.pass_on(choices[best], best)
            for name, word in words:
                share(name, word, sides, pool)
                if word is None or isinstance(word, Failed):
                    sides.running.discard(name)
                has_failed |= isinstance(word, Failed)
                tell_of_failure(name, word, incumbent, others_find=sides.are_finding)
            prover.tell(incumbent)
            on_progress(incumbent)
            if incumbent.is_proven(settings.gap):
                incumbent.stopped_by = "proof"
                return
        if has_failed:
            incumbent.stopped_by = "fault"


class Prover:
    """The proving side over the courses of all checks, from the first part to the last."""

    def __init__(
        self,
        large: Large,
        ground: Built,
        incumbent: Incumbent,
        until: float,
        settings: Settings,
    ) -> None:
        """Begin to prove what holds for every plan; nothing where not all in days are there."""
        self._heard: queue.SimpleQueue[Word] = queue.SimpleQueue()
        self._side: SideProcess | None = None
        self.is_running = False
        self._ground = ground
        if large.days_apart > 1:
            return  # what is proven of some in days is not proven of the others
        program = course_program(large.laid, large.base, large.supply)
        self._first = program.first_column
        task = Task(
            program, self._courses(incumbent.chosen), until, replace(settings, seed=0, gap=1e-6)
        )
        self._side = started(PROVING, task, self._heard)
        if self._side is not None:
            self.is_running = True
            self._side.send(Begun())

    def stand_on(self, ground: Built) -> None:
        """Take choices as those of another part from now on."""
        self._ground = ground

    def hear(self, incumbent: Incumbent) -> None:
        """Hand on the best plan, as the courses of its checks."""
        if self._side is not None:
            self._side.send(FoundChoice(self._courses(incumbent.chosen), incumbent.source))

    def tell(self, incumbent: Incumbent) -> None:
        """Add what is proven by now to a incumbent."""
        with contextlib.suppress(queue.Empty):
            while True:
                side, word = self._heard.get_nowait()
                tell_of_failure(side, word, incumbent)
                self.is_running &= word is not None
                if word is not None and not isinstance(word, FoundChoice | GoodPlan):
                    take_in(word, incumbent, lambda chosen: None)

    def end(self) -> None:
        """End the side."""
        if self._side is not None:
            self._side.end()

    def _courses(self, chosen: Choice) -> Choice:
        ground, courses = self._ground, np.full_like(chosen, -1)
        for check, candidates in enumerate(ground.slots.candidates):
            if chosen[check] >= 0:
                place = ground.program.place_of(check, chosen[check])
                courses[check] = self._first[check] + candidates.course[place]
        return courses
