"""The workbook of a re-plan: every change, why, and what it saved."""

from pathlib import Path

from capacity.questions.compare.two_plans import compare
from capacity.questions.replan.values import Replanned
from capacity.reports.compare.sheet_two_plans import overload_pair_sheet
from capacity.reports.kit.sheet import Book
from capacity.reports.kit.whole_file import write_whole
from capacity.reports.replan.sheet_changes import NAMES, changes_sheet, replan_overview_sheet


def write_replan_workbook(answer: Replanned, path: Path) -> None:
    """Write the workbook whole or not at all.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    write_whole(replan_workbook(answer), path)


def replan_workbook(answer: Replanned) -> bytes:
    """Return the workbook as the bytes of an ``.xlsx`` file."""
    told = compare(answer.base, answer.kept.plan, answer.plan, today=answer.today)
    book = Book(title=f"Re-plan of {answer.base.name}", plans=(answer.plan,))
    replan_overview_sheet(book, answer, told)
    changes_sheet(book, answer)
    overload_pair_sheet(book, told, NAMES)
    return book.content()
