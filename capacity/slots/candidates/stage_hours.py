"""Where the man-hours of a stage lie: what is done, and what is left to be spread and levelled.

Without a re-plan nothing is done, and all of the hours h of a skill are left. In a re-plan the
hours that were worked before a day are history, for a stage that still begins on the day on which
it began. What is left of each skill, total less done, lies evenly over the worked days from that
day on, or over its float days where there are no others. A day may take what the stage may take,
or the even share of what is left where that is more: a stage that grew must still be done. If less
is asked in all than was worked, or no day is left, what was worked counts in proportion as what is
asked.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.slots.candidates.stays import Stays
from capacity.slots.candidates.work import Done, StageWork, legs_of

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
TINY = 1e-12


@dataclass(frozen=True)
class StageHours:
    """Man-hours of a stage in each of some stays, shape (stays, weeks, skills).

    ``settled`` lie where they lie; ``even`` are the others spread evenly, and ``most`` is what
    a week takes of those at the most, over its days ``may`` (stays, weeks).
    """

    settled: Floats
    even: Floats
    most: Floats
    may: Ints


def man_hours_by_week(work: tuple[StageWork, ...], stays: Stays, calendar: Calendar) -> Floats:
    """Return what the check asks, shape (stays, weeks, skills), in man-hours.

    A stage's hours are spread evenly over its worked days; days before the first plannable
    one ask nothing. What is done of it lies where it lies.
    """
    weeks = len(calendar.week_names)
    skills = len(work[0].man_hours) if work else 0
    asked = np.zeros((len(stays.in_day), weeks, skills))
    for number, stage in enumerate(work):
        starts, ends = stays.starts[:, number], stays.ends[:, number]
        days = days_in_weeks(starts, ends, calendar)
        own = (days / stays.days[:, number, None])[:, :, None] * stage.man_hours
        keeps = np.flatnonzero(keeps_done(stage, starts, calendar))
        if len(keeps):
            hours = hours_with_done(work, number, stays.only(keeps), calendar)
            own[keeps] = hours.settled + hours.even
        asked += own
    return asked


def float_ends(work: tuple[StageWork, ...], stays: Stays, stage: int) -> Ints:
    """Return one past the last day on which a stage may be worked, shape (stays,).

    Its own end; with ``into_float`` the end of its leg, or the start, if that is sooner, of a stage
    that waits for it or of one that has to be alone.
    """
    own: Ints = stays.ends[:, stage]
    if not work[stage].into_float:
        return own
    legs = legs_of(work)
    beside = [number for number, leg in enumerate(legs) if leg == legs[stage]]
    until: Ints = stays.ends[:, beside].max(axis=1)
    for number in beside:
        starts = stays.starts[:, number]
        if stage in work[number].after:
            until = np.minimum(until, starts)
        elif work[number].alone:
            until = np.where(starts >= own, np.minimum(until, starts), until)
    later: Ints = np.maximum(own, until)
    return later


def days_in_weeks(first: Ints, until: Ints, calendar: Calendar) -> Ints:
    """Return the worked days that can be planned in each week, shape (stays, weeks)."""
    edges = calendar.week_edges
    low = np.clip(edges[None, :-1], first[:, None], until[:, None])
    high = np.clip(edges[None, 1:], first[:, None], until[:, None])
    days: Ints = calendar.plannable_before[high] - calendar.plannable_before[low]
    return days


def most_of_a_day(stage: StageWork, days: Ints) -> Floats:
    """Return the most of its hours that a stage may take on one day, as a share, (stays,).

    ``days`` (stays,) are its worked days. Its heads bind all its skills alike.
    """
    by_heads = stage.day_room / max(float(stage.man_hours.sum()), TINY)
    even = 1.0 / days
    share: Floats = np.maximum(even, np.minimum(stage.daily_peak * even, by_heads))
    return share


def keeps_done(stage: StageWork, starts: Ints, calendar: Calendar) -> NDArray[np.bool_]:
    """Return in which stays what is done of a stage counts: where it ``starts`` as it did."""
    if stage.done is None:
        return np.zeros(len(starts), dtype=np.bool_)
    keeps: NDArray[np.bool_] = starts == calendar.number(stage.done.first)
    return keeps


def hours_of_stage(
    work: tuple[StageWork, ...], number: int, stays: Stays, calendar: Calendar
) -> StageHours:
    """Return where the hours of a stage lie in a single stay."""
    stage = work[number]
    if keeps_done(stage, stays.starts[:, number], calendar).all():
        return hours_with_done(work, number, stays, calendar)
    days = stays.days[:, number]
    starts, ends = stays.starts[:, number], stays.ends[:, number]
    evenly = days_in_weeks(starts, ends, calendar)
    may = days_in_weeks(starts, float_ends(work, stays, number), calendar)
    even = (evenly / days[:, None])[..., None] * stage.man_hours
    most = (may * most_of_a_day(stage, days)[:, None])[..., None] * stage.man_hours
    return StageHours(np.zeros_like(even), even, most, may)


def hours_with_done(
    work: tuple[StageWork, ...], number: int, stays: Stays, calendar: Calendar
) -> StageHours:
    """Return where the hours of a stage lie in stays in which what is done of it counts."""
    stage = work[number]
    assert stage.done is not None
    starts, ends = stays.starts[:, number], stays.ends[:, number]
    before = calendar.number(stage.done.before)
    from_day = np.maximum(starts, before)
    until = np.maximum(float_ends(work, stays, number), before)
    whole = days_in_weeks(starts, ends, calendar) / stays.days[:, number, None]
    whole = whole[..., None] * stage.man_hours
    total = whole.sum(axis=1)
    own = days_in_weeks(from_day, np.maximum(ends, before), calendar)
    may = days_in_weeks(from_day, until, calendar)
    own = np.where(own.any(axis=1, keepdims=True), own, may)
    days_left = own.sum(axis=1)[:, None]
    done = _by_week(stage.done, calendar, len(stage.man_hours))
    in_all = done.sum(axis=0)
    counts = total / np.maximum(in_all, TINY)
    counts = np.where(days_left > 0, np.minimum(counts, 1.0), counts)
    settled = counts[:, None, :] * done
    # Of what nobody has begun, and no day is left for, nothing is known but its days.
    unknown = (days_left == 0) & (in_all <= TINY)
    settled = np.where(unknown[:, None, :], whole, settled)
    left = np.where(days_left > 0, np.maximum(total - settled.sum(axis=1), 0.0), 0.0)
    share = left / np.maximum(days_left, 1)
    peak = most_of_a_day(stage, stays.days[:, number])[:, None] * stage.man_hours
    return StageHours(
        settled=settled,
        even=own[..., None] * share[:, None, :],
        most=may[..., None] * np.maximum(peak, share)[:, None, :],
        may=may,
    )


def _by_week(done: Done, calendar: Calendar, skills: int) -> Floats:
    """Return what is done of a stage, shape (weeks, skills)."""
    hours = np.zeros((len(calendar.week_names), skills))
    for number, name in enumerate(calendar.week_names):
        if name in done.hours:
            hours[number] = done.hours[name]
    return hours
