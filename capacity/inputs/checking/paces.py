"""Cross checks of how fast a stage can run: its days, and the heads that find room."""

import math
from collections.abc import Iterator

from capacity.inputs.reading.facts_from_rows import packages_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import (
    CheckRow,
    CrewRow,
    HoursRow,
    PatternRow,
    ShiftRow,
    StageRow,
)
from capacity.messages import Level, Message

HOURS_OF_A_DAY = 24.0
TOLERANCE = 1e-9  # days and heads, against the dust of divisions


def paces_lie_around_days(sheets: Sheets) -> Iterator[Message]:
    """Require Shortest days <= Days <= Longest days."""
    for stage in sheets[StageRow].rows:
        shortest, longest = stage.shortest_days, stage.longest_days
        for field, days, is_wrong, how in (
            ("shortest_days", shortest, shortest and shortest > stage.days, "above"),
            ("longest_days", longest, longest and longest < stage.days, "below"),
        ):
            if is_wrong:
                yield Message(
                    Level.ERROR,
                    sheets.at(stage, field),
                    f"{stage.heading(field)} {days} is {how} Days {stage.days}.",
                    "Correct one of the two, or clear this cell.",
                )


def heads_suffice(sheets: Sheets) -> Iterator[Message]:
    """Require room on the aircraft for all man-hours of a stage, at its shortest.

    man-hours / days <= max heads x hours of the shifts x productivity, where man-hours are
    the routine ones with the findings of the check that has most, and the shifts are those
    that some crew works, by day alone when the stage may not run by night.
    """
    plan = sheets.settings
    if plan is None or not all(sheets[model].whole for model in (CrewRow, PatternRow, ShiftRow)):
        return
    factors = _largest_factors(sheets)
    routine = {
        (package.name, stage.name): sum(stage.man_hours.values())
        for package in packages_from(sheets)
        if sheets[HoursRow].whole_for(package.name)
        for stage in package.stages
    }
    by_day, in_all = shift_hours(sheets, nights=False), shift_hours(sheets, nights=True)
    for row in sheets[StageRow].rows:
        asked = routine.get((row.package, row.stage), 0.0)
        if row.max_heads is None or not asked or not in_all:  # without any shift nobody works
            continue
        asked *= 1 + row.findings * factors.get(row.package, 1.0)
        hours = in_all if row.by_night else by_day
        if not hours:
            yield Message(
                Level.ERROR,
                sheets.at(row, "max_heads"),
                f"the stage '{row.stage}' may not run by night, and no crew has a shift by day.",
                "Correct By night of the stage, Night of a shift, or the patterns of the crews.",
            )
            continue
        of_a_head = hours * plan.productivity  # man-hours a day
        days = row.shortest_days or row.days
        enough = _up(asked / (row.max_heads * of_a_head))
        if enough > days:
            yield Message(
                Level.ERROR,
                sheets.at(row, "max_heads"),
                f"the stage '{row.stage}' has {asked / days:,.1f} man-hours a day at {days} days, "
                f"but Max heads {row.max_heads} leaves room for {row.max_heads * of_a_head:,.1f}: "
                f"{hours:g} hours of shifts at {100 * plan.productivity:g} %.",
                f"{enough} days would do in {_pace(row, enough)}, or "
                f"{_up(asked / (days * of_a_head))} heads.",
            )


def _pace(row: StageRow, days: int) -> str:
    """Return the columns to which so many days have to go."""
    if row.shortest_days is None:
        return "Days"
    return "Shortest days" if days <= row.days else "Shortest days and Days"


def _up(number: float) -> int:
    return math.ceil(number - TOLERANCE)


def _largest_factors(sheets: Sheets) -> dict[str, float]:
    """Return the largest findings factor of the checks that use each package."""
    largest: dict[str, float] = {}
    for check in sheets[CheckRow].rows:
        before = largest.get(check.package, check.findings_factor)
        largest[check.package] = max(before, check.findings_factor)
    return largest


def shift_hours(sheets: Sheets, *, nights: bool) -> float:
    """Return the hours of all shifts in the patterns of crews, a day of them at the most."""
    worked = {crew.pattern for crew in sheets[CrewRow].rows}
    names = {
        name
        for pattern in sheets[PatternRow].rows
        if pattern.pattern in worked
        for name in pattern.cycle
    }
    shifts = {shift.shift: shift for shift in sheets[ShiftRow].rows if shift.shift in names}
    hours = sum(shift.hours for shift in shifts.values() if nights or not shift.night)
    return min(HOURS_OF_A_DAY, hours)
