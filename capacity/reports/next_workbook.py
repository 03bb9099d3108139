"""The workbook to go on with: a copy that has the checks which a base has beyond it."""

from os import PathLike
from pathlib import Path

from capacity.errors import InputError, OutputError
from capacity.facts import Base
from capacity.inputs.limited import booked, read_book
from capacity.inputs.reading.as_of import AsOf
from capacity.reports.kit.whole_file import write_whole


def write_next_workbook(
    base: Base, workbook: str | PathLike[str], path: str | PathLike[str]
) -> None:
    """Write a copy of a workbook with the checks and packages of the base that it lacks.

    Such are booked enquiries and aircraft on ground. They come below its own rows; every other
    cell, format and note stays as it is, and the workbook itself is not written to.

    Raises
    ------
    InputError
        When the workbook cannot be read or copied.
    OutputError
        When the copy cannot be written, or would replace the workbook itself.
    """
    source, target = Path(workbook), Path(path)
    if source.resolve() == target.resolve():
        raise OutputError(f"{target} is the workbook itself. Name another file for the copy.")
    as_of = None if base.work_counts_from is None else AsOf(base.work_counts_from)
    book = read_book(source, as_of=as_of)
    if book.base is None:
        raise InputError(book.messages)
    there, packages = book.base, {package.name for package in book.base.packages}
    checks = [check for check in base.checks if not there.has_check(check.name)]
    more = [package for package in base.packages if package.name not in packages]
    write_whole(booked(source, checks, more), target)
