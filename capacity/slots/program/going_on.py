"""An earlier plan as the choice that a search begins with."""

from dataclasses import replace

import numpy as np

from capacity.plans.plan import Plan
from capacity.search_settings import SearchSettings
from capacity.slots.candidates import Slots
from capacity.slots.engines.highs import branch_and_cut
from capacity.slots.program.choice import Choice
from capacity.slots.program.linear_form import days_form, money_form
from capacity.slots.program.places import columns_at, old_places
from capacity.slots.program.program import Program


def still_standing(
    plan: Plan, program: Program, slots: Slots, settled: Choice, settings: SearchSettings
) -> Choice:
    """Return what of a plan can still stand: a column a check, -1 for none.

    The plan may be of an earlier state of the base. Checks that are ``settled`` are always in:
    where the plan has them, or else in whichever of their columns leaves most of the plan
    standing. Another check is out when its place is gone, since bay, day or length of a stage
    have changed, or is in the way of others.
    """
    old = columns_at(old_places(slots, plan.by_check()), program)
    whole = np.where(old >= 0, old, settled)
    return (
        whole
        if program.holds(whole)
        else _most_kept(old, settled, program, settings.seconds_for_earlier_plan)
    )


def _most_kept(old: Choice, settled: Choice, program: Program, seconds: float) -> Choice:
    """Return the ``settled`` checks and as many others as can be in their ``old`` columns.

    Minimise the number of checks that are not where they were; then the money. Other columns
    are left to the settled checks alone.
    """
    must, had = settled >= 0, old >= 0
    check_of = program.check_of
    is_old = np.arange(program.size) == old[check_of]
    counting = replace(
        program,
        past=(~is_old & had[check_of]).astype(np.int64),
        unplaced_past=np.where(must, 2 + len(old), had).astype(np.int64),
        settled_past=0,
        days_allowed=None,
    )
    restricted = counting.restricted_to(is_old | must[check_of])
    start = restricted.from_whole(kept_beside(settled, old, program))
    solved = branch_and_cut(days_form(restricted.program), start, seconds)
    best = start if solved.chosen is None else solved.chosen
    assert best is not None
    allowed = replace(restricted.program, days_allowed=restricted.program.days_past(best))
    cheapest = branch_and_cut(money_form(allowed), best, seconds)
    return restricted.to_whole(best if cheapest.chosen is None else cheapest.chosen)


def kept_beside(begin: Choice, old: Choice, program: Program) -> Choice:
    """Return ``begin`` with all others in their ``old`` columns that stand beside it.

    A column a check, -1 for none. Who comes in soonest stays first.
    """
    chosen = begin.copy()
    slack = program.slack(chosen)
    staying = np.flatnonzero((old >= 0) & (begin < 0))
    for check in staying[np.argsort(program.in_day[old[staying]], kind="stable")]:
        if program.fits(old[[check]], slack)[0]:
            chosen[check] = old[check]
            slack = slack - program.footprint[old[[check]]].sum(axis=0)
    return chosen
