"""The side that proves: bounds from the relaxation first, then from branch-and-cut."""

import time
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from capacity.slots.engines.highs import SOURCE, Listener, Relaxation, branch_and_cut, relaxed
from capacity.slots.finding.cooling import money_a_check
from capacity.slots.finding.wide_neighbourhoods import WideNeighbourhoods, pays_for
from capacity.slots.line.mailbox import Mailbox
from capacity.slots.line.reports import ROUNDING, DaysBound, MoneyBound
from capacity.slots.program.day_sets import day_sets_broken_at
from capacity.slots.program.day_strands import DaySet
from capacity.slots.program.dominated_columns import undominated
from capacity.slots.program.lazy_rows import LazyRows
from capacity.slots.program.linear_form import LinearForm, days_form, money_form
from capacity.slots.program.program import Program, Restricted
from capacity.slots.program.strands import WeekSet
from capacity.slots.program.week_sets import sets_broken_at, sets_broken_by
from capacity.slots.proving.promising_columns import Promising

# Rows for sets of weeks are taken in at the relaxation while they raise it by such a share.
LEAST_RISE = 2e-4
# Those for sets of days, which come in dozens, while they raise it by more.
LEAST_RISE_BY_DAY = 3e-3
# Branch-and-cut ends for the rows that a choice lacks if it takes it for cheaper by such a share
# than the best known: it could prove no more than that. It may find others for so long before.
MUCH_CHEAPER, SECONDS_MISLED = 1e-3, 2.0
# How often the columns that relaxations took are solved by themselves, and how exactly.
MOST_SUPPORTS, SUPPORT_GAP = 8, 1e-4
TAKEN = 1e-6
# What is added to the seed of the search where this side draws by chance: not what the other draws.
PROVING_SEED = 500_000

# Columns of the whole, and the linear form over them.
Posted = tuple[Restricted, LinearForm]


def prove(mailbox: Mailbox) -> None:
    """Bound goal 1, then the money of all choices that are as good in goal 1."""
    ProvingSide(mailbox).prove()


