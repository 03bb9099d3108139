"""Where the man-hours of a stage may lie day by day, and what of them must lie on sets of days.

A stage that lies evenly asks the same on each of its worked days. One that is levelled asks T
hours of a skill over the days m on which it may be worked, and at most c on each: a set S of days
is asked at least ``max(0, T - c (m - days of m in S))``. Those are limits of a polymatroid over
days as ``levelling.py`` has them over weeks, so what several stages must do on S adds up.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.slots.candidates.stage_hours import (
    float_ends,
    hours_with_done,
    keeps_done,
    most_of_a_day,
)
from capacity.slots.candidates.stays import Stays
from capacity.slots.candidates.work import StageWork

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class DaysOfStage:
    """Man-hours of a stage in one stay, day by day.

    ``settled`` (days settled, skills) lie on ``settled_on`` (days settled,). The others may lie
    on ``days`` (n,), at ``most`` (skills,) on each; ``even`` (n, skills) is their even spread.
    """

    settled_on: Ints
    settled: Floats
    days: Ints
    even: Floats
    most: Floats

    def lying_evenly(self) -> "DaysOfStage":
        """Return the same of a stage that lies evenly: all of it is settled."""
        return DaysOfStage(
            settled_on=np.concatenate([self.settled_on, self.days]),
            settled=np.concatenate([self.settled, self.even]),
            days=np.empty(0, dtype=np.int64),
            even=np.empty((0, self.even.shape[1])),
            most=self.most,
        )


def days_of_stage(
    work: tuple[StageWork, ...], number: int, stay: Stays, calendar: Calendar
) -> DaysOfStage:
    """Return where the hours of a stage may lie in a single stay."""
    stage = work[number]
    if keeps_done(stage, stay.starts[:, number], calendar).all():
        found = _with_done(work, number, stay, calendar)
    else:
        first, end = int(stay.starts[0, number]), int(stay.ends[0, number])
        days = _plannable(first, int(float_ends(work, stay, number)[0]), calendar)
        share = stage.man_hours / int(stay.days[0, number])
        found = DaysOfStage(
            settled_on=np.empty(0, dtype=np.int64),
            settled=np.empty((0, len(share))),
            days=days,
            even=np.where((days < end)[:, None], share, 0.0),
            most=most_of_a_day(stage, stay.days[:, number])[0] * stage.man_hours,
        )
    return found if stage.can_be_levelled else found.lying_evenly()


def _with_done(
    work: tuple[StageWork, ...], number: int, stay: Stays, calendar: Calendar
) -> DaysOfStage:
    """Return the same where what is done of the stage counts: on the days before the rest."""
    done = work[number].done
    assert done is not None
    hours = hours_with_done(work, number, stay, calendar)
    first, end = int(stay.starts[0, number]), int(stay.ends[0, number])
    until, before = int(float_ends(work, stay, number)[0]), calendar.number(done.before)
    days = _plannable(max(first, before), max(until, before), calendar)
    is_own = days < max(end, before)
    if not is_own.any():
        is_own = np.ones_like(is_own)
    settled = np.zeros((len(calendar.worked), len(work[number].man_hours)))
    past = _plannable(first, min(until, before), calendar)
    for week in np.flatnonzero(hours.settled[0].any(axis=1)):
        on = past[calendar.week[past] == week]
        if not len(on):  # nobody was to work then: with the days that are left of the week
            on = days[calendar.week[days] == week]
        if not len(on):  # what is told to be done in a week without a day of the stage: its last
            on = np.flatnonzero(calendar.week == week)[-1:]
        settled[on] += hours.settled[0, week] / len(on)
    settled_on = np.flatnonzero(settled.any(axis=1))
    return DaysOfStage(
        settled_on=settled_on,
        settled=settled[settled_on],
        days=days,
        even=is_own[:, None] * hours.even[0].sum(axis=0) / max(1, int(is_own.sum())),
        most=hours.most[0].sum(axis=0) / max(1, int(hours.may[0].sum())),
    )


def _plannable(first: int, until: int, calendar: Calendar) -> Ints:
    """Return the worked days of ``[first, until)`` that can be planned."""
    first = max(first, calendar.first)
    days: Ints = first + np.flatnonzero(calendar.worked[first:until])
    return days


def must_lie_on(
    work: tuple[StageWork, ...],
    stays: Stays,
    calendar: Calendar,
    masks: Floats,
    skills: Ints,
) -> Floats:
    """Return the hours of a check that must lie on sets of days, shape (stays, sets).

    ``masks`` (days, sets) is 1 for the days of a set, ``skills`` (sets,) the skill that it is of,
    -1 for one that the check has no work of.
    """
    asks = skills >= 0
    plannable = calendar.worked & (np.arange(len(calendar.worked)) >= calendar.first)
    nothing = np.zeros((1, masks.shape[1]))
    in_set = np.concatenate([nothing, np.cumsum(masks * plannable[:, None], axis=0)])
    before = calendar.plannable_before
    must = np.zeros((len(stays.in_day), masks.shape[1]))
    for number, stage in enumerate(work):
        hours = np.where(asks, stage.man_hours[skills], 0.0)
        if not hours.any():
            continue
        starts, ends, days = stays.starts[:, number], stays.ends[:, number], stays.days[:, number]
        if stage.can_be_levelled:
            until = float_ends(work, stays, number)
            total = (before[ends] - before[starts]) / days
            elsewhere = before[until] - before[starts]
            elsewhere = elsewhere[:, None] - (in_set[until] - in_set[starts])
            own = total[:, None] - most_of_a_day(stage, days)[:, None] * elsewhere
            own = np.maximum(own, 0.0) * hours
        else:
            own = hours * (in_set[ends] - in_set[starts]) / days[:, None]
        for stay in np.flatnonzero(keeps_done(stage, starts, calendar)):
            own[stay] = _must_of(
                days_of_stage(work, number, stays.only(np.array([stay])), calendar),
                masks,
                np.where(asks, skills, 0),
            )
        must += np.where(asks, own, 0.0)
    return must


def _must_of(of: DaysOfStage, masks: Floats, skills: Ints) -> Floats:
    """Return the hours of one stage in one stay that must lie on sets of days, (sets,)."""
    settled = (masks[of.settled_on] * of.settled[:, skills]).sum(axis=0)
    elsewhere = len(of.days) - masks[of.days].sum(axis=0)
    total = of.even.sum(axis=0)[skills]
    must: Floats = settled + np.maximum(0.0, total - of.most[skills] * elsewhere)
    return must
