"""Why an option is refused, and what it would have had to pay."""

import time
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Status
from capacity.plans.outcome import DearHours, Refusal
from capacity.settings import Settings
from capacity.slots.candidates import Slots
from capacity.slots.engines.near import solve_near
from capacity.slots.line.mailbox import is_better
from capacity.slots.program.choice import Choice
from capacity.slots.program.neighbourhood import around
from capacity.slots.program.plan_of import plan_of
from capacity.slots.program.program import Program
from capacity.slots.program.relatedness import relatedness

# Names and weeks that are told; the rest is in the sheets.
MOST_TOLD = 3
TINY_HOURS = 1e-6


@dataclass(frozen=True)
class Refused:
    """A refused option and the best choice found that takes it; None where there is none."""

    check: int
    with_it: Choice | None


def refusals_of(
    program: Program,
    slots: Slots,
    chosen: Choice,
    settings: Settings,
) -> tuple[Choice, tuple[Refusal, ...]]:
    """Explain every option that a choice leaves out, within about ``settings.seconds``.

    Without time, others stay where they are. Should a choice that takes an option turn out
    cheaper, it takes the place of the first one; the choice at last comes first.
    """
    until, timing = time.monotonic() + settings.seconds, settings.search
    most, least = timing.most_seconds_to_move_others, timing.least_seconds_to_move_others
    told: dict[int, Refused] = {}
    waiting = _refused_options(slots, chosen)
    while waiting:
        check = waiting.pop(0)
        refused = beside(program, chosen, check)
        share = min(most, (until - time.monotonic()) / (len(waiting) + 1))
        if share > least:
            refused = with_others_moved(program, chosen, refused, share, settings)
        if refused.with_it is not None and is_better(
            program.cost(refused.with_it), program.cost(chosen)
        ):
            chosen, told = refused.with_it, {}
            waiting = _refused_options(slots, chosen)
            continue
        told[check] = refused
    return chosen, tuple(explained(r, chosen, program, slots) for r in told.values())


def _refused_options(slots: Slots, chosen: Choice) -> list[int]:
    """Return the numbers of the options that a choice leaves out."""
    return [
        number
        for number, candidates in enumerate(slots.candidates)
        if chosen[number] < 0 and candidates.courses.check.status is Status.OPTION
    ]


def beside(program: Program, chosen: Choice, check: int) -> Refused:
    """Put the option in at its cheapest place beside all others as they stand."""
    slack = program.slack(chosen)
    columns = program.free_columns(check, slack)
    best, best_money = None, np.inf
    for column in columns:
        with_it = chosen.copy()
        with_it[check] = column
        money = program.cost(with_it)[1]
        if money < best_money:
            best, best_money = with_it, money
    return Refused(check, best)


def with_others_moved(
    program: Program, chosen: Choice, refused: Refused, seconds: float, settings: Settings
) -> Refused:
    """Let the checks most related to the option move for it; keep what is cheaper.

    Days past ``Latest in`` are held at what they are.
    """
    check = refused.check
    restricted = program.within_days(program.days_past(chosen))
    mine = restricted.from_whole(chosen)
    if mine is None:
        return refused
    related = relatedness(restricted.program)[check]
    related[check] = np.inf
    free = np.sort(np.argsort(-related)[: settings.search.checks_moved_for_an_option + 1])
    near = around(restricted.program, mine, free)
    start = near.from_whole(mine[free])
    if start is None:
        return refused
    found = solve_near(
        _forced(near.program, int(np.searchsorted(free, check))), start, seconds, settings.seed
    )
    if found is None or found[np.searchsorted(free, check)] < 0:
        return refused
    moved = mine.copy()
    moved[free] = near.to_whole(found)
    whole = restricted.to_whole(moved)
    if not program.holds(whole) or program.days_past(whole) > program.days_past(chosen):
        return refused
    if refused.with_it is not None and program.cost(refused.with_it) <= program.cost(whole):
        return refused
    return Refused(check, whole)


def _forced(program: Program, check: int) -> Program:
    """Return the program with a check so well paid that it is placed if it can be."""
    money = program.money.copy()
    others = float(np.abs(program.money).max(initial=0.0)) * len(program.checks)
    hours = program.most_asked.sum() * program.hours.dearest
    money[program.columns_of(check)] -= 1.0 + others + hours
    return replace(program, money=money)


def explained(refused: Refused, chosen: Choice, program: Program, slots: Slots) -> Refusal:
    """Return the refusal in a planner's terms.

    needed price = price + money of the plan that takes the option - money of the plan.
    """
    check = slots.candidates[refused.check].courses.check
    if refused.with_it is None:
        return Refusal(
            check=check.name,
            price=check.price,
            needed_price=None,
            in_the_way=_in_the_way(program, chosen, refused.check),
        )
    rise = program.cost(refused.with_it)[1] - program.cost(chosen)[1]
    made = plan_of(refused.with_it, program, slots)
    placement = next(p for p in made.placements if p.check == check.name)
    out_day = max(p.out_day for p in made.placements if p.check == check.name)
    before, after = program.load(chosen), program.load(refused.with_it)
    others = np.flatnonzero(refused.with_it != chosen)
    others = others[others != refused.check]
    return Refusal(
        check=check.name,
        price=check.price,
        needed_price=check.price + rise,
        bay=placement.bay,
        in_day=placement.in_day,
        out_day=out_day,
        labour_money=program.hours.money(after) - program.hours.money(before),
        dearest_hours=_dearest_hours(before, after, program, slots),
        moved=tuple(program.checks[n] for n in others if refused.with_it[n] >= 0),
        given_up=tuple(program.checks[n] for n in others if refused.with_it[n] < 0),
    )


def _dearest_hours(
    before: NDArray[np.float64], after: NDArray[np.float64], program: Program, slots: Slots
) -> tuple[DearHours, ...]:
    """Return the weeks and skills in which most money more is spent on man-hours.

    In a week that asks no other hours nothing is spent more: two ways to share the same hours
    out for the same money are no difference.
    """
    hours, supply = program.hours, program.hours.supply
    price = np.where(supply.serves, supply.pool_price, 0.0)[:, None, :]
    other = np.abs(hours.asked(after) - hours.asked(before)).max(axis=1) > TINY_HOURS
    more = (hours.bought(after) - hours.bought(before)) * other[None, :, None]
    money, paid = (more * price).sum(axis=0), (more * (price > 0)).sum(axis=0)
    dearest = np.argsort(-money, axis=None)[:MOST_TOLD]
    return tuple(
        DearHours(
            week=slots.calendar.week_names[week],
            skill=slots.kinds[kind].skill,
            hours=float(paid[week, kind]),
            money=float(money[week, kind]),
        )
        for week, kind in zip(*np.unravel_index(dearest, money.shape), strict=True)
        if paid[week, kind] > TINY_HOURS
    )


def _in_the_way(program: Program, chosen: Choice, check: int) -> tuple[str, ...]:
    """Return the checks that stand in the way of most candidates of a check, at most three."""
    placed = np.flatnonzero(chosen >= 0)
    foot = program.footprint[chosen[placed]]
    columns = program.columns_of(check)
    scarce = np.where(program.slack(chosen) < 1.0, 1.0, 0.0)
    lacking = (program.footprint[columns] > 0).multiply(scarce).tocsr()
    met = (lacking @ (foot > 0).T.astype(float)).toarray() > 0
    blocked = met.sum(axis=0)
    most = placed[np.argsort(-blocked, kind="stable")][:MOST_TOLD]
    told = {int(n): int(c) for n, c in zip(placed, blocked, strict=True)}
    return tuple(program.checks[number] for number in most if told[int(number)])
