"""Cross checks of fixed checks: bay and day are given, so they must not conflict."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from capacity.facts import WorkProgress
from capacity.inputs.checking.ready_dates import ready_by_check
from capacity.inputs.checking.references import is_unknown, unknown
from capacity.inputs.checking.shops import sound_loops
from capacity.inputs.checking.stay import LaidStage, lay_out, works_on
from capacity.inputs.checking.work_left import progress_by_check, work_left
from capacity.inputs.reading.rows import Sheets
from capacity.inputs.reading.sheets import BayRow, CheckRow, ClosureRow
from capacity.messages import Level, Message
from capacity.words import day, days


@dataclass(frozen=True, slots=True)
class Stay:
    """What is certain of a fixed check, whatever is chosen for it later.

    It stands in its fixed bay over ``[in_day, out_day)`` at the least, and leaves that bay
    on ``out_day`` if it ``leaves_then``. ``stages`` are those left to do whose days stand.
    ``last_day`` is its out day from the base, None when a choice can move it.
    """

    check: CheckRow
    bay: BayRow
    in_day: date
    out_day: date
    leaves_then: bool
    stages: tuple[LaidStage, ...]
    last_day: date | None

    @property
    def until(self) -> str:
        """Until when it is in its fixed bay, for a sentence."""
        if self.out_day == self.last_day:
            return f"its out day {day(self.out_day)}"
        return (
            f"{day(self.out_day)}" if self.leaves_then else f"{day(self.out_day)} at the earliest"
        )


def fixed_checks_have_bay_and_day(sheets: Sheets) -> Iterator[Message]:
    """Require the bay and the day of a fixed check."""
    for check in sheets[CheckRow].rows:
        if not check.is_fixed:
            continue
        for field in ("fixed_bay", "fixed_in"):
            if getattr(check, field) is None:
                yield Message(
                    Level.ERROR,
                    sheets.at(check, field),
                    f"{check.heading(field)} of the fixed check '{check.check}' is blank.",
                    "Fill it in, or make the check booked.",
                )
        if check.fixed_bay and is_unknown(sheets, check.fixed_bay, BayRow):
            yield unknown(sheets, check, "fixed_bay", check.fixed_bay, BayRow)


def fixed_days_lie_in_their_window(sheets: Sheets) -> Iterator[Message]:
    """Warn of a fixed day outside the check's own window; refuse one past the plan's weeks."""
    plan = sheets.settings
    for check in sheets[CheckRow].rows:
        if not check.is_fixed or check.fixed_in is None:
            continue
        where = sheets.at(check, "fixed_in")
        if plan and check.fixed_in > plan.last_in_day:
            yield Message(
                Level.ERROR,
                where,
                f"Fixed in {day(check.fixed_in)} is after {day(plan.last_in_day)}, the last day on "
                "which a check can come in under this plan.",
                "Leave the check out of this plan, or raise Weeks.",
            )
        if check.latest_in and check.fixed_in > check.latest_in:
            past = (check.fixed_in - check.latest_in).days
            yield Message(
                Level.WARNING,
                where,
                f"Fixed in {day(check.fixed_in)} is {days(past)} past Latest in "
                f"{day(check.latest_in)}.",
                "Correct one of the two, if one is wrong.",
            )
        if check.earliest_in and check.fixed_in < check.earliest_in:
            yield Message(
                Level.WARNING,
                where,
                f"Fixed in {day(check.fixed_in)} is before Earliest in {day(check.earliest_in)}.",
                "Correct one of the two, if one is wrong.",
            )


def fixed_days_are_worked(sheets: Sheets) -> Iterator[Message]:
    """Refuse a day off that is still to come where aircraft do not move on days off."""
    plan, today = sheets.settings, sheets.work_left_from
    if plan is None or plan.moves_on_days_off or today is None:
        return
    works = works_on(plan, sheets)
    for check in sheets[CheckRow].rows:
        in_day = check.fixed_in if check.is_fixed else check.held_in
        if in_day is not None and in_day >= today and not works(in_day):
            yield Message(
                Level.ERROR,
                sheets.at(check, "fixed_in"),
                f"Fixed in {day(in_day)} of '{check.check}' is a day off, on which no aircraft "
                f"comes in: Moves on days off ({sheets.at_setting('moves_on_days_off')}) is no.",
                "Give a worked day, or set Moves on days off to yes.",
            )


def stays(sheets: Sheets) -> list[Stay]:
    """Return the stays of the fixed checks of which everything needed could be read."""
    plan = sheets.settings
    if plan is None:
        return []
    works = works_on(plan, sheets)
    bays = {bay.bay: bay for bay in sheets[BayRow].rows}
    loops, left, told = sound_loops(sheets), work_left(sheets), progress_by_check(sheets)
    ready = ready_by_check(sheets)
    found = []
    for check in sheets[CheckRow].rows:
        bay, in_day = bays.get(check.fixed_bay or ""), check.fixed_in
        if not check.is_fixed or in_day is None or bay is None:
            continue
        if check.row not in left or check.package not in loops:
            continue
        course = lay_out(
            left[check.row],
            max(
                in_day,
                left[check.row].leaves_on
                or _goes_on_from(check, told.get(check.check, ()), sheets)
                or in_day,
            ),
            works,
            bay_work=bay.work,
            loops=loops[check.package],
            ready=ready.get(check.check),
            longest_wait=plan.longest_wait_days,
            leaves_on_days_off=plan.moves_on_days_off,
        )
        found.append(
            Stay(
                check,
                bay,
                in_day,
                course.leaves,
                course.leaves_then,
                course.stages,
                course.out_day,
            )
        )
    return found


def _goes_on_from(check: CheckRow, told: Collection[WorkProgress], sheets: Sheets) -> date | None:
    """Return the day from which the work left on a check counts; None for one that is whole."""
    if told and sheets.settings:
        return max(sheets.settings.first_day, *(row.as_of for row in told))
    return None if check.remaining is None else sheets.work_left_from


def fixed_bays_are_open(sheets: Sheets) -> Iterator[Message]:
    """Require that ``[in, out)`` of a fixed check shares no day with a closure of its bay."""
    closures = defaultdict(list)
    for closure in sheets[ClosureRow].rows:
        closures[closure.bay].append(closure)
    for stay in stays(sheets):
        for closure in closures[stay.bay.bay]:
            if stay.in_day <= closure.last and closure.first < stay.out_day:
                yield Message(
                    Level.ERROR,
                    sheets.at(stay.check, "fixed_in"),
                    f"the fixed check '{stay.check.check}' is in '{stay.bay.bay}' from "
                    f"{day(stay.in_day)} until {stay.until}, but the bay is closed "
                    f"from {day(closure.first)} to {day(closure.last)}.",
                    f"Move the check, or correct {sheets.at(closure, 'first')}.",
                )


def fixed_checks_do_not_collide(sheets: Sheets) -> Iterator[Message]:
    """Require of fixed checks in one bay: next in day >= previous out day + changeover days."""
    in_bay = defaultdict(list)
    for stay in stays(sheets):
        in_bay[stay.bay.bay].append(stay)
    for row in in_bay.values():
        last: Stay | None = None
        for stay in sorted(row, key=lambda stay: stay.in_day):
            changeover = stay.bay.changeover_days
            if last and stay.in_day < last.out_day + timedelta(days=changeover):
                clean = f", with {days(changeover)} of changeover after it" if changeover else ""
                yield Message(
                    Level.ERROR,
                    sheets.at(stay.check, "fixed_in"),
                    f"the fixed check '{stay.check.check}' comes into '{stay.bay.bay}' on "
                    f"{day(stay.in_day)}, but '{last.check.check}' is there until "
                    f"{last.until}{clean}.",
                    "Move one of the two, or make it booked.",
                )
            if last is None or stay.out_day > last.out_day:
                last = stay


def fixed_checks_reach_the_plan(sheets: Sheets) -> Iterator[Message]:
    """Warn of a fixed check that is out before the plan begins."""
    plan = sheets.settings
    for stay in stays(sheets):
        if plan and stay.last_day and stay.last_day <= plan.first_day:
            yield Message(
                Level.WARNING,
                sheets.at(stay.check, "fixed_in"),
                f"the fixed check '{stay.check.check}' is out on {day(stay.last_day)}, before the "
                "plan "
                f"begins on {day(plan.first_day)}.",
                "Leave it out, or give Remaining % or rows of Progress if work is left.",
            )
