"""The side that proves: bounds from the relaxation first, then from branch-and-cut."""

import time

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import SOURCE, Listener, branch_and_cut
from capacity.slots.finding.cooling import money_a_check
from capacity.slots.finding.side import breeds, find_plans
from capacity.slots.finding.wide_neighbourhoods import WideNeighbourhoods, pays_for
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.line.reports import ROUNDING, DaysBound, MoneyBound
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import days_form
from capacity.slots.program.program import Restricted
from capacity.slots.program.week_sets import sets_broken_by
from capacity.slots.proving.promising_columns import solve_promising
from capacity.slots.proving.relaxations import MoneyRelaxations, Posted, bound_by_relaxations
from capacity.slots.proving.standstill import Standstill
from capacity.slots.proving.supports import solve_supports

# Branch-and-cut ends for the rows that a choice lacks if it takes it for cheaper by such a share
# than the best known: it could prove no more than that. It may find others for so long before.
MUCH_CHEAPER, SECONDS_MISLED = 1e-3, 2.0
# What is added to the seed of the search where this side draws by chance: not what the other draws.
PROVING_SEED = 500_000


def prove(mailbox: Mailbox) -> None:
    """Bound goal 1, then the money of all choices that are as good in goal 1."""
    ProvingSide(mailbox).prove()