class ProvingSide:
    """Bounds goal 1 and the money, and keeps the money's last form, as it is asked for again."""

    def __init__(self, mailbox: Mailbox) -> None:
        """Begin with nothing proven and without the rows that seldom bind."""
        self._mailbox, self._timing = mailbox, mailbox.task.settings.search
        self._rows = LazyRows(mailbox.program, self._timing)
        self._days = mailbox.program.settled_past
        self._silent_until = time.monotonic() + self._timing.silence_share * mailbox.seconds_left
        self._last_form: tuple[int, Program, int, Posted] | None = None
        self._relaxation: Relaxation | None = None
        self._sets: tuple[WeekSet | DaySet, ...] = ()
        self._relaxed_at: float | None = None
        self._support = np.zeros(mailbox.program.size, dtype=np.bool_)

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
        (_, form), _ = _bound_by_relaxations(rows, post, self._on_days_bound)
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
            self._relax_money(least)

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

    def _relax_money(self, days: int) -> Posted:
        """Bound the money of choices with at most ``days`` past; return their form."""
        rows = self._rows
        if self._last_form is not None:
            of_days, of_program, of_sets, posted = self._last_form
            if of_days == days and of_program is rows.program and of_sets == len(self._sets):
                return posted

        def post() -> Posted:
            if rows.program.hours.days is not None:
                # Rows of any plan hold for all; those of a good one are most of what is wanted.
                self._take_in(sets_broken_by(rows.program, self._mailbox.best[0]))
            restricted = undominated(rows.within(days), rows.program.size)
            return restricted, money_form(restricted.program, self._sets)

        def on_bound(bound: float) -> None:
            if np.isfinite(bound):
                self._mailbox.tell(MoneyBound(days, bound))
            else:
                self._on_days_bound(days + 1.0)

        self._relaxed_at = None
        posted, self._relaxation = _bound_by_relaxations(
            rows, post, on_bound, self._take_in_sets_at
        )
        self._last_form = days, rows.program, len(self._sets), posted
        return posted

    def _take_in_sets_at(self, posted: Posted, value: float, entries: NDArray[np.float64]) -> bool:
        """Take in the sets of weeks that a relaxation breaks, as long as that raises its value."""
        restricted, form = posted
        if not restricted.program.hours.are_levelled:
            return False
        self._support[restricted.number[entries[: restricted.program.size] > TAKEN]] = True
        before, self._relaxed_at = self._relaxed_at, value
        counts_days = restricted.program.hours.days is not None
        least = LEAST_RISE_BY_DAY if counts_days else LEAST_RISE
        if before is not None and value - before < least * max(1.0, abs(value)):
            return False
        program, weights = restricted.program, entries[: restricted.program.size]
        if program.hours.days is not None:
            return self._take_in(day_sets_broken_at(program, weights, form.bought_by(entries)))
        return self._take_in(sets_broken_at(program, weights, form.asked_by(entries)))

    def _solve_supports(self, days: int) -> Posted:
        """Solve the program over the columns that relaxations took, where days are priced.

        It is small, so rows of days that its best choices lack are soon found, and good plans with
        them. Returns the form with these rows.
        """
        mailbox = self._mailbox
        until = time.monotonic() + self._timing.supports_share * mailbox.seconds_left
        for _ in range(MOST_SUPPORTS):
            restricted, form = self._relax_money(days)
            left = until - time.monotonic()
            if restricted.program.hours.days is None or left <= 0:
                break
            best = restricted.from_whole(mailbox.best[0])
            columns = self._support[restricted.number]
            if best is not None:
                columns[best[best >= 0]] = True
            small = restricted.program.restricted_to(columns)
            found: list[NDArray[np.int64]] = []
            solved = branch_and_cut(
                money_form(small.program, self._sets),
                None if best is None else small.from_whole(best),
                left,
                SUPPORT_GAP,
                Listener(on_choice=found.append, stop=lambda: mailbox.best[1][0] < days),
            )
            if solved.chosen is not None:
                found.append(solved.chosen)
            known, lacking = mailbox.best[1], dict[DaySet, None]()
            for chosen in found:
                whole = small.to_whole(chosen)
                lacking.update(dict.fromkeys(form.days_lacking(whole)))
                mailbox.tell_choice(restricted.to_whole(whole), SOURCE)
            mailbox.flush(at_once=True)
            if not self._take_in(tuple(lacking)) and mailbox.best[1] == known:
                break
        return self._relax_money(days)

    def _solve_promising(self, days: int) -> None:
        """Solve the program over ever more of its promising columns, where it has many.

        Not of long plans, which annealing comes to better ones of: all time is for their bound.
        Rows that the best choices of these lack are taken in.
        """
        mailbox, timing = self._mailbox, self._timing
        until = time.monotonic() + timing.promising_share * mailbox.seconds_left
        count = timing.promising_columns
        while True:
            restricted, _ = self._relax_money(days)
            relaxation, known, left = self._relaxation, mailbox.best, until - time.monotonic()
            is_few = count * timing.promising_growth >= restricted.program.size
            is_long = len(restricted.program.checks) > timing.most_checks_without_windows
            if relaxation is None or is_few or is_long or left <= 0 or known[1][0] < days:
                return
            best = restricted.from_whole(known[0])
            promising = Promising.of(restricted.program, relaxation, count, best)
            small = promising.restricted
            solved = branch_and_cut(
                money_form(small.program, self._sets),
                None if best is None else small.from_whole(best),
                left,
                mailbox.task.settings.gap,
                self._listening_for(restricted, small, days),
            )
            bound = promising.bound(solved.bound)
            if np.isfinite(bound):
                mailbox.tell(MoneyBound(days, bound))
            lacks = False
            if solved.chosen is not None:
                chosen = small.to_whole(solved.chosen)
                whole = restricted.to_whole(chosen)
                mailbox.tell_choice(whole, SOURCE)
                lacks = self._rows.broken_by(whole)
                lacks |= solved.finished and self._take_in(
                    sets_broken_by(restricted.program, chosen)
                )
            mailbox.flush(at_once=True)
            if not (lacks or solved.finished):
                return
            if not lacks:
                count = int(count * timing.promising_growth)

    def _find_better(self, days: int) -> None:
        """Help to find plans for a while, where neighbourhoods better them most: in hangars.

        Branch-and-cut over all columns comes to little more there in all of the time than in a part
        of it, and to the more the better the plan that it begins with. Not where the relaxation is
        far below the best plan: then most of what is left to do is proving.
        """
        mailbox, timing = self._mailbox, self._timing
        restricted, _ = self._relax_money(days)
        relaxation = self._relaxation
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

    def _listening_for(self, restricted: Restricted, small: Restricted, days: int) -> Listener:
        mailbox = self._mailbox

        def on_choice(chosen: NDArray[np.int64]) -> None:
            mailbox.tell_choice(restricted.to_whole(small.to_whole(chosen)), SOURCE)

        return Listener(
            on_bound=lambda bound: mailbox.flush(),
            on_choice=on_choice,
            stop=lambda: mailbox.best[1][0] < days,
        )

    def _take_in(self, sets: tuple[WeekSet | DaySet, ...]) -> bool:
        more = tuple(one for one in sets if one not in self._sets)
        self._sets = (*self._sets, *more)
        return bool(more)

    def _bound_money(self, days: int) -> None:
        mailbox, rows = self._mailbox, self._rows
        restricted, form = self._relax_money(days)
        if restricted.program.hours.days is None:
            self._wait_for_a_good_plan()
            self._solve_promising(days)
            self._find_better(days)
            restricted, form = self._relax_money(days)
        else:
            restricted, form = self._solve_supports(days)
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

        listener = Listener(
            on_bound=on_bound,
            on_choice=on_choice,
            on_value=on_value,
            better=better,
            stop=lambda: mailbox.best[1][0] < days or is_misled(),
        )
        while mailbox.best[1][0] >= days and mailbox.seconds_left > 0:
            start, known = restricted.from_whole(mailbox.best[0]), mailbox.best[1][1]
            if start is not None and self._take_in(form.days_lacking(start)):
                restricted, form = self._relax_money(days)
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
            if solved.chosen is None:
                return
            is_broken = rows.broken_by(restricted.to_whole(solved.chosen))
            # A choice that costs more than the relaxation says breaks rows that it lacks.
            if restricted.program.hours.days is not None:
                lacks = self._take_in(tuple(lacking))
            else:
                lacks = solved.finished and self._take_in(
                    sets_broken_by(restricted.program, solved.chosen)
                )
            if not is_broken and not lacks:
                return
            restricted, form = self._relax_money(days)


def _bound_by_relaxations(
    rows: LazyRows,
    post: Callable[[], Posted],
    on_bound: Callable[[float], None],
    take_in_more: Callable[[Posted, float, NDArray[np.float64]], bool] | None = None,
) -> tuple[Posted, Relaxation | None]:
    """Tell the relaxation's optimum; take in the rows that it breaks, and again.

    The optimum is inf when there is no solution. ``post`` makes the form over the rows taken in
    so far; the last one made is returned, and its relaxation. Once none of those is broken,
    ``take_in_more`` may take in others, by the optimum and its entries.
    """
    while True:
        restricted, form = posted = post()
        if (found := relaxed(form)) is None:
            on_bound(np.inf)
            return posted, None
        on_bound(found.value)
        if rows.broken_by_weights(restricted.number, found.entries[: restricted.program.size]):
            continue
        if take_in_more is None or not take_in_more(posted, found.value, found.entries):
            return posted, found
