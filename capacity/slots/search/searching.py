"""The coordinator: sides search at once, one for proof, and one or several for plans.

Each side hears of the others' best choice; several that find plans hear of each other's good
plans, too. Whatever ends the search, the best choice that came in is the answer, with the bounds
proven until then.
"""

import contextlib
import queue
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from threading import Event

from capacity.errors import EngineError
from capacity.messages import Level, Message
from capacity.plans.outcome import Progress, relative_gap
from capacity.search_settings import SearchSettings
from capacity.settings import Settings
from capacity.slots.engines.highs import relax
from capacity.slots.finding.last_descent import SOURCE as MOVES_SOURCE
from capacity.slots.finding.last_descent import descended
from capacity.slots.line.ended_early import SEARCH, ended_early, one_of_several_ended_early
from capacity.slots.line.mailbox import is_better
from capacity.slots.line.naming import PROVING, number_of
from capacity.slots.line.reports import (
    ROUNDING,
    Begun,
    DaysBound,
    Failed,
    FoundChoice,
    GoodPlan,
    MoneyBound,
    Remark,
    Report,
    Task,
)
from capacity.slots.line.side_process import Sides, Word
from capacity.slots.program.choice import Choice
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import money_form
from capacity.slots.program.program import Program
from capacity.slots.program.trimmed import Part, parts_of
from capacity.slots.search.at_once import solve_at_once
from capacity.slots.search.good_plans import GoodPlans

CENT = 0.005
CUT_SHORT = Message(
    Level.NOTE,
    SEARCH,
    "there was no time to find out whether moving one check alone, or two, saves anything.",
    "Allow more seconds.",
)
NO_MEMORY = Message(
    Level.WARNING,
    SEARCH,
    "the search ended early: there was not enough memory. The plan is the best found until then.",
    "Close other programs, or plan fewer checks at once.",
)


@dataclass
class Incumbent:
    """The best choice so far and what is proven about it.

    ``notes`` are what a person should know of how the search went; ``faults`` what broke down,
    as it said itself.
    """

    program: Program
    chosen: Choice
    source: str = "first draft"
    days_bound: int = 0
    money_bounds: list[MoneyBound] = field(default_factory=list)
    stopped_by: str = "time"
    notes: list[Message] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    @property
    def cost(self) -> tuple[int, float]:
        """Return days past ``Latest in`` and money of the best choice."""
        return self.program.cost(self.chosen)

    @property
    def bound(self) -> float | None:
        """Return the proven bound of the money, given no more days past than now."""
        days, money = self.cost
        proven = max((b.money for b in self.money_bounds if b.days >= days), default=None)
        if proven is None:
            return None
        # A bound above the money by a rounding is the money; more than that is a fault.
        if proven > money + ROUNDING * max(1.0, abs(money)):
            raise EngineError(f"a bound of {proven} was claimed, but a plan costs {money}")
        return min(proven, money)

    def settle(self) -> None:
        """Nothing can be chosen: what stands is all there is, and so the best."""
        days, money = self.cost
        self.days_bound, self.money_bounds = days, [MoneyBound(days, money)]
        self.stopped_by = "proof"

    def is_proven(self, gap: float) -> bool:
        """Return whether neither goal can be bettered by more than ``gap``."""
        days, money = self.cost
        left = relative_gap(money, self.bound)
        return days <= self.days_bound and left is not None and left <= gap

    @property
    def is_proven_to_the_cent(self) -> bool:
        """Return whether nothing can be saved that anybody would see."""
        days, money = self.cost
        bound = self.bound
        return days <= self.days_bound and bound is not None and money - bound < CENT

    def progress(self, seconds: float) -> Progress:
        """Return where the search stands."""
        days, money = self.cost
        bound = self.bound
        return Progress(seconds, days, money, bound, relative_gap(money, bound), self.source)


