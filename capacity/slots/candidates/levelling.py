"""How far the man-hours of stages can be levelled: what a week may take, what may be put off.

A stage's hours h of one skill lie evenly over its worked days unless something is gained by
another spread. Let m[w] be the days of week w on which it may be worked, its float among them, D[w]
the even share up to the end of week w, T that of all weeks, and c the most of a day, all as shares
of h. Hours y[w] of the weeks are possible when ``0 <= y[w] <= c m[w] h`` and they add up to T h.
Such vectors are the bases of a polymatroid with rank R(S) = h min(T, c m(S)) for sets S of weeks,
and the sums of one vector a stage are the bases of the sum of the ranks (McDiarmid 1975,
Rado's theorem for polymatroids - from memory). So what several stages can do together is told by
adding up their limits, whoever's hours they are:

* ``put off`` to a later week, across the end of week w:    D[w] - max(0, T - c m(later weeks))
* ``brought forward`` to this week or an earlier one:       min(T, c m(weeks up to w)) - D[w]
* ``more`` in week w than evenly:                           min(T, c m[w]) - d[w]
* ``less`` in week w than evenly:                           d[w] - max(0, T - c m(other weeks))

each times h, and the last two for pairs of weeks. They are a relaxation: sets of weeks that do not
touch have limits of their own, which bind once stages of three weeks and more are mixed. So bounds
come from these limits, and what a choice costs from each stage by itself
(``slots/program/spread_load.py``).

In a re-plan T and D are of the hours that are left to do (``stage_hours.py``): what is done moves
nowhere.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from capacity.labour.calendar import Calendar
from capacity.slots.candidates.stage_hours import (
    days_in_weeks,
    float_ends,
    hours_with_done,
    keeps_done,
    most_of_a_day,
)
from capacity.slots.candidates.stays import Stays
from capacity.slots.candidates.work import StageWork

Floats = NDArray[np.float64]

LATER, EARLIER, MORE, LESS, MORE_OF_TWO, LESS_OF_TWO = range(6)
LIMITS = 6
"""How many limits there are; the last two are those of a week and the next one together."""
TINY = 1e-12


def can_level(works: Sequence[tuple[StageWork, ...]]) -> bool:
    """Return whether any stage of any check can be spread otherwise than evenly."""
    return any(stage.can_be_levelled for work in works for stage in work)


def limits_by_week(work: tuple[StageWork, ...], stays: Stays, calendar: Calendar) -> Floats:
    """Return the limits of levelling, shape (limits, stays, weeks, skills), in man-hours."""
    weeks, skills = len(calendar.week_names), len(work[0].man_hours) if work else 0
    limits = np.zeros((LIMITS, len(stays.in_day), weeks, skills))
    for number, stage in enumerate(work):
        if not stage.can_be_levelled:
            continue
        days = stays.days[:, number]
        until = float_ends(work, stays, number)
        evenly = days_in_weeks(stays.starts[:, number], stays.ends[:, number], calendar)
        may = days_in_weeks(stays.starts[:, number], until, calendar)
        share = shares_of(evenly / days[:, None], may * most_of_a_day(stage, days)[:, None])
        own = share[..., None] * stage.man_hours
        keeps = np.flatnonzero(keeps_done(stage, stays.starts[:, number], calendar))
        if len(keeps):
            left = hours_with_done(work, number, stays.only(keeps), calendar)
            own[:, keeps] = np.stack(
                [shares_of(left.even[..., n], left.most[..., n]) for n in range(skills)], axis=-1
            )
        limits += own
    return np.where(limits > TINY, limits, 0.0)


def less_of_sets(
    work: tuple[StageWork, ...],
    stays: Stays,
    calendar: Calendar,
    masks: Floats,
    skills: NDArray[np.int64],
) -> Floats:
    """Return by how much a check can ask less of sets of weeks than evenly, (stays, sets).

    ``masks`` (weeks, sets) is 1 for the weeks of a set, ``skills`` (sets,) the skill that it is of,
    -1 for one that the check has no work of.
    """
    less = np.zeros((len(stays.in_day), masks.shape[1]))
    asks = skills >= 0
    for number, stage in enumerate(work):
        if not stage.can_be_levelled:
            continue
        days = stays.days[:, number]
        evenly = days_in_weeks(stays.starts[:, number], stays.ends[:, number], calendar)
        until = float_ends(work, stays, number)
        may = days_in_weeks(stays.starts[:, number], until, calendar)
        share = _less(evenly / days[:, None], may * most_of_a_day(stage, days)[:, None], masks)
        own = share * np.where(asks, stage.man_hours[skills], 0.0)
        keeps = np.flatnonzero(keeps_done(stage, stays.starts[:, number], calendar))
        if len(keeps):
            left = hours_with_done(work, number, stays.only(keeps), calendar)
            for place in np.flatnonzero(asks):
                even, most = left.even[..., skills[place]], left.most[..., skills[place]]
                own[keeps, place] = _less(even, most, masks[:, [place]])[:, 0]
        less += own
    return np.maximum(less, 0.0)


def _less(even: Floats, most: Floats, masks: Floats) -> Floats:
    """Return ``even[S] - max(0, T - most[all but S])`` of each set, (stays, sets)."""
    others = most.sum(axis=1, keepdims=True) - most @ masks
    least = np.maximum(0.0, even.sum(axis=1, keepdims=True) - others)
    less: Floats = even @ masks - least
    return less


def shares_of(even: Floats, most: Floats) -> Floats:
    """Return the limits as shares of a stage's hours, shape (limits, stays, weeks).

    ``even`` and ``most`` (stays, weeks) are the even share and the most of each week.
    """
    total = even.sum(axis=1, keepdims=True)
    in_all = most.sum(axis=1, keepdims=True)
    so_far, most_so_far = np.cumsum(even, axis=1), np.cumsum(most, axis=1)
    two, most_of_two = _with_next(even), _with_next(most)
    return np.stack(
        [
            so_far - np.maximum(0.0, total - (in_all - most_so_far)),
            np.minimum(total, most_so_far) - so_far,
            np.minimum(total, most) - even,
            even - np.maximum(0.0, total - (in_all - most)),
            np.minimum(total, most_of_two) - two,
            two - np.maximum(0.0, total - (in_all - most_of_two)),
        ]
    )


def _with_next(weeks: Floats) -> Floats:
    """Return each week with the one behind it added, the last one alone."""
    both = weeks.copy()
    both[:, :-1] += weeks[:, 1:]
    return both
