"""Checks that a command adds to what the workbook says, and the copy of it that has them."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from capacity.commands.common import show
from capacity.commands.exits import Ended, Exit
from capacity.commands.saved_meanwhile import Writer
from capacity.facts import Base, Check, Package
from capacity.inputs import Book
from capacity.inputs.limited import booked, read_held
from capacity.inputs.reading.as_of import AsOf
from capacity.messages import Level, Message
from capacity.reports.kit.whole_file import write_whole


@dataclass(frozen=True)
class WithAdded:
    """The workbook with checks added, read again: its base, what was read, and what writes it.

    ``write`` is None where the tables are CSV files, of which no copy is made.
    """

    base: Base
    book: Book
    write: Writer | None = None


def with_added(
    workbook: Path,
    base: Base,
    book: Book,
    checks: Sequence[Check],
    packages: Sequence[Package] = (),
    as_of: AsOf | None = None,
) -> WithAdded:
    """Return the workbook with checks and packages as further rows, as it reads in a copy.

    What the rows get wrong is said with the cells of the copy, and ends the command. The
    workbook itself is not written to.
    """
    if workbook.is_dir():
        more = base.replace(checks=(*base.checks, *checks), packages=(*base.packages, *packages))
        return WithAdded(more, book)
    content = booked(workbook, checks, packages)
    read = read_held(workbook.with_suffix(".xlsx"), content, as_of)
    known = {str(message) for message in book.messages}
    show([message for message in read.messages if str(message) not in known])
    if read.base is None:
        names = ", ".join(check.name for check in checks)
        click.echo(f"The workbook would have errors with {names}; nothing was done.", err=True)
        raise Ended(Exit.INPUT_ERRORS)
    return WithAdded(read.base, read, lambda path: write_whole(content, path))


def refuse_workbook_out(workbook: Path, workbook_out: Path | None, adds: bool, what: str) -> None:
    """Refuse ``--workbook-out`` where there is nothing to add, or no workbook to be copied."""
    if workbook_out is None:
        return
    if not adds:
        raise click.UsageError(f"--workbook-out writes the workbook with {what}: give that too.")
    if workbook.is_dir():
        raise click.UsageError(
            "--workbook-out copies a workbook, and WORKBOOK is a folder of CSV files: add the rows "
            "there yourself, or save the tables as one workbook."
        )


def note_without_copy(names: Sequence[str], workbook: Path) -> Message:
    """Return the note that a plan file has checks that no workbook has yet."""
    what = f"{workbook.name} does not have {', '.join(names)}, so it cannot be read with this plan."
    remedy = "Give --workbook-out NEXT.xlsx too, and go on with that workbook."
    return Message(Level.NOTE, "plan file", what, remedy)
