"""What is wrong with a plan, item by item, the worst first.

The order is that of how a plan is valued: checks with no slot, then days past ``Latest in``, then
what is late out or overloaded, by its cost. Behind these stands what may still go wrong: work
that takes more than planned, late parts, options that lapse.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from capacity.facts import Base
from capacity.plans.earned_value import Earned, earned_by_check
from capacity.plans.waiting import waiting_in
from capacity.reports.plan.messages import (
    DECIDE,
    EARLIER,
    FEWER_HOURS,
    at_sheet,
    lapse_soon,
    lapses_in_words,
    slot_remedy,
)
from capacity.reports.plan.progress_words import (
    FEW_HOURS,
    HOURS_TO_GO,
    MORE_THAN,
    counts_too_little,
    factor,
)
from capacity.reports.plan.view import View
from capacity.reports.plan.waiting_words import WHAT_IT_COSTS
from capacity.reports.plan.wording import is_over
from capacity.words import day, days, hours, money, week_dates

LATER_OUT = "Agree on a later day; capacity explain --check says what helps."
GROWN = "The plan counts them; agree them with the customer."


@dataclass(frozen=True, slots=True)
class Concern:
    """One thing that is wrong: ``what``, ``how_much`` and ``what_to_do`` are words to read.

    It is about a ``check``, or about a ``week`` of a ``skill``; the others are None.
    """

    what: str
    how_much: str
    what_to_do: str
    check: str | None = None
    week: str | None = None
    skill: str | None = None

    @property
    def about(self) -> str:
        """The check, or the skill and its week, as people read it."""
        if self.check is not None:
            return self.check
        return f"{self.skill}, {self.week}"


Ranked = tuple[int, float, Concern]
"""A concern behind its rank, and within that how little it weighs."""


def concerns_of(view: View) -> tuple[Concern, ...]:
    """Return all that is wrong with the plan of a view, the worst first."""
    found = [
        *_without_slot(view),
        *_past_latest_in(view),
        *_late_out(view),
        *_overloaded(view),
        *_behind(view.base),
        *_waiting(view),
        *_lapsing(view.base),
    ]
    return tuple(concern for *_, concern in sorted(found, key=lambda one: one[:2]))


def _without_slot(view: View) -> Iterator[Ranked]:
    base = view.base
    for name in filter(base.has_check, view.outcome.plan.not_placed):
        remedy = slot_remedy(base.check(name), base, at_sheet)
        much = f"counts as {days(base.longest_delay_days + 1)} past Latest in"
        yield 0, 0.0, Concern("no slot", much, remedy, name)


def _past_latest_in(view: View) -> Iterator[Ranked]:
    for name, account in view.accounts.items():
        past = account.days_past_latest_in
        if past:
            much = f"{days(past)}, in on {day(account.in_day)}"
            yield 1, -past, Concern("past Latest in", much, EARLIER, name)


def _late_out(view: View) -> Iterator[Ranked]:
    for name, account in view.accounts.items():
        if account.late_days:
            much = f"{days(account.late_days)}, {money(account.late_money, view.base)}"
            # Of those that cost nothing the latest first; a day weighs less than any cost.
            weight = account.late_money + account.late_days / 1e6
            yield 2, -weight, Concern("late out", much, LATER_OUT, name)


def _overloaded(view: View) -> Iterator[Ranked]:
    for load in filter(is_over, view.outcome.audit.weeks):
        much = f"{hours(load.overload)}, week from {day(week_dates(load.week)[0])}"
        concern = Concern("overload", much, FEWER_HOURS, week=load.week, skill=load.skill)
        yield 2, -load.overload * view.base.overload_cost, concern


def _behind(base: Base) -> Iterator[Ranked]:
    """Give the checks whose work takes more than is planned, each once."""
    for name, lines in earned_by_check(base).items():
        too_little = [line for line in lines if counts_too_little(line)]
        if too_little:
            line = max(too_little, key=_hours_missing)
            of_stage = "" if line.stage is None else f"{line.stage}: "
            much = (
                f"{of_stage}{hours(line.to_go_at_factor or 0.0)} to go at a performance factor of "
                f"{factor(line)}; the plan counts {hours(line.to_go)}"
            )
            concern = Concern("progress behind", much, HOURS_TO_GO, name)
            yield 3, -_hours_missing(line), concern
        elif _has_grown(lines[-1]):
            grown = lines[-1].grown or 0.0
            told = factor(lines[-1])
            much = f"{hours(grown)}{f', performance factor {told}' if told else ''}"
            yield 3, -grown, Concern("more hours than planned", much, GROWN, name)


def _hours_missing(line: Earned) -> float:
    return (line.to_go_at_factor or 0.0) - line.to_go


def _has_grown(line: Earned) -> bool:
    """Return whether a check that is not done takes a tenth more, and more than a shift's hours."""
    grown = line.grown or 0.0
    return line.to_go > 0 and grown > max((MORE_THAN - 1) * line.planned, FEW_HOURS)


def _waiting(view: View) -> Iterator[Ranked]:
    for line in waiting_in(view.outcome.plan, view.base):
        if line.longer:
            reason = f" ({line.ready.reason})" if line.ready.reason else ""
            much = (
                f"{line.ready.stage} not before {day(line.ready.not_before)}{reason}: out "
                f"{days(line.longer)} later"
            )
            yield 4, -line.longer, Concern("waits", much, WHAT_IT_COSTS, line.ready.check)


def _lapsing(base: Base) -> Iterator[Ranked]:
    for check, left in lapse_soon(base):
        much = lapses_in_words(check.decide_by, left)
        yield 5, left, Concern("option lapses", much, DECIDE, check.name)
