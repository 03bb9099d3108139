"""Rules on rest: between shifts, on rest days, after nights, and in any seven days."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from capacity.working_time.duty import Duties, DutyPeriod, follows, hours_between, night_runs
from capacity.working_time.limits import TINY, Breach, Limit, breach_if_less


@dataclass(frozen=True, slots=True)
class RosterGap:
    """The time between two periods of the roster, the later of them ``after``.

    Calls on days off split it: ``free_hours`` is the longest rest and ``before`` the duty that
    it comes after.
    """

    before: DutyPeriod
    after: DutyPeriod
    free_hours: float


def rest_between_shifts(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the shifts with ``start - end of the shift before < number`` hours."""
    periods = duties.periods
    return tuple(
        breach
        for before, after in pairwise(periods)
        for breach in breach_if_less(limit, after.day, hours_between(before.end, after.start))
    )


def rest_day_block(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the rest days of the roster with ``longest rest < number`` hours.

    Rest days are those between two shifts of the roster that do not start on the same or on
    successive days: a single one of them is no block. The day is that of the shift after.
    """
    return tuple(
        breach
        for gap in rest_day_gaps(duties)
        for breach in breach_if_less(limit, gap.after.day, gap.free_hours)
    )


def rest_after_nights(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the runs of nights with ``longest rest before the roster's next shift < number``.

    Only runs of ``more than over_nights nights`` or ``more than over_hours hours`` attended,
    with overtime. Nights called in lengthen the run and take from the rest.
    """
    return tuple(
        breach
        for run, gap in nights_with_rest(duties)
        if is_long_run(run, limit)
        for breach in breach_if_less(limit, gap.after.day, gap.free_hours)
    )


def rest_in_any_days(duties: Duties, limit: Limit) -> tuple[Breach, ...]:
    """Return the duties with ``longest rest in the days x 24 h up to their end < number``.

    Windows of just these hours that end with a duty are looked at; one ending within a rest
    could cut that rest in two and would refuse even six days on and one off.
    """
    return tuple(
        breach
        for index, period in enumerate(duties.periods)
        for breach in breach_if_less(
            limit,
            period.day,
            max(
                hours_between(first, last) for _, first, last in rests_before(duties, index, limit)
            ),
        )
    )


def rest_day_gaps(duties: Duties) -> tuple[RosterGap, ...]:
    """Return the gaps of the roster that hold a day without a shift of the roster."""
    roster = duties.scheduled
    return tuple(
        _gap(duties, before, after)
        for before, after in pairwise(roster)
        if before.day != after.day and not follows(before, after)
    )


def nights_with_rest(duties: Duties) -> Iterator[tuple[tuple[DutyPeriod, ...], RosterGap]]:
    """Return each run of nights with the gap after it; none when no shift follows.

    A run ends where its last night does, and also where the roster would have ended it: a
    night called in there has taken the rest that was due.
    """
    scheduled = duties.scheduled
    ends_of_roster = {run[-1] for run in night_runs(scheduled)}
    for run in night_runs(duties.periods):
        last_before = {
            after: night
            for night in run
            if night is run[-1] or night in ends_of_roster
            for after in [_next(scheduled, night)]
            if after is not None
        }
        for after, night in last_before.items():
            yield run, _gap(duties, night, after)


def is_long_run(run: tuple[DutyPeriod, ...], limit: Limit) -> bool:
    """Return whether a run has more nights or more hours than the limit begins with."""
    hours = sum(night.hours for night in run)
    return len(run) > limit.over_nights or hours > limit.over_hours + TINY


def rests_before(
    duties: Duties, index: int, limit: Limit
) -> Iterator[tuple[DutyPeriod | None, datetime, datetime]]:
    """Return the rests in the window that ends with a duty, each with the period before it.

    The time before the first duty is taken as free.
    """
    opens = duties.periods[index].end - timedelta(days=limit.days)
    for later in range(index, -1, -1):
        start = duties.periods[later].start
        before = duties.periods[later - 1] if later else None
        yield before, max(opens, before.end) if before else min(opens, start), start
        if before is None or before.end <= opens:
            return


def _next(scheduled: tuple[DutyPeriod, ...], night: DutyPeriod) -> DutyPeriod | None:
    return next((later for later in scheduled if later.start > night.start), None)


def _gap(duties: Duties, before: DutyPeriod, after: DutyPeriod) -> RosterGap:
    ends = [period for period in duties.periods if before.start <= period.start < after.start]
    starts = [*ends[1:], after]
    rests = [
        RosterGap(earlier, after, hours_between(earlier.end, later.start))
        for earlier, later in zip(ends, starts, strict=True)
    ]
    return max(rests, key=lambda gap: gap.free_hours)
