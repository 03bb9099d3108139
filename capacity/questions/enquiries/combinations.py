"""Which of several enquiries to accept together: the best set, and the next best ones."""

import time
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from math import fsum
from threading import Event

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array, vstack

from capacity.facts import Base, Check
from capacity.plans.plan import Plan
from capacity.questions.asking.contribution import contribution_together
from capacity.questions.asking.differences import (
    costs_between,
    hours_more,
    labour_more,
    moves_between,
)
from capacity.questions.asking.searching import best_choice
from capacity.questions.asking.standing_plan import StandingPlan, standing_plan
from capacity.questions.enquiries.asked import ask, refuse_faulty
from capacity.questions.enquiries.moves import ROUNDING, Rest, rest_of, spared_without
from capacity.questions.enquiries.slots import columns_beside, money_beside
from capacity.questions.enquiries.values import (
    AloneGain,
    Combination,
    CombinationAnswer,
    Enquiry,
    EnquiryAnswer,
)
from capacity.settings import Settings
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.line.mailbox import is_better
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import LinearForm, money_form
from capacity.slots.program.program import Program

SECONDS = 60.0
RUNNERS_UP = 3


@dataclass(frozen=True)
class _Found:
    """A choice of the free checks and the proven least money of it and all that may follow."""

    chosen: Choice
    bound: float | None


def alone_and_together(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    settings: Settings,
    *,
    may_move: Collection[str] | None,
    on_time_only: bool,
    stop: Event,
) -> tuple[tuple[EnquiryAnswer, ...], CombinationAnswer]:
    """Return what ``ask`` says of each enquiry, and the ``best_combinations`` of them.

    What is asked, and what may be raised, is the same for both.
    """
    answers = ask(
        base,
        plan,
        enquiries,
        settings,
        may_move=may_move,
        on_time_only=on_time_only,
        stop=stop,
    )
    combinations = best_combinations(
        base,
        plan,
        enquiries,
        settings,
        may_move=may_move,
        on_time_only=on_time_only,
        stop=stop,
    )
    return answers, combinations


def best_combinations(
    base: Base,
    plan: Plan,
    enquiries: Sequence[Check],
    settings: Settings | None = None,
    *,
    runners_up: int = RUNNERS_UP,
    may_move: Collection[str] | None = (),
    on_time_only: bool = False,
    stop: Event | None = None,
) -> CombinationAnswer:
    """Return the set of enquiries that gains most when taken into a plan of the base.

    gain = money of the given plan - money of the plan that takes the set, prices included.
    Nobody else moves but those of ``may_move`` (None: all), and days past ``Latest in`` do
    not grow. Taking none is a set like others. ``settings.seconds`` bounds the whole.

    Raises
    ------
    InputError
        When an enquiry is faulty, or the plan is none of this base's.
    AuditError
        When a plan does not stand up to the audit.
    """
    refuse_faulty(enquiries, base)
    settings = settings or Settings(seconds=SECONDS)
    standing = standing_plan(base, plan, enquiries, may_move)
    numbers = [standing.number_of(check.name) for check in enquiries]
    rest = rest_of(standing, numbers, on_time_only=on_time_only)
    found = list(_best_in_turn(standing, rest, numbers, runners_up, settings, stop or Event()))
    best, *others = in_order([_told(standing, rest, numbers, one) for one in found])
    return CombinationAnswer(
        best=best,
        runners_up=tuple(others),
        alone=tuple(_alone(standing, n, on_time_only=on_time_only) for n in numbers),
    )


def _best_in_turn(
    standing: StandingPlan,
    rest: Rest,
    numbers: list[int],
    runners_up: int,
    settings: Settings,
    stop: Event,
) -> Iterator[_Found]:
    """Yield the best choice, then the best ones with other sets of enquiries than those before."""
    until = time.monotonic() + settings.seconds
    runners_up = min(runners_up, 2 ** len(numbers) - 1)
    own = np.searchsorted(rest.free, numbers)
    start = rest.restricted.from_whole(standing.chosen[rest.free])
    if start is None:
        raise ValueError("the plan's own places are not among those left to choose")
    share = settings.search.best_combination_share if runners_up else 1.0
    first = replace(settings, seconds=settings.seconds * share)
    found = best_choice(rest.program, with_cheapest_beside(rest.program, own, start), first, stop)
    told = [_Found(found.chosen, found.bound)]
    yield told[0]
    form = money_form(rest.program)
    # Of the sets that follow none is better than any bound proven before.
    for left in range(runners_up, 0, -1):
        form = without_set(form, own, told[-1].chosen[own] >= 0)
        if stop.is_set():
            return
        known = _next_known(rest, own, told, start)
        seconds = (until - time.monotonic()) / left
        solved = branch_and_cut(form, known, seconds, settings.gap)
        candidates = [chosen for chosen in (known, solved.chosen) if chosen is not None]
        if not candidates:
            return  # every set that can stand has been listed
        chosen = min(candidates, key=rest.program.cost)
        told.append(_Found(chosen, solved.bound if np.isfinite(solved.bound) else None))
        yield told[-1]


