"""The man-hours that a plan states by week are the stage's own, within its peak and its days."""

from collections import defaultdict
from collections.abc import Iterator
from math import fsum

from capacity.facts import Base
from capacity.plans.peaks import most_of_a_day
from capacity.plans.plan import WeekHours
from capacity.plans.spread import asked_in_all, days_of_week
from capacity.plans.stays import LaidStage, Stay
from capacity.plans.week_hours import TOLERANCE
from capacity.plans.weeks import ONE_WEEK, monday_of_week, week_name
from capacity.words import counted, day


def broken(stay: Stay, base: Base) -> Iterator[str]:
    """Say which stated hours are not those of the stage, or more than its days may take.

    For each skill with man-hours h, spread evenly over n worked days::

        hours of all weeks = h x (worked days from the first day on) / n
        0 <= hours of a week <= most of a day x days in the week, its float among them

    The most of a day is ``daily_peak`` x h / n, or what heads leave room for if that is less;
    but never less than the even share. In a re-plan a week has at least what is done in it, and
    no more where it is over. What is left lies on the days that are left, the even share then
    being that of what is left over them.
    """
    for stage in stay.stages:
        if stage.stated:
            yield from _broken(stay.check.name, stage, base)


def _broken(check: str, stage: LaidStage, base: Base) -> Iterator[str]:
    does = f"{check} does {stage.work.stage}"
    by_week: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    stated: defaultdict[str, list[float]] = defaultdict(list)
    for one in stage.stated:
        by_week[one.week, one.skill].append(one.hours)
        stated[one.skill].append(one.hours)
    for skill in stated:
        if skill not in stage.work.man_hours:
            yield f"{does} with man-hours of {skill}, of which it takes none."
    for (monday, skill), hours in stage.done.items():
        week = week_name(monday)
        told = fsum(by_week[week, skill]) if (week, skill) in by_week else 0.0
        is_over = stage.left_from is not None and monday + ONE_WEEK <= stage.left_from
        if told < hours - TOLERANCE or (is_over and told > hours + TOLERANCE):
            before = "" if is_over or stage.left_from is None else f" before {day(stage.left_from)}"
            yield (
                f"{does} with {told:.2f} man-hours of {skill} in {week}, but {hours:.2f} were "
                f"done there{before}: a re-plan does not change what was worked."
            )
    for one in stage.stated:
        if one.by_day:
            yield from _beyond_a_day(does, stage, base, one)
    for (week, skill), parts in by_week.items():
        yield from _beyond_its_days(does, stage, base, week, skill, parts)
    for skill, asked in asked_in_all(stage, base.first_day).items():
        found = fsum(stated[skill])
        if abs(found - asked) > TOLERANCE:
            yield f"{does} with {found:.2f} man-hours of {skill} in all, but it takes {asked:.2f}."


def _beyond_a_day(does: str, stage: LaidStage, base: Base, stated: WeekHours) -> Iterator[str]:
    """Say whether the days that are stated of a week are not those of its hours, or take too much.

    What is done in a re-plan lies on the days before the rest, which have no peak; where a week has
    none, it lies evenly on the days that are left.
    """
    skill, week = stated.skill, stated.week
    in_all = fsum(hours for _, hours in stated.by_day)
    if abs(in_all - stated.hours) > TOLERANCE:
        yield (
            f"{does} with {stated.hours:.2f} man-hours of {skill} in {week}, but its days there "
            f"have {in_all:.2f}."
        )
    monday = monday_of_week(week)
    past, days = ((), ()) if monday is None else days_of_week(stage, base.first_day, monday)
    most = most_of_a_day(stage, skill, base)
    done = (
        0.0 if past or monday is None else stage.done.get((monday, skill), 0.0) / max(1, len(days))
    )
    for on, hours in stated.by_day:
        what = f"{does} with {hours:.2f} man-hours of {skill} on {day(on)}"
        if hours < -TOLERANCE:
            yield f"{what}."
        elif (days or past) and on not in days and on not in past:
            yield f"{what}, when it cannot be worked."
        elif on in days and hours > most + done + TOLERANCE:
            yield f"{what}, but a day may take {most + done:.2f} at the most."


def _beyond_its_days(
    does: str, stage: LaidStage, base: Base, week: str, skill: str, parts: list[float]
) -> Iterator[str]:
    """Say whether the hours of a week are negative, or more than its days may take."""
    told, monday = fsum(parts), monday_of_week(week)
    if min(parts) < -TOLERANCE:
        yield f"{does} with {min(parts):.2f} man-hours of {skill} in {week}."
        return
    done = 0.0 if monday is None else stage.done.get((monday, skill), 0.0)
    days = () if monday is None else days_of_week(stage, base.first_day, monday)[1]
    most = done + most_of_a_day(stage, skill, base) * len(days)
    if told > most + TOLERANCE:
        yield (
            f"{does} with {told:.2f} man-hours of {skill} in {week}, but its "
            f"{counted(len(days), 'day')} there may take {most:.2f} at the most."
        )
