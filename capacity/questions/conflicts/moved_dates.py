"""A check's own date moved, by as few days as undo a conflict."""

from dataclasses import replace
from datetime import timedelta
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from capacity.facts import Base, Status, last_day_of, weeks_until
from capacity.labour.calendar import Calendar
from capacity.questions.conflicts.case import Case, Found, Tried
from capacity.questions.conflicts.trials import TriedBase
from capacity.slots.candidates import Candidates
from capacity.slots.rules.changes import OwnDate
from capacity.slots.rules.period import THE_PERIOD
from capacity.slots.rules.rule import Rule
from capacity.slots.rules.windows import EARLIER, LATER, LATEST_IN, OTHER_DAY


def date_moved(case: Case, rule: Rule, which: OwnDate) -> Tried:
    """Move a date of the check that the rule is of."""
    match which:
        case OwnDate.IN_PAST_LATEST:
            return later(case, rule)
        case OwnDate.IN_BEFORE_EARLIEST:
            return earlier(case, rule)
        case OwnDate.FIXED_DAY:
            return other_day(case, rule)
        case _:
            assert_never(which)


def later(case: Case, rule: Rule) -> Tried:
    """Let a check come in past ``Latest in``, by as few days as can be.

    The base stays as it is: the days are counted as days past. Where that does not help and
    the planning period ends before the check has come in as late as it may, as many weeks
    more are planned as that takes.
    """
    any_day = replace(case.wanted, late={rule.of: case.base.longest_delay_days})
    check = case.check(rule.of)

    def later_in(base: Base) -> Tried:
        def found(trial: TriedBase, is_least: bool) -> Tried:
            days = round(trial.answer.cost)
            wanted = replace(case.wanted, late={rule.of: days})
            return case.found(LATER, rule, days, base, is_least=is_least, wanted=wanted)

        return case.least(
            rule, base, lambda c, _: c.courses.past.astype(np.float64), found, any_day
        )

    tried = later_in(case.base)
    weeks = weeks_until(last_day_of(check, case.base), case.base)
    if tried is not False or not weeks or THE_PERIOD in case.rules:
        return tried
    tried = later_in(case.base.replace(weeks=case.base.weeks + weeks))
    if not isinstance(tried, Found):
        return tried
    weeks = weeks_until(check.latest_in + timedelta(days=tried.amount), case.base)
    return later_in(case.base.replace(weeks=case.base.weeks + weeks))


def earlier(case: Case, rule: Rule) -> Tried:
    """Let a check come in before ``Earliest in``, by as few days as can be."""
    check = case.check(rule.of)
    earliest = check.earliest_in

    def before(candidates: Candidates, calendar: Calendar) -> NDArray[np.float64]:
        in_day = candidates.courses.stays.in_day
        return np.maximum(calendar.number(earliest) - in_day, 0).astype(np.float64)

    def found(trial: TriedBase, is_least: bool) -> Tried:
        days = round(trial.answer.cost)
        changed = replace(check, earliest_in=earliest - timedelta(days=days))
        base = case.with_check(changed)
        return case.found(EARLIER, rule, days, base, is_least=is_least)

    open_base = case.with_check(replace(check, earliest_in=case.base.first_day))
    return case.least(rule, open_base, before, found)


def other_day(case: Case, rule: Rule) -> Tried:
    """Fix a check on another day in the same bay, as near as can be.

    Not later than ``Longest delay days`` past ``Latest in``; than ``Latest in`` itself where
    that is in the conflict.
    """
    check, base = case.check(rule.of), case.base
    assert check.fixed_in is not None
    fixed_in = check.fixed_in
    last = max(check.latest_in + timedelta(days=base.longest_delay_days), fixed_in)
    if Rule(LATEST_IN, rule.of) in case.rules:
        last = check.latest_in
    free = replace(
        check,
        status=Status.BOOKED,
        fixed_in=None,
        earliest_in=base.first_day,
        latest_in=min(base.last_in_day, last),
    )

    def away(candidates: Candidates, calendar: Calendar) -> NDArray[np.float64]:
        in_day = candidates.courses.stays.in_day
        return np.abs(in_day - calendar.number(fixed_in)).astype(np.float64)

    def found(trial: TriedBase, is_least: bool) -> Tried:
        in_day = trial.in_day_of(rule.of)
        moved = case.with_check(replace(check, fixed_in=in_day))
        days = (in_day - fixed_in).days
        return case.found(OTHER_DAY, rule, days, moved, is_least=is_least)

    bound = replace(case.wanted, bound={rule.of: check.fixed_bay or ""})
    return case.least(rule, case.with_check(free), away, found, bound)
