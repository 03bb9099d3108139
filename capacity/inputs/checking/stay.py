"""When a fixed check does what, in plain dates: only to see what it would collide with.

Its bay and its in day stand; at which pace it is run, and how long it waits for a further bay,
or for its turn at a shop, is chosen later. So only that is said here which no such choice
changes.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

import holidays

from capacity.facts import Stage
from capacity.inputs.checking.work_left import WorkLeft
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CalendarRow, Settings

ONE_DAY = timedelta(days=1)

WorksOn = Callable[[date], bool]


def works_on(settings: Settings, sheets: Sheets) -> WorksOn:
    """Return whether the base works on a day: as its own calendar says, else as is usual."""
    usual, rows = usual_days(settings), sheets[CalendarRow].rows
    own = [row for row in rows if row.worked is not None]

    def works(day: date) -> bool:
        said = next((row.worked for row in own if row.first <= day <= row.last), None)
        return usual(day) if said is None else said

    return works if own else usual


def usual_days(settings: Settings) -> WorksOn:
    """Return whether a day is a working weekday that is no holiday."""
    place = settings.holidays
    closed = holidays_of(place) if place else {}
    return lambda day: day.weekday() in settings.working_days and day not in closed


def holidays_of(place: str) -> holidays.HolidayBase:
    """Return the holidays of ``country`` or ``country-subdivision``, named in English."""
    country, _, subdivision = place.partition("-")
    return holidays.country_holidays(country, subdiv=subdivision or None, language="en_US")


@dataclass(frozen=True, slots=True)
class Loop:
    """Items at a shop for ``days`` worked days, if it has nothing else to do.

    They leave at the end of the stage ``leave_at`` and are wanted for ``back_for``.
    """

    leave_at: str
    back_for: str
    days: int


@dataclass(frozen=True, slots=True)
class LaidStage:
    """A stage under way over ``[first, until)``, days off included.

    When a choice can move it, so that it is not ``certain``, no choice makes it earlier.
    """

    stage: Stage
    first: date
    until: date
    certain: bool

    def meets(self, first: date, until: date) -> bool:
        """Whether it is under way on a day of ``[first, until)``."""
        return self.first < until and first < self.until


@dataclass(frozen=True, slots=True)
class Course:
    """What of a check no choice changes.

    It is in its first bay until ``leaves`` at the least; ``leaves_then`` when it leaves on
    that day whatever is chosen. ``stages`` are those whose days stand. ``out_day`` is the
    day on which it leaves the base, None when a choice can move it.
    """

    stages: tuple[LaidStage, ...]
    leaves: date
    leaves_then: bool
    out_day: date | None


def lay_out(
    left: WorkLeft,
    begin: date,
    works: WorksOn,
    *,
    bay_work: Collection[str],
    loops: Collection[Loop] = (),
    ready: Mapping[str, date] | None = None,
    longest_wait: int,
    leaves_on_days_off: bool = True,
) -> Course:
    """Return what is certain of a check whose work starts on ``begin``.

    Without ``leaves_on_days_off`` it moves and leaves on worked days only.

    ``bay_work`` are the kinds of work done in its bay, the first of the check among them, unless
    it only stands there until it moves: then nothing is certain but that it is there. A leg in
    which the bay does the work starts when all stages before it have ended; one for
    which the aircraft moves, up to ``longest_wait`` days later, and so do all after it. A
    stage starts when those it waits for have ended, its items are back and the day is there on
    which it is ``ready``; one that waits
    for items can start up to ``longest_wait`` days later. It lasts its shortest days at the
    least, and its days are certain when those are its longest too. It goes past any stage laid out
    before it that it would meet when one of the two has to be alone. Where such a stage may
    wait itself it is left out of account, since it can let the other go first: so the days
    of stages that are not certain are bounds from below.
    """
    laid: dict[str, LaidStage] = {}
    leg_begin, certain = begin, True
    leaves: tuple[date, bool] | None = None
    if left.moves_first(bay_work):
        leaves, certain = (begin, False), False

    def moves(day: date) -> date:
        return day if leaves_on_days_off else _next(day, works)

    for kind, leg in groupby(left.stages, key=lambda stage: stage.work):
        if laid and leaves is None and kind not in bay_work:
            leaves = (moves(leg_begin), certain and longest_wait == 0)
        # In which bay it is after a move is chosen later, and so whether it moves again.
        leg_is_certain = certain and (leaves is None or longest_wait == 0)
        for stage in leg:
            waits = stage.name not in left.begun
            asked = [loop for loop in loops if waits and loop.back_for == stage.name]
            not_before = (ready or {}).get(stage.name, begin) if waits else begin
            opens = max(leg_begin, not_before)
            done = _lay(stage, laid, opens, asked, begin, works, left.over_on)
            turns = bool(asked and longest_wait)
            sure = leg_is_certain and done.certain and not turns and not _has_paces(stage)
            laid[stage.name] = LaidStage(stage, done.first, done.until, sure)
        certain = all(stage.certain for stage in laid.values())
        leg_begin = max(stage.until for stage in laid.values())
    stages = tuple(stage for stage in laid.values() if stage.certain)
    out_day = moves(leg_begin)
    return Course(stages, *(leaves or (out_day, certain)), out_day if certain else None)


def _lay(
    stage: Stage,
    laid: dict[str, LaidStage],
    leg_begin: date,
    loops: Collection[Loop],
    begin: date,
    works: WorksOn,
    over_on: Mapping[str, date],
) -> LaidStage:
    """Return the earliest days of a stage; certain when those are that it depends on.

    Items of a stage that is done left on the day by which it was, where that is told, and leave
    else when the work that is left starts.
    """
    before = [laid[name] for name in stage.after if name in laid]
    left = [
        laid[loop.leave_at].until
        if loop.leave_at in laid
        else min(begin, over_on.get(loop.leave_at, begin))
        for loop in loops
    ]
    back = [_end(day, loop.days, works) for day, loop in zip(left, loops, strict=True)]
    apart = [other for other in laid.values() if stage.alone or other.stage.alone]
    stand = [other for other in apart if other.certain]
    first = _next(max([leg_begin, *(other.until for other in before), *back]), works)
    days = stage.shortest_days or stage.days
    until = _end(first, days, works)
    while met := next((other for other in stand if other.meets(first, until)), None):
        first = _next(met.until, works)
        until = _end(first, days, works)
    return LaidStage(stage, first, until, all(other.certain for other in (*before, *apart)))


def _next(day: date, works: WorksOn) -> date:
    """Return the first worked day from ``day`` on: a stage begins when somebody works."""
    return _end(day, 1, works) - ONE_DAY


def _has_paces(stage: Stage) -> bool:
    """Return whether a stage may take one of several numbers of days."""
    return (stage.shortest_days or stage.days) < (stage.longest_days or stage.days)


def _end(begin: date, days: int, works: WorksOn) -> date:
    """Return the day after the last of so many worked days, counted from ``begin`` on."""
    day = begin
    while True:
        if works(day):
            days -= 1
        day += ONE_DAY
        if days <= 0:
            return day
