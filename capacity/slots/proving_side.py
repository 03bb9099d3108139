"""The side that proves: bounds from the relaxation first, then from branch-and-cut."""

import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import SOURCE, Listener, branch_and_cut, relaxed
from capacity.slots.linear_form import LinearForm, days_form, money_form
from capacity.slots.mailbox import Mailbox
from capacity.slots.messages import ROUNDING, DaysBound, MoneyBound
from capacity.slots.program import Kept
from capacity.slots.seldom_rows import SeldomRows

# Share of the time after which goal 1 is left unproven and the money is bounded.
DAYS_SHARE = 0.35
# Share of the time in which the other side may find as few days past as are proven.
PATIENCE_SHARE = 0.1
LOOK_EVERY_SECONDS = 0.1
# A plan that has not been bettered for so long is a good one to begin with.
SETTLED_SECONDS = 2.0

# Columns of the whole, and the linear form over them.
Posted = tuple[Kept, LinearForm]


def prove(mailbox: Mailbox) -> None:
    """Bound goal 1, then the money of all choices that are as good in goal 1.

    Begins again when the other side betters goal 1, and when it is not yet proven to be at
    its best.
    """
    bounded_for = -1
    rows = SeldomRows(mailbox.program)
    while mailbox.seconds_left > 0:
        proven = _bound_days(mailbox, rows)
        days = mailbox.best[1][0]
        if days != bounded_for:
            _bound_money(mailbox, rows, days)
            bounded_for = days
        if mailbox.best[1][0] == days <= proven:
            return


def _bound_days(mailbox: Mailbox, rows: SeldomRows) -> int:
    """Return how many days past there must be; stop once as few are found."""
    proven = mailbox.program.settled_past
    mailbox.tell(DaysBound(proven))

    def on_bound(bound: float) -> None:
        nonlocal proven
        if (word := DaysBound.above(bound)).days > proven:
            proven = word.days
            mailbox.tell(word)

    def is_proven() -> bool:
        return mailbox.best[1][0] <= proven

    def post() -> Posted:
        return Kept(rows.program, np.arange(rows.program.size)), days_form(rows.program)

    if is_proven():
        return proven
    _, form = _bound_by_relaxations(rows, post, on_bound)
    patience = time.monotonic() + PATIENCE_SHARE * mailbox.seconds_left
    while not is_proven() and time.monotonic() < patience:
        # The other side mostly gets there in seconds; branch-and-cut may not hear a stop
        # for longer than that while it is at its root.
        time.sleep(LOOK_EVERY_SECONDS)
    until = time.monotonic() + DAYS_SHARE * mailbox.seconds_left
    while not is_proven() and (seconds := until - time.monotonic()) > 0:
        listener = Listener(
            on_bound=on_bound,
            on_choice=lambda chosen: mailbox.tell_choice(chosen, SOURCE),
            stop=is_proven,
        )
        solved = branch_and_cut(form, mailbox.best[0], seconds, listener=listener)
        mailbox.flush(at_once=True)
        on_bound(solved.bound)
        if solved.chosen is None or not rows.broken_by(solved.chosen):
            break
        _, form = post()
    return proven


def _bound_by_relaxations(
    rows: SeldomRows, post: Callable[[], Posted], on_bound: Callable[[float], None]
) -> Posted:
    """Tell the relaxation's optimum; take in the rows that it breaks, and again.

    ``post`` makes the form over the rows taken in so far; the last one made is returned.
    """
    while True:
        kept, form = posted = post()
        if (found := relaxed(form)) is None:
            return posted
        on_bound(found[0])
        if not rows.broken_by_weights(kept.number, found[1][: kept.program.size]):
            return posted


def _wait_for_a_good_plan(mailbox: Mailbox) -> None:
    """Wait while the other side betters the plan by the second, but not for ever.

    Branch-and-cut that begins with a good plan fixes columns at its root and restarts smaller.
    """
    patience = time.monotonic() + PATIENCE_SHARE * mailbox.seconds_left
    cost, since = mailbox.best[1], time.monotonic()
    while (now := time.monotonic()) < patience and now - since < SETTLED_SECONDS:
        time.sleep(LOOK_EVERY_SECONDS)
        if mailbox.best[1] != cost:
            cost, since = mailbox.best[1], time.monotonic()


def _bound_money(mailbox: Mailbox, rows: SeldomRows, days: int) -> None:
    proven, known = -np.inf, np.inf

    def on_bound(bound: float) -> None:
        nonlocal proven
        mailbox.flush()
        if np.isfinite(bound) and bound > proven + ROUNDING:
            proven = bound
            mailbox.tell(MoneyBound(days, proven))

    def post() -> Posted:
        kept = rows.program.within_days(days)
        return kept, money_form(kept.program)

    kept, form = _bound_by_relaxations(rows, post, on_bound)
    _wait_for_a_good_plan(mailbox)

    def on_choice(chosen: NDArray[np.int64]) -> None:
        nonlocal known
        known = min(known, kept.program.cost(chosen)[1])
        mailbox.tell_choice(kept.to_whole(chosen), SOURCE)

    def better() -> NDArray[np.int64] | None:
        nonlocal known
        chosen, cost = mailbox.best
        if cost[0] > days or cost[1] >= known - ROUNDING:
            return None
        known = cost[1]
        return kept.from_whole(chosen)

    listener = Listener(
        on_bound=on_bound,
        on_choice=on_choice,
        better=better,
        stop=lambda: mailbox.best[1][0] < days,
    )
    while mailbox.best[1][0] >= days and mailbox.seconds_left > 0:
        start, known = kept.from_whole(mailbox.best[0]), mailbox.best[1][1]
        solved = branch_and_cut(form, start, mailbox.seconds_left, mailbox.task.gap, listener)
        if solved.chosen is not None:
            on_choice(solved.chosen)
        mailbox.flush(at_once=True)
        on_bound(solved.bound)
        if solved.chosen is None or not rows.broken_by(kept.to_whole(solved.chosen)):
            return
        kept, form = post()
