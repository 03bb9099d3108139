"""Cross checks of the progress of checks in work."""

from collections.abc import Iterator, Mapping
from datetime import date

from capacity.facts import WorkProgress, latest_by_stage, with_extra
from capacity.inputs.checking.checks import is_in
from capacity.inputs.checking.extra_stages import extra_by_check, stages_of_check, unsound_extra
from capacity.inputs.checking.packages import sound_networks
from capacity.inputs.checking.work_left import MOST_GROWTH, planned_of, progress_by_check
from capacity.inputs.reading.facts_from_rows import packages_from
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import CheckRow, HoursRow, ProgressRow
from capacity.inputs.wording import suggest
from capacity.messages import Level, Message
from capacity.plans.progress_left import Planned, left_by_stage
from capacity.words import day, hours, listed, percent

TINY = 1e-9
STRONGLY, FEW_HOURS = 2.0, 8.0
"""Booked hours contradict an estimate when they are more than twice the earned ones, or less than
half of them, and that is more than a shift of one person. No source: a judgement."""


def progress_is_of_checks_in_work(sheets: Sheets) -> Iterator[Message]:
    """Require that a check with progress is in on the day as of which it is stated, and no share.

    In is one that is fixed with Fixed in <= As of, or in by the plan before.
    """
    checks = {check.check: check for check in sheets[CheckRow].rows}
    said: set[str] = set()
    for row in sheets[ProgressRow].rows:
        check = checks.get(row.check)
        if check is None:
            continue
        in_day = _in_day(check, sheets)
        if not is_in(check, sheets):
            if check.check not in said:
                yield Message(
                    Level.ERROR,
                    sheets.at(row, "check"),
                    f"'{row.check}' is {check.status} and not in work, so it can have no progress.",
                    "Make it fixed, with Fixed bay and Fixed in, or delete its rows here.",
                )
        elif in_day is not None and in_day > row.as_of:
            yield Message(
                Level.ERROR,
                sheets.at(row, "as_of"),
                f"'{row.check}' only comes in on {day(in_day)}, after As of {day(row.as_of)}.",
                f"Correct As of, or {sheets.at(check, 'fixed_in')}.",
            )
        if check.remaining is not None and check.check not in said:
            yield Message(
                Level.ERROR,
                sheets.at(row, "check"),
                f"'{row.check}' has both Progress and Remaining %.",
                f"Clear {sheets.at(check, 'remaining')}, or delete its rows here.",
            )
        said.add(check.check)


def _in_day(check: CheckRow, sheets: Sheets) -> date | None:
    if check.is_fixed:
        return check.fixed_in
    return sheets.as_of.came_in.get(check.check) if sheets.as_of else None


def progress_names_stages(sheets: Sheets) -> Iterator[Message]:
    """Require that ``Stage`` is one of the check's package."""
    checks = {check.check: check for check in sheets[CheckRow].rows}
    known = stages_of_check(sheets)
    for row in sheets[ProgressRow].rows:
        check = checks.get(row.check)
        stages = known.get(row.check)
        if check and stages and row.stage is not None and row.stage not in stages:
            yield Message(
                Level.ERROR,
                sheets.at(row, "stage"),
                f"'{row.stage}' is not a stage of '{check.package}', the package of '{row.check}'.",
                suggest(row.stage, stages, "the package"),
            )


def progress_is_told_once(sheets: Sheets) -> Iterator[Message]:
    """Refuse two rows of one thing on one day; of several days the latest counts, with a note."""
    first: dict[tuple[str, str | None, date], ProgressRow] = {}
    latest: dict[tuple[str, str | None], ProgressRow] = {}
    for row in sheets[ProgressRow].rows:
        before = first.setdefault((row.check, row.stage, row.as_of), row)
        if before is not row:
            yield Message(
                Level.ERROR,
                sheets.at(row, "check"),
                f"{_what(row)} is stated here and in row {before.row}, both as of "
                f"{day(row.as_of)}.",
                "Delete one of the two.",
            )
            continue
        other = latest.get((row.check, row.stage))
        if other is None:
            latest[row.check, row.stage] = row
            continue
        older, newer = sorted((other, row), key=lambda one: one.as_of)
        latest[row.check, row.stage] = newer
        yield Message(
            Level.NOTE,
            sheets.at(older, "as_of"),
            f"{_what(older)} is also stated as of {day(newer.as_of)}, in row {newer.row}; that one "
            "counts.",
        )


