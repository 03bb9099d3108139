"""The side that finds plans: ruin and recreate, crossing over, then exact neighbourhoods."""

import time

import numpy as np
from numpy.typing import NDArray

from capacity.search_settings import SearchSettings
from capacity.slots.finding.cooling import HOT, WARM, Cooling, money_a_check
from capacity.slots.finding.crossing import Pool, breed
from capacity.slots.finding.last_descent import SOURCE, LastDescent, descent_of
from capacity.slots.finding.levelled_descent import LevelledDescent
from capacity.slots.finding.ruin_recreate import ROUNDS_A_LOOK, RuinRecreate, day_money
from capacity.slots.finding.ways import ways_of
from capacity.slots.finding.wide_neighbourhoods import WideNeighbourhoods
from capacity.slots.finding.windows import anneal_window
from capacity.slots.line.mailbox import Mailbox, is_better
from capacity.slots.program.choice import Choice
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.neighbourhood import around
from capacity.slots.program.program import Program, Restricted
from capacity.slots.program.relatedness import related_to, relatedness

FEWEST_FREE, MOST_FREE = 4, 16


def find_plans(mailbox: Mailbox, turn: int = 0) -> None:
    """Search until the time is up, telling every better choice.

    The ``turn`` is counted up from 0, or from where nobody else's comes to: seeds go by it.
    """
    settings, timing = mailbox.task.settings, mailbox.task.settings.search
    turns_alike, seconds = 0, timing.first_annealing_seconds
    whole_time = mailbox.seconds_left
    window_seconds = max(timing.first_annealing_seconds, timing.window_share * whole_time)
    ways = ways_of(mailbox.task.number, mailbox.program, timing)
    rows = LazyRows(mailbox.program, timing)
    descent: LastDescent | LevelledDescent | None = None
    known = dict[DaySet, None]()
    pool, own = Pool(mailbox.program, timing.most_parents), mailbox.best[0]
    wide = WideNeighbourhoods(mailbox, rows)
    while (left := mailbox.seconds_left) > 0:
        seed, begin = settings.seed + turn, HOT if turn % 2 == 0 else WARM
        by_window = ways.by_window and left < (1 - timing.whole_share) * whole_time
        seconds = window_seconds if by_window else seconds
        widening = wide.seconds_after(seconds) if ways.widens else 0.0
        if left < 2 * (seconds + widening):
            seconds = wide.seconds_before(left) if ways.widens else left
            widening = left - seconds
        annealing = seconds * (1 - ways.polish - timing.descent_share)
        # The first annealing comes to a good plan soon.
        breeding = ways.breeding if turn else 0.0
        began, days = time.monotonic(), mailbox.best[1][0]
        breed(mailbox, rows, annealing * breeding, seed, pool)
        annealing -= time.monotonic() - began
        annealing = max(annealing, timing.seconds_between_looks)
        if by_window:
            anneal_window(mailbox, rows, annealing, seed, begin)
        else:
            is_apart = left > (1 - ways.apart) * whole_time
            start = own if is_apart else good_plan(mailbox, pool, seed) if ways.apart else None
            own = anneal(mailbox, rows, annealing, seed, begin, start, is_apart=is_apart)
        polish(mailbox, rows, seconds * ways.polish, seed, known)
        turns_alike = turns_alike + 1 if mailbox.best[1][0] == days else 0
        # While annealing comes to fewer days past, that is what to go on with.
        if ways.widens and turns_alike:
            may_be_fewer = mailbox.best[1][0] > mailbox.least_days
            for_days = may_be_fewer and turns_alike < timing.turns_for_days
            wide.search(widening, seed, for_days=for_days)
        if seconds * timing.descent_share >= timing.least_descent_seconds:
            descent = descend(mailbox, seconds * timing.descent_share, descent)
        seconds *= timing.annealing_growth
        turn += 1
    mailbox.flush(at_once=True)


def breeds(program: Program, timing: SearchSettings) -> bool:
    """Return whether good plans of the program are crossed over and joined."""
    return ways_of(1, program, timing).breeding > 0.0


def good_plan(mailbox: Mailbox, pool: Pool, seed: int) -> Choice:
    """Return one of the good plans known here, drawn at random, with as few days past as any."""
    chosen, cost = mailbox.best
    pool.look_round(mailbox, chosen, cost)
    plans = pool.members or pool.aside
    return plans[int(np.random.default_rng(seed).integers(len(plans)))][0]


