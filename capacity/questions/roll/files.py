"""Next week's workbook from this week's: read, rolled forward, copied, and read again."""

from collections.abc import Collection
from datetime import date
from os import PathLike
from pathlib import Path

from capacity.errors import InputError
from capacity.facts import Base
from capacity.inputs import Book
from capacity.inputs.limited import copy_of, read_book, read_held, sheet_tables
from capacity.inputs.reading.as_of import as_of_plan
from capacity.plans.plan import Plan
from capacity.questions.roll.rolling import SHEETS, roll
from capacity.questions.roll.values import RolledWorkbook

NEXT = Path("next week's workbook")
"""What it is called in messages until it has a name."""


def roll_forward(
    path: str | PathLike[str],
    plan: Plan,
    first_day: date,
    *,
    base: Base | None = None,
    book: Book | None = None,
    weeks: int | None = None,
    accept: Collection[str] = (),
    drop: Collection[str] = (),
    not_in: Collection[str] = (),
) -> RolledWorkbook:
    """Return next week's workbook, a copy of the one at ``path`` that begins on ``first_day``.

    Options named in ``accept`` become booked and those in ``drop`` go; checks in ``not_in`` did not
    come, though the plan had them in; ``weeks`` is as before where it is not named. ``base`` is
    that of the plan where it is another than the workbook's, as after a re-plan, and ``book`` what
    was read already. Nothing is written.

    Raises
    ------
    InputError
        When the workbook has errors, or cannot be rolled forward so; see ``roll``.
    """
    source = Path(path)
    read = book or read_book(source, as_of=as_of_plan(plan, first_day))
    if read.base is None:
        raise InputError(read.messages)
    whole = base or read.base.replace(work_counts_from=None)
    tables = {table.sheet: table for table in sheet_tables(source, SHEETS)}
    rolled = roll(
        whole,
        plan,
        tables,
        first_day,
        weeks=weeks,
        book=accept,
        drop=drop,
        not_in=not_in,
        where=read.where,
    )
    content = copy_of(source, rolled.edits)
    again = read_held(NEXT, content)
    return RolledWorkbook(rolled, content, again.messages, again.base)
