"""Cross checks of the days before which stages cannot start."""

from collections.abc import Iterator
from datetime import date, timedelta

from capacity.inputs.checking.extra_stages import stages_of_check
from capacity.inputs.checking.work_left import work_left
from capacity.inputs.reading.facts_from_rows import ready_dates_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow, ReadyRow
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.words import day

FURTHEST = timedelta(days=366)
"""A Ready date so far behind the last in day is a mistyped year, most likely. A judgement."""


def ready_by_check(sheets: Sheets) -> dict[str, dict[str, date]]:
    """Return the day on which each stage is ready, the latest of its rows, by check and stage."""
    found: dict[str, dict[str, date]] = {}
    for row in ready_dates_from(sheets):
        of_check = found.setdefault(row.check, {})
        of_check[row.stage] = max(row.not_before, of_check.get(row.stage, row.not_before))
    return found


def ready_dates_name_stages(sheets: Sheets) -> Iterator[Message]:
    """Require that ``Stage`` is one of the check's package, and no row is there twice."""
    checks = {check.check: check for check in sheets[CheckRow].rows}
    known = stages_of_check(sheets)
    first: dict[tuple[object, ...], int] = {}
    for row in sheets[ReadyRow].rows:
        check = checks.get(row.check)
        stages = known.get(row.check)
        if check and stages and row.stage not in stages:
            yield Message(
                Level.ERROR,
                sheets.at(row, "stage"),
                f"'{row.stage}' is not a stage of '{check.package}', the package of '{row.check}'.",
                suggest(row.stage, stages, "the package"),
            )
        before = first.setdefault((row.check, row.stage, row.not_before, row.reason), row.row)
        if before != row.row:
            yield Message(
                Level.ERROR,
                sheets.at(row, "check"),
                f"the Ready date of '{row.stage}' of '{row.check}' is here and in row {before}.",
                "Delete one of the two.",
            )


def ready_dates_lie_near_the_plan(sheets: Sheets) -> Iterator[Message]:
    """Refuse a day a year and more behind the plan; note one that is there before it begins."""
    plan = sheets.settings
    if plan is None:
        return
    for row in sheets[ReadyRow].rows:
        where = sheets.at(row, "not_before")
        if row.not_before > plan.last_in_day + FURTHEST:
            yield Message(
                Level.ERROR,
                where,
                f"Not before {day(row.not_before)} is more than a year after "
                f"{day(plan.last_in_day)}, the last day on which a check can come in.",
                "Correct the year.",
            )
        elif row.not_before <= plan.first_day:
            yield Message(
                Level.NOTE,
                where,
                f"Not before {day(row.not_before)} changes nothing: the plan begins on "
                f"{day(plan.first_day)}.",
                "Delete the row when what it waits for is there.",
            )


def ready_dates_are_of_stages_to_come(sheets: Sheets) -> Iterator[Message]:
    """Warn of a Ready date of a stage that is begun or done: it is ignored."""
    checks, left = {check.check: check for check in sheets[CheckRow].rows}, work_left(sheets)
    known = stages_of_check(sheets)
    for row in sheets[ReadyRow].rows:
        check = checks.get(row.check)
        if check is None or check.row not in left or row.stage not in known[check.check]:
            continue
        mine = left[check.row]
        if row.stage in mine.begun:
            state = "is begun"
        elif row.stage not in {stage.name for stage in mine.stages}:
            state = "is done"
        else:
            continue
        yield Message(
            Level.WARNING,
            sheets.at(row, "stage"),
            f"'{row.stage}' of '{row.check}' {state}, so its Ready date is ignored.",
            "Delete the row, or correct the progress of the check.",
        )
