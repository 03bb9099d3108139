"""The side that proves: bounds from the relaxation first, then from branch-and-cut."""

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import Listener, branch_and_cut, relax
from capacity.slots.linear_form import days_form, money_form
from capacity.slots.mailbox import Mailbox
from capacity.slots.messages import DaysBound, MoneyBound

# Share of the time after which goal 1 is left unproven and the money is bounded.
DAYS_SHARE = 0.35
# Days are whole, so a bound a little above a number proves the next one.
WHOLE = 1e-6
SOURCE = "branch-and-cut"


def prove(mailbox: Mailbox) -> None:
    """Bound goal 1, then the money of all choices that are as good in goal 1."""
    _bound_days(mailbox)
    while mailbox.seconds_left > 0:
        days = mailbox.best[1][0]
        _bound_money(mailbox, days)
        if mailbox.best[1][0] == days:
            return


def _bound_days(mailbox: Mailbox) -> None:
    program = mailbox.program
    mailbox.tell(DaysBound(program.settled_past))
    if mailbox.best[1][0] == program.settled_past:
        return
    proven = program.settled_past

    def on_bound(bound: float) -> None:
        nonlocal proven
        if (whole := int(np.ceil(bound - WHOLE))) > proven:
            proven = whole
            mailbox.tell(DaysBound(proven))

    listener = Listener(
        on_bound=lambda bound: on_bound(bound) if np.isfinite(bound) else None,
        on_choice=lambda chosen: mailbox.tell_choice(chosen, SOURCE),
        stop=lambda: mailbox.best[1][0] <= proven,
    )
    seconds = DAYS_SHARE * mailbox.seconds_left
    solved = branch_and_cut(days_form(program), mailbox.best[0], seconds, listener=listener)
    mailbox.flush(at_once=True)
    on_bound(solved.bound)


def _bound_money(mailbox: Mailbox, days: int) -> None:
    kept = mailbox.program.within_days(days)
    form = money_form(kept.program)
    relaxation = relax(form)
    proven = -np.inf

    def on_bound(bound: float) -> None:
        nonlocal proven
        mailbox.flush()
        if np.isfinite(bound) and bound > proven + WHOLE:
            proven = bound
            mailbox.tell(MoneyBound(days, proven))

    if relaxation is not None:
        on_bound(relaxation.bound)
    known = mailbox.best[1][1]

    def on_choice(chosen: NDArray[np.int64]) -> None:
        nonlocal known
        known = min(known, kept.program.cost(chosen)[1])
        mailbox.tell_choice(kept.to_whole(chosen), SOURCE)

    def better() -> NDArray[np.int64] | None:
        nonlocal known
        chosen, cost = mailbox.best
        if cost[0] > days or cost[1] >= known - WHOLE:
            return None
        known = cost[1]
        return kept.from_whole(chosen)

    listener = Listener(
        on_bound=on_bound,
        on_choice=on_choice,
        better=better,
        stop=lambda: mailbox.best[1][0] < days,
    )
    start = kept.from_whole(mailbox.best[0])
    solved = branch_and_cut(form, start, mailbox.seconds_left, mailbox.task.gap, listener)
    if solved.chosen is not None:
        on_choice(solved.chosen)
    mailbox.flush(at_once=True)
    on_bound(solved.bound)
