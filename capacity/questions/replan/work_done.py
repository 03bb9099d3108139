"""What was worked before today by the plan before, of the stages whose hours are levelled.

Weeks that ended before today stay as the plan before has them. Of the week of today its days
before today have done their even share: ``hours x days before today / days of the week`` on which
the stage may be worked. Stages whose hours lie evenly are none of these: they are spread over all
of their days, as before.
"""

from collections.abc import Iterator
from datetime import date
from math import fsum

from capacity.facts import Base, DoneHours, WorkDone
from capacity.plans.laid_plan import stays_of
from capacity.plans.plan import Plan
from capacity.plans.spread import days_of_week, hours_by_week
from capacity.plans.stays import LaidStage
from capacity.plans.weeks import ONE_WEEK, week_name
from capacity.plans.work_left import TOLERANCE


def work_done_of(
    plan: Plan, base: Base, begun: frozenset[str], today: date
) -> tuple[WorkDone, ...]:
    """Return what the checks that have ``begun`` had done before ``today``.

    ``plan`` is the one before, ``base`` what the workbook says now; where it has ``work_done``
    already, from a re-plan before this one, that is not done less. Of a check whose work left is
    told (``Remaining %``, ``Progress``) the past asks nothing any more; nor is anything known of a
    stage that begins on another day by now.
    """
    counts = frozenset(
        name
        for name in begun
        if base.has_check(name) and base.goes_on_from(base.check(name)) is None
    )
    known = Plan(tuple(p for p in plan.placements if p.check in counts))
    stated = {(p.check, s.stage): s for p in known.placements for s in p.stages}
    return tuple(
        WorkDone(name, stage.work.stage, stage.first, today, tuple(_done(stage, base, today)))
        for name, stay in stays_of(known, base).items()
        for stage in stay.stages
        if (name, stage.work.stage) in stated
        and stage.first == stated[name, stage.work.stage].first
        and stage.first < today
        and (stage.stated or _can_be_levelled(stage))
    )


def _can_be_levelled(stage: LaidStage) -> bool:
    return stage.work.daily_peak > 1.0 + TOLERANCE or stage.work.into_float


def _done(stage: LaidStage, base: Base, today: date) -> Iterator[DoneHours]:
    for (monday, skill), hours in sorted(hours_by_week(stage, base.first_day).items()):
        if monday >= today:
            continue
        if monday + ONE_WEEK <= today:
            yield DoneHours(skill, monday, hours)
            continue
        _, days = days_of_week(stage, base.first_day, monday)
        done = min(hours, stage.done.get((monday, skill), 0.0))
        if (by_day := _stated_before(stage, monday, skill, today)) is not None:
            yield DoneHours(skill, monday, by_day)
            continue
        share = sum(day < today for day in days) / len(days) if days else 1.0
        yield DoneHours(skill, monday, done + (hours - done) * share)


def _stated_before(stage: LaidStage, monday: date, skill: str, today: date) -> float | None:
    """Return the hours of a week that are stated of its days before today; None where none are."""
    week = week_name(monday)
    told = [one for one in stage.stated if (one.week, one.skill) == (week, skill) and one.by_day]
    if not told:
        return None
    return fsum(hours for one in told for on, hours in one.by_day if on < today)