def search(
    incumbent: Incumbent,
    settings: Settings,
    accept: Callable[[Choice], None],
    on_progress: Callable[[Progress], None],
    stop: Event,
    began: float,
) -> None:
    """Better the incumbent until it is proven, the time is up or somebody stops it.

    However it ends, no move of one check or of two is left then that would save anything, unless
    a note says that there was no time to look. ``accept`` sees every choice before it counts
    and may raise; ``began`` is the clock at the start of the whole run. Ctrl-C counts as a stop.
    """
    if not incumbent.program.size:
        incumbent.settle()
        return
    timing = settings.search
    least, most = timing.least_seconds_for_last_look, timing.most_seconds_for_last_look
    seconds = min(max(timing.last_look_share * settings.seconds, least), most)
    earlier = replace(settings, seconds=(1.0 - timing.last_look_share) * settings.seconds)
    _search(incumbent, earlier, accept, on_progress, stop, began)
    if incumbent.stopped_by == "stop":
        seconds = min(seconds, timing.seconds_for_last_look_after_a_stop)
    elif incumbent.stopped_by == "fault":
        seconds = max(seconds, settings.seconds - (time.monotonic() - began))
    if look_last(incumbent, accept, seconds):
        on_progress(incumbent.progress(time.monotonic() - began))


def look_last(incumbent: Incumbent, accept: Callable[[Choice], None], seconds: float) -> bool:
    """Let single checks, and any two, move where that saves something; return whether any did.

    Looks for about so many ``seconds`` at the most; a note says when that was not enough.
    """
    if incumbent.is_proven_to_the_cent:
        return False
    try:
        chosen, is_done = descended(incumbent.program, incumbent.chosen, seconds)
    except MemoryError:
        chosen, is_done = incumbent.chosen, False
    if not is_done:
        note_once(incumbent, CUT_SHORT)
    return take_in(FoundChoice(chosen, MOVES_SOURCE), incumbent, accept)


def _search(
    incumbent: Incumbent,
    settings: Settings,
    accept: Callable[[Choice], None],
    on_progress: Callable[[Progress], None],
    stop: Event,
    began: float,
) -> None:
    """Better the incumbent, without the last look."""
    timing, left = settings.search, settings.seconds - (time.monotonic() - began)
    try:
        on_progress(incumbent.progress(time.monotonic() - began))
        for word in solve_at_once(
            incumbent.program, incumbent.chosen, replace(settings, seconds=max(0.0, left))
        ):
            take_in(word, incumbent, accept)
        on_progress(incumbent.progress(time.monotonic() - began))
        if incumbent.is_proven(settings.gap):
            incumbent.stopped_by = "proof"
            return
        left = settings.seconds - (time.monotonic() - began) - timing.seconds_for_last_words
        if left <= 0:
            part = parts_of(incumbent.program, timing)[0]
            _bound_by_relaxation(incumbent, timing, timing.seconds_to_relax, part)
            return
        for part in parts_of(incumbent.program, timing):
            _search_part(part, incumbent, settings, accept, on_progress, stop, began)
            if incumbent.stopped_by != "part":
                return
    except KeyboardInterrupt:
        incumbent.stopped_by = "stop"
    except MemoryError:
        incumbent.stopped_by = "fault"
        note_once(incumbent, NO_MEMORY)


def _search_part(
    part: Part,
    incumbent: Incumbent,
    settings: Settings,
    accept: Callable[[Choice], None],
    on_progress: Callable[[Progress], None],
    stop: Event,
    began: float,
) -> None:
    """Let the sides search a part of the program until there is a reason to end.

    ``stopped_by`` says which; ``part`` when much of the time has shown no plan for which the
    part suffices, or when there can be none.
    """
    left = settings.seconds - (time.monotonic() - began) - settings.search.seconds_for_last_words
    program = part.restricted.program
    start = part.to_part(incumbent.chosen)
    task = Task(program, start, time.monotonic() + left, settings)
    give_up = time.monotonic() + settings.search.give_up_share * left
    pool = GoodPlans(program)
    with Sides(task, PROVING) as sides:
        # While the sides get ready: a bound for every answer, however soon it is wanted.
        _bound_by_relaxation(
            incumbent, settings.search, min(settings.search.seconds_to_relax, left / 2), part
        )
        while sides.running and time.monotonic() - began < settings.seconds:
            if stop.is_set():
                incumbent.stopped_by = "stop"
                return
            _hear(sides, incumbent, accept, part, pool, settings.search.seconds_between_looks)
            on_progress(incumbent.progress(time.monotonic() - began))
            if incumbent.is_proven(settings.gap):
                incumbent.stopped_by = "proof"
                return
            is_late = time.monotonic() > give_up and not part.suffices(incumbent.cost[0])
            if is_late or not part.suffices(incumbent.days_bound):
                incumbent.stopped_by = "part"
                return
    is_early = (
        time.monotonic() - began < settings.seconds - 2 * settings.search.seconds_for_last_words
    )
    incumbent.stopped_by = "fault" if incumbent.faults and is_early else "time"