def anneal(
    mailbox: Mailbox,
    rows: LazyRows,
    seconds: float,
    seed: int,
    begin: float = HOT,
    start: Choice | None = None,
    *,
    is_apart: bool = False,
) -> Choice:
    """Cool down once from the best choice known, ``begin`` being the first temperature.

    Or from another ``start``. Ends early when another side finds fewer days past, unless it
    ``is_apart`` from the others. Returns the best choice that it came to.
    """
    chosen, (days, _) = mailbox.best
    chosen = chosen if start is None else start

    def here(restricted: Restricted) -> Choice:
        # A start with more days past may have columns that are of no use any more.
        return restricted.found_here(chosen) if start is None else restricted.those_of(chosen)

    restricted = rows.within(days)
    search = RuinRecreate(restricted.program, here(restricted), seed)
    cooling = Cooling(begin, day_money(mailbox.program))
    much_fewer = mailbox.task.settings.search.fewer_days_share
    began, share = time.monotonic(), 0.0
    while share < 1.0 and mailbox.seconds_left > 0:
        money = money_a_check(restricted.program, search.best)
        is_better_now = search.rounds(ROUNDS_A_LOOK, *cooling.at(share, money))
        mailbox.tell_begun()
        if is_better_now:
            better = restricted.to_whole(search.best)
            is_broken = rows.broken_by(better)
            now_days = days if is_broken else restricted.program.days_past(search.best)
            if not is_broken:
                chosen = better
                mailbox.tell_choice(chosen, "search")
            # Goal 1 improved much: all columns that cannot keep to it are dead weight now. Those
            # that are of no use for other reasons take longer to tell: the next annealing does.
            if is_broken or (now_days < days and now_days <= days * much_fewer):
                days, seed = now_days, seed + 1
                restricted = rows.within(days) if is_broken else rows.program.within_days(days)
                search = RuinRecreate(restricted.program, here(restricted), seed)
        if not is_apart and mailbox.best[1][0] < search.costs.best_days:
            return chosen  # the other side has a plan that this annealing would hardly get to
        mailbox.flush()
        share = (time.monotonic() - began) / seconds
    mailbox.share(chosen)
    return chosen


def polish(
    mailbox: Mailbox,
    rows: LazyRows,
    seconds: float,
    seed: int,
    known: dict[DaySet, None] | None = None,
) -> None:
    """Large-neighbourhood search: free some related checks of the incumbent, solve them exactly.

    As many checks at once as pays. ``known`` are sets of days as ``solve_near`` takes them.
    """
    known = {} if known is None else known
    rng = np.random.default_rng(seed)
    until = time.monotonic() + seconds
    days = mailbox.best[1][0]
    restricted = rows.within(days)
    nearness_of_all = relatedness(restricted.program)
    free, most_seconds = 6.0, mailbox.task.settings.search.polish_seconds
    while (left := min(until - time.monotonic(), mailbox.seconds_left)) > 0.05:
        chosen, cost = mailbox.best
        if cost[0] < days:
            return
        mine = restricted.from_whole(chosen)
        if mine is None:
            return
        began = time.monotonic()
        seconds_each = min(left, most_seconds)
        better = _bettered(
            restricted.program,
            mine,
            related_to(int(rng.integers(len(mine))), nearness_of_all, int(free), rng),
            seconds_each,
            mailbox.task.settings.seed,
            known,
        )
        if better is not None:
            whole = restricted.to_whole(better)
            if rows.broken_by(whole):
                restricted = rows.within(days)
            else:
                mailbox.tell_choice(whole, "search")
        quick = time.monotonic() - began < most_seconds / 3
        free = min(free + 0.5, MOST_FREE) if quick else max(free - 0.5, FEWEST_FREE)


def descend(
    mailbox: Mailbox, seconds: float, descent: LastDescent | LevelledDescent | None
) -> LastDescent | LevelledDescent:
    """Move single checks, and any two, of the best choice where that saves something.

    Returns the descent, to go on with next time.
    """
    until = time.monotonic() + min(seconds, max(0.0, mailbox.seconds_left))
    chosen = mailbox.best[0]
    if descent is None:
        descent = descent_of(mailbox.program, chosen)
    elif not descent.is_done or not np.array_equal(descent.chosen, chosen):
        descent.begin_again(chosen)
    else:
        return descent
    descent.run(until)
    mailbox.tell_choice(descent.chosen, SOURCE)
    return descent


def _bettered(
    program: Program,
    chosen: Choice,
    free: NDArray[np.int64],
    seconds: float,
    seed: int,
    known: dict[DaySet, None],
) -> NDArray[np.int64] | None:
    """Return a better choice that differs in the ``free`` checks only, None if none is found."""
    # Imported here: the engines take a second that the first annealing should not wait for.
    from capacity.slots.engines.near import solve_near

    near = around(program, chosen, free)
    start = near.from_whole(chosen[free])
    found = None if start is None else solve_near(near.program, start, seconds, seed, known)
    if found is None:
        return None
    better = chosen.copy()
    better[free] = near.to_whole(found)
    return better if is_better(program.cost(better), program.cost(chosen)) else None