def with_cheapest_beside(program: Program, checks: NDArray[np.int64], start: Choice) -> Choice:
    """Return the choice with enquiries put in one by one, nobody moved, while that gains.

    Each time the one that gains most at its cheapest place. So a search never ends below
    what is known without it.
    """
    chosen = start.copy()
    while True:
        slack = program.slack(chosen)
        best = chosen
        for check in checks[chosen[checks] < 0]:
            columns = program.columns_of(check)
            for column in columns[program.fits(columns, slack)]:
                with_it = chosen.copy()
                with_it[check] = column
                if is_better(program.cost(with_it), program.cost(best)):
                    best = with_it
        if best is chosen:
            return chosen
        chosen = best


def without_set(
    form: LinearForm, checks: NDArray[np.int64], taken: NDArray[np.bool_]
) -> LinearForm:
    """Return the form without the choices that take just this set of some checks.

    With l[c] = 1 for a check that is left out::

        sum of l[c] over taken c - sum of l[c] over others >= 1 - number of others
    """
    row = np.zeros((1, form.matrix.shape[1]))
    row[0, form.program.size + checks] = np.where(taken, 1.0, -1.0)
    return replace(
        form,
        matrix=csc_array(vstack([csr_array(form.matrix), csr_array(row)])),
        row_lower=np.append(form.row_lower, 1.0 - float((~taken).sum())),
        row_upper=np.append(form.row_upper, np.inf),
    )


def _next_known(
    rest: Rest, own: NDArray[np.int64], told: list[_Found], start: Choice
) -> Choice | None:
    """Return the cheapest choice with a set not told yet that is one enquiry short of one told.

    None when every such set has been listed.
    """
    sets = {tuple(found.chosen[own] >= 0) for found in told}
    best: Choice | None = None
    for known in (start, *(found.chosen for found in told)):
        for check in (None, *own):
            shorter = known.copy()
            if check is not None:
                shorter[check] = -1
            if tuple(shorter[own] >= 0) in sets:
                continue
            if best is None or rest.program.cost(shorter) < rest.program.cost(best):
                best = shorter
    return best


def _told(standing: StandingPlan, rest: Rest, numbers: list[int], found: _Found) -> Combination:
    whole = rest.to_whole(found.chosen, standing.chosen)
    whole = standing.moved_least(whole)
    plan, audit = standing.plan_with(whole)
    accepted = [number for number in numbers if whole[number] >= 0]
    names = {standing.program.checks[number] for number in accepted}
    costs = costs_between(standing.audit, audit, names)
    enquiries = tuple(_enquiry(standing, number, int(whole[number])) for number in accepted)
    gain = fsum(enquiry.price for enquiry in enquiries) - costs.money
    labour = labour_more(standing.audit, audit, names)
    taken = [standing.slots.candidates[number].courses.check for number in accepted]
    most = None if found.bound is None else max(gain, standing.audit.goals.money - found.bound)
    rounding = ROUNDING * max(1.0, abs(audit.goals.money))
    return Combination(
        enquiries=enquiries,
        plan=plan,
        costs=costs,
        gain=gain,
        most_gain=most,
        gain_of_moves=spared_without(standing, whole, accepted),
        proven=most is not None and most - gain <= rounding,
        moves=moves_between(standing.plan, plan, names),
        hours_more=hours_more(standing.audit, audit),
        contribution=contribution_together(standing.base, taken, costs.money, labour)
        if taken
        else None,
    )


def in_order(told: list[Combination]) -> list[Combination]:
    """Return the sets by gain, the first found to be the best first.

    A search that runs out of time can find a better set after another. What was proven for
    the first, no set can gain more, is then all that is known of each.
    """
    ordered = sorted(told, key=lambda one: -round(one.gain, 4))  # ties stay as they came
    if ordered == told:
        return told
    most = told[0].most_gain
    return [replace(one, most_gain=most, proven=False) for one in ordered]


def _enquiry(standing: StandingPlan, number: int, column: int) -> Enquiry:
    check = standing.slots.candidates[number].courses.check
    return Enquiry(check.name, check.price, standing.placements_of(number, column))


def _alone(standing: StandingPlan, number: int, *, on_time_only: bool) -> AloneGain:
    columns = columns_beside(standing, number, on_time_only=on_time_only)
    name = standing.program.checks[number]
    if not len(columns):
        return AloneGain(name, None)
    return AloneGain(name, standing.cost[1] - float(money_beside(standing, columns).min()))