def _what(row: ProgressRow) -> str:
    return f"'{row.check}' as a whole" if row.stage is None else f"'{row.stage}' of '{row.check}'"


def progress_says_what_is_left(sheets: Sheets) -> Iterator[Message]:
    """Require that a row says what is left, and nothing that contradicts it."""
    planned = _planned(sheets)
    checks = {check.check: check for check in sheets[CheckRow].rows}
    for row in sheets[ProgressRow].rows:
        if row.finished is None and row.done is None and row.hours_to_go is None:
            yield Message(
                Level.ERROR,
                sheets.at(row, "done"),
                f"the row of {_what(row)} does not say what is left.",
                "Fill in Done %, Hours to go or Finished, or delete the row.",
            )
        if row.finished is not None:
            check = checks.get(row.check)
            yield from _of_finished(row, None if check is None else _in_day(check, sheets), sheets)
        hours_planned = planned.get((row.check, row.stage))
        if row.hours_to_go and hours_planned is not None:
            yield from _of_hours_to_go(row, row.hours_to_go, hours_planned, sheets)


def _of_finished(row: ProgressRow, in_day: date | None, sheets: Sheets) -> Iterator[Message]:
    assert row.finished is not None
    where, done = sheets.at(row, "finished"), f"{_what(row)} is Finished {day(row.finished)}"
    if row.finished > row.as_of:
        what = f"{done}, after As of {day(row.as_of)}."
        yield Message(Level.ERROR, where, what, "Clear it until it is finished, or correct As of.")
    if in_day is not None and row.finished < in_day:
        what = f"{done}, before it came in on {day(in_day)}."
        yield Message(Level.ERROR, where, what, "Correct one of the two.")
    if row.hours_to_go:
        what = f"{done}, but {hours(row.hours_to_go)} are to go."
        yield Message(Level.ERROR, where, what, "Clear Finished, or Hours to go.")
    elif row.done is not None and row.done < 1:
        what = f"{done}, but Done % is {percent(row.done)}."
        yield Message(Level.ERROR, where, what, "Clear Finished, or Done %.")


def _of_hours_to_go(
    row: ProgressRow, to_go: float, planned: float, sheets: Sheets
) -> Iterator[Message]:
    where = sheets.at(row, "hours_to_go")
    if planned <= TINY:
        yield Message(
            Level.ERROR,
            where,
            f"{_what(row)} has {hours(to_go)} to go, but no planned man-hours to measure them by.",
            "Give Done % instead, or its man-hours in Package hours.",
        )
    elif to_go > MOST_GROWTH * planned:
        yield Message(
            Level.ERROR,
            where,
            f"{_what(row)} has {hours(to_go)} to go, more than {MOST_GROWTH:g} times the "
            f"{hours(planned)} planned.",
            "Correct it, or its man-hours in Package hours.",
        )


def progress_is_not_of_tomorrow(sheets: Sheets) -> Iterator[Message]:
    """Refuse progress as of a day after today, which is the first day where no today is given.

    Warn of a stage in work that is stated as of an earlier day than the latest of its check, from
    which all its work left counts.
    """
    today = sheets.work_left_from
    for row in sheets[ProgressRow].rows:
        if today is None or row.as_of <= today:
            continue
        if sheets.as_of is None:
            what = f"As of {day(row.as_of)} is after the First day {day(today)}."
            remedy = (
                "Re-plan with --today (give --today to verify and learn too), or put First day "
                f"({sheets.at_setting('first_day')}) on {day(row.as_of)} or later."
            )
        else:
            what = f"As of {day(row.as_of)} is after today, {day(today)}."
            remedy = "Correct As of, or give the right --today."
        yield Message(Level.ERROR, sheets.at(row, "as_of"), what, remedy)
    for told in _rows_by_check(sheets).values():
        last = max(row.as_of for row in told)
        newest = {row.stage: row for row in sorted(told, key=lambda row: row.as_of)}
        for row in newest.values():
            if row.as_of < last and not _is_done(row):
                yield Message(
                    Level.WARNING,
                    sheets.at(row, "as_of"),
                    f"{_what(row)} is stated as of {day(row.as_of)}, but all work left on it "
                    f"counts from {day(last)}, the latest day stated for '{row.check}'.",
                    "State it as of that day too.",
                )


def _is_done(row: ProgressRow) -> bool:
    return (
        row.finished is not None
        or row.hours_to_go == 0
        or (row.hours_to_go is None and row.done == 1)
    )


