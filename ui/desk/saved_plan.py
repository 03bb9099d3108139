"""A saved plan file as the plan of a desk, with nothing searched for."""

from dataclasses import replace

from capacity.errors import InputError
from capacity.inputs.limited import Wanted, always
from capacity.inputs.reading.as_of import as_of_plan
from capacity.questions.asking.as_outcome import as_outcome
from capacity.settings import Settings
from ui.desk.desk import Desk
from ui.desk.opened_workbook import (
    OpenedBook,
    asked_from_bytes,
    plan_file_from_bytes,
    read_as_of,
)
from ui.desk.plan_job import PLAN, PlanWithNews

SAVED = "opened from a plan file"
"""What stands for the end of a search where none was made."""


def take_plan_file(desk: Desk, name: str, content: bytes, still_wanted: Wanted = always) -> None:
    """Make the plan of an uploaded plan file the plan of the desk.

    Raises
    ------
    InputError
        When the workbook in use has errors, or the file states another plan than it has with it.
    NoLongerWantedError
        When ``still_wanted`` says no meanwhile.
    """
    opened = desk.opened
    assert opened is not None
    desk.put(PLAN, opened, plan_of_file(opened, name, content, still_wanted))


def plan_of_file(
    opened: OpenedBook, name: str, content: bytes, still_wanted: Wanted = always
) -> PlanWithNews:
    """Return the plan of a plan file for a workbook; raises as ``take_plan_file`` does."""
    file = plan_file_from_bytes(name, content, still_wanted)
    day = None if file.made is None else file.made.work_counts_from
    read = opened if day is None else read_as_of(opened, as_of_plan(file.plan, day))
    base = read.book.base
    if base is None:
        raise InputError(read.book.messages)
    found = asked_from_bytes(base, name, content)
    outcome = as_outcome(found.plan, found.base, Settings(), 0.0, SAVED)
    return PlanWithNews(
        opened=replace(read, book=replace(read.book, base=found.base)),
        read=base,
        outcome=outcome,
        notes=found.notes,
    )