def _bound_by_relaxation(
    incumbent: Incumbent, timing: SearchSettings, seconds: float, part: Part
) -> None:
    days, _ = incumbent.cost
    if part.suffices(days):
        restricted = LazyRows(part.restricted.program, timing).program.within_days(days)
        relaxation = relax(money_form(restricted.program), seconds)
        if relaxation is not None:
            incumbent.money_bounds.append(MoneyBound(days, relaxation))


def _hear(
    sides: Sides,
    incumbent: Incumbent,
    accept: Callable[[Choice], None],
    part: Part,
    pool: GoodPlans,
    seconds: float,
) -> None:
    """Wait for a word, ``seconds`` at the most, and take in all that have come.

    Of several choices that came at once only the best is looked at: an audit of a large plan
    takes longer than the sides need for the next one.
    """
    best: tuple[tuple[int, float], str, FoundChoice] | None = None
    for side, word in drained(sides.words, seconds):
        share(side, word, sides, pool)
        if isinstance(word, Failed):
            sides.running.discard(side)
            tell_of_failure(side, word, incumbent, others_find=sides.are_finding)
        elif word is None:
            sides.running.discard(side)
            sides.pass_on(Begun(), side)  # there is nothing to wait for any more
        elif isinstance(word, Begun):
            sides.pass_on(word, side)
        elif isinstance(word, GoodPlan):
            continue  # it is shared
        elif isinstance(told := part.to_whole(word), FoundChoice):
            cost = incumbent.program.cost(told.chosen)
            if best is None or is_better(cost, best[0]):
                best = cost, side, told
        elif told is not None:
            take_in(told, incumbent, accept)
        if isinstance(word, DaysBound):
            sides.pass_on(word, side)  # what is left to better is found out by all
    if best is not None and take_in(best[2], incumbent, accept):
        sides.pass_on(FoundChoice(part.to_part(incumbent.chosen), incumbent.source), best[1])


def drained(heard: "queue.SimpleQueue[Word]", seconds: float) -> list[Word]:
    """Return all words that have come, after waiting so many ``seconds`` for the first."""
    words: list[Word] = []
    with contextlib.suppress(queue.Empty):
        words.append(heard.get(timeout=seconds))
        while True:
            words.append(heard.get_nowait())
    return words


def share(side: str, word: Report | None, sides: Sides, pool: GoodPlans) -> None:
    """Hand a plan that a side told round among those that find plans, if it is of use to them."""
    if sides.are_several and isinstance(word, FoundChoice | GoodPlan):
        plan = pool.take_in(word.chosen)
        if plan is not None:
            sides.hand_round(plan, side)


def tell_of_failure(
    side: str, word: Report | None, incumbent: Incumbent, *, others_find: bool = False
) -> None:
    """Keep what a side said of its end, where it broke down.

    The other sides go on, and what is known stands; the answer says what it means. Of a side that
    finds plans it means less as long as ``others_find`` some.
    """
    if isinstance(word, Failed):
        incumbent.faults.append("\n".join(filter(None, (word.why, word.details))))
        number = number_of(side)
        if number and others_find:
            note_once(incumbent, one_of_several_ended_early(number, word.why))
        else:
            note_once(incumbent, ended_early(side, word.why))


def take_in(word: Report, incumbent: Incumbent, accept: Callable[[Choice], None]) -> bool:
    """Add a word to the incumbent; return whether it brought a better choice."""
    match word:
        case FoundChoice(chosen, source):
            if not is_better(incumbent.program.cost(chosen), incumbent.cost):
                return False
            accept(chosen)
            incumbent.chosen, incumbent.source = chosen, source
            return True
        case DaysBound(days):
            incumbent.days_bound = max(incumbent.days_bound, days)
        case MoneyBound():
            incumbent.money_bounds.append(word)
        case Remark(what, remedy):
            note_once(incumbent, Message(Level.NOTE, SEARCH, what, remedy))
    return False


def note_once(incumbent: Incumbent, note: Message) -> None:
    """Keep a note, once."""
    if note not in incumbent.notes:
        incumbent.notes.append(note)