class ProvingSide:
    """Bounds goal 1, then the money."""

    def __init__(self, mailbox: Mailbox) -> None:
        """Begin with nothing proven and without the rows that seldom bind."""
        self._mailbox, self._timing = mailbox, mailbox.task.settings.search
        self._rows = LazyRows(mailbox.program, self._timing)
        self._days = mailbox.program.settled_past
        self._silent_until = time.monotonic() + self._timing.silence_share * mailbox.seconds_left
        self._relaxations = MoneyRelaxations(mailbox, self._rows, self._on_days_bound)

    def prove(self) -> None:
        """Bound both goals; begin again when the other side betters goal 1.

        And again when goal 1 is not yet proven to be at its best.
        """
        bounded_for = -1
        self._mailbox.tell(DaysBound(self._days))
        while self._mailbox.seconds_left > 0:
            self._bound_days()
            days = self._mailbox.best[1][0]
            if days != bounded_for:
                self._bound_money(days)
                bounded_for = days
            if self._mailbox.best[1][0] == days <= self._days:
                return

    def _is_proven(self) -> bool:
        return self._mailbox.best[1][0] <= self._days

    def _on_days_bound(self, bound: float) -> None:
        if (word := DaysBound.above(bound)).days > self._days:
            self._days = word.days
            self._mailbox.tell(word)

    def _bound_days(self) -> None:
        """Prove how many days past there must be; stop once as few are found."""
        mailbox, rows = self._mailbox, self._rows

        def post() -> Posted:
            return Restricted(rows.program, np.arange(rows.program.size)), days_form(rows.program)

        if self._is_proven():
            return
        (_, form), _ = bound_by_relaxations(rows, post, self._on_days_bound)
        began = time.monotonic()
        self._relax_money_of_fewest_days()
        if self._waited_for_the_other_side():
            began = time.monotonic()
        patience = began + self._timing.patience_share * mailbox.seconds_left
        while not self._is_proven() and time.monotonic() < patience:
            # The other side mostly gets there in seconds; branch-and-cut may not hear a stop
            # for longer than that while it is at its root.
            time.sleep(self._timing.seconds_between_looks)
        until = time.monotonic() + self._timing.days_proof_share * mailbox.seconds_left
        while not self._is_proven() and (seconds := until - time.monotonic()) > 0:
            listener = Listener(
                on_bound=self._on_days_bound,
                on_choice=lambda chosen: mailbox.tell_choice(chosen, SOURCE),
                stop=self._is_proven,
            )
            solved = branch_and_cut(form, mailbox.best[0], seconds, listener=listener)
            mailbox.flush(at_once=True)
            self._on_days_bound(solved.bound)
            if solved.chosen is None or not rows.broken_by(solved.chosen):
                return
            _, form = post()

    def _relax_money_of_fewest_days(self) -> None:
        """Bound the money of choices with as few days past as may be.

        Mostly so few will be found, and then this is what comes next. When it shows that there
        are none, one more day past is proven.
        """
        least = -1
        while not self._is_proven() and least < self._days:
            least = self._days
            self._relaxations.within(least)

    def _waited_for_the_other_side(self) -> bool:
        """Wait until the other side is at work, but not for ever; return whether one had to.

        It may have to compile first. With its first plans both goals are proven much sooner,
        and branch-and-cut may not hear of them for long while it is at its root. With few
        columns there is no wait.
        """
        had_to = False
        if self._mailbox.program.size <= self._timing.columns_not_waited_with:
            return had_to
        while not self._mailbox.has_heard and time.monotonic() < self._silent_until:
            time.sleep(self._timing.seconds_between_looks)
            had_to = True
        return had_to

    def _wait_for_a_good_plan(self) -> None:
        """Wait while the other side betters the plan by the second, but not for ever.

        Branch-and-cut that begins with a good plan fixes columns at its root and restarts
        smaller. With few checks there is no wait.
        """
        if len(self._mailbox.program.checks) <= self._timing.checks_not_waited_with:
            return
        self._waited_for_the_other_side()
        patience = time.monotonic() + self._timing.patience_share * self._mailbox.seconds_left
        cost, since = self._mailbox.best[1], time.monotonic()
        while (now := time.monotonic()) < patience and now - since < self._timing.settled_seconds:
            time.sleep(self._timing.seconds_between_looks)
            if self._mailbox.best[1] != cost:
                cost, since = self._mailbox.best[1], time.monotonic()

    def _find_better(self, days: int) -> None:
        """Help to find plans for a while, where neighbourhoods better them most: in hangars.

        Branch-and-cut over all columns comes to little more there in all of the time than in a part
        of it, and to the more the better the plan that it begins with. Not where the relaxation is
        far below the best plan: then most of what is left to do is proving.
        """
        mailbox, timing = self._mailbox, self._timing
        restricted, _ = self._relaxations.within(days)
        relaxation = self._relaxations.last
        chosen, (now_days, money) = mailbox.best
        if relaxation is None or now_days != days or not pays_for(mailbox.program, timing):
            return
        turnover = money_a_check(mailbox.program, chosen) * len(mailbox.program.checks)
        if money - relaxation.value > timing.most_gap_to_widen * max(abs(money), turnover):
            return
        wide = WideNeighbourhoods(mailbox, self._rows)
        wide.begin_with(restricted, relaxation.reduced_costs, days)
        seed = mailbox.task.settings.seed + PROVING_SEED
        wide.search(timing.wide_proving_share * mailbox.seconds_left, seed)

    def _may_help_to_find(self) -> bool:
        """Return whether this side finds plans, too, once the proof is at a standstill.

        Where hours are levelled: there the bounds of lanes stand still after half a minute. Not
        where wide neighbourhoods have had their time, of long plans or where days are priced:
        crossing over does nothing there.
        """
        program, timing = self._mailbox.program, self._timing
        if pays_for(program, timing):
            return False
        return program.hours.are_levelled and breeds(program, timing)

    def _bound_money(self, days: int) -> None:
        mailbox, rows = self._mailbox, self._rows
        restricted, form = self._relaxations.within(days)
        if restricted.program.hours.days is None:
            self._wait_for_a_good_plan()
            solve_promising(mailbox, rows, self._relaxations, days)
            self._find_better(days)
            restricted, form = self._relaxations.within(days)
        else:
            restricted, form = solve_supports(mailbox, self._relaxations, days)
        proven, known = -np.inf, np.inf
        lacking: dict[DaySet, None] = {}
        told, misled_at = np.inf, np.inf

        def on_bound(bound: float) -> None:
            nonlocal proven
            mailbox.flush()
            if np.isfinite(bound) and bound > proven + ROUNDING:
                proven = bound
                mailbox.tell(MoneyBound(days, proven))

        def on_choice(chosen: NDArray[np.int64]) -> None:
            nonlocal known
            lacking.update(dict.fromkeys(form.days_lacking(chosen)))
            known = min(known, restricted.program.cost(chosen)[1])
            mailbox.tell_choice(restricted.to_whole(chosen), SOURCE)

        def on_value(value: float) -> None:
            nonlocal told
            told = value

        def is_misled() -> bool:
            nonlocal misled_at
            if not lacking or told > known - MUCH_CHEAPER * max(1.0, abs(known)):
                return False
            misled_at = min(misled_at, time.monotonic())
            return time.monotonic() - misled_at > SECONDS_MISLED

        def better() -> NDArray[np.int64] | None:
            nonlocal known
            chosen, cost = mailbox.best
            if cost[0] > days or cost[1] >= known - ROUNDING:
                return None
            known = cost[1]
            return restricted.from_whole(chosen)

        standstill = Standstill(self._timing, mailbox.seconds_left)
        helps = self._may_help_to_find()

        def is_at_a_standstill() -> bool:
            # With no fewer days past to come, nothing is left to bound for others than these.
            return (
                helps
                and mailbox.best[1][0] == days <= self._days
                and standstill.is_reached(mailbox.best[1][1], proven)
            )

        listener = Listener(
            on_bound=on_bound,
            on_choice=on_choice,
            on_value=on_value,
            better=better,
            stop=lambda: mailbox.best[1][0] < days or is_misled() or is_at_a_standstill(),
        )
        while mailbox.best[1][0] >= days and mailbox.seconds_left > 0:
            start, known = restricted.from_whole(mailbox.best[0]), mailbox.best[1][1]
            if start is not None and self._relaxations.take_in(form.days_lacking(start)):
                restricted, form = self._relaxations.within(days)
            lacking.clear()
            told, misled_at = np.inf, np.inf
            solved = branch_and_cut(
                form,
                start,
                mailbox.seconds_left,
                mailbox.task.settings.gap,
                listener,
                heuristics=False,
            )
            if solved.chosen is not None:
                on_choice(solved.chosen)
            mailbox.flush(at_once=True)
            on_bound(solved.bound)
            if is_at_a_standstill():
                find_plans(mailbox, PROVING_SEED)
                return
            if solved.chosen is None:
                return
            is_broken = rows.broken_by(restricted.to_whole(solved.chosen))
            # A choice that costs more than the relaxation says breaks rows that it lacks.
            if restricted.program.hours.days is not None:
                lacks = self._relaxations.take_in(tuple(lacking))
            else:
                lacks = solved.finished and self._relaxations.take_in(
                    sets_broken_by(restricted.program, solved.chosen)
                )
            if not is_broken and not lacks:
                return
            restricted, form = self._relaxations.within(days)
