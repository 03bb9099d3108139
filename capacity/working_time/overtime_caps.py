"""How much overtime each rule leaves, as caps on sums over days.

A cap is a linear row: the overtime hours of one person over its days are at most its hours.
For shift length, finish of nights, rest between shifts, rest days and totals the caps are
exact: overtime after the shifts of a roster breaks such a rule, or breaks it further, when and
only when it exceeds a cap. For the rules that leave a choice of which rest to keep (after
nights, in any seven days, in a month) one choice is taken: overtime within the caps keeps
them, more might too. Rules on scheduled hours and on rows of days are not touched by overtime.
A limit that the roster itself breaks leaves no overtime that would make it worse.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from capacity.working_time.duty import ONE_DAY, Duties, DutyPeriod, hours_between
from capacity.working_time.limits import TINY, Limit, RuleSet
from capacity.working_time.month_rules import (
    FREE_HOURS,
    free_days_in_month,
    free_times,
    months_of,
)
from capacity.working_time.rest_rules import (
    is_long_run,
    nights_with_rest,
    rest_after_nights,
    rest_between_shifts,
    rest_day_block,
    rest_day_gaps,
    rest_in_any_days,
    rests_before,
)
from capacity.working_time.shift_rules import (
    latest_finish,
    night_finish,
    shift_length_with_overtime,
)
from capacity.working_time.total_rules import (
    average_weekly_hours,
    hours_in_days,
    reference_periods,
    weeks_of,
)

LONGEST_DUTY_HOURS = 24.0
"""Nobody is on duty for longer at a stretch, whatever the rules."""


@dataclass(frozen=True, slots=True)
class OvertimeCap:
    """``sum of one person's overtime over the days [first, until) <= hours``.

    ``limit`` is None where the cap is that a day has 24 hours and one duty ends before the
    next one starts.
    """

    first: date
    until: date
    hours: float
    limit: Limit | None


def overtime_caps(duties: Duties, rule_set: RuleSet) -> tuple[OvertimeCap, ...]:
    """Return all caps on overtime after the shifts of a roster; some may be slack.

    Calls on days off may be among the duties and stay as they are.

    Raises
    ------
    ValueError
        When a shift has overtime already.
    """
    if any(period.overtime_hours > 0 for period in duties.scheduled):
        raise ValueError("the caps are those of a roster without overtime")
    caps = list(_of_the_clock(duties))
    for limit in rule_set.limits:
        if limit.rule in _CAPS_OF_RULE:
            caps += _CAPS_OF_RULE[limit.rule](duties, limit)
    return tuple(caps)


def _cap(first: date, until: date, hours: float, limit: Limit | None) -> OvertimeCap:
    return OvertimeCap(first, until, max(0.0, hours), limit)


def _on(period: DutyPeriod, hours: float, limit: Limit | None) -> OvertimeCap:
    return _cap(period.day, period.day + ONE_DAY, hours, limit)


def _of_the_clock(duties: Duties) -> Iterator[OvertimeCap]:
    for period in duties.periods:
        yield _on(period, LONGEST_DUTY_HOURS - period.length_with_overtime_hours, None)
    for before, after in pairwise(duties.periods):
        yield _on(before, hours_between(before.end, after.start), None)


def _shift_length(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= number - length`` for each shift."""
    for period in duties.periods:
        yield _on(period, limit.number - period.length_with_overtime_hours, limit)


def _night_finish(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= latest finish - scheduled end`` for each night."""
    for period in duties.periods:
        if period.night:
            finish = latest_finish(period, limit.number)
            yield _on(period, hours_between(period.end, finish), limit)


def _rest_between(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= rest - number`` for each shift that another one follows."""
    for before, after in pairwise(duties.periods):
        yield _on(before, hours_between(before.end, after.start) - limit.number, limit)


def _rest_days(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= rest - number`` for each shift before rest days."""
    for gap in rest_day_gaps(duties):
        yield _on(gap.before, gap.free_hours - limit.number, limit)


def _after_nights(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= rest - number`` for the last night of each run that is a long one.

    A run that only overtime would make long is kept short, or its rest long: whichever leaves
    more.
    """
    for run, gap in nights_with_rest(duties):
        after_last = _on(gap.before, gap.free_hours - limit.number, limit)
        within = limit.over_hours - sum(night.hours for night in run)
        if is_long_run(run, limit) or after_last.hours >= within:
            yield after_last
        else:
            yield _cap(run[0].day, run[-1].day + ONE_DAY, within, limit)


def _hours_in_days(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= number - hours`` for the days that end with each duty."""
    for last in duties.periods:
        first, until = last.day - timedelta(days=limit.days - 1), last.day + ONE_DAY
        hours = sum(period.hours for period in duties.periods if first <= period.day < until)
        yield _cap(first, until, limit.number - hours, limit)


def _average_hours(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= number x weeks - hours`` for each reference period."""
    for first, until in reference_periods(duties, limit.days):
        hours = sum(period.hours for period in duties.periods if first <= period.day < until)
        yield _cap(first, until, limit.number * weeks_of(first, until) - hours, limit)


def _rest_in_days(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield caps that keep one rest of each window: that with the most to spare.

    ``overtime before it <= rest - number``, and that of the last duty, which takes the window
    along with it, ``<= end of the rest - number - start of the window``.
    """
    for index, period in enumerate(duties.periods):
        opens = period.end - timedelta(days=limit.days)
        before, first, last = max(
            rests_before(duties, index, limit), key=lambda rest: rest[2] - rest[1]
        )
        if hours_between(first, last) < limit.number - TINY:
            yield _cap(opens.date(), period.day + ONE_DAY, 0.0, limit)
            continue
        yield _on(period, hours_between(opens, last) - limit.number, limit)
        if before is not None:
            yield _on(before, hours_between(before.end, last) - limit.number, limit)


def _free_in_month(duties: Duties, limit: Limit) -> Iterator[OvertimeCap]:
    """Yield ``overtime <= rest - 24 h x free periods in it``, so that no rest loses one.

    Not in months that could lose one from every rest.
    """
    for first, until in months_of(duties):
        rests = [time for time in free_times(duties, first, until) if time.periods]
        needed = limit.number * ((until - first).days // limit.days)
        if sum(rest.periods - 1 for rest in rests) >= needed:
            continue
        for rest in rests:
            if rest.before is not None:
                spare = hours_between(rest.before.end, rest.last) - FREE_HOURS * rest.periods
                yield _on(rest.before, spare, limit)


_CAPS_OF_RULE: dict[Callable[..., object], Callable[[Duties, Limit], Iterator[OvertimeCap]]] = {
    shift_length_with_overtime: _shift_length,
    night_finish: _night_finish,
    rest_between_shifts: _rest_between,
    rest_day_block: _rest_days,
    rest_after_nights: _after_nights,
    hours_in_days: _hours_in_days,
    average_weekly_hours: _average_hours,
    rest_in_any_days: _rest_in_days,
    free_days_in_month: _free_in_month,
}
