"""The job that writes next week's workbook, as ``capacity roll`` does, and goes on with it."""

import re
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from threading import Event

from capacity.errors import InputError
from capacity.facts import Base
from capacity.inputs.reading.as_of import AsOf, as_of_plan
from capacity.plans.audit import audit
from capacity.plans.outcome import Planned
from capacity.questions.asking.as_outcome import as_outcome
from capacity.questions.replan.begun import begun_of
from capacity.questions.roll.files import roll_forward
from capacity.questions.roll.rolled_plan import rolled_plan
from capacity.questions.roll.values import RolledWorkbook
from capacity.reports.plan_files.base_of import base_of_plan_file, refuse_other_base
from capacity.reports.plan_files.written import PlanFile
from capacity.settings import Settings
from ui.desk.desk import Desk
from ui.desk.job import Job, Tell
from ui.desk.opened_workbook import OpenedBook, on_disk, opened_from_bytes, read_as_of
from ui.desk.plan_file import report_bytes
from ui.desk.plan_job import PLAN, Result, result_of
from ui.desk.replan_job import News, plan_on_the_page, start_replan

ROLL = "roll"
ROLLED = "rolled forward"
"""What stands for the end of a search where none was made."""

BEFORE = "the plan of the week before"

SECONDS = 10.0
"""About how long it takes: the workbook is read, copied and read again."""

_DAY_AT_THE_END = re.compile(r"-\d{4}-\d\d-\d\d$")


@dataclass(frozen=True, slots=True)
class Week:
    """What a person sets: the new first day, and what becomes of options and of who did not come.

    ``weeks`` is None for as many as now.
    """

    first_day: date
    weeks: int | None = None
    book: tuple[str, ...] = ()
    drop: tuple[str, ...] = ()
    not_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NextWeek:
    """Next week's workbook; ``opened`` as a person would open it, None for a folder of CSV files.

    ``planned`` is the plan in force as a plan of it, None where it breaks the rules ``broken`` or
    the workbook has errors. ``file`` is the plan in force, from which it can be re-planned.
    """

    file: PlanFile
    base: Base
    told: RolledWorkbook
    opened: OpenedBook | None
    planned: Planned | None
    broken: tuple[str, ...]


def as_of_week(desk: Desk, first_day: date) -> AsOf | None:
    """Return as of which day the workbook is read, with who came in by the plan in force."""
    file = plan_on_the_page(desk)
    return None if file is None else as_of_plan(file.plan, first_day)


def came_by_plan(base: Base, planned: Planned, first_day: date) -> tuple[str, ...]:
    """Return the checks that the plan has in before a day, and that were not in before it began."""
    slots = planned.plan.by_check()
    begun = begun_of(base, slots, first_day)
    return tuple(
        check.name
        for check in base.checks
        if check.name in begun and slots.get(check.name)
        if slots[check.name][0].in_day >= base.first_day
    )


def start_roll(desk: Desk, week: Week) -> Job | None:
    """Begin to roll the workbook in use forward; None without a plan or while a job is going on."""
    opened, file, result = desk.opened, plan_on_the_page(desk), result_of(desk)
    if opened is None or file is None or result is None:
        return None

    def work(tell: Tell, stop: Event) -> object:
        return _rolled(opened, file, week)

    return desk.start(ROLL, (opened, result.number), work, SECONDS)


def next_week(desk: Desk) -> NextWeek | None:
    """Return what rolling the workbook in use forward came to; None where that is not known."""
    answer, result = desk.answer(ROLL), result_of(desk)
    if answer is None or result is None or answer.made_from != (desk.opened, result.number):
        return None
    assert isinstance(answer.value, NextWeek)
    return answer.value


def go_on(desk: Desk, week: NextWeek) -> None:
    """Open next week's workbook on the desk, with the plan in force if it stands with it."""
    assert week.opened is not None, "a folder of CSV files is not opened here"
    desk.open(week.opened)
    if week.planned is not None:
        desk.put(PLAN, week.opened, week.planned)


def re_plan(desk: Desk, week: NextWeek, seconds: float) -> Job | None:
    """Open next week's workbook on the desk, and begin to re-plan it from the plan in force.

    Raises
    ------
    InputError
        When the plan in force is none that it can be re-planned from; it is open then all the same.
    """
    go_on(desk, week)
    today = week.told.rolled.first_day
    return start_replan(desk, replace(week.file, name=BEFORE), News(today, seconds=seconds))


def plan_file_of(week: NextWeek) -> bytes:
    """Return the plan file of the plan in force as a plan of next week's workbook."""
    assert week.opened is not None
    assert week.planned is not None
    return report_bytes(Result(0, week.opened, week.planned), ".json")


def name_of(opened: OpenedBook, first_day: date) -> str:
    """Return what next week's workbook is called: the name with its first day at the end."""
    return f"{_DAY_AT_THE_END.sub('', Path(opened.name).stem)}-{first_day.isoformat()}.xlsx"


def _rolled(opened: OpenedBook, file: PlanFile, week: Week) -> NextWeek:
    read = read_as_of(opened, as_of_plan(file.plan, week.first_day)).book
    if read.base is None:
        raise InputError(read.messages)
    refuse_other_base(file, read.base)
    whole = base_of_plan_file(file, read.base.replace(work_counts_from=None))
    with on_disk(opened) as path:
        told = roll_forward(
            path,
            file.plan,
            week.first_day,
            base=whole,
            book=read,
            weeks=week.weeks,
            accept=week.book,
            drop=week.drop,
            not_in=week.not_in,
        )
    copy = None
    if isinstance(told.content, bytes):
        copy = opened_from_bytes(name_of(opened, week.first_day), told.content)
    if told.base is None:
        return NextWeek(file, read.base, told, copy, None, ())
    plan = rolled_plan(file.plan, told.base)
    broken = audit(told.base, plan).broken
    planned = None if broken else as_outcome(plan, told.base, Settings(), 0.0, ROLLED)
    return NextWeek(file, read.base, told, copy, planned, tuple(broken))