def stages_go_on_in_order(sheets: Sheets) -> Iterator[Message]:
    """Warn of stages begun or done though one that they wait for is reported unfinished.

    What is left of them waits for it: the order may be a matter of safety. Refuse that a check
    is finished as a whole while a stage of it is not.
    """
    rows = _rows_by_check(sheets)
    for check, (planned, told) in _told_checks(sheets).items():
        latest = latest_by_stage(told)
        left = left_by_stage(planned, told)
        number = {row.stage: row for row in sorted(rows[check], key=lambda row: row.as_of)}
        whole = latest.get(None)
        open_stages = [
            one.stage for one in planned if one.stage in latest and one.stage in left.shares
        ]
        if whole is not None and whole.finished is not None and open_stages:
            yield Message(
                Level.ERROR,
                sheets.at(number[None], "finished"),
                f"'{check}' is finished as a whole, but {listed(open_stages)} not.",
                "Clear Finished, or say that these stages are finished.",
            )
        for one in planned:
            is_on = one.stage in left.begun or (
                one.stage in latest and one.stage not in left.shares
            )
            if not is_on or one.stage not in number:
                continue
            waits_for = [name for name in one.after if name in open_stages]
            if waits_for:
                state = "in work" if one.stage in left.begun else "finished"
                rest = (
                    f"; what is left of it goes on when {listed(waits_for)} has ended"
                    if one.stage in left.begun
                    else ""
                )
                yield Message(
                    Level.WARNING,
                    sheets.at(number[one.stage], "stage"),
                    f"'{one.stage}' of '{check}' is {state}, but {listed(waits_for)}, for which "
                    f"it waits, is not finished{rest}.",
                    "Correct what is wrong; if nothing is, leave it: the plan goes by it.",
                )


def estimates_agree_with_hours_booked(sheets: Sheets) -> Iterator[Message]:
    """Warn of a ``Done %`` that the hours booked contradict strongly.

    earned = planned man-hours x done. The hours booked contradict it when they are more than
    twice the earned ones or less than half of them, and more than 8 h away.
    """
    planned = _planned(sheets)
    for row in sheets[ProgressRow].rows:
        hours_planned = planned.get((row.check, row.stage))
        if not hours_planned or row.done is None or row.hours_booked is None:
            continue
        if row.hours_to_go is not None or row.finished is not None:
            continue
        earned, booked = hours_planned * row.done, row.hours_booked
        low, high = sorted((earned, booked))
        if high <= STRONGLY * low or high - low <= FEW_HOURS:
            continue
        yield Message(
            Level.WARNING,
            sheets.at(row, "done"),
            f"{_what(row)} is {percent(row.done)} done, {hours(earned)} of {hours(hours_planned)} "
            f"planned, but {hours(booked)} are booked.",
            "Correct one of the two, or give Hours to go, which goes before Done %.",
        )


def _rows_by_check(sheets: Sheets) -> Mapping[str, list[ProgressRow]]:
    found: dict[str, list[ProgressRow]] = {}
    for row in sheets[ProgressRow].rows:
        found.setdefault(row.check, []).append(row)
    return found


def _told_checks(
    sheets: Sheets,
) -> Mapping[str, tuple[tuple[Planned, ...], tuple[WorkProgress, ...]]]:
    """Return the planned stages and the progress of the checks of which all could be read."""
    sound, told = sound_networks(sheets), progress_by_check(sheets)
    packages = {package.name: package for package in packages_from(sheets)}
    extra, unsound = extra_by_check(sheets), unsound_extra(sheets)
    return {
        check.check: (
            planned_of(
                with_extra(packages[check.package], extra.get(check.check, ())),
                check.findings_factor,
            ),
            told[check.check],
        )
        for check in sheets[CheckRow].rows
        if check.check in told
        and check.package in sound
        and check.check not in unsound
        and sheets[HoursRow].whole_for(check.package)
        and sheets[ProgressRow].whole
    }


def _planned(sheets: Sheets) -> Mapping[tuple[str, str | None], float]:
    """Return the planned man-hours of each stage of checks with progress, and of each check."""
    found: dict[tuple[str, str | None], float] = {}
    for check, (planned, _) in _told_checks(sheets).items():
        found[check, None] = sum(one.man_hours for one in planned)
        found |= {(check, one.stage): one.man_hours for one in planned}
    return found
