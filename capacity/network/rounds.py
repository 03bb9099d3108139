"""Several bases planned in rounds: apart from each other at prices, then with what each takes.

First every base is planned without enquiries, so that there is an answer whatever comes. Then
the relaxation of all bases together gives prices of the enquiries. A round plans every base at
these prices, which bounds the cost of all together (``bound.py``); takes the cheapest of all whole
plans found that go together (``master.py``); and plans every base with what it takes, and what
nobody takes. A network that is small is solved to the end by branch-and-cut. At last it is looked
for what enquiries that nobody takes would have to pay.
"""

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from math import fsum
from threading import Event
from typing import NoReturn

from capacity.errors import AuditError, CapacityError, EngineError, SettingsError, StoppedError
from capacity.facts import Base, Network
from capacity.messages import Level, Message
from capacity.network.answer import answer_of
from capacity.network.bound import lagrangian_bound, moved_prices
from capacity.network.joint import JointProgram, built_whole
from capacity.network.master import cheapest_together
from capacity.network.values import NetworkImpossible, NetworkOutcome, NotTaken
from capacity.network.whole_plans import WholePlan, WholePlans
from capacity.planning import plan
from capacity.plans.audit import Auditor
from capacity.plans.outcome import Impossible, OutOfTime, Planned, Progress, relative_gap
from capacity.settings import Settings
from capacity.slots.line.heed import heeding
from capacity.slots.line.reports import ROUNDING
from capacity.slots.program.audited import audited
from capacity.slots.program.build import Built

# Shares of the time: for every base alone, for a look at what nobody takes, and of what is left
# for a round that for its bases at prices.
ALONE_SHARE, LAST_SHARE, PRICED_SHARE = 0.2, 0.05, 0.55
# Of the time left, for the relaxation and for a small network solved to the end, each.
JOINT_SHARE = 0.2
# A search of one base should have so many seconds at the least, and there should be so many rounds:
# more of them only where searches end with a proof.
GOOD_SECONDS, GOOD_ROUNDS, MOST_ROUNDS = 20.0, 4, 100
# Of the gap asked for, what each base may leave.
GAP_OF_A_BASE = 0.5
# What an enquiry pays while it is looked for what it would have to pay: next to nothing.
NEXT_TO_NOTHING = 0.01
CENT = 0.005

Hear = Callable[[Progress], None]


def plan_network(
    network: Network,
    settings: Settings | None = None,
    on_progress: Hear | None = None,
    stop: Event | None = None,
) -> NetworkOutcome:
    """Return the best plans found of all bases, each enquiry taken once at the most, with a bound.

    ``settings.seconds`` are for all bases together, one after the other; ``settings.gap`` is the
    relative gap at which it ends. Setting ``stop`` or Ctrl-C ends it with the best plans so far,
    or with ``OutOfTime`` while a base has none.

    Raises
    ------
    SettingsError
        When there are no bases.
    AuditError, EngineError
        When something breaks down before every base has a plan.
    """
    if not network.bases:
        raise SettingsError("There are no bases to plan.")
    return _Rounds(network, settings or Settings(), on_progress, stop or Event()).outcome()


def _costs_the_same(found: Planned, standing: WholePlan) -> bool:
    """Return whether a plan is as good as one, to the cent."""
    goals = found.audit.goals
    is_as_early = goals.days_past_latest_in == standing.days_past
    return is_as_early and abs(goals.money - standing.cost) < CENT


class _EndedError(CapacityError):
    """There is no more to do, or no time for it."""


