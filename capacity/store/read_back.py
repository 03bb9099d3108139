"""A workbook and plan files of the store, read as any other file of somebody else is."""

import io
import re
import tempfile
import zipfile
from datetime import date
from pathlib import Path

from capacity.errors import InputError
from capacity.facts import Base
from capacity.inputs.book import Book
from capacity.inputs.limited import read_book
from capacity.inputs.reading.as_of import as_of_plan
from capacity.messages import Message
from capacity.questions.compare.two_plans import Comparison
from capacity.reports.compare.from_files import compare_plan_files
from capacity.reports.plan_files.limited import read_plan_file_within_limits
from capacity.reports.plan_files.written import PlanFile
from capacity.store.store import PlanStore
from capacity.store.values import WorkbookFile

PACKED = ".zip"
"""The ending of a folder of CSV files."""


def compared(
    store: PlanStore, first: int, second: int
) -> tuple[Comparison, Base, tuple[Message, ...]]:
    """Return two plans of the store side by side, on the workbook of the second one.

    What the workbook changed is kept apart from what the plan chose, where they have not the same.

    Raises
    ------
    StoreError
        When there is no such plan.
    InputError
        When they are not of one base.
    """
    one, other = store.plan(first), store.plan(second)
    files = [read_plan_file_back(store.plan_file(id), f"plan {id}") for id in (first, second)]
    base = _base_on(store.workbook(second), files[1])
    old_base = None
    if one.workbook != other.workbook:
        old_base = _base_on(store.workbook(first), files[0])
    found, notes = compare_plan_files(files[0], files[1], base, old_base)
    return found, base, notes


def read_plan_file_back(content: bytes, name: str) -> PlanFile:
    """Return what a plan file of the store says."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{name}.json"
        path.write_bytes(content)
        return read_plan_file_within_limits(path)


def read_workbook_back(workbook: WorkbookFile, file: PlanFile) -> Book:
    """Return what the reader makes of a workbook, as of the day on which its plan was made."""
    day: date | None = None if file.made is None else file.made.work_counts_from
    as_of = None if day is None else as_of_plan(file.plan, day)
    with tempfile.TemporaryDirectory() as folder:
        return read_book(_written(workbook, Path(folder)), as_of=as_of)


def _base_on(workbook: WorkbookFile, file: PlanFile) -> Base:
    book = read_workbook_back(workbook, file)
    if book.base is None:
        raise InputError(book.messages)
    return book.base


def _written(workbook: WorkbookFile, folder: Path) -> Path:
    """Write a workbook, or the CSV files of a folder, below ``folder``; no name leads elsewhere."""
    if not workbook.name.endswith(PACKED):
        path = folder / "workbook.xlsx"
        path.write_bytes(workbook.content)
        return path
    with zipfile.ZipFile(io.BytesIO(workbook.content)) as packed:
        for name in packed.namelist():
            if re.fullmatch(r"[\w -]+\.csv", name):
                (folder / name).write_bytes(packed.read(name))
    return folder
