"""The cheapest ways out of a conflict: single changes, each tried by solving."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from threading import Event
from typing import assert_never

from capacity.questions.conflicts.case import Case, Found, Tried
from capacity.questions.conflicts.further_bays import bays_to_add, one_bay_more
from capacity.questions.conflicts.moved_dates import date_moved
from capacity.questions.conflicts.solving import clock_of
from capacity.questions.conflicts.values import WayOut
from capacity.slots.rules.bay_days import FURTHER_BAY
from capacity.slots.rules.changes import Change, DateMoved, FewestOf, OneChange
from capacity.slots.rules.closures import CLOSES_LATER, OPEN_AGAIN, OPENS_SOONER
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.windows import OTHER_BAY

# So many other bays are told for a fixed check.
MOST_OTHER_BAYS = 2
# Share of the time in which changes are tried; the rest goes to the plans with them.
SHARE_TO_FIND, LEAST_SECONDS_A_PLAN = 0.6, 0.5
# What a search takes until it runs, and its plan to be audited.
SECONDS_TO_BEGIN = 0.7


@dataclass(frozen=True)
class Attempt:
    """A change to try for a rule."""

    change: Change
    rule: Rule
    run: Callable[[], Tried]


def ways_out(case: Case, seed: int) -> tuple[tuple[WayOut, ...], tuple[tuple[Change, Rule], ...]]:
    """Return the changes that help, ranked, and those that could not be tried to the end.

    Each is solved with all that is wanted in place and then searched for a cheap plan; both
    times it is audited.
    """
    finding = replace(case, clock=clock_of(SHARE_TO_FIND * case.clock.left, case.clock.stop))
    found: list[Found] = []
    not_tried: list[tuple[Change, Rule]] = []
    for attempt in sorted(attempts(finding), key=lambda a: a.change.turn):
        if _is_needless(attempt, found):
            continue
        tried = attempt.run() if finding.clock.left > 0 else None
        if isinstance(tried, Found):
            found.append(tried)
        elif tried is None:
            not_tried.append((attempt.change, attempt.rule))
    ways = []
    for number, way in enumerate(found):
        share = case.clock.left / (len(found) - number) - SECONDS_TO_BEGIN
        share = max(LEAST_SECONDS_A_PLAN, share)
        ways.append(_valued(way, share, seed, case.clock.stop))
    return tuple(sorted(ways, key=lambda way: way.rank)), tuple(not_tried)


def _is_needless(attempt: Attempt, found: Sequence[Found]) -> bool:
    """Return whether less than this change helps already, or enough of its kind is told."""
    shorter = {OPENS_SOONER, CLOSES_LATER}
    of_rule = [way.change for way in found if way.rule == attempt.rule]
    if attempt.change == OPEN_AGAIN:
        return any(change in shorter for change in of_rule)
    return attempt.change == OTHER_BAY and of_rule.count(OTHER_BAY) >= MOST_OTHER_BAYS


def attempts(case: Case) -> Iterator[Attempt]:
    """Yield the changes to try for the rules of the conflict."""
    for rule in case.rules:
        for change, run in _of_rule(case, rule):
            yield Attempt(change, rule, run)
    for rule, bay in bays_to_add(case):
        yield Attempt(FURTHER_BAY, rule, partial(one_bay_more, case, rule, bay))


def _of_rule(case: Case, rule: Rule) -> Iterator[tuple[Change, Callable[[], Tried]]]:
    for help_ in rule.kind.helps(rule, case.base, case.own):
        match help_:
            case OneChange():
                yield help_.change, partial(case.with_change, rule, help_)
            case FewestOf():
                yield help_.change, partial(case.with_fewest, rule, help_)
            case DateMoved():
                yield help_.change, partial(date_moved, case, rule, help_.date)
            case _:
                assert_never(help_)


def _valued(way: Found, seconds: float, seed: int, stop: Event) -> WayOut:
    made, audit, bound = way.trial.best_plan(seconds, seed, stop)
    return WayOut(
        change=way.change,
        rule=way.rule,
        amount=way.amount,
        days=way.days,
        is_least=way.is_least,
        base=way.trial.ground.base,
        plan=made,
        days_past=audit.goals.days_past_latest_in,
        money=audit.goals.money,
        bound=bound,
        bay=way.bay,
    )