class _Rounds:
    """The work of one network, with the best that is known of it."""

    def __init__(
        self, network: Network, settings: Settings, on_progress: Hear | None, stop: Event
    ) -> None:
        self._network, self._settings, self._stop = network, settings, stop
        self._tell = on_progress or (lambda progress: None)
        self._began = time.monotonic()
        self._seconds = (1.0 - LAST_SHARE) * settings.seconds
        self._plans = WholePlans(network)
        self._best: tuple[WholePlan, ...] = ()
        self._bound: float | None = None
        self._days_bound = dict.fromkeys(network.bases, 0)
        self._prices = dict.fromkeys((one.name for one in network.enquiries), 0.0)
        self._wants: dict[tuple[str, str], float] = {}
        self._built: dict[str, Built | None] = {}
        self._relaxed_for: dict[str, int] | None = None
        self._rounds = 0
        self._stopped_by = "time"
        self._faults: list[str] = []
        self._notes: list[Message] = []

    def outcome(self) -> NetworkOutcome:
        """Do all of it, and return what it came to."""
        needed: tuple[NotTaken, ...] = ()
        try:
            none = self._each_alone()
            if none is not None:
                return none
            self._better_it()
            needed = tuple(self._look_at_what_nobody_takes())
        except (KeyboardInterrupt, StoppedError):
            if not self._best:
                return OutOfTime(self._passed)
            self._stopped_by = "stop"
        except (AuditError, EngineError, MemoryError) as fault:
            if not self._best:
                raise
            self._stopped_by = "fault"
            self._faults.append(f"{type(fault).__name__}: {fault}")
        answer = answer_of(self._network, self._best, needed, self._settings, self._stopped_by)
        return replace(
            answer,
            bound=self._proven(),
            days_bound=sum(self._days_bound.values()),
            shared_prices=dict(self._prices),
            rounds=self._rounds,
            seconds=self._passed,
            faults=tuple(self._faults),
            notes=tuple(self._notes),
        )

    @property
    def _passed(self) -> float:
        return time.monotonic() - self._began

    @property
    def _left(self) -> float:
        return self._seconds - self._passed

    @property
    def _cost(self) -> float:
        return fsum(one.cost for one in self._best)

    @property
    def _gap(self) -> float | None:
        return relative_gap(self._cost, self._bound)

    def _proven(self) -> float | None:
        """Return the bound, which may lie above the cost by a rounding only; else it is none."""
        bound, cost = self._bound, self._cost
        if bound is None or bound <= cost + ROUNDING * max(1.0, abs(cost)):
            return None if bound is None else min(bound, cost)
        self._faults.append(f"a bound of {bound} was claimed, but the plans cost {cost}")
        return None

    def _each_alone(self) -> NetworkImpossible | OutOfTime | None:
        """Plan every base without enquiries; return why there is no answer, if there is none."""
        until = self._left - ALONE_SHARE * self._settings.seconds
        bases = self._network.bases
        for number, (at, base) in enumerate(bases.items()):
            settings = self._for_a_search((self._left - until) / (len(bases) - number), 0)
            found = plan(base, settings, None, self._stop)
            match found:
                case Impossible(why, _):
                    return NetworkImpossible(at, why, self._passed)
                case OutOfTime():
                    return OutOfTime(self._passed)
                case Planned():
                    self._take(at, found)
        self._choose()
        return None

    def _better_it(self) -> None:
        """Go through rounds until nothing more is wanted or there is no time."""
        try:
            self._look_round()
            self._relax()
            a_round = 2 * GOOD_SECONDS * len(self._network.bases)
            planned = min(GOOD_ROUNDS, max(1, int(self._left / a_round)))
            for number in range(MOST_ROUNDS):
                self._relax()
                before = self._prices
                # Searches may end sooner than they have to: then there are more rounds.
                rounds = max(1, planned - number)
                self._one_round(self._left * (1 - 1 / rounds), number)
                if number >= planned and self._prices == before:
                    return
        except _EndedError:
            return

    def _relax(self) -> None:
        """Solve the relaxation of all bases together, and a small network to the end.

        Where it is for fewer days past than before, or the first time; its prices are then those
        of the next round.
        """
        days = {at: self._plans.fewest_days(at) for at in self._plans.bases}
        if self._relaxed_for == days:
            return
        self._relaxed_for = days
        heed = heeding(self._stop)
        for at, base in self._plans.bases.items():
            if at not in self._built:
                self._built[at] = built_whole(base, self._settings, heed)
        built = {at: one for at, one in self._built.items() if one is not None}
        if not built:
            return
        names = [one.name for one in self._network.enquiries]
        joint = JointProgram(built, days, names, self._settings.search)
        is_whole = len(built) == len(self._plans.bases)
        relaxation = joint.relaxed(JOINT_SHARE * self._left, self._stop)
        if relaxation is not None:
            self._wants = dict(relaxation.shares)
            self._prices |= relaxation.prices
            if is_whole:
                self._raise_bound(relaxation.value)
        if is_whole and joint.size <= self._settings.search.small_columns * len(built):
            seconds = JOINT_SHARE * self._left
            chosen, bound = joint.solved(seconds, self._settings.gap, self._stop)
            for at, choice in (chosen or {}).items():
                one, auditor = built[at], Auditor(self._plans.bases[at])
                self._plans.add(at, audited(choice, one.program, one.slots, auditor)[0])
            self._choose()
            self._raise_bound(bound)
        self._look_round()

    def _one_round(self, until: float, number: int) -> None:
        """Plan every base at prices, and then with what it takes, until so much time is left."""
        prices, bases = dict(self._prices), list(self._network.bases)
        end = self._left - PRICED_SHARE * (self._left - until)
        bounds: list[float | None] = []
        taken = dict.fromkeys(prices, 0)
        for place, at in enumerate(bases):
            asked = [
                one.at(at, prices[one.name])
                for one in self._network.asked_of(at)
                if one.earns_at(at) > prices[one.name]
            ]
            base = self._network.bases[at]
            wider = base.replace(checks=(*base.checks, *asked))
            found = self._search(at, wider, (self._left - end) / (len(bases) - place), number)
            bounds.append(found.bound)
            for name in self._take(at, found).taken:
                taken[name] += 1
        bound = lagrangian_bound(bounds, prices)
        self._raise_bound(bound)
        self._rounds = number + 1
        self._choose()
        self._look_round()
        self._with_what_each_takes(until, number)
        if bound is not None:
            self._prices = dict(moved_prices(prices, taken, bound, self._cost))

    def _with_what_each_takes(self, until: float, number: int) -> None:
        """Plan every base with its enquiries, and those that nobody takes, each at one base."""
        offered = {one.at: set(one.taken) for one in self._best}
        taken = frozenset[str]().union(*offered.values())
        for one in self._network.enquiries:
            at = self._wanted_most_by(one.name)
            if one.name not in taken and at is not None:
                offered[at].add(one.name)
        bases = list(self._network.bases)
        for place, at in enumerate(bases):
            base = self._network.bases[at]
            asked = (one for one in self._network.asked_of(at) if one.name in offered[at])
            wider = base.replace(checks=(*base.checks, *(one.at(at) for one in asked)))
            found = self._search(at, wider, (self._left - until) / (len(bases) - place), number)
            self._take(at, found)
            self._choose()
            self._look_round()

    def _wanted_most_by(self, name: str) -> str | None:
        """Return the base at which an enquiry is tried that nobody takes; None where none is asked.

        The one with the most of it in the relaxation, then the one that earns most by it.
        """
        asked = [
            (self._wants.get((at, name), 0.0), one.earns_at(at), at)
            for at in self._network.bases
            for one in self._network.asked_of(at)
            if one.name == name
        ]
        return max(asked)[2] if asked else None

    def _look_at_what_nobody_takes(self) -> Iterator[NotTaken]:
        """Look at every base for what the enquiries that nobody takes would have to pay there."""
        taken = frozenset[str]().union(*(one.taken for one in self._best))
        open_ones = {one.name: one for one in self._network.enquiries if one.name not in taken}
        bases = [
            at
            for at in self._network.bases
            if any(at in one.ferry_costs for one in open_ones.values())
        ]
        self._seconds = self._settings.seconds
        lasting = LAST_SHARE * self._settings.seconds
        for place, at in enumerate(bases):
            if self._stop.is_set() or self._left <= 0:
                return
            standing = next(one for one in self._best if one.at == at)
            base = self._network.bases[at]
            asked = [one for one in open_ones.values() if at in one.ferry_costs]
            own = [one for one in self._network.asked_of(at) if one.name in standing.taken]
            wider = base.replace(
                checks=(
                    *base.checks,
                    *(one.at(at) for one in own),
                    *(replace(one.check, price=NEXT_TO_NOTHING) for one in asked),
                )
            )
            seconds = min(self._left / (len(bases) - place), lasting / len(bases))
            search = replace(self._settings.search, options_share=1.0)
            settings = replace(self._settings, seconds=seconds, search=search)
            found = plan(wider, settings, None, self._stop, begin=standing.plan)
            if isinstance(found, Planned) and _costs_the_same(found, standing):
                for refusal in found.refusals:
                    if refusal.check in open_ones and refusal.needed_price is not None:
                        one = open_ones[refusal.check]
                        needed = refusal.needed_price + one.ferry_costs[at]
                        yield NotTaken(one.name, one.check.price, at, needed)

    def _search(self, at: str, base: Base, seconds: float, number: int) -> Planned:
        """Plan a base, beginning with the plan it has."""
        standing = next(one for one in self._best if one.at == at)
        settings = self._for_a_search(seconds, number)
        found = plan(base, settings, self._hearing(at), self._stop, begin=standing.plan)
        if not isinstance(found, Planned):
            self._end("stop")
        return found

    def _for_a_search(self, seconds: float, number: int) -> Settings:
        return replace(
            self._settings,
            seconds=max(0.0, seconds),
            seed=self._settings.seed + number,
            gap=GAP_OF_A_BASE * self._settings.gap,
            search=replace(self._settings.search, options_share=0.0),
        )

    def _take(self, at: str, found: Planned) -> WholePlan:
        self._faults += found.faults
        # What one of many searches had no time for is of no use to anybody; a warning is.
        warnings = (note for note in found.notes if note.level is Level.WARNING)
        self._notes += [note for note in warnings if note not in self._notes]
        self._days_bound[at] = max(self._days_bound[at], found.days_bound)
        if found.stopped_by == "stop":
            self._stop.set()
        return self._plans.add(at, found.plan)

    def _choose(self) -> None:
        """Take the cheapest plans that go together."""
        self._best = cheapest_together(self._plans)

    def _raise_bound(self, bound: float | None) -> None:
        if bound is not None and (self._bound is None or bound > self._bound):
            self._bound = bound

    def _look_round(self) -> None:
        """End when nothing more is wanted or there is no time."""
        self._say("all bases")
        if self._stop.is_set():
            self._end("stop")
        if self._gap is not None and self._gap <= self._settings.gap:
            days = sum(one.days_past for one in self._best)
            if days <= sum(self._days_bound.values()):
                self._end("proof")
        if self._left <= 0:
            self._end("time")

    def _end(self, by: str) -> NoReturn:
        self._stopped_by = by
        raise _EndedError

    def _hearing(self, at: str) -> Hear:
        return lambda progress: self._say(at)

    def _say(self, at: str) -> None:
        days = sum(one.days_past for one in self._best)
        self._tell(Progress(self._passed, days, self._cost, self._bound, self._gap, at))
