"""The stay of a check as an earlier plan states it, so that a plan's own places are tried."""

from collections.abc import Mapping, Sequence

import numpy as np

from capacity.labour.calendar import Calendar
from capacity.plans.plan import Placement
from capacity.slots.candidates.paces_and_waits import count_of_waits, waits_of
from capacity.slots.candidates.stays import Stays, joined, lay_out
from capacity.slots.candidates.work import StageWork

# A plan's own waits are looked for among all ways to wait: at one pace on one in day.
MOST_WAITS = 2_000


def stated_stays(
    placements: Sequence[Placement],
    work: tuple[StageWork, ...],
    longest_wait: int,
    from_day: int,
    calendar: Calendar,
    rates: Mapping[str, float],
) -> Stays | None:
    """Return the stay with the stated in day, days of stages and out day.

    None when the stages that are left to do cannot be run so. ``placements`` are those of one
    check, in order of in day.
    """
    stated = {stage.stage: stage for placement in placements for stage in placement.stages}
    in_day = calendar.number(placements[0].in_day)
    out_day = calendar.number(placements[-1].out_day)
    if set(stated) != {stage.name for stage in work} or not 0 <= in_day <= out_day:
        return None
    if out_day > len(calendar.worked) or count_of_waits(work, longest_wait) > MOST_WAITS:
        return None
    spans = [stated[stage.name] for stage in work]
    first = np.array([calendar.number(span.first) for span in spans], dtype=np.int64)
    until = np.array([calendar.number(span.until) for span in spans], dtype=np.int64)
    if not ((in_day <= first) & (first <= until) & (until <= out_day)).all():
        return None
    pace = tuple(int(n) for n in calendar.worked_before[until] - calendar.worked_before[first])
    if any(not s.shortest <= n <= s.longest for s, n in zip(work, pace, strict=True)):
        return None
    ways = waits_of(work, longest_wait)
    day = np.array([in_day], dtype=np.int64)
    stays = joined([lay_out(work, pace, day, from_day, calendar, rates, way) for way in ways])
    alike = (stays.starts == first).all(axis=1) & (stays.ends == until).all(axis=1)
    return stays.only(alike & (stays.out_day == out_day))
